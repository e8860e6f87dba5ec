"""The error budget: what each source adds to the height of each end of the blade.

Each source gives a range [low, high] in mm about where the end should be. Clearance acts in its worst direction; what
comes with the load acts under the load alone, from none to full, since the weight is always there and is graded out.
Beside it stands what the load really moves of each source, from where the weight alone lays the play.
"""

import math

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message
from app.document.parts import ENDS, OTHER, EndName
from app.document.reasons import NO_TOLERANCE
from app.results.answer import answer
from app.results.relief import beyond_relief
from app.sources import sources
from app.sources.play import PlayWord
from app.sources.source import Range, Source


@answer
class BudgetSource:
    """What one source of error adds to one end."""

    id: str
    """Joint, cylinder, rod or allowance."""
    member: str | None
    """The member it belongs to, by id."""
    kind: str
    """Kind of source."""
    low: float
    """Lowest it puts the end, mm."""
    high: float
    """Highest it puts the end, mm."""
    moved: Range | None
    """Lowest and highest the load really moves the end by it, mm: of play from where the weight alone lays it, of all
    else low and high; null without a load."""
    play: PlayWord | None
    """What the load does to a clearance: held (it moves at most a twentieth of it, at the end it moves more), moves,
    turns over, or unknown without weight or load; null for other kinds."""
    reverses_at: float | None
    """Multiple of the load at which the push on a clearance reverses; null when never, not known, or no clearance."""
    share: float
    """Its share of the worst, 0 to 1."""


@answer
class BudgetEnd:
    """The error budget of one end."""

    low: float
    """Sum of the lows, mm."""
    high: float
    """Sum of the highs, mm."""
    worst: float
    """The larger of |low| and |high|, mm."""
    worst_under_load: float | None
    """The larger of |sum of moved lows| and |sum of moved highs|: the worst from where the end stands under the weight
    alone, with play only as the load moves it, mm; null without a load."""
    band: float
    """High - low, the width of the whole range, mm."""
    rss: float
    """Size of the sum of the middles plus root sum of squares of the half widths, mm."""
    blade_at_low: dict[EndName, float]
    """Heights of both ends while this one is lowest, mm."""
    blade_at_high: dict[EndName, float]
    """Heights of both ends while this one is highest, mm."""
    play_at_low: dict[EndName, float]
    """Heights of both ends while play alone holds this one lowest, mm."""
    play_at_high: dict[EndName, float]
    """Heights of both ends while play alone holds this one highest, mm."""
    sources: list[BudgetSource]
    """Every source, largest share first."""

    @property
    def upward(self) -> bool:
        """Whether its worst is upward."""
        return self.high >= -self.low


@answer
class Reversal:
    """The first joint whose push reverses as the load grows."""

    joint: str
    """The joint, by name."""
    multiple: float
    """The multiple of the load at which it does."""


@answer
class Budget:
    """The error budget of both ends against the tolerance."""

    left: BudgetEnd
    """Left end."""
    right: BudgetEnd
    """Right end."""
    reverses_at: Reversal | None
    """The first push on a clearance to reverse; null when none does, or not known."""
    tolerance: float | None
    """Grading tolerance, +- mm."""
    inside: bool | None
    """Whether the worst of both ends by the linear sums is within the tolerance."""

    def of(self, end: EndName) -> BudgetEnd:
        """The budget of one end."""
        return self.left if end == "left" else self.right

    @property
    def worse_end(self) -> EndName:
        """The end with the larger worst error, right when equal."""
        return "left" if self.left.worst > self.right.worst else "right"


@worked_out_once
def budget(analysis: Analysis) -> Budget:
    """Add the sources up for both ends."""
    listed, loaded = sources(analysis), analysis.mount.load is not None
    moved = [{end: source.moved(end) for end in ENDS} for source in listed]
    plays = [source.play(each) for source, each in zip(listed, moved, strict=True)]
    left, right = (_of_end(listed, end, [each[end] for each in moved] if loaded else None, plays) for end in ENDS)
    return Budget(left, right, _first_reversal(listed), analysis.mount.tolerance, _inside(analysis, left, right))


def _inside(analysis: Analysis, left: BudgetEnd, right: BudgetEnd) -> bool | None:
    if why_no_verdict(analysis) or analysis.mount.tolerance is None:
        return None
    return max(left.worst, right.worst) <= analysis.mount.tolerance


def why_no_verdict(analysis: Analysis) -> Message | None:
    """Why it is not judged whether the worst is within the tolerance; None where it is."""
    return NO_TOLERANCE if analysis.mount.tolerance is None else beyond_relief(analysis)


def worst_of(listed: list[Source]) -> dict[EndName, float]:
    """The worst error of each end alone, mm: all sources at their worst the same way."""
    found: dict[EndName, float] = {}
    for end in ENDS:
        low, high = _added([source.range(end) for source in listed])
        found[end] = max(-low, high)
    return found


def _of_end(listed: list[Source], end: EndName, moved: list[Range] | None, plays: list[PlayWord | None]) -> BudgetEnd:
    ranges = [source.range(end) for source in listed]
    low, high = _added(ranges)
    worst = max(-low, high)
    side = 1 if high >= -low else 0
    entries = [
        BudgetSource(
            source.id,
            source.member,
            source.kind,
            each[0],
            each[1],
            moved[number] if moved else None,
            plays[number],
            source.contact.reverses_at if source.contact else None,
            abs(each[side]) / worst if worst else 0.0,
        )
        for number, (source, each) in enumerate(zip(listed, ranges, strict=True))
    ]
    entries.sort(key=lambda entry: (-entry.share, entry.low - entry.high))
    other = _added([source.other_end(end) for source in listed])
    plays_only = [source for source in listed if source.kind == "clearance"]
    play, play_other = (
        _added([each.range(end) for each in plays_only]),
        _added([each.other_end(end) for each in plays_only]),
    )
    under = _added(moved) if moved else None
    return BudgetEnd(
        low=low,
        high=high,
        worst=worst,
        worst_under_load=max(-under[0], under[1]) if under else None,
        band=high - low,
        rss=statistical(ranges),
        blade_at_low={end: low, OTHER[end]: other[0]},
        blade_at_high={end: high, OTHER[end]: other[1]},
        play_at_low={end: play[0], OTHER[end]: play_other[0]},
        play_at_high={end: play[1], OTHER[end]: play_other[1]},
        sources=entries,
    )


def _first_reversal(listed: list[Source]) -> Reversal | None:
    found = [
        Reversal(source.id, multiple)
        for source in listed
        if source.contact and (multiple := source.contact.reverses_at) is not None
    ]
    return min(found, key=lambda each: abs(each.multiple), default=None)


def _added(ranges: list[Range]) -> Range:
    return sum([low for low, _ in ranges]), sum([high for _, high in ranges])


def statistical(ranges: list[Range]) -> float:
    """Middle of the sum of ranges plus the root sum of squares of their half widths, mm."""
    middle = sum([low + high for low, high in ranges]) / 2
    return abs(middle) + math.sqrt(sum([(high - low) ** 2 for low, high in ranges])) / 2
