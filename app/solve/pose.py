"""Where a mount stands: the pose that its strokes bring it to.

Newton's method along the strokes, from the drawn pose, in steps small enough that the mount stays on the branch it was
drawn in. What it cannot follow, it follows as far as it goes, and says why it stopped there.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from app.document.errors import BadCommand, Fault
from app.document.messages import Message, Value, word
from app.document.models import Mount
from app.document.parts import Point
from app.solve.assembly import Assembly, side_of
from app.solve.equations import Array

RESIDUAL_MM = 1e-10
"""A pose is solved when no constraint is open by more than this."""

_STROKE_SLACK_MM = 1e-6
MOST_STROKE_MM = 1e6
_SMALLEST_STEP = 2.0**-18
LARGEST_TURN = 0.3
"""Largest step of the predictor: turn of a body in radians, and scaled movement over the size of the mount."""

_MOST_STEPS = 500
"""What needs more is asked for in pieces: one answer must not keep the next one waiting."""


STROKE_END, DEAD_CENTRE, TOO_FAR = "stroke-end", "dead-centre", "too-far"
"""Codes of why strokes were not followed to their end."""


@dataclass(frozen=True, eq=False)
class Pose:
    """A solved pose.

    ``q`` shape (unknowns,), ``jacobian`` dPhi/dq there, ``lengths`` the cylinder lengths in mm, ``fraction`` how much
    of the strokes was followed (0 to 1), ``stopped`` why not all of it, None when all was.
    """

    q: Array
    jacobian: Array
    lengths: tuple[float, ...]
    fraction: float = 1.0
    stopped: Message | None = None
    condition: float = field(default=1.0)

    def point(self, body: int, local: Point) -> Point:
        """Where a point of a moving body stands, mm; ``local`` is from the reference point as drawn."""
        x, y, cos, sin = self._frames[body]
        return x + cos * local[0] - sin * local[1], y + sin * local[0] + cos * local[1]

    @cached_property
    def inverse(self) -> Array:
        """The inverse of the Jacobian: how every unknown gives way to every row, shape (unknowns, rows)."""
        return np.linalg.inv(self.jacobian)

    @cached_property
    def _frames(self) -> list[tuple[float, float, float, float]]:
        """Reference point, cosine and sine of every body."""
        q = self.q.tolist()
        return [(x, y, math.cos(a), math.sin(a)) for x, y, a in zip(q[::3], q[1::3], q[2::3], strict=True)]


def moves_of(mount: Mount, strokes: Mapping[str, object]) -> tuple[float, ...]:
    """The change of every cylinder's length that strokes (mm longer than drawn, by id) ask for, mm.

    Raises BadCommand with all faults.
    """
    known = [cylinder.id for cylinder in mount.cylinders]
    faults = []
    for name, value in strokes.items():
        place = f'command["{name[:60]}"]'
        if name not in known:
            names = ", ".join(f"'{each}'" for each in known) or "none: this mount has no cylinder"
            text = "there is no cylinder of that name; the cylinders are {names}"
            faults.append(Fault(place, text, {"names": word(names)}, "no-such-cylinder"))
        elif isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < MOST_STROKE_MM:
            text = "is not a number of mm; give how much longer (+) or shorter (-) than drawn"
            faults.append(Fault(place, text, code="no-number"))
    if faults:
        raise BadCommand(faults)
    return tuple(float(strokes.get(name, 0.0)) for name in known)  # type: ignore[arg-type]


def solve(assembly: Assembly, moves: Sequence[float]) -> Pose:
    """Bring a located mount from the drawn pose along ``moves``, the change of every cylinder's length in mm."""
    if not any(moves):
        q, jacobian = _closed(assembly)
        return Pose(q, jacobian, assembly.lengths, condition=_condition_of(assembly.sizes_at_rest))
    path = _Path(assembly, np.array(moves, dtype=float))
    limit, stopped = _stroke_limit(assembly, moves)
    fraction, q, jacobian = path.follow(limit)
    condition = _condition(jacobian / assembly.scale)
    if fraction < limit:
        stopped = _dead_centre(assembly, jacobian) if path.stuck else _too_far()
    return Pose(q, jacobian, tuple(path.lengths(fraction)), fraction, stopped, condition)


def settle(assembly: Assembly, start: Pose, lengths: Sequence[float], errors: Sequence[float]) -> Array:
    """Solve again from a known pose with errors put in (mm, laid out as ``Equations.error_of``): q, shape (unknowns,).

    Raises ArithmeticError when no pose is found near by.
    """
    solved = _newton(assembly, start.q, lengths, errors)
    if solved is None:
        raise ArithmeticError("no pose near by closes the mount with these errors")
    return solved[0]


def _closed(assembly: Assembly) -> tuple[Array, Array]:
    """The drawn pose closed to the last digit, and the Jacobian there. Raises ArithmeticError if it does not close."""
    residual, jacobian = assembly.at_rest
    if not residual.size or max(residual.max(), -residual.min()) < RESIDUAL_MM:
        return assembly.drawn, jacobian
    solved = _newton(assembly, assembly.drawn, assembly.lengths, [0.0] * assembly.equations.by_error.shape[1])
    if solved is None:
        raise ArithmeticError("the drawn pose does not close")
    return solved


def _condition(scaled: Array) -> float:
    return _condition_of(np.linalg.svd(scaled, compute_uv=False))


def _condition_of(sizes: Array) -> float:
    return float(sizes[0] / sizes[-1]) if sizes.size and sizes[-1] > 0 else 1.0 if not sizes.size else 1e300


def _newton(
    assembly: Assembly, q: Array, lengths: Sequence[float], errors: Sequence[float]
) -> tuple[Array, Array] | None:
    for _ in range(12):
        try:
            residual, jacobian = assembly.equations.at(q.tolist(), assembly.numbers, lengths, errors)
            if not residual.size or max(residual.max(), -residual.min()) < RESIDUAL_MM:
                return q, jacobian
            q = q - np.linalg.solve(jacobian, residual)
        except (ZeroDivisionError, OverflowError, ValueError, np.linalg.LinAlgError):
            return None
    return None


class _Path:
    """The way from the drawn pose along the strokes."""

    def __init__(self, assembly: Assembly, moves: Array) -> None:
        self.assembly, self.moves = assembly, moves
        self.start = np.array(assembly.lengths)
        self.stuck = False
        self.none = [0.0] * assembly.equations.by_error.shape[1]

    def lengths(self, fraction: float) -> list[float]:
        """Cylinder lengths at a fraction of the strokes, mm."""
        return [float(length) for length in self.start + fraction * self.moves]

    def follow(self, limit: float) -> tuple[float, Array, Array]:
        """Go as far as the mount does, ``limit`` at the most: fraction, q and Jacobian there."""
        q, jacobian = _closed(self.assembly)
        fraction, step = 0.0, limit
        side = self.assembly.side_at_rest
        for _ in range(_MOST_STEPS):
            if fraction >= limit:
                break
            step = min(step, limit - fraction)
            ahead = self._step(q, jacobian, fraction, step, side)
            if ahead is None:
                step /= 2
                if step < _SMALLEST_STEP * limit:
                    self.stuck = True
                    break
                continue
            q, jacobian = ahead
            fraction = limit if step == limit - fraction else fraction + step
            step *= 2
        return fraction, q, jacobian

    def _step(self, q: Array, jacobian: Array, fraction: float, step: float, side: bool) -> tuple[Array, Array] | None:
        """One step, or None where it is too long to be sure of the branch."""
        shift = -step * np.linalg.solve(jacobian, self.assembly.equations.by_length @ self.moves)
        predicted = self._size_of(shift)
        if predicted > LARGEST_TURN * self.assembly.extent or np.abs(shift[2::3]).max() > LARGEST_TURN:
            return None
        solved = _newton(self.assembly, q + shift, self.lengths(fraction + step), self.none)
        if solved is None or self._size_of(solved[0] - q - shift) > 0.2 * predicted + 1e-9:
            return None
        return solved if side_of(solved[1]) == side else None

    def _size_of(self, shift: Array) -> float:
        return float(np.abs(shift * self.assembly.scale).max())


def _stroke_limit(assembly: Assembly, moves: Sequence[float]) -> tuple[float, Message | None]:
    """How much of what is asked the cylinders' strokes allow, and which of them ends it."""
    limit, stopped = 1.0, None
    for cylinder, length, move in zip(assembly.mount.cylinders, assembly.lengths, moves, strict=True):
        room = cylinder.retracted + cylinder.stroke - length if move > 0 else length - cylinder.retracted
        if abs(move) <= room + _STROKE_SLACK_MM:
            continue
        fraction = max(room, 0.0) / abs(move)
        if fraction < limit:
            way = "fully out" if move > 0 else "fully in"
            text = f"'{{name}}' is {way} after {{gone}} of the {{asked}} asked for"
            values: dict[str, Value] = {"name": word(cylinder.id)}
            values |= {"gone": (max(room, 0.0), "fine"), "asked": (abs(move), "fine")}
            limit, stopped = fraction, Message(STROKE_END, text, [cylinder.id], values)
    return limit, stopped


def members_in_line(assembly: Assembly, jacobian: Array) -> tuple[str, ...]:
    """The members that lose their grip first: those whose rows come nearest to cancelling out."""
    left, _, _ = np.linalg.svd(jacobian / assembly.scale)
    weights = np.abs(left[:, -1])
    share = [float(weights[part].max(initial=0.0)) for part in assembly.equations.row_of]
    return tuple(
        member.id for member, each in zip(assembly.mount.members, share, strict=True) if each > 0.3 * max(share)
    )


def _dead_centre(assembly: Assembly, jacobian: Array) -> Message:
    """Name the members in line where the mount cannot go on."""
    names = members_in_line(assembly, jacobian)
    text = "the mount comes to a dead centre and can be pushed no further: see {names}"
    listed = ", ".join(f"'{name}'" for name in names)
    return Message(DEAD_CENTRE, text, list(names), {"names": word(listed)})


def _too_far() -> Message:
    return Message(
        TOO_FAR, "the strokes turn the mount farther than is followed in one go; give them in smaller pieces"
    )
