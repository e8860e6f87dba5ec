"""The mounts that no other beats in everything: an archive of all that were tried, and a few of them to look at."""

import numpy as np

from app.solve.equations import Array
from app.solve.poses import Marks

MOST = 12
"""Mounts of a front that are shown."""

_KEPT = 600
_SAME = 1e-6


def beaten(objectives: Array) -> Marks:
    """Which rows some other row beats: no larger in any column, smaller in one; of equal rows the first stays.

    ``objectives`` shape (rows, columns), smaller is better.
    """
    order = np.lexsort(objectives.T[::-1])
    ranked = objectives[order]
    lost = np.zeros(len(ranked), dtype=bool)
    for row in range(len(ranked)):
        if not lost[row]:
            # In this order a later row never beats an earlier one.
            lost[row + 1 :] |= (ranked[row + 1 :] >= ranked[row]).all(axis=1)
    found = np.zeros(len(ranked), dtype=bool)
    found[order] = lost
    return found


class Archive:
    """What was tried and is not beaten: ``values`` (rows, free) and ``objectives`` (rows, columns).

    ``grain``: differences of an objective smaller than this are none, shape (columns,).
    """

    def __init__(self, free: int, grain: Array) -> None:
        self.grain = grain
        self.values: Array = np.zeros((0, free))
        self.objectives: Array = np.zeros((0, len(grain)))

    def add(self, values: Array, objectives: Array) -> None:
        """Take rows in; rows that are not finite are left out."""
        sound = np.isfinite(objectives).all(axis=1)
        values = np.concatenate([self.values, values[sound]])
        objectives = np.concatenate([self.objectives, objectives[sound]])
        kept = ~beaten(np.round(objectives / self.grain))
        self.values, self.objectives = values[kept], objectives[kept]
        if len(self.values) > _KEPT:
            few = spread_out(self.objectives, _KEPT)
            self.values, self.objectives = self.values[few], self.objectives[few]


def spread_out(objectives: Array, most: int = MOST) -> list[int]:
    """Rows that stand for all: the best in each column first, then ever the farthest from those there are."""
    if not len(objectives):
        return []
    least = objectives.min(axis=0)
    # Differences that are rounding are none.
    span = np.maximum(np.ptp(objectives, axis=0), _SAME * np.maximum(np.abs(least), _SAME))
    scaled = (objectives - least) / span
    chosen = list(dict.fromkeys(int(each) for each in scaled.argmin(axis=0)))[:most]
    far = np.min([np.linalg.norm(scaled - scaled[each], axis=1) for each in chosen], axis=0)
    while len(chosen) < min(most, len(objectives)):
        farthest = int(far.argmax())
        if far[farthest] <= _SAME:
            break
        chosen.append(farthest)
        far = np.minimum(far, np.linalg.norm(scaled - scaled[farthest], axis=1))
    return chosen
