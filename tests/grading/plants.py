"""Plants with given gains instead of a mount, and batches of them, for answers that are known in closed form."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.grading.batch import Batch, Trace
from app.grading.channels import channels
from app.grading.plant import Stood
from app.grading.settings import ValveKind, Way
from app.grading.stepping import Simulation
from app.grading.valves import Valves
from app.solve.equations import Array

PLAIN = ((1.0, 0.0), (0.0, 1.0))
"""Two ends, each moved by its own cylinder, mm for mm."""


@dataclass(frozen=True, eq=False)
class GivenGains:
    """Ends that rise by given mm per mm of the cylinders, and receivers that see the ends; shape (2, cylinders)."""

    gains: Array
    reach: float = 1000.0

    @property
    def cylinders(self) -> int:
        return int(self.gains.shape[1])

    @property
    def shortest(self) -> Array:
        return np.full(self.cylinders, -self.reach)

    @property
    def longest(self) -> Array:
        return np.full(self.cylinders, self.reach)

    def begin(self, runs: int) -> tuple[Array, Array]:
        return np.zeros((runs, self.cylinders)), np.zeros((runs, self.cylinders))

    def stand(self, lengths: Array, share: Array, near: Array) -> Stood:
        return Stood(lengths, np.ones(len(lengths), dtype=bool))

    def heights(self, q: Array, frame: Array) -> Array:
        return np.tile(q @ self.gains.T + frame, (1, 2))


def simulated(
    valve: ValveKind,
    *,
    start: Sequence[float] = (20.0, 0.0),
    gains: Sequence[Sequence[float]] = PLAIN,
    speed: float | Sequence[float] = 40.0,
    late: float | Sequence[float] = 0.1,
    gain: float | Sequence[float] = 1.0,
    dead_band: float | Sequence[float] = 0.0,
    hysteresis: float | Sequence[float] = 0.0,
    lost: float | Sequence[float] = 0.0,
    shortest: float = 0.0,
    every: int = 0,
    step: float = 0.01,
    seconds: float = 30.0,
    way: Way = "each its own",
    shared: bool = False,
    handed_over: float = 0.5,
    noise: Array | None = None,
) -> Simulation:
    """A batch of runs, one for each of the longest list of numbers; ``late`` s is all in the reading."""
    plant = GivenGains(np.array(gains, dtype=float))
    given: dict[str, Any] = {
        "late": late, "gain": gain, "dead_band": dead_band, "hysteresis": hysteresis, "lost": lost,
        "speed": speed if isinstance(speed, float) else 0.0,
    }  # fmt: skip
    runs = max(np.size(each) for each in given.values())
    own = {name: np.broadcast_to(np.asarray(each, dtype=float), (runs,)) for name, each in given.items()}
    steps = round(seconds / step)
    lengths = np.linalg.lstsq(plant.gains, np.array(start, dtype=float), rcond=None)[0]
    both = np.stack([own["speed"]] * 2, axis=1) if isinstance(speed, float) else np.tile(np.array(speed), (runs, 1))
    found = channels(plant.gains, way)
    valves = Valves(
        kind=valve,
        dead_band=own["dead_band"],
        hysteresis=own["hysteresis"],
        gain=own["gain"],
        on_delay=np.zeros(runs),
        off_delay=np.zeros(runs),
        shortest=np.full(runs, shortest),
        speeds=np.broadcast_to(both[:, None], (runs, plant.cylinders, 2)),
        at_end=found.at_end,
        together=way == "decoupled",
        shared=shared,
    )
    batch = Batch(
        plant=plant,
        channels=found,
        valves=valves,
        way=way,
        step=step,
        every=every,
        late=own["late"],
        start=np.tile(lengths, (runs, 1)),
        lost=np.tile(own["lost"][:, None], (1, plant.cylinders)),
        frame=np.zeros((runs, 2, steps + 1)),
        share=np.zeros((runs, steps + 1)),
        noise=np.zeros((runs, steps // (every or 1) + 1, 2)) if noise is None else noise,
        handed_over=np.full(runs, handed_over),
    )
    return Simulation(batch)


def run(valve: ValveKind, **given: Any) -> Trace:  # noqa: ANN401 - as ``simulated`` takes them
    """The same, to its end."""
    simulation = simulated(valve, **given)
    simulation.advance(simulation.batch.steps)
    return simulation.trace


def settles(trace: Trace, share: float = 0.05) -> list[bool]:
    """Whether each run's left end comes down to a share of where it began, over the last tenth of the run."""
    tail = np.abs(trace.heights[:, -trace.heights.shape[1] // 10 :, 0]).max(axis=1)
    settled: list[bool] = (tail < share * np.abs(trace.heights[:, 0, 0])).tolist()
    return settled
