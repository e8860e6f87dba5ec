"""Each mount at its own best: the quickest settings at which it still comes to rest, from whichever end is off.

The same settings for two mounts can flatter either. So the gain of proportional valves, or the flow of on/off ones, is
swept for each way of controlling a mount: the quickest that brings both ends to grade and to rest from eight starts.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from app.document.models import Mount
from app.grading.grounds import Shaped
from app.grading.rig import Rig, batch_of, rig
from app.grading.settings import Flat, RunSettings, Start, ValveKind, Way, soonest, step_for
from app.grading.stepping import Simulation
from app.grading.summary import time_to_grade
from app.results.answer import answer
from app.solve.equations import Array

OFF_MM = 20.0
STARTS = tuple(
    (OFF_MM * left, OFF_MM * right)
    for left, right in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, -1), (1, -1), (-1, 1))
)
"""Ends off grade at the start, mm: either alone, both alike, and one up where the other is down."""

TRIED = 16
_SECONDS = 20.0
_RESTS_S = 2.0
_STILL = 0.2
"""At rest: both ends move less than this share of the tolerance in the last two seconds."""

_BAND = 2 / 3
"""Dead band of on/off valves as a share of the tolerance, where none is set: what rests in it is at grade."""

SWEPT: tuple[tuple[ValveKind, Way], ...] = (
    ("proportional", "each its own"),
    ("proportional", "decoupled"),
    ("proportional", "one after the other"),
    ("on/off", "each its own"),
)


@answer
class Best:
    """The quickest settings of one way of controlling a mount."""

    valve: ValveKind
    """The valves."""
    way: Way
    """How readings work cylinders."""
    setting: float | None
    """The gain, 1/s, or with on/off valves the flow to a cylinder, L/min; null where none that was tried rests."""
    time_to_grade: float | None
    """Until both ends are at grade to stay, from the worst of the starts, s."""
    dead_band: float
    """The dead band it was tried with, mm."""
    tried: list[float]
    """The settings that were tried."""
    times: list[float | None]
    """The same time at each of them; null where it does not come to grade and rest from every start."""


def best(mount: Mount, settings: RunSettings) -> list[Best]:
    """The quickest settings of every way of controlling a mount, on level ground and without a load.

    Raises as ``run`` does; BadSettings too without a tolerance.
    """
    return [best_of(mount, settings, valve, way) for valve, way in SWEPT]


def best_of(mount: Mount, settings: RunSettings, valve: ValveKind, way: Way) -> Best:
    """The same of one way alone."""
    return _found(mount, _plain(settings, valve, way, mount), valve, way)


@lru_cache(maxsize=64)
def _found(mount: Mount, plain: RunSettings, valve: ValveKind, way: Way) -> Best:
    """Found once however often it is asked for: ground, load, start and length of a run have no part in it."""
    return _swept(_Sweep(rig(mount, plain), valve), way)


def _plain(settings: RunSettings, valve: ValveKind, way: Way, mount: Mount) -> RunSettings:
    """The settings on level ground, without load and noise."""
    control = settings.control
    band = control.dead_band
    if valve == "on/off" and band is None:
        band = _BAND * (mount.tolerance or OFF_MM)
    changes = {"valve": valve, "way": way, "dead_band": band if valve == "on/off" else 0.0, "gain": None}
    plain = settings.model_copy(update={"control": control.model_copy(update=changes)})
    return plain.model_copy(
        update={
            "ground": Flat(kind="flat"),
            "start": Start(),
            "load": "none",
            "passes": 1,
            "seeds": 1,
            "seconds": _SECONDS,
            "sensing": settings.sensing.model_copy(update={"noise": 0.0}),
            "step": step_for(plain, soonest(plain)),
        }
    )


@dataclass(frozen=True, eq=False)
class _Sweep:
    """The settings that are tried with one rig."""

    rig: Rig
    valve: ValveKind

    @property
    def tried(self) -> Array:
        """Gains about the one without overshoot, 1/s; or shares of the valve's flow, up to a third more."""
        if self.valve == "proportional":
            return self.rig.gain * np.geomspace(0.15, 3.0, TRIED)
        tried: Array = np.geomspace(0.03, 1.3, TRIED)
        return tried

    @property
    def shown(self) -> Array:
        """The same as gains, or flows in L/min."""
        valve = self.rig.mount.valve
        return self.tried * (valve.flow if valve and self.valve == "on/off" else 1.0)


def _swept(sweep: _Sweep, way: Way) -> Best:
    rigged, tried = sweep.rig, sweep.tried
    own = np.repeat(tried, len(STARTS))
    starts = np.tile(np.array(STARTS), (len(tried), 1))
    given = {"gain" if sweep.valve == "proportional" else "flow": own, "left": starts[:, 0], "right": starts[:, 1]}
    ground = Shaped(Flat(kind="flat"), len(own))
    simulation = Simulation(batch_of(rigged, [0] * len(own), ground, _SECONDS, given))
    simulation.advance(simulation.batch.steps)
    trace, tolerance = simulation.trace, rigged.mount.tolerance or OFF_MM
    last = trace.heights[:, -round(_RESTS_S / rigged.step) :, :2]
    still = np.ptp(last, axis=1).max(axis=1) <= _STILL * tolerance
    times: list[float | None] = []
    for first in range(0, len(own), len(STARTS)):
        found = [
            time_to_grade(trace.heights[run, :, end], trace.times, tolerance) if still[run] else None
            for run in range(first, first + len(STARTS))
            for end in range(2)
        ]
        known = [each for each in found if each is not None]
        times.append(max(known) if len(known) == len(found) else None)
    quickest = min((time for time in times if time is not None), default=None)
    shown = sweep.shown.tolist()
    return Best(
        valve=sweep.valve,
        way=way,
        setting=None if quickest is None else shown[times.index(quickest)],
        time_to_grade=quickest,
        dead_band=rigged.dead_band,
        tried=shown,
        times=times,
    )
