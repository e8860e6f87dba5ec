"""One of two mounts on a run: the run itself, what every seed comes to, and what is said of it by itself."""

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Literal, TypeAlias

from app.comparison.side import LESS, MORE, Side, Wanted, reloaded
from app.document.errors import BadSettings, NotLocated
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, OTHER, EndName
from app.document.reasons import NO_TOLERANCE
from app.grading.grade import Run, run
from app.grading.seeds import Mean, mean_of
from app.grading.settings import RunSettings
from app.grading.summary import HuntingFound, RunSummary
from app.results.answer import answer

RunState: TypeAlias = Literal["comes to grade", "never stays at grade", "not judged", "not made"]

_SHORT = 20_000
"""So many points a run may have, some 3 MB, that is kept for the next comparison."""

_DIGITS = 4
"""Decimals of where an end starts, mm."""


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


def off_end(settings: RunSettings) -> EndName | None:
    """The end that starts off grade where the other starts on it."""
    off = [end for end in ENDS if getattr(settings.start, end)]
    return off[0] if len(off) == 1 else None


def first_of(error: BadSettings | NotLocated) -> Message:
    """The first of its faults, as what is said of a mount."""
    first = error.faults[0]
    return Message(first.code, first.text, values=dict(first.values))


def _made(mount: Mount, settings: RunSettings) -> Run | Message:
    try:
        return run(mount, settings)
    except (BadSettings, NotLocated) as error:
        return first_of(error)


_kept = lru_cache(maxsize=16)(_made)
"""A run of one seed is asked for once more with the other mount of another pair, and with each at its own best."""


def _fours_of(made: Run | Message, settings: RunSettings) -> list[Four]:
    if isinstance(made, Message):
        return []
    off = off_end(settings)
    return [four_of(each, off) for each in made.summaries]


@lru_cache(maxsize=128)
def _again(mount: Mount, settings: RunSettings) -> tuple[Four, ...]:
    """What a run comes to of which nothing else is shown."""
    return tuple(_fours_of(_made(mount, settings), settings))


@dataclass(eq=False)
class RunSide:
    """One of two mounts on a run."""

    mount: Mount
    settings: RunSettings
    refused: Message | None = None
    """Why there is nothing to run it with; null where there is."""

    @cached_property
    def made(self) -> Run | Message:
        """The run, or why it cannot be made."""
        if self.refused:
            return self.refused
        short = self.settings.seeds == 1 and self.settings.seconds / self.settings.step <= _SHORT
        return (_kept if short else _made)(self.mount, self.settings)

    @cached_property
    def fours(self) -> list[Four]:
        """What every seed comes to; none where the run cannot be made."""
        return _fours_of(self.made, self.settings)

    @cached_property
    def around(self) -> list[list[Four]]:
        """The same of a single seed at a tenth less and a tenth more load; nothing where no load is on."""
        if not isinstance(self.made, Run) or len(self.fours) > 1 or self.made.settings.load == "none":
            return []
        mounts = [reloaded(self.mount, share) for share in (LESS, MORE)]
        return [list(_again(each, self.settings)) for each in mounts if each]

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


def verdict_of(side: RunSide) -> RunVerdict:
    """A mount's run by itself."""
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
