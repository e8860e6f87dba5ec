"""Hunting: a steady oscillation that a run has come to, its amplitude and period."""

from typing import NamedTuple

import numpy as np

from app.solve.equations import Array

FEWEST = 3
"""Cycles it takes to be called steady."""

ALIKE = 0.1
"""How far size and period of a cycle may be from those of the mean cycle, as a share of them."""

SMALLEST_MM = 0.01
"""What swings less is no hunting."""

_LAST = 3
"""It is looked for in this part of a run: the last third."""


class Hunting(NamedTuple):
    """Half the height from trough to crest, mm, and the time from one rise through the middle to the next, s."""

    amplitude: float
    period: float


def hunting(heights: Array, step: float) -> Hunting | None:
    """The steady oscillation in the last third of heights, mm, ``step`` s apart, shape (times,); None where none is."""
    tail = heights[-(len(heights) // _LAST) :]
    if len(tail) < 2 * FEWEST:
        return None
    low, high = _crests(-tail), _crests(tail)
    middle = (high.max() - low.max()) / 2
    if high.max() + low.max() < 2 * SMALLEST_MM:
        return None
    before, after = tail[:-1], tail[1:]
    rises = np.flatnonzero((before < middle) & (after >= middle))
    if len(rises) < FEWEST + 1:
        return None
    times = step * (rises + (middle - before[rises]) / (after[rises] - before[rises]))
    periods = np.diff(times)
    sizes = np.array([high[a:b].max() + low[a:b].max() for a, b in zip(rises[:-1] + 1, rises[1:] + 1, strict=True)])
    for each in (periods, sizes):
        if np.abs(each - each.mean()).max() > ALIKE * each.mean():
            return None
    return Hunting(float(sizes.mean()) / 2, float(periods.mean()))


def _crests(heights: Array) -> Array:
    """Heights with every crest where the straight lines before and after it meet: it lies between two points."""
    found = heights.copy()
    before, at, after = heights[1:-3], heights[2:-2], heights[3:-1]
    rise, fall = before - heights[:-4], heights[4:] - after
    with np.errstate(all="ignore"):
        # Lines through the two points before and the two after, in steps from the point in question.
        meets = (after - fall - before - rise) / (rise - fall)
        tops = before + rise * (meets + 1)
    crest = (at >= before) & (at >= after) & (rise > 0) & (fall < 0) & (np.abs(meets) <= 1) & (tops >= at)
    found[2:-2] = np.where(crest, tops, at)
    return found
