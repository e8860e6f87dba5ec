"""The farthest a height goes with every offset and change of length somewhere in its range: many poses at once.

From each of many starts: solve the poses again, take each offset to the side that its own derivative there says, and go
on until it gains nothing (a fixed-point ascent, since a height is nearly linear in any one offset). The largest found
is attained by the offsets it is answered with; that no other set goes farther is made likely by the starts, not proved.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from app.solve.assembly import Assembly, side_of
from app.solve.equations import Array
from app.solve.pose import Pose
from app.solve.poses import Marks, Places, close, sides
from app.solve.sensitivity import BLADE_BODY

STARTS = 16
"""Random starts for every height and way, besides the one that the derivatives at the middle say."""

SEED = 20_261_126
_ROUNDS = 50
_GAIN_MM = 1e-9
_STEPS = 8
"""Pieces in which offsets are put on where Newton's method does not close the mount in one go."""


@dataclass(frozen=True)
class Offset:
    """What can move in a mount: an offset of a joint or a change of a length.

    ``errors`` and ``lengths`` are its places in the pose's errors and cylinder lengths. ``free``: anywhere within
    ``size`` (mm, one number), one or two axes. Else it goes from ``back`` times ``size`` to ``size`` (mm per place)
    with the load.
    """

    name: str
    errors: tuple[int, ...]
    lengths: tuple[int, ...]
    size: tuple[float, ...]
    free: bool
    back: float = 0.0

    def worst(self, gains: Sequence[float], sign: float) -> list[float]:
        """Where it moves a height farthest, upward (+1) or downward (-1), from the height's gains at its places."""
        if self.free:
            size = math.hypot(*gains)
            return [sign * self.size[0] * gain / size if size else 0.0 for gain in gains]
        moved = sum([gain * part for gain, part in zip(gains, self.size, strict=True)])
        share = 1.0 if moved * sign > 0 else self.back
        return [share * part for part in self.size]


@dataclass(frozen=True, eq=False)
class Farthest:
    """The farthest that was found: the height's change, mm, and the errors and changes of length that make it."""

    change: float
    errors: Array
    lengths: Array


def farthest(
    assembly: Assembly, pose: Pose, wanted: Sequence[tuple[tuple[float, float], float]], offsets: Sequence[Offset]
) -> list[Farthest | None]:
    """The farthest each of several points of the blade goes up or down.

    ``wanted``: a point in the blade's own axes, mm, and the way, +1 up or -1 down. None where the mount comes apart
    with some of the offsets it was tried with. Needs a located mount.
    """
    search = _Search(assembly, pose, wanted, offsets)
    search.run()
    return search.answers()


class _Search:
    """All starts of all heights in one stack: shapes (states, ...), the starts of one height after another."""

    def __init__(
        self,
        assembly: Assembly,
        pose: Pose,
        wanted: Sequence[tuple[tuple[float, float], float]],
        offsets: Sequence[Offset],
    ) -> None:
        self.assembly, self.pose, self.offsets = assembly, pose, offsets
        self.heights = len(wanted)
        own = np.array([[*point, way] for point, way in wanted])
        self.x, self.y, self.way = (np.repeat(column, STARTS + 1) for column in own.T)
        self.side = side_of(pose.jacobian)
        states, equations = len(self.x), assembly.equations
        self.errors = np.zeros((states, equations.by_error.shape[1]))
        self.lengths = np.zeros((states, len(pose.lengths)))
        self.q = np.tile(pose.q, (states, 1))
        self.apart = np.zeros(states, dtype=bool)
        self.base = self._height(self.q)
        self.best = np.full(states, -np.inf)
        self.best_errors, self.best_lengths = self.errors.copy(), self.lengths.copy()

    def run(self) -> None:
        """Go on from every start until nothing gains."""
        everywhere = np.arange(len(self.x))
        self._put(everywhere, self._scattered())
        jacobian = np.tile(self.pose.jacobian, (len(self.x), 1, 1))
        linear = everywhere[:: STARTS + 1]
        self._put(linear, self._sides(linear, jacobian[linear]))
        going = everywhere
        for _ in range(_ROUNDS):
            jacobian = self._solve(going)
            risen = self.way[going] * (self._height(self.q[going], going) - self.base[going])
            risen[self.apart[going]] = -np.inf
            gains = risen > self.best[going] + _GAIN_MM
            better = going[risen > self.best[going]]
            self.best[going] = np.maximum(risen, self.best[going])
            self.best_errors[better], self.best_lengths[better] = self.errors[better], self.lengths[better]
            going, jacobian = going[gains], jacobian[gains]
            if not len(going):
                break
            self._put(going, self._sides(going, jacobian))

    def answers(self) -> list[Farthest | None]:
        """The best of every height's starts; None where any start came apart."""
        found: list[Farthest | None] = []
        for height in range(self.heights):
            own = slice(height * (STARTS + 1), (height + 1) * (STARTS + 1))
            if self.apart[own].any():
                found.append(None)
                continue
            best = own.start + int(np.argmax(self.best[own]))
            change = float(self.way[best] * self.best[best])
            found.append(Farthest(change, self.best_errors[best], self.best_lengths[best]))
        return found

    def _height(self, q: Array, states: Places | None = None) -> Array:
        x, y = (self.x, self.y) if states is None else (self.x[states], self.y[states])
        angle = q[:, 3 * BLADE_BODY + 2]
        height: Array = q[:, 3 * BLADE_BODY + 1] + np.sin(angle) * x + np.cos(angle) * y
        return height

    def _put(self, states: Places, sides: list[Array]) -> None:
        """Put every offset where ``sides`` says: its parts, shape (states, axes)."""
        self.errors[states], self.lengths[states] = 0.0, 0.0
        for offset, parts in zip(self.offsets, sides, strict=True):
            for axis, place in enumerate(offset.errors):
                self.errors[states, place] += parts[:, axis]
            for axis, place in enumerate(offset.lengths, len(offset.errors)):
                self.lengths[states, place] += parts[:, axis]

    def _scattered(self) -> list[Array]:
        """A random corner for every start: free offsets on their rim, the others at an end of their range."""
        chance, states = np.random.default_rng(SEED), len(self.x)
        sides: list[Array] = []
        for offset in self.offsets:
            if offset.free:
                drawn = chance.normal(size=(states, len(offset.errors) + len(offset.lengths)))
                sides.append(offset.size[0] * drawn / np.linalg.norm(drawn, axis=1, keepdims=True))
            else:
                share = np.where(chance.random(states) < 0.5, 1.0, offset.back)
                sides.append(share[:, None] * np.array(offset.size))
        return sides

    def _sides(self, states: Places, jacobian: Array) -> list[Array]:
        """Where each offset moves its height farthest, by the derivatives there."""
        angle = self.q[states, 3 * BLADE_BODY + 2]
        driven = np.zeros((len(states), self.assembly.equations.unknowns))
        driven[:, 3 * BLADE_BODY + 1] = 1.0
        driven[:, 3 * BLADE_BODY + 2] = np.cos(angle) * self.x[states] - np.sin(angle) * self.y[states]
        multipliers = np.linalg.solve(jacobian.transpose(0, 2, 1), driven[:, :, None])[:, :, 0]
        by_error = -self.way[states, None] * (multipliers @ self.assembly.equations.by_error)
        by_length = -self.way[states, None] * (multipliers @ self.assembly.equations.by_length)
        sides: list[Array] = []
        for offset in self.offsets:
            gains = np.hstack([by_error[:, list(offset.errors)], by_length[:, list(offset.lengths)]])
            if offset.free:
                size = np.linalg.norm(gains, axis=1, keepdims=True)
                sides.append(offset.size[0] * np.divide(gains, size, out=np.zeros_like(gains), where=size > 0))
            else:
                share = np.where(gains @ np.array(offset.size) > 0, 1.0, offset.back)
                sides.append(share[:, None] * np.array(offset.size))
        return sides

    def _solve(self, states: Places) -> Array:
        """Close the mount with the offsets as put, mark what comes apart: Jacobians (states, rows, unknowns)."""
        q, jacobian, closed = self._newton(self.q[states], self.lengths[states], self.errors[states])
        if not closed.all():
            open_ = ~closed
            q[open_], jacobian[open_], closed[open_] = self._in_pieces(
                self.lengths[states][open_], self.errors[states][open_]
            )
        self.q[states] = q
        self.apart[states] |= ~closed
        # What came apart is not solved for again: any well-conditioned matrix does.
        jacobian[~closed] = self.pose.jacobian
        return jacobian

    def _in_pieces(self, lengths: Array, errors: Array) -> tuple[Array, Array, Marks]:
        """From the middle of all ranges to the offsets in equal pieces."""
        q, closed = np.tile(self.pose.q, (len(lengths), 1)), np.ones(len(lengths), dtype=bool)
        jacobian = np.tile(self.pose.jacobian, (len(lengths), 1, 1))
        for piece in range(1, _STEPS + 1):
            share = piece / _STEPS
            ahead, found, still = self._newton(q, share * lengths, share * errors)
            closed &= still
            q[closed], jacobian[closed] = ahead[closed], found[closed]
        return q, jacobian, closed

    def _newton(self, q: Array, lengths: Array, errors: Array) -> tuple[Array, Array, Marks]:
        """Newton's method on every state: q, Jacobian, and whether it closed on the side it was drawn on."""
        assembly = self.assembly
        found = close(assembly.equations, assembly.numbers, q, np.array(self.pose.lengths) + lengths, errors)
        closed = found.closed
        if closed.any():
            closed[closed] = sides(found.jacobian[closed]) == self.side
        return found.q, found.jacobian, closed
