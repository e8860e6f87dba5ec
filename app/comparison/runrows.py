"""The numbers two mounts are compared by over the same run, and when neither is said to be the better."""

from collections.abc import Sequence
from dataclasses import dataclass

from app.comparison.compare import Compared
from app.comparison.ranking import Better, BetterWhen, Ranked, of_strength, of_swing, of_unlike, ranked
from app.comparison.runside import RunSide, off_end
from app.document.messages import Message, Value
from app.document.parts import ENDS, OTHER
from app.document.reasons import NO_TOLERANCE
from app.document.units import Measure
from app.grading.seeds import Mean

NEVER = Message("never", "it does not come to grade to stay")
NOT_OFF = Message("not-off", "no end starts at grade while the other is off")
NOT_RANKED = Ranked(None, None, None)

STARTS_ALIKE_MM = 0.5
"""Ends that start nearer to one another than this start alike."""

SEEN_MM = 0.01
"""Heights nearer to one another than this are the same: less is not seen."""

SEEN_S = 0.05
"""Times nearer than this are the same: a reading comes no more often."""


@dataclass(frozen=True)
class RunRow:
    """One of the four numbers."""

    name: str
    label: str
    noun: str
    quantity: Measure
    field: str
    hangs: Sequence[str] = ()
    better: BetterWhen = "less"
    begun: bool = False
    """Whether it is of how the start is made good, and so of the same task only where both start alike."""


_MACHINE = ("blade", "load", "mass", "weights", "oil", "valve", "sensors", "clearances", "tyres", "lugs")
ROWS: tuple[RunRow, ...] = (
    RunRow("run-time", "Time to grade, both ends", "the time", "time", "time", ("tolerance",), begun=True),
    RunRow("run-other", "What the other end did meanwhile", "the movement of the other end", "error", "other",
           begun=True),
    RunRow("run-rms", "rms after settling, both ends", "the rms", "error", "rms"),
    RunRow("run-inside", "Share of the way inside the tolerance", "the share inside", "percent", "inside",
           ("tolerance",), better="more", begun=True),
)  # fmt: skip


def rows_of(sides: Sequence[RunSide], differing: Sequence[str]) -> list[Compared]:
    """Every number of both; ``differing`` are the groups of inputs in which they differ."""
    return [_row(row, sides, differing) for row in ROWS]


def _row(row: RunRow, sides: Sequence[RunSide], differing: Sequence[str]) -> Compared:
    means = [side.mean(row.field) for side in sides]
    ranks = _ranked(row, sides, means, differing)
    label = row.label
    if row.field == "other" and (off := off_end(sides[0].settings)):
        label = f"What the {OTHER[off]} end did meanwhile"
    return Compared(
        name=row.name,
        label=label,
        noun=row.noun,
        quantity=row.quantity,
        signed=False,
        a=means[0].mean if means[0] else None,
        b=means[1].mean if means[1] else None,
        about=["", ""],
        paths=[[], []],
        missing=[None if mean else _missing(row, side) for mean, side in zip(means, sides, strict=True)],
        better=ranks.better,
        times=ranks.times,
        why=ranks.why,
    )


def _missing(row: RunRow, side: RunSide) -> Message:
    if isinstance(side.made, Message):
        return side.made
    if side.mount.tolerance is None and row.field in ("time", "inside"):
        return NO_TOLERANCE
    return NEVER if row.field == "time" else NOT_OFF


def _ranked(row: RunRow, sides: Sequence[RunSide], means: Sequence[Mean | None], differing: Sequence[str]) -> Ranked:
    if any(isinstance(side.made, Message) for side in sides):
        return NOT_RANKED
    hangs = _MACHINE if sides[0].settings.load != "none" else tuple(each for each in _MACHINE if each != "load")
    why = of_unlike([group for group in (*hangs, *row.hangs) if group in differing])
    if sides[0].settings.load != "none":
        why = why or of_strength([side.standing for side in sides])
    if row.begun:
        why = why or _starts_unlike(sides)
    if why:
        return Ranked(None, None, why)
    one, two = means
    if one is None or two is None:
        alone: Better | None = None if one is two or row.field != "time" else "a" if two is None else "b"
        return Ranked(alone, None, None)
    ranks = ranked((one.mean, two.mean), row.better)
    if row.quantity == "error" and abs(one.mean - two.mean) < SEEN_MM:
        return Ranked("same", 1.0, None)
    if row.field == "time" and abs(one.mean - two.mean) < SEEN_S:
        return Ranked("same", 1.0, None)
    if ranks.better == "same":
        return ranks
    why = _seeds_disagree(one, two)
    why = why or of_swing([side.standing for side in sides], _ratios(row, sides, (one, two)))
    return Ranked(None, None, why) if why else ranks


def _starts_unlike(sides: Sequence[RunSide]) -> Message | None:
    """That they do not start alike, so that they were not given the same task."""
    a, b = (side.start for side in sides)
    if all(abs(a[end] - b[end]) < STARTS_ALIKE_MM for end in ENDS):
        return None
    values: dict[str, Value] = {
        f"{end}_{name}": (start[end], "error") for name, start in (("a", a), ("b", b)) for end in ENDS
    }
    text = (
        "they do not start alike: left and right end are {left_a} and {right_a} off in A, {left_b} and {right_b} in B"
    )
    return Message("starts-unlike", text, values=values)


def _seeds_disagree(one: Mean, two: Mean) -> Message | None:
    if one.count < 2 and two.count < 2:
        return None
    apart = one.low > two.high or two.low > one.high
    return None if apart else Message("seeds", "the seeds do not tell them apart")


def _ratios(row: RunRow, sides: Sequence[RunSide], now: tuple[Mean, Mean]) -> list[float | None]:
    """A over B at a tenth less load, at the load, and at a tenth more; nothing where no load is on."""
    if not all(side.around for side in sides):
        return []
    values = []
    for side, mean in zip(sides, now, strict=True):
        less, more = (getattr(fours[0], row.field) if fours else None for fours in side.around)
        values.append([less, mean.mean, more])
    return [a / b if a and b else None for a, b in zip(*values, strict=True)]
