"""What is to be said of one mount over its travel by itself: is it inside, where is it worst, where can it go."""

from typing import Literal

from app.comparison.overside import OverSide
from app.comparison.verdict import Share, overloaded, shares_of, worse_end
from app.document.messages import Message, Value, word
from app.document.parts import EndName
from app.document.reasons import NO_TOLERANCE
from app.results.answer import answer
from app.results.relief import demands
from app.results.worst import COMES_APART

INSIDE = Message("inside", "the edge stays inside the tolerance all over its travel, and no relief or rating is passed")
ALL_OF_IT = 1 - 1e-12


@answer
class OverReason:
    """Why a mount fails over its travel, or does not."""

    message: Message
    """In words."""
    command: dict[str, float] | None
    """Where, mm longer than drawn by id; null where it is of the whole travel."""


@answer
class Way:
    """How far an end goes."""

    low: float
    """The lowest, mm above where drawn."""
    high: float
    """The highest."""


@answer
class OverVerdict:
    """One mount over its travel, by itself."""

    state: Literal["passes", "fails", "not judged"]
    """Whether it holds the tolerance, the relief setting and its ratings wherever it can go."""
    why: list[OverReason]
    """Every reason why it fails or is not judged; that it passes, where it does."""
    cylinders: list[str]
    """The cylinders that are worked, by id."""
    strokes: dict[str, list[float]]
    """Where each is closed and fully out, mm longer than drawn, by id."""
    end: EndName | None
    """The worse end where it is worst; null without a travel."""
    worst: float | None
    """The larger of the linear worst over the travel and the true worst there, mm; null where it comes apart there."""
    linear: float | None
    """The linear sum there, the largest over the travel, mm."""
    drawn: float | None
    """The linear sum as drawn, mm."""
    command: dict[str, float]
    """Where that is, mm longer than drawn by id."""
    tolerance: float | None
    """Tolerance, +- mm."""
    shares: list[Share]
    """What each kind of source puts on the worse end there; together the linear sum."""
    inside: float | None
    """Share of the travel it reaches on which the linear sum is inside; null where it is judged nowhere."""
    reached: float
    """Share of its strokes it can go to."""
    ends: dict[EndName, Way]
    """How far the ends go, by end."""
    short: list[Message]
    """Why it cannot go to all of its strokes; empty where it can."""


def over_verdict(side: OverSide) -> OverVerdict:
    """Judge one mount over its travel."""
    tolerance = side.mount.tolerance
    if why_not := side.why_not:
        state: Literal["fails", "not judged"] = "not judged" if side.drawn.now.located else "fails"
        reason = OverReason(why_not, None)
        return OverVerdict(state, [reason], [], {}, None, None, None, None, {}, tolerance, [], None, 0.0, {}, [])
    over, there = side.over, side.at_worst
    budget = there.readout.budget
    found = over.worst["worst"]
    end = worse_end(there, budget) if budget else None
    against = _against(side)
    open_reasons = [NO_TOLERANCE] if tolerance is None else [COMES_APART] if side.worst is None else []
    if tolerance is not None and side.worst is not None and side.worst > tolerance:
        values: dict[str, Value] = {
            "worst": (side.worst, "error"),
            "end": (end or "", "word"),
            "tolerance": (tolerance, "error"),
        }
        text = "the {end} end is up to {worst} out on its travel, with ±{tolerance} allowed"
        against.append(OverReason(Message("outside", text, values=values), found.command))
    unsure = [OverReason(each, None) for each in open_reasons]
    return OverVerdict(
        state="fails" if against else "not judged" if unsure else "passes",
        why=[*against, *unsure] or [OverReason(INSIDE, None)],
        cylinders=list(over.cylinders),
        strokes={name: [float(each[0]), float(each[-1])] for name, each in over.strokes.items()},
        end=end,
        worst=side.worst,
        linear=found.value,
        drawn=over.drawn.get("worst"),
        command=found.command,
        tolerance=tolerance,
        shares=shares_of(budget, end) if budget and end else [],
        inside=side.inside,
        reached=side.reached,
        ends={"left": Way(*side.heights("left")), "right": Way(*side.heights("right"))},
        short=_short(side),
    )


def _against(side: OverSide) -> list[OverReason]:
    """Relief and ratings that are passed somewhere, each where it is passed the most."""
    found = []
    if over_relief := side.passes("relief"):
        messages = [each.message for each in demands(side.at(over_relief).now).values() if each.share > 1]
        found += [OverReason(each, over_relief.command) for each in messages]
    if over_rating := side.passes("use"):
        there = side.at(over_rating)
        forces = there.readout.forces or {}
        for name in overloaded(there):
            values: dict[str, Value] = {
                "joint": (name, "joint"),
                "force": (forces[name].worst or 0.0, "force"),
                "rating": (forces[name].rating or 0.0, "force"),
            }
            text = "joint '{joint}' carries {force}; it is rated for {rating}"
            found.append(OverReason(Message("over-rating", text, values=values), over_rating.command))
    return found


def _short(side: OverSide) -> list[Message]:
    """Why it cannot go to all of its strokes."""
    if side.reached >= ALL_OF_IT:
        return []
    lines = [each.members for each in side.over.dead_centres]
    values: dict[str, Value] = {"share": (1 - side.reached, "percent")}
    if not lines:
        return [Message("out-of-reach", "it cannot go to {share} of its strokes", values=values)]
    names = "; ".join(dict.fromkeys(", ".join(f"'{name}'" for name in members) for members in lines))
    text = "it cannot go to {share} of its strokes: a dead centre stands in the way ({names})"
    return [Message("dead-centre", text, sorted({each for line in lines for each in line}),
                    values | {"names": word(names)})]  # fmt: skip
