"""Two mounts over the same run, each with the quickest settings of its own: equal settings can flatter either."""

from collections.abc import Sequence

from app.comparison.compare import Compared
from app.comparison.runrows import rows_of
from app.comparison.runside import RunSide, RunVerdict, first_of, verdict_of
from app.document.errors import BadSettings, NotLocated
from app.document.messages import Message
from app.document.models import Mount
from app.grading.best import best_of
from app.grading.settings import RunSettings, ValveKind, Way
from app.results.answer import answer

NEVER_RESTS = Message("never-rests", "no setting that was tried brings it to grade and to rest from every start")
NOTHING_TO_TUNE = Message("nothing-to-tune", "pulsed valves have no gain to be tuned")


@answer
class OwnBest:
    """The quickest setting of one mount: tried on level ground without load, from eight starts."""

    setting: float | None
    """The gain, 1/s, or with on/off valves the flow to a cylinder, L/min; null where there is none."""
    time_to_grade: float | None
    """Until both ends are at grade to stay, from the worst of the eight starts, s; null where there is no setting."""
    tried: int
    """How many settings were tried."""


@answer
class AtOwnBest:
    """Both over the run as it is set, but for the gain or flow: that is the quickest each mount can do with."""

    valve: ValveKind
    """The valves of both."""
    way: Way
    """How readings work the cylinders of both."""
    best: list[OwnBest]
    """The setting of A and of B."""
    a: RunVerdict
    """A by itself, with it."""
    b: RunVerdict
    """B by itself, with its own."""
    rows: list[Compared]
    """The same numbers as at equal settings."""
    a_better: list[str]
    """In what A is the better, by name of the row."""
    b_better: list[str]
    """The same of B."""


def at_own_best(sides: Sequence[RunSide], differing: Sequence[str]) -> list[AtOwnBest]:
    """Each at its own best as it is controlled.

    With proportional valves with both cylinders worked together too, where both mounts have two to work.
    """
    control = sides[0].settings.control
    ways: list[Way] = [control.way]
    if control.valve == "proportional" and control.way != "decoupled" and all(map(_works_two, sides)):
        ways.append("decoupled")
    return [_at(way, sides, differing) for way in ways]


def _works_two(side: RunSide) -> bool:
    return len(side.settings.control.cylinders or side.mount.cylinders) > 1


def _at(way: Way, sides: Sequence[RunSide], differing: Sequence[str]) -> AtOwnBest:
    tuned = [_tuned(side, way) for side in sides]
    driven = [side for side, _ in tuned]
    rows = rows_of(driven, differing)
    return AtOwnBest(
        valve=sides[0].settings.control.valve,
        way=way,
        best=[found for _, found in tuned],
        a=verdict_of(driven[0]),
        b=verdict_of(driven[1]),
        rows=rows,
        a_better=[row.name for row in rows if row.better == "a"],
        b_better=[row.name for row in rows if row.better == "b"],
    )


def _tuned(side: RunSide, way: Way) -> tuple[RunSide, OwnBest]:
    """The same mount with its own best setting, and what that is."""
    mount, settings = side.mount, side.settings
    valve = settings.control.valve
    if valve == "pulsed":
        return RunSide(mount, settings, NOTHING_TO_TUNE), OwnBest(None, None, 0)
    try:
        found = best_of(mount, settings, valve, way)
    except (BadSettings, NotLocated) as error:
        return RunSide(mount, settings, first_of(error)), OwnBest(None, None, 0)
    own = OwnBest(found.setting, found.time_to_grade, len(found.tried))
    if found.setting is None:
        return RunSide(mount, settings, NEVER_RESTS), own
    return _set(mount, settings, found.setting, way, found.dead_band), own


def _set(mount: Mount, settings: RunSettings, setting: float, way: Way, dead_band: float) -> RunSide:
    """A mount with a gain, or with a flow and the dead band it was tried with."""
    if settings.control.valve == "proportional":
        control = settings.control.model_copy(update={"way": way, "gain": setting})
        return RunSide(mount, settings.model_copy(update={"control": control}))
    control = settings.control.model_copy(update={"way": way, "dead_band": dead_band})
    valve = mount.valve.model_copy(update={"flow": setting}) if mount.valve else None
    return RunSide(mount.model_copy(update={"valve": valve}), settings.model_copy(update={"control": control}))
