"""A mount over a grid of its strokes, solved all at once from wherever it stands.

The grid is filled from one cell outward, first in wide steps, then in ever finer ones: a round takes every cell that
has a solved neighbour, predicts its pose along that neighbour's velocities and closes them all in one stack. A step is
taken under the same conditions as a single pose's (``app.solve.pose``): a small turn, a correction small beside the
step, the same side of every singular pose. So no cell is reached across a dead centre; what cannot be reached is
marked, and its q is not to be used. Cells beside the edge of what is reached, or behind such an edge as seen from the
drawn pose, are tried again straight from there, as a single pose is followed: what a grid reaches, a readout reaches.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from app.solve.assembly import Assembly
from app.solve.equations import Array
from app.solve.following import Frame, follow
from app.solve.pose import Pose, solve
from app.solve.poses import Marks, Places, Poses

_WIDEST = 8
"""Cells of the first steps."""

_FINEST = 2.0**-13
"""The smallest share of a straight way."""

_STRAIGHT_ROUNDS = 4
"""How often the cells beside the edge of what is reached are tried again, as it moves outward."""

_TOWARD = ((1, 0), (-1, 0), (0, 1), (0, -1))


@dataclass(frozen=True, eq=False)
class Lattice:
    """A mount over a grid of strokes of one or two cylinders, the others where they are.

    ``axes``: the length of each of them along the grid, mm, shapes (a,) and (b,); with one cylinder the second has one
    value of no meaning. Cells are numbered row by row: ``cell = b * len(axes[0]) + a``. ``q`` shape (cells, unknowns),
    ``jacobian`` (cells, rows, unknowns), ``lengths`` (cells, cylinders), ``reached`` (cells,).
    """

    assembly: Assembly
    axes: tuple[Array, Array]
    q: Array
    jacobian: Array
    lengths: Array
    reached: Marks

    @property
    def poses(self) -> Poses:
        """The cells that are reached, in their order."""
        kept = self.reached
        return Poses(self.assembly, self.q[kept], self.jacobian[kept], self.lengths[kept])


def lattice(assembly: Assembly, start: Pose, driven: Sequence[int], axes: tuple[Array, Array]) -> Lattice:
    """Fill the grid from a pose of the mount; ``driven`` the cylinders along its axes, one or two, by number."""
    filling = _Filling(assembly, start, driven, axes)
    filling.run()
    return Lattice(assembly, axes, filling.q, filling.jacobian, filling.lengths, filling.reached)


class _Filling:
    def __init__(self, assembly: Assembly, start: Pose, driven: Sequence[int], axes: tuple[Array, Array]) -> None:
        self.assembly, self.start, self.driven, self.axes = assembly, start, tuple(driven), axes
        self.wide, self.high = len(axes[0]), len(axes[1])
        count, equations = self.wide * self.high, assembly.equations
        self.lengths = np.tile(np.array(start.lengths), (count, 1))
        along = np.meshgrid(*axes)
        for axis, cylinder in enumerate(self.driven):
            self.lengths[:, cylinder] = along[axis].ravel()
        self.q = np.zeros((count, equations.unknowns))
        self.jacobian = np.zeros((count, equations.rows, equations.unknowns))
        self.velocities = np.zeros((count, equations.unknowns, len(self.driven)))
        self.reached = np.zeros(count, dtype=bool)
        self.settled = np.zeros(count, dtype=bool)
        self.frame = Frame(equations, assembly.numbers, assembly.scale, assembly.extent, assembly.side_at_rest)

    def run(self) -> None:
        """Reach the nearest cells first, then go outward."""
        seed = self._seed()
        if seed is None:
            return
        stride = 1
        while stride * 2 <= min(_WIDEST, max(self.wide, self.high) // 4):
            stride *= 2
        while stride:
            self._outward(seed, stride)
            stride //= 2
        if self.reached.all():
            return
        for _ in range(_STRAIGHT_ROUNDS):
            doubtful = self._doubtful()
            if not len(doubtful):
                return
            self._straight(doubtful)

    def _seed(self) -> int | None:
        """The cell nearest to the start that can be reached from it."""
        gaps = self.lengths[:, self.driven] - np.array(self.start.lengths)[list(self.driven)]
        order = np.argsort((gaps**2).sum(axis=1))
        velocities = -self.start.inverse @ self.assembly.equations.by_length[:, self.driven]
        for cell in order[: 2 * max(self.wide, self.high)].tolist():
            one = np.array([cell])
            self._reach(
                one, self.start.q[None, :], velocities[None, :, :], -gaps[cell : cell + 1], _FINEST, self.driven
            )
            if self.reached[cell]:
                return int(cell)
        return None

    def _outward(self, seed: int, stride: int) -> None:
        """Go from solved cell to neighbour, ``stride`` cells apart, until no more can be reached."""
        on_stride = self._on(seed, stride)
        tried = np.zeros((len(_TOWARD), self.wide * self.high), dtype=bool)
        while True:
            cells, sources = self._frontier(on_stride, stride, tried)
            if not len(cells):
                return
            gaps = self.lengths[sources][:, self.driven] - self.lengths[cells][:, self.driven]
            self._reach(cells, self.q[sources], self.velocities[sources], gaps, 1.0, self.driven)

    def _doubtful(self) -> Places:
        """The cells beside the edge of what is reached, and those whose straight way from the drawn pose crosses it."""
        reached = self.reached.reshape(self.high, self.wide)
        wide = np.pad(reached, 1)
        near = np.zeros_like(reached)
        for down, along in np.ndindex(3, 3):
            near |= wide[down : down + self.high, along : along + self.wide]
        return np.flatnonzero(((near & ~reached).ravel() | (self.reached & self._hidden())) & ~self.settled)

    def _hidden(self) -> Marks:
        """The cells whose straight way from the drawn pose passes a cell that is not reached."""
        drawn = np.array([self.assembly.lengths[each] for each in self.driven])
        counts = np.array([self.wide, self.high])[: len(drawn)]
        firsts = np.array([axis[0] for axis in self.axes])[: len(drawn)]
        steps = np.array([axis[1] - axis[0] if len(axis) > 1 else 1.0 for axis in self.axes])[: len(drawn)]
        start = (drawn - firsts) / steps
        row, column = np.divmod(np.arange(self.wide * self.high), self.wide)
        goal = np.stack([column, row], axis=1)[:, : len(drawn)]
        hidden = np.zeros(self.wide * self.high, dtype=bool)
        for share in np.linspace(0.0, 1.0, 2 * int(counts.max())):
            at = np.floor(start + share * (goal - start)).astype(int)
            for corner in np.ndindex(*(2,) * len(drawn)):
                hidden |= ~self.reached[np.clip(at + corner, 0, counts - 1) @ np.array([1, self.wide])[: len(drawn)]]
        return hidden

    def _straight(self, cells: Places) -> None:
        """Try cells again as a single pose is followed: straight from where the mount is drawn."""
        drawn = solve(self.assembly, [0.0] * len(self.assembly.lengths))
        gaps = np.array(self.assembly.lengths) - self.lengths[cells]
        velocities = -drawn.inverse @ self.assembly.equations.by_length
        self.reached[cells], self.settled[cells] = False, True
        q = np.repeat(drawn.q[None, :], len(cells), axis=0)
        every = tuple(range(len(drawn.lengths)))
        self._reach(cells, q, np.repeat(velocities[None], len(cells), axis=0), gaps, _FINEST, every)

    def _on(self, seed: int, stride: int) -> Marks:
        """The cells a whole number of strides from the seed."""
        row, column = divmod(seed, self.wide)
        rows = (np.arange(self.high) - row) % stride == 0
        columns = (np.arange(self.wide) - column) % stride == 0
        found: Marks = np.logical_and.outer(rows, columns).ravel()
        return found

    def _frontier(self, on_stride: Marks, stride: int, tried: Marks) -> tuple[Places, Places]:
        """Every cell that is not solved, with a solved neighbour it has not been tried from: each once."""
        wanted = (on_stride & ~self.reached).reshape(self.high, self.wide)
        solved = self.reached.reshape(self.high, self.wide)
        numbers = np.arange(self.high * self.wide).reshape(self.high, self.wide)
        from_cell = np.full(self.high * self.wide, -1)
        for way, (down, along) in enumerate(_TOWARD):
            rows, back_rows = _shifted(self.high, down * stride)
            columns, back_columns = _shifted(self.wide, along * stride)
            here = wanted[rows, columns] & solved[back_rows, back_columns]
            cells = numbers[rows, columns][here]
            fresh = (from_cell[cells] < 0) & ~tried[way, cells]
            from_cell[cells[fresh]] = numbers[back_rows, back_columns][here][fresh]
            tried[way, cells[fresh]] = True
        found = np.flatnonzero(from_cell >= 0)
        return found, from_cell[found]

    def _reach(
        self, cells: Places, q: Array, velocities: Array, gaps: Array, finest: float, moving: tuple[int, ...]
    ) -> None:
        """Try to reach cells from solved poses: ``gaps`` (cells, moving) is how much longer their cylinders are."""
        found = follow(self.frame, q, velocities, self.lengths[cells], gaps, moving, finest)
        at, there = cells[found.there], found.there
        self.q[at], self.jacobian[at], self.reached[at] = found.q[there], found.jacobian[there], True
        self.velocities[at] = found.velocities[there][:, :, : len(self.driven)]


def _shifted(count: int, by: int) -> tuple[slice, slice]:
    """The places that have a place ``by`` before them, and those places."""
    if by >= 0:
        return slice(by, None), slice(None, max(count - by, 0))
    return slice(None, max(count + by, 0)), slice(-by, None)
