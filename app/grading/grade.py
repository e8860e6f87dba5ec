"""A grading run from a mount and its settings.

ran = run(mount, {"start": {"right": 20}, "seconds": 20})
ran.summary.right.time_to_grade           s, None where it never comes to grade
ran.errors["left"], ran.times             mm off grade and s, shape (times,)
ran.mean.left.rms.mean                    over all seeds, with the interval of the mean
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from app.document.messages import Message, word
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.grading.batch import Batch
from app.grading.grounds import Cut, Tracks, tracks
from app.grading.reading import read_settings
from app.grading.rig import Rig, batch_of, rig
from app.grading.seeds import OverSeeds, over_seeds
from app.grading.settings import MM_PER_M, RunSettings, way_ahead
from app.grading.stepping import Simulation
from app.grading.summary import RunSummary
from app.solve.equations import Array

_PIECES = 24
"""In how many pieces a run is worked out: how often one can be told how far it is."""


@dataclass(frozen=True, eq=False)
class Run:
    """A run that has been made; with several seeds the first of them, and ``seeds`` for all.

    ``times`` s, ``travel`` of the machine, m, both shape (times,). By end: ``errors``, mm off grade, ``ground`` before
    it under the blade, mm, ``sensors``, what the receivers see, mm. By cylinder: ``lengths``, mm, ``commands``, share
    of the full flow over the step that begins there. ``passes``: what each earlier pass came to.
    """

    rig: Rig
    batch: Batch
    times: Array
    travel: Array
    errors: dict[EndName, Array]
    ground: dict[EndName, Array]
    sensors: dict[EndName, Array]
    lengths: dict[str, Array]
    commands: dict[str, Array]
    summaries: list[RunSummary]
    passes: list[RunSummary]
    notes: list[Message] = field(default_factory=list)

    @property
    def mount(self) -> Mount:
        """The mount."""
        return self.rig.mount

    @property
    def settings(self) -> RunSettings:
        """What it was set to."""
        return self.rig.settings

    @property
    def summary(self) -> RunSummary:
        """What the first seed came to."""
        return self.summaries[0]

    @property
    def mean(self) -> OverSeeds:
        """What all seeds came to."""
        return over_seeds(self.summaries)


def run(mount: Mount, settings: Mapping[str, object] | RunSettings | None = None) -> Run:
    """Drive a mount over ground with its receivers and valves at work.

    ``settings`` as ``POST /run`` takes them under ``run``; all defaults where there are none. Raises BadSettings,
    NotLocated.
    """
    making = Making(mount, read_settings(settings or {}))
    for _ in making.go():
        pass
    return making.made()


class Making:
    """A run being made, piece by piece."""

    def __init__(self, mount: Mount, settings: RunSettings) -> None:
        self.rig = rig(mount, settings)
        self.settings = self.rig.settings
        self.seeds = [settings.seed + number for number in range(settings.seeds)]
        self._ground = tracks(settings.ground, self.rig.track, self.seeds)
        self._passes: list[RunSummary] = []
        self._share = 0.0
        self.simulation = self._begin(0)

    def _begin(self, number: int) -> Simulation:
        settings = self.settings
        last = number == settings.passes - 1
        longer = 0.0 if last else way_ahead(settings.machine) / settings.speed
        return Simulation(batch_of(self.rig, self.seeds, self._ground, settings.seconds + longer))

    def go(self) -> Iterator[float]:
        """Make it; gives the share that is done, time and again."""
        for number in range(self.settings.passes):
            if number:
                self.simulation = self._begin(number)
            steps = self.simulation.batch.steps
            while self.simulation.at < steps:
                self.simulation.advance(math.ceil(steps / _PIECES))
                yield (number + self.simulation.at / steps) / self.settings.passes
            if number < self.settings.passes - 1:
                self._passes.append(self._summary(0))
                self._ground = self._left_by(self.simulation)

    def _left_by(self, simulation: Simulation) -> Tracks:
        """The ground as this pass leaves it: the edge leaves its own line, cuts what is high and fills what is low."""
        blade, trace = self.rig.mount.blade, simulation.trace
        way = self.settings.speed * trace.times - self.settings.machine.blade_behind / MM_PER_M
        apart = blade.right[0] - blade.left[0]
        heights = []
        for side in (-1, 1):
            at = (self.rig.plant.middle + side * self.rig.track / 2 - blade.left[0]) / apart
            heights.append(trace.heights[:, :, 0] * (1 - at) + trace.heights[:, :, 1] * at)
        return Cut(self._ground, way, np.stack(heights, axis=1))

    def ground_under(self, times: Array) -> Array:
        """The ground of the first run under the blade before it comes, mm, both tracks, shape (2, times)."""
        way = self.settings.speed * times - self.settings.machine.blade_behind / MM_PER_M
        under: Array = self._ground.at(way)[0]
        return under

    def _summary(self, number: int) -> RunSummary:
        return self.rig.summary(self.simulation.trace, number)

    def made(self) -> Run:
        """What came of it."""
        trace, made = self.simulation.trace, self.rig
        way = self.settings.speed * trace.times
        ground = self.ground_under(trace.times)
        heights, last = trace.heights[0], trace.flows[0, -1:]
        flows = np.concatenate([trace.flows[0], last])
        return Run(
            rig=made,
            batch=self.simulation.batch,
            times=trace.times,
            travel=way,
            errors={end: heights[:, number] for number, end in enumerate(ENDS)},
            ground={end: ground[number] for number, end in enumerate(ENDS)},
            sensors={end: heights[:, 2 + number] for number, end in enumerate(ENDS)},
            lengths={name: trace.lengths[0, :, number] for number, name in enumerate(made.names)},
            commands={name: flows[:, number] for number, name in enumerate(made.names)},
            summaries=[self._summary(number) for number in range(len(self.seeds))],
            passes=self._passes,
            notes=[*made.notes, *self._happened()],
        )

    def _happened(self) -> Iterator[Message]:
        """What came up on the way."""
        trace = self.simulation.trace
        for number, name in enumerate(self.rig.names):
            first = float(trace.ended[:, number].min())
            if math.isfinite(first):
                text = "'{name}' came to the end of its stroke after {time}"
                yield Message("stroke-end", text, [name], {"name": word(name), "time": (first, "time")})
        first = float(trace.stopped.min())
        if math.isfinite(first):
            text = "the mount came to a dead centre after {time}: from there on it stands still"
            yield Message("dead-centre", text, values={"time": (first, "time")})
