"""The numbers two mounts are compared by, cause by cause: each cause once, its first number leading.

A new number is a ``Row`` in the cause that it follows from.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from app.analysis import Analysis
from app.comparison import row
from app.comparison.row import ERROR_HANGS
from app.comparison.side import Side
from app.document.parts import ENDS
from app.results.actuators import actuators
from app.results.budget import budget
from app.results.coupling import coupling
from app.results.dial import load_test
from app.results.forces import joint_forces
from app.results.relief import demands

Path = tuple[str, ...]
"""Where a number stands in the readout."""


@dataclass(frozen=True)
class Found:
    """A number of a mount: its value, None where there is none, what it is about, and its place in the readout."""

    value: float | None
    about: str = ""
    path: Path = ()


NOTHING = Found(None)


Row: TypeAlias = row.Row[Side, Found, Analysis]
Cause: TypeAlias = row.Cause[Side, Found, Analysis]

_MOVED = (*ERROR_HANGS, "mass", "weights")
_DIAL = ("blade", "load", "mass", "weights", "oil", "clearances", "tyres", "lugs")


def _largest(found: Sequence[Found]) -> Found:
    known = [each for each in found if each.value is not None]
    return max(known, key=lambda each: abs(each.value or 0.0), default=NOTHING)


def _worst(side: Side) -> Found:
    if side.readout.budget is None:
        return NOTHING
    if None in side.worst.values():
        return NOTHING
    found = [Found(side.worst[end], f"{end} end") for end in ENDS]
    most = _largest(found)
    end = most.about.removesuffix(" end")
    linear = side.readout.budget.left.worst if end == "left" else side.readout.budget.right.worst
    return Found(most.value, most.about, ("budget", end, "worst") if linear == most.value else ())


def _of_budget(name: str) -> Callable[[Side], Found]:
    def find(side: Side) -> Found:
        found = budget(side.now) if side.now.located else None
        if found is None:
            return NOTHING
        return _largest([Found(getattr(found.of(end), name), f"{end} end", ("budget", end, name)) for end in ENDS])

    return find


def _again_budget(name: str) -> Callable[[Analysis], float | None]:
    def find(analysis: Analysis) -> float | None:
        values = [getattr(budget(analysis).of(end), name) for end in ENDS]
        return None if None in values else max(values)

    return find


def _dial(end: str) -> Callable[[Side], Found]:
    def find(side: Side) -> Found:
        found = load_test(side.now) if side.now.located else None
        return Found(getattr(found, end), "", ("dial", end)) if found else NOTHING

    return find


def _again_dial(end: str) -> Callable[[Analysis], float | None]:
    def find(analysis: Analysis) -> float | None:
        found = load_test(analysis)
        return getattr(found, end) if found else None

    return find


def _coupling(side: Side) -> Found:
    if not side.now.located:
        return NOTHING
    worst = coupling(side.now).worst
    about = next((name for name, each in actuators(side.now).items() if each.coupling == worst), "")
    return Found(worst, about, ("coupling", "worst")) if worst is not None else NOTHING


def _residual(side: Side) -> Found:
    found = coupling(side.now).residual if side.now.located else None
    return Found(found, "", ("coupling", "residual")) if found is not None else NOTHING


def _moves(side: Side) -> Found:
    moves = coupling(side.now).moves if side.now.located else None
    if not moves:
        return NOTHING
    counts = {end: sum(abs(move) > 1e-6 for move in moves[end].values()) for end in ENDS}
    return Found(float(max(counts.values())), f"{max(counts, key=lambda end: counts[end])} end")


def _load_ratio(side: Side) -> Found:
    found = actuators(side.now) if side.now.located else {}
    return _largest([Found(each.load_ratio, name, ("actuators", name, "load_ratio")) for name, each in found.items()])


def _relief(side: Side) -> Found:
    found = demands(side.now) if side.now.located else {}
    return _largest([Found(each.share, name, ("actuators", name, "relief_share")) for name, each in found.items()])


def _again_relief(analysis: Analysis) -> float | None:
    return max((each.share for each in demands(analysis).values()), default=None)


def _force(side: Side) -> Found:
    found = joint_forces(side.now) if side.now.located else {}
    return _largest([Found(each.worst, name, ("forces", name, "worst")) for name, each in found.items()])


def _again_force(analysis: Analysis) -> float | None:
    return max((each.worst for each in joint_forces(analysis).values() if each.worst is not None), default=None)


def _by_way(quantity: str) -> Callable[[Side], Found]:
    """The largest speed or step of an end by one cylinder, the slower way."""

    def find(side: Side) -> Found:
        found = actuators(side.now) if side.now.located else {}
        return _largest(
            [
                Found(getattr(getattr(ways, way), end), f"{name}, {end} end", ("actuators", name, quantity, way, end))
                for name, each in found.items()
                if (ways := getattr(each, quantity)) is not None
                for way in ("lengthen", "shorten")
                for end in ENDS
            ]
        )

    return find


def _cylinders(side: Side) -> Found:
    return Found(float(len(side.mount.cylinders)))


def _joints(side: Side) -> Found:
    return Found(float(len(side.mount.joints)))


def _oil(side: Side) -> Found:
    return Found(side.correction.oil) if side.now.located and side.correction.met else NOTHING


def _time(side: Side) -> Found:
    return Found(side.correction.time) if side.now.located and side.correction.time is not None else NOTHING


def _other(side: Side) -> Found:
    return Found(side.correction.other) if side.now.located and side.correction.met else NOTHING


def _tilt(side: Side) -> Found:
    found = side.extremes if side.now.located else None
    return Found(found.tilt) if found else NOTHING


def _lift(side: Side) -> Found:
    found = side.extremes if side.now.located else None
    return Found(found.lift) if found and found.lift is not None else NOTHING


CAUSES: tuple[Cause, ...] = (
    Cause(
        "ends",
        "What the cylinders do to the ends",
        (
            Row("moves", "Cylinders to correct one end alone", "the cylinders to move", "count", _moves, ("blade",),
                absent=("coupling.moves",)),
            Row("coupling", "Coupling, worst cylinder", "the coupling", "ratio", _coupling, ("blade",),
                absent=("coupling.worst",), signed=True),
            Row("residual", "Left of an error, ends in turn", "what each round leaves", "percent", _residual,
                ("blade", "sensors"), absent=("coupling.residual",)),
        ),
    ),
    Cause(
        "errors",
        "What slop and oil do to the edge",
        (
            Row("worst", "Worst edge error", "the worst edge error", "error", _worst, ERROR_HANGS,
                again=_again_budget("worst"), absent=("budget",)),
            Row("rss", "Statistical edge error (rss)", "the statistical edge error", "error", _of_budget("rss"),
                ERROR_HANGS, again=_again_budget("rss"), absent=("budget",)),
            Row("under-load", "Worst, play as the load moves it", "the worst with play as the load moves it", "error",
                _of_budget("worst_under_load"), _MOVED, again=_again_budget("worst_under_load"),
                absent=("budget.left.worst_under_load",), held=True),
            Row("dial-left", "Dial reading, left end", "the dial reading at the left end", "error", _dial("left"),
                _DIAL, again=_again_dial("left"), absent=("dial",), signed=True, held=True),
            Row("dial-right", "Dial reading, right end", "the dial reading at the right end", "error", _dial("right"),
                _DIAL, again=_again_dial("right"), absent=("dial",), signed=True, held=True),
        ),
    ),
    Cause(
        "load",
        "What the load asks of it",
        (
            Row("load-ratio", "Cylinder load for edge load", "the load on the cylinder", "ratio", _load_ratio,
                ("blade", "load"), absent=("actuators.load_ratio",)),
            Row("relief", "Relief pressure used, weight and load", "the use of the relief pressure", "percent", _relief,
                ("blade", "load", "mass", "weights", "oil"), again=_again_relief, absent=("actuators.relief_share",)),
            Row("joint-force", "Largest joint force", "the joint force", "force", _force,
                ("blade", "load", "mass", "weights"), again=_again_force, absent=("forces.worst",)),
        ),
    ),
    Cause(
        "takes",
        "What it takes",
        (
            Row("cylinders", "Cylinders", "the cylinders", "count", _cylinders, ()),
            Row("joints", "Joints that wear", "the joints", "count", _joints, ()),
            Row("oil", "Oil for the correction", "the oil", "volume", _oil, ("blade",)),
        ),
    ),
    Cause(
        "can",
        "What it can do",
        (
            Row("time", "Time for the correction", "the time", "time", _time, ("blade", "valve"),
                absent=("actuators.speed",)),
            Row("other", "The other end meanwhile", "the movement of the other end", "error", _other, ("blade",),
                signed=True),
            Row("lift", "Lift with a level edge", "the lift", "length", _lift, ("blade",), better="more"),
            Row("tilt", "Cross fall, whole range", "the range of cross fall", "percent", _tilt, ("blade",),
                better="more"),
            Row("speed", "Fastest end by one cylinder", "the speed", "speed", _by_way("speed"), ("blade", "valve"),
                absent=("actuators.speed",), better="more"),
            Row("step", "Smallest step at the edge", "the smallest step", "error", _by_way("step"), ("blade", "valve"),
                absent=("actuators.step",)),
        ),
    ),
)  # fmt: skip
"""In the order in which they are told. What follows from the whole travel, or from a run, is a cause of its own."""
