"""Two mounts over the same run: the same ground, the same settings, the same seeds, and in what either is the better.

Both are said as they come; one is called the better only where both were given the same task, and where the seeds, if
there are many, tell them apart.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, TypeAlias

from app.comparison.compare import Compared
from app.comparison.inputs import unlike
from app.comparison.ranking import Better, BetterWhen, Ranked, of_strength, of_swing, of_unlike, ranked
from app.comparison.side import LESS, MORE, Side, Wanted, reloaded
from app.document.errors import BadSettings, NotLocated
from app.document.messages import Message, Value
from app.document.models import Mount
from app.document.parts import ENDS, OTHER, EndName
from app.document.reasons import NO_TOLERANCE
from app.document.units import Measure
from app.grading.answer import Ran, ran
from app.grading.grade import Run, run
from app.grading.reading import read_settings
from app.grading.seeds import Mean, mean_of
from app.grading.settings import RunSettings
from app.grading.summary import HuntingFound, RunSummary
from app.results.answer import answer

NEVER = Message("never", "it does not come to grade to stay")
NOT_OFF = Message("not-off", "no end starts at grade while the other is off")
NOT_RANKED = Ranked(None, None, None)

RunState: TypeAlias = Literal["comes to grade", "never stays at grade", "not judged", "not made"]

STARTS_ALIKE_MM = 0.5
"""Ends that start nearer to one another than this start alike."""

SEEN_MM = 0.01
"""Heights smaller than this, of both, are the same."""

_DIGITS = 4
"""Decimals of where an end starts, mm."""

SEEN_S = 0.05
"""Times nearer than this are the same: a reading comes no more often."""


@answer
class RunVerdict:
    """One mount's run by itself."""

    state: RunState
    """Whether both ends come to grade to stay."""
    why: Message | None
    """Why it was not made or not judged; null where it was."""
    time: float | None
    """Until both ends are at grade to stay, s, of many seeds the mean of those that come to it; null for never."""
    came: int
    """In how many seeds both ends came to grade."""
    seeds: int
    """Of how many."""
    hunting: HuntingFound | None
    """The larger steady oscillation of both ends; null where there is none."""
    start: dict[EndName, float]
    """How far off grade the ends really start, mm, by end: one cylinder alone cannot put them wherever it is asked."""


@answer
class RunsCompared:
    """Two mounts over the same run."""

    a: RunVerdict
    """A by itself."""
    b: RunVerdict
    """B by itself."""
    unlike: list[str]
    """Groups of inputs in which they differ."""
    rows: list[Compared]
    """Time to grade, what the other end did, rms, worst and share inside; of many seeds their means."""
    a_better: list[str]
    """In what A is the better, by name of the row."""
    b_better: list[str]
    """The same of B."""
    off: EndName | None
    """The end that starts off grade where the other starts on it; null otherwise."""
    run: RunSettings
    """The settings of both, every default put in."""
    ran: list[Ran | None]
    """Both runs as ``POST /run`` has them; null where one was not made."""


@dataclass(frozen=True)
class Four:
    """What one run comes to: time until both ends are at grade, s; what the end on grade did, the rms of both, mm; the
    smaller share inside. None where there is no such number."""

    time: float | None
    other: float | None
    rms: float
    inside: float | None


def four_of(summary: RunSummary, off: EndName | None) -> Four:
    """Both ends together; ``off`` is the end that starts off grade while the other starts on it."""
    ends = [summary.of(end) for end in ENDS]
    times = [each.time_to_grade for each in ends if each.time_to_grade is not None]
    shares = [each.inside for each in ends if each.inside is not None]
    return Four(
        time=max(times) if len(times) == len(ends) else None,
        other=summary.of(OTHER[off]).disturbed or 0.0 if off else None,
        rms=math.sqrt(sum(each.rms**2 for each in ends) / len(ends)),
        inside=min(shares) if shares else None,
    )


@dataclass(eq=False)
class RunSide:
    """One of two mounts on a run."""

    mount: Mount
    settings: RunSettings

    @cached_property
    def made(self) -> Run | Message:
        """The run, or why it cannot be made."""
        try:
            return run(self.mount, self.settings)
        except (BadSettings, NotLocated) as error:
            first = error.faults[0]
            return Message(first.code, first.text, values=dict(first.values))

    @cached_property
    def fours(self) -> list[Four]:
        """What every seed comes to; none where the run cannot be made."""
        off = off_end(self.settings)
        return [four_of(each, off) for each in self.made.summaries] if isinstance(self.made, Run) else []

    @cached_property
    def around(self) -> list[list[Four]]:
        """The same of a single seed at a tenth less and a tenth more load; nothing where no load is on."""
        if not isinstance(self.made, Run) or len(self.fours) > 1 or self.made.settings.load == "none":
            return []
        mounts = [reloaded(self.mount, share) for share in (LESS, MORE)]
        return [RunSide(each, self.settings).fours for each in mounts if each]

    @cached_property
    def standing(self) -> Side:
        """The mount as it begins, by its readout."""
        return Side(self.mount, {}, Wanted("right", 0.0))

    @property
    def start(self) -> dict[EndName, float]:
        """How far off grade the ends really start, mm; empty where the run cannot be made."""
        if not isinstance(self.made, Run):
            return {}
        return {end: round(float(self.made.errors[end][0]), _DIGITS) + 0.0 for end in ENDS}

    def mean(self, name: str) -> Mean | None:
        """One of the four over all seeds that have it."""
        values = [value for four in self.fours if (value := getattr(four, name)) is not None]
        return mean_of(values) if values else None


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


def off_end(settings: RunSettings) -> EndName | None:
    """The end that starts off grade where the other starts on it."""
    off = [end for end in ENDS if getattr(settings.start, end)]
    return off[0] if len(off) == 1 else None


def compare_runs(
    a: Mount,
    b: Mount,
    settings: Mapping[str, object] | RunSettings | None = None,
    works: Mapping[str, Sequence[str] | None] | None = None,
) -> RunsCompared:
    """Drive both over the same ground with the same settings, as ``run`` takes them.

    ``works``: the one or two cylinders that work, by id, of ``a`` and of ``b``. Raises BadSettings.
    """
    read = read_settings(settings or {})
    known = works or {}
    sides = [RunSide(mount, _with(read, known.get(name))) for name, mount in (("a", a), ("b", b))]
    differing = unlike(a, b)
    rows = [_row(row, sides, differing) for row in ROWS]
    return RunsCompared(
        a=_verdict(sides[0]),
        b=_verdict(sides[1]),
        unlike=differing,
        rows=rows,
        a_better=[row.name for row in rows if row.better == "a"],
        b_better=[row.name for row in rows if row.better == "b"],
        off=off_end(read),
        run=read,
        ran=[ran(side.made) if isinstance(side.made, Run) else None for side in sides],
    )


def _with(settings: RunSettings, works: Sequence[str] | None) -> RunSettings:
    """The settings with the cylinders that work."""
    if not works:
        return settings
    control = settings.control.model_copy(update={"cylinders": tuple(works)})
    return settings.model_copy(update={"control": control})


def _verdict(side: RunSide) -> RunVerdict:
    if isinstance(side.made, Message):
        return RunVerdict("not made", side.made, None, 0, side.settings.seeds, None, {})
    times = [four.time for four in side.fours if four.time is not None]
    found = [side.made.summary.of(end).hunting for end in ENDS]
    hunting = max((each for each in found if each), key=lambda each: each.amplitude, default=None)
    mean = side.mean("time")
    state: RunState = "comes to grade" if len(times) == len(side.fours) else "never stays at grade"
    if side.mount.tolerance is None:
        state = "not judged"
    why = NO_TOLERANCE if side.mount.tolerance is None else None
    return RunVerdict(state, why, mean.mean if mean else None, len(times), len(side.fours), hunting, side.start)


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
    if row.quantity == "error" and max(one.mean, two.mean) < SEEN_MM:
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
