"""The most promising changes made and worked out again: what a whole step really gains, not what its slope promises.

A slope holds for the smallest of steps: on the way a source may change its sign, and a stroke or the document may not
allow the step at all.
"""

from app.analysis import Analysis
from app.document.edit import with_change
from app.document.errors import BadDocument
from app.document.parts import EndName
from app.results.answer import Heights, answer
from app.results.budget import worst_of
from app.sources import sources

MOST = 9
"""How many of the changes with the largest slopes are tried."""


@answer
class Verified:
    """A small change made and worked out again."""

    what: str
    """Which number, as in changes."""
    id: str
    """Joint, cylinder, rod or pair."""
    value: float
    """The number now, mm, MPa, mL or mm2."""
    change: float
    """The small change, in the same unit."""
    fall: Heights
    """How much the worst error of each end really falls, mm, - where it rises."""


def verified(analysis: Analysis, steps: list[tuple[str, str, float, float]], end: EndName) -> list[Verified]:
    """The first of ``steps`` (what, id, value, change) with what each really brings, largest fall first at ``end``.

    Left out: steps that the document refuses, that leave the mount loose, bound or cut short of its strokes, and those
    that do not help.
    """
    worst = worst_of(sources(analysis))
    found: list[tuple[float, Verified]] = []
    for what, name, value, change in steps[:MOST]:
        after = _worst_with(analysis, what, name, change)
        if after is None or after[end] >= worst[end]:
            continue
        fall = Heights(worst["left"] - after["left"], worst["right"] - after["right"])
        found.append((worst[end] - after[end], Verified(what, name, value, change, fall)))
    return [each for _, each in sorted(found, key=lambda pair: -pair[0])]


def _worst_with(analysis: Analysis, what: str, name: str, change: float) -> dict[EndName, float] | None:
    """The worst error of each end with a change made, mm; None where it cannot be made."""
    try:
        changed = Analysis(with_change(analysis.mount, what, name, change), analysis.strokes)
    except BadDocument:
        return None
    if not changed.located or changed.pose.stopped:
        return None
    return worst_of(sources(changed))
