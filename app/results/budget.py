"""The error budget: what each source adds to the height of each end of the blade.

Each source gives a range [low, high] in mm about where the end should be. Clearance acts in its worst direction; oil
and stretch act under the load alone, from none to full, since the weight is always there and is graded out.
"""

import math

from app.analysis import Analysis, worked_out_once
from app.document.parts import ENDS, OTHER, EndName
from app.results.answer import answer
from app.sources import sources
from app.sources.play import HELD, PlayWord
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
    play: PlayWord | None
    """Whether the loads hold a clearance to one side; unknown without mass or load; null for other kinds."""
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
    worst_held: float
    """Worst without the play that the loads hold to one side, mm."""
    band: float
    """High - low, the whole travel a dial gauge would see, mm."""
    rss: float
    """Size of the sum of the middles plus root sum of squares of the half widths, mm."""
    blade_at_low: dict[EndName, float]
    """Heights of both ends while this one is lowest, mm."""
    blade_at_high: dict[EndName, float]
    """Heights of both ends while this one is highest, mm."""
    sources: list[BudgetSource]
    """Every source, largest share first."""

    @property
    def upward(self) -> bool:
        """Whether its worst is upward."""
        return self.high >= -self.low


@answer
class Budget:
    """The error budget of both ends against the tolerance."""

    left: BudgetEnd
    """Left end."""
    right: BudgetEnd
    """Right end."""
    tolerance: float | None
    """Grading tolerance, +- mm."""
    inside: bool | None
    """Whether the worst of both ends is within the tolerance."""

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
    left, right = (_of_end(sources(analysis), end) for end in ENDS)
    tolerance = analysis.mount.tolerance
    inside = None if tolerance is None else max(left.worst, right.worst) <= tolerance
    return Budget(left, right, tolerance, inside)


def worst_of(listed: list[Source]) -> dict[EndName, float]:
    """The worst error of each end alone, mm: all sources at their worst the same way."""
    found: dict[EndName, float] = {}
    for end in ENDS:
        low, high = _added([source.range(end) for source in listed])
        found[end] = max(-low, high)
    return found


def _of_end(listed: list[Source], end: EndName) -> BudgetEnd:
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
            source.play,
            abs(each[side]) / worst if worst else 0.0,
        )
        for source, each in zip(listed, ranges, strict=True)
    ]
    entries.sort(key=lambda entry: (-entry.share, entry.low - entry.high))
    loose = _added([each for source, each in zip(listed, ranges, strict=True) if source.play != HELD])
    other = _added([source.other_end(end) for source in listed])
    return BudgetEnd(
        low=low,
        high=high,
        worst=worst,
        worst_held=max(-loose[0], loose[1]),
        band=high - low,
        rss=statistical(ranges),
        blade_at_low={end: low, OTHER[end]: other[0]},
        blade_at_high={end: high, OTHER[end]: other[1]},
        sources=entries,
    )


def _added(ranges: list[Range]) -> Range:
    return sum([low for low, _ in ranges]), sum([high for _, high in ranges])


def statistical(ranges: list[Range]) -> float:
    """Middle of the sum of ranges plus the root sum of squares of their half widths, mm."""
    middle = sum([low + high for low, high in ranges]) / 2
    return abs(middle) + math.sqrt(sum([(high - low) ** 2 for low, high in ranges])) / 2
