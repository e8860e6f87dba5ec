"""Which of two numbers is the better, by how much, and when neither is said to be.

A ratio is given only where it would hold for a little more load: a number that swings with the load is not ranked.
"""

from collections.abc import Callable, Sequence
from typing import Literal, TypeAlias

from app.comparison.inputs import WORDS
from app.comparison.side import Side
from app.comparison.verdict import overloaded
from app.document.messages import Message, Value
from app.results.answer import answer
from app.results.flips import Flip, flips
from app.results.relief import beyond_relief

SideName: TypeAlias = Literal["a", "b"]
Better: TypeAlias = Literal["a", "b", "same"]
BetterWhen: TypeAlias = Literal["less", "more"]

ALIKE = 0.005
"""Numbers that differ by no more than this share are the same."""

NONE = 1e-9
"""What is no larger is none."""

SWING = 1.5
"""A ratio of two numbers that changes by more than this for a tenth more or less load is no ratio to go by."""

NAMED = 2
"""So many inputs that differ are named; more are counted."""


@answer
class Ranked:
    """How two numbers compare."""

    better: Better | None
    """The better one; null where neither is said to be."""
    times: float | None
    """The larger over the smaller by size, 1 or more; null where they are not compared, or one is none."""
    why: Message | None
    """Why they are not compared; null where they are."""


def ranked(values: tuple[float, float], better_when: BetterWhen) -> Ranked:
    """Two numbers by their sizes."""
    a, b = (abs(each) for each in values)
    more, less = max(a, b), min(a, b)
    if more - less <= ALIKE * less or more < NONE:
        return Ranked("same", more / less if less > NONE else 1.0, None)
    larger: SideName = "a" if a > b else "b"
    smaller: SideName = "b" if a > b else "a"
    return Ranked(smaller if better_when == "less" else larger, more / less if less > NONE else None, None)


def of_unlike(groups: Sequence[str]) -> Message | None:
    """That inputs differ on which the number hangs; None where none do."""
    if not groups:
        return None
    words = [WORDS.get(each, each) for each in groups]
    if len(words) > NAMED:
        return Message("unlike", f"{len(words)} inputs differ")
    many = len(words) > 1 or words[0].endswith("s")
    return Message("unlike", f"{' and '.join(words)} {'differ' if many else 'differs'}")


def of_nowhere(sides: Sequence[Side]) -> Message | None:
    """That a mount does not stand where it is asked to."""
    names = _names(sides, lambda side: side.now.pose.stopped is not None)
    return Message("not-there", f"{names} does not reach where the ends are asked to be") if names else None


def of_strength(sides: Sequence[Side]) -> Message | None:
    """That a mount does not carry the load at all: its relief valve opens, or a joint is over its rating."""
    if names := _names(sides, lambda side: beyond_relief(side.now) is not None):
        return Message("beyond-relief", f"the relief valve of {names} opens before the load is on")
    if names := _names(sides, lambda side: bool(overloaded(side))):
        return Message("over-rating", f"a joint of {names} is loaded past its rating")
    return None


def of_unheld(sides: Sequence[Side]) -> Message | None:
    """That a reading hangs on play whose side nothing holds."""
    names = _names(sides, lambda side: bool(flips(side.now).unheld))
    return Message("unheld", f"in {names} it hangs on a side that nothing holds") if names else None


def of_swing(sides: Sequence[Side], ratios: Sequence[float | None]) -> Message | None:
    """That the ratio changes much for a tenth more or less load, and which flip does it."""
    known = [each for each in ratios if each is not None]
    if not known:
        return None
    if len(known) == len(ratios) and max(known) <= SWING * min(known):
        return None
    near = [(name, side, flip) for name, side in zip("AB", sides, strict=True) if (flip := _nearest(side))]
    if not near:
        return Message("swings", "it changes too much with a tenth more or less load")
    name, side, flip = min(near, key=lambda each: abs(each[2].multiple - 1))
    what = "joint '{of}'" if flip.kind == "joint" else "cylinder '{of}'"
    values: dict[str, Value] = {
        "of": (flip.of, "joint" if flip.kind == "joint" else "word"),
        "load": (flip.multiple * side.load, "force"),
    }
    text = f"it changes too much with a tenth more or less load: in {name} {what} turns over at {{load}}"
    return Message("swings", text, values=values)


def _nearest(side: Side) -> Flip | None:
    found = flips(side.now)
    return min(
        (each for each in (found.less, found.more) if each), key=lambda each: abs(each.multiple - 1), default=None
    )


def _names(sides: Sequence[Side], holds: Callable[[Side], bool]) -> str:
    """A, B or both of those for which something holds."""
    return " and ".join(name for name, side in zip("AB", sides, strict=True) if holds(side))
