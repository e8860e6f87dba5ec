"""What is to be said of each mount by itself, before the two are compared: does it pass, and if not, why not."""

from typing import Literal

from app.comparison.side import Side
from app.document.messages import Message, Value
from app.document.parts import ENDS, EndName
from app.document.reasons import NO_TOLERANCE, NOT_LOCATED
from app.results.answer import answer
from app.results.budget import Budget
from app.results.flips import Flips, flips
from app.results.relief import demands
from app.results.worst import COMES_APART
from app.sources import KINDS

INSIDE = Message("inside", "the edge stays inside the tolerance, and no relief, rating or stroke is passed")


@answer
class Share:
    """What all sources of one kind put on the worse end together."""

    kind: str
    """Kind of source."""
    low: float
    """Lowest, mm."""
    high: float
    """Highest, mm."""


@answer
class Verdict:
    """One mount by itself."""

    state: Literal["passes", "fails", "not judged"]
    """Whether it holds the tolerance, the relief setting, its ratings and its strokes."""
    why: list[Message]
    """Every reason why it fails or is not judged; that it passes, where it does."""
    end: EndName | None
    """The worse end; null unless located."""
    worst: float | None
    """The larger of linear and true worst there, mm; null unless located, or where the mount comes apart."""
    linear: float | None
    """The linear sum there, mm; null unless located."""
    tolerance: float | None
    """Tolerance, +- mm."""
    shares: list[Share]
    """What each kind of source puts on the worse end, in the order of the kinds; together the linear sum."""
    flips: Flips | None
    """How near it is to a flip; null without a load or unless located."""


def verdict(side: Side) -> Verdict:
    """Judge one mount by itself."""
    tolerance = side.mount.tolerance
    budget = side.readout.budget
    if budget is None:
        why = [NOT_LOCATED[side.now.mobility.state]]
        return Verdict("fails", why, None, None, None, tolerance, [], None)
    end = worse_end(side, budget)
    value = side.worst[end]
    against = _against(side)
    open_reasons = [NO_TOLERANCE] if tolerance is None else [COMES_APART] if value is None else []
    if tolerance is not None and value is not None and value > tolerance:
        values: dict[str, Value] = {
            "worst": (value, "error"),
            "end": (end, "word"),
            "tolerance": (tolerance, "error"),
        }
        against.append(
            Message("outside", "the {end} end is up to {worst} out, with ±{tolerance} allowed", values=values)
        )
    return Verdict(
        state="fails" if against else "not judged" if open_reasons else "passes",
        why=[*against, *open_reasons] or [INSIDE],
        end=end,
        worst=value,
        linear=budget.of(end).worst,
        tolerance=tolerance,
        shares=shares_of(budget, end),
        flips=flips(side.now) if side.mount.load else None,
    )


def overloaded(side: Side) -> list[str]:
    """Joints, by name, that carry more than they are rated for under the load entered."""
    forces = side.readout.forces or {}
    return [name for name, each in forces.items() if each.rating and each.worst and each.worst > each.rating]


def worse_end(side: Side, budget: Budget) -> EndName:
    """The end that is farther out; the right one where both are alike."""
    left, right = (budget.of(end).worst if (size := side.worst[end]) is None else size for end in ENDS)
    return "left" if left > right else "right"


def _against(side: Side) -> list[Message]:
    """Strokes, relief and ratings that are passed."""
    found = [side.now.pose.stopped] if side.now.pose.stopped else []
    found += [each.message for each in demands(side.now).values() if each.share > 1]
    forces = side.readout.forces or {}
    for name in overloaded(side):
        values: dict[str, Value] = {
            "joint": (name, "joint"),
            "force": (forces[name].worst or 0.0, "force"),
            "rating": (forces[name].rating or 0.0, "force"),
        }
        found.append(Message("over-rating", "joint '{joint}' carries {force}; it is rated for {rating}", values=values))
    return found


def shares_of(budget: Budget, end: EndName) -> list[Share]:
    """What each kind of source puts on an end, in the order of the kinds."""
    sums: dict[str, list[float]] = {}
    for source in budget.of(end).sources:
        total = sums.setdefault(source.kind, [0.0, 0.0])
        total[0] += source.low
        total[1] += source.high
    return [Share(kind, *sums[kind]) for kind in KINDS if kind in sums]
