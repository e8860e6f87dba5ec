"""How far a mount tilts and lifts over the strokes of its first two cylinders, the others where they are."""

from collections.abc import Iterator, Sequence

import numpy as np

from app.analysis import Analysis
from app.document.parts import Point
from app.results.answer import answer
from app.solve.equations import Array
from app.solve.lattice import lattice

_STEPS = 9
"""Strokes a side: heights run smoothly between them, and the farthest stand at the ends of the strokes."""


@answer
class Extremes:
    """How far a mount goes."""

    tilt_low: float
    """The slope of the edge with the right end lowest, rise of the right end over the width of the blade."""
    tilt_high: float
    """With the right end highest."""
    lift_low: float | None
    """The lowest that the edge stands as level as drawn, mm above where drawn; null where it never does."""
    lift_high: float | None
    """The highest."""

    @property
    def tilt(self) -> float:
        """The whole range of slopes."""
        return self.tilt_high - self.tilt_low

    @property
    def lift(self) -> float | None:
        """How far it lifts with the edge as level as drawn, mm."""
        return None if self.lift_low is None or self.lift_high is None else self.lift_high - self.lift_low


def extremes(analysis: Analysis) -> Extremes | None:
    """Of a located mount, from where it stands; None without a cylinder."""
    mount = analysis.mount
    driven = list(range(min(len(mount.cylinders), 2)))
    if not driven:
        return None
    axes = [_axis(mount.cylinders[number].retracted, mount.cylinders[number].stroke) for number in driven]
    found = lattice(analysis.assembly, analysis.pose, driven, (axes[0], axes[1] if len(axes) > 1 else np.zeros(1)))
    rise = [_rise(found.poses.on_blade(at)[1], at) for at in (mount.blade.left, mount.blade.right)]
    width = float(np.hypot(*np.subtract(mount.blade.right, mount.blade.left)))
    tilt, lift = (rise[1] - rise[0]) / width, (rise[0] + rise[1]) / 2
    shape = (len(found.axes[1]), len(found.axes[0]))
    grids = [np.full(shape, np.nan) for _ in range(2)]
    for grid, values in zip(grids, (tilt, lift), strict=True):
        grid.reshape(-1)[np.flatnonzero(found.reached)] = values
    level = list(_where_level(*grids))
    low, high = (min(level), max(level)) if level else (None, None)
    return Extremes(float(tilt.min()), float(tilt.max()), low, high)


def _axis(retracted: float, stroke: float) -> Array:
    return np.linspace(retracted, retracted + stroke, _STEPS)


def _rise(heights: Array, at: Point) -> Array:
    found: Array = heights - at[1]
    return found


def _where_level(tilt: Array, lift: Array) -> Iterator[float]:
    """The lifts where the tilt goes through nought between two cells next to one another, in between in proportion."""
    for axis in (0, 1):
        before, after = _pairs(tilt, axis)
        low, high = _pairs(lift, axis)
        with np.errstate(invalid="ignore"):
            crossing = (before * after <= 0) & (before != after)
        share = before[crossing] / (before[crossing] - after[crossing])
        yield from (low[crossing] + share * (high[crossing] - low[crossing])).tolist()


def _pairs(grid: Array, axis: int) -> Sequence[Array]:
    count = grid.shape[axis]
    return np.take(grid, range(count - 1), axis), np.take(grid, range(1, count), axis)
