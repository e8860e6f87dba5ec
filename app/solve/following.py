"""Many poses followed at once along their strokes, under the conditions of a single pose (``app.solve.pose``).

Each takes a step along its velocities and is closed by Newton. The step holds where it turns the mount but little, the
correction is small beside it and the mount stays on its side of every singular pose; else it is halved.
"""

from dataclasses import dataclass

import numpy as np

from app.solve.equations import Array, Equations
from app.solve.pose import LARGEST_TURN
from app.solve.poses import Marks, Numbers, Places, close, rows_of, sides

_ROUNDS = 7
"""Newton's from a predicted pose: what needs more is too long a step."""

_CORRECTION = 0.2
"""Largest correction of a step, as a share of it."""


@dataclass(frozen=True, eq=False)
class Frame:
    """What the poses of a stack are measured by: one of each for all poses, or one for every pose.

    ``numbers`` of the rows; ``scale`` shape (unknowns,) or (poses, unknowns); ``extent``, mm, and ``side`` of a
    singular pose: one, or shape (poses,).
    """

    equations: Equations
    numbers: Numbers
    scale: Array
    extent: Array | float
    side: Marks | bool

    def of(self, which: Places | Marks) -> "Frame":
        """That of some of the poses."""
        return Frame(
            self.equations,
            rows_of(self.numbers, which),
            self.scale[which] if self.scale.ndim > 1 else self.scale,
            self.extent[which] if isinstance(self.extent, np.ndarray) else self.extent,
            self.side[which] if isinstance(self.side, np.ndarray) else self.side,
        )

    def size_of(self, shift: Array) -> Array:
        """How far each pose is moved, mm: its largest scaled unknown."""
        size: Array = np.abs(shift * self.scale).max(axis=1)
        return size


@dataclass(frozen=True, eq=False)
class Followed:
    """Where a stack of poses came: q, Jacobians, velocities (poses, unknowns, moving) and which came all the way."""

    q: Array
    jacobian: Array
    velocities: Array
    there: Marks


def follow(
    frame: Frame, q: Array, velocities: Array, goal: Array, gaps: Array, moving: tuple[int, ...], finest: float
) -> Followed:
    """Follow every pose of a stack to its cylinder lengths.

    ``q`` where they start, ``velocities`` there by the ``moving`` cylinders, (poses, unknowns, moving); ``goal`` the
    lengths to come to, (poses, cylinders), ``gaps`` how much longer the moving ones are at the start, (poses, moving).
    In one step, or in smaller ones where that does not go, down to the share ``finest`` of the way.
    """
    count = len(q)
    q, velocities, there = q.copy(), velocities.copy(), np.zeros(count, dtype=bool)
    jacobian = np.zeros((count, frame.equations.rows, frame.equations.unknowns))
    going, done, step = np.arange(count), np.zeros(count), np.ones(count)
    by_length = frame.equations.by_length[None, :, moving]
    while len(going):
        share, left, own = step[going], gaps[going], frame.of(going)
        shift = -(velocities[going] @ (share[:, None] * left)[:, :, None])[:, :, 0]
        predicted = own.size_of(shift)
        small = (predicted <= LARGEST_TURN * own.extent) & (np.abs(shift[:, 2::3]).max(axis=1) <= LARGEST_TURN)
        tried, own, shift, predicted = going[small], own.of(small), shift[small], predicted[small]
        last = done[tried] + share[small] >= 1.0
        lengths = goal[tried]
        lengths[:, moving] += left[small] * np.where(last, 0.0, 1.0 - done[tried] - share[small])[:, None]
        found = close(frame.equations, own.numbers, q[tried] + shift, lengths, most=_ROUNDS)
        good = found.closed & (own.size_of(found.q - q[tried] - shift) <= _CORRECTION * predicted + 1e-9)
        good[good] = sides(found.jacobian[good]) == own.of(good).side
        moved = tried[good]
        q[moved], done[moved] = found.q[good], np.where(last[good], 1.0, done[moved] + step[moved])
        if len(moved):
            jacobian[moved] = found.jacobian[good]
            velocities[moved] = -np.linalg.solve(found.jacobian[good], by_length)
        there[moved[done[moved] >= 1.0]] = True
        step[moved] = np.minimum(2 * step[moved], 1.0 - done[moved])
        stuck = np.setdiff1d(going, moved, assume_unique=True)
        step[stuck] /= 2
        going = going[(done[going] < 1.0) & (step[going] >= finest)]
    return Followed(q, jacobian, velocities, there)
