"""Where a mount stands: mobility as drawn, and the pose the cylinders' command brings it to.

Newton's method along the command, from the drawn pose, in steps small enough that the mount stays on the branch it was
drawn in. What it cannot follow, it follows as far as it goes, and says why it stopped there.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from app.document.errors import BadCommand, Fault
from app.document.models import Mount, Point
from app.solve.assembly import Assembly, side_of
from app.solve.equations import Array

RESIDUAL_MM = 1e-10
"""A pose is solved when no constraint is open by more than this."""

_RANK_TOLERANCE = 1e-9
_STROKE_SLACK_MM = 1e-6
_SMALLEST_STEP = 2.0**-18
_LARGEST_TURN = 0.3
"""Largest step of the predictor: turn of a body in radians, and scaled movement over the size of the mount."""

_MOST_STEPS = 500
"""A command that needs more is asked for in pieces: one answer must not keep the next one waiting."""


@dataclass(frozen=True)
class Mobility:
    """How a mount holds with all its cylinders held.

    ``state`` is 'located' (nothing can move, nothing fights), 'loose' (something can still move) or 'bound' (members
    fight). ``freedom`` counts free motions, ``redundant`` the constraints too many. ``motion`` gives, for a loose
    mount, each free motion as a change of q scaled so that joints move by about 1 mm, shape (freedom, unknowns).
    ``members`` are the indices of the members involved; ``freeing`` those of a bound mount whose removal alone leaves
    one constraint fewer too many and nothing loose.
    """

    state: str
    freedom: int
    redundant: int
    motion: Array
    members: tuple[int, ...]
    freeing: tuple[int, ...] = ()


@dataclass(frozen=True)
class Stopped:
    """Why a command was not followed to its end: the members and a sentence.

    ``by`` is 'stroke', 'dead centre' or 'too far'.
    """

    by: str
    members: tuple[str, ...]
    text: str


_TOO_FAR = Stopped(
    "too far", (), "the command turns the mount farther than is followed in one go; give it in smaller pieces"
)


@dataclass(frozen=True, eq=False)
class Pose:
    """A solved pose.

    ``q`` shape (unknowns,), ``jacobian`` dPhi/dq there, ``lengths`` the cylinder lengths in mm, ``fraction`` how much
    of the command was followed (0 to 1), ``stopped`` None when all of it was.
    """

    q: Array
    jacobian: Array
    lengths: tuple[float, ...]
    fraction: float = 1.0
    stopped: Stopped | None = None
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


def mobility(assembly: Assembly) -> Mobility:
    """Count what can move and what fights at the drawn pose, from the rank of the scaled Jacobian."""
    equations = assembly.equations
    if not equations.rows:
        return Mobility("loose", equations.unknowns, 0, np.eye(equations.unknowns), ())
    _, jacobian = assembly.at_rest
    sizes = assembly.sizes_at_rest.tolist()
    rank = sum([size > _RANK_TOLERANCE * max(sizes[0], 1.0) for size in sizes])
    freedom, redundant = equations.unknowns - rank, equations.rows - rank
    if freedom == 0 and redundant == 0:
        return Mobility("located", 0, 0, np.zeros((0, equations.unknowns)), ())
    left, _, right = np.linalg.svd(jacobian / assembly.scale)
    motion = right[rank:] / assembly.scale
    involved = _members_moved(assembly, right[rank:]) if freedom else _members_fighting(assembly, left[:, rank:])
    freeing = () if freedom else tuple(i for i in involved if _frees(assembly, jacobian, i))
    return Mobility("loose" if freedom else "bound", freedom, redundant, motion, involved, freeing)


def _frees(assembly: Assembly, jacobian: Array, member: int) -> bool:
    """Whether the mount without one member still has nothing loose."""
    part = assembly.equations.row_of[member]
    others = np.delete(jacobian / assembly.scale, range(part.start, part.stop), axis=0)
    sizes = np.linalg.svd(others, compute_uv=False)
    return len(others) >= others.shape[1] and bool(sizes[-1] > _RANK_TOLERANCE * max(sizes[0], 1.0))


def _members_moved(assembly: Assembly, motions: Array) -> tuple[int, ...]:
    """The members that take hold of a body which can still move."""
    loose = {int(column) // 3 for column in np.nonzero(np.abs(motions).max(axis=0) > 1e-6)[0]}
    links = assembly.equations.links
    return tuple(i for i, link in enumerate(links) if link.first in loose or link.second in loose)


def _members_fighting(assembly: Assembly, combinations: Array) -> tuple[int, ...]:
    """The members whose rows take part in a combination that cancels out."""
    rows = np.abs(combinations).max(axis=1) > 1e-6
    return tuple(i for i, part in enumerate(assembly.equations.row_of) if rows[part].any())


def target_lengths(mount: Mount, command: Mapping[str, object]) -> tuple[float, ...]:
    """The change of every cylinder's length that a command asks for, mm. Raises BadCommand with all faults."""
    known = [cylinder.id for cylinder in mount.cylinders]
    faults = []
    for name, value in command.items():
        place = f'command["{name[:60]}"]'
        if name not in known:
            names = ", ".join(f"'{each}'" for each in known) or "none: this mount has no cylinder"
            faults.append(Fault(place, f"there is no cylinder of that name; the cylinders are {names}"))
        elif isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e6:
            faults.append(Fault(place, "is not a number of mm; give how much longer (+) or shorter (-) than drawn"))
    if faults:
        raise BadCommand(faults)
    return tuple(float(command.get(name, 0.0)) for name in known)  # type: ignore[arg-type]


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
        stopped = _dead_centre(assembly, jacobian) if path.stuck else _TOO_FAR
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
    """The way from the drawn pose along a command."""

    def __init__(self, assembly: Assembly, moves: Array) -> None:
        self.assembly, self.moves = assembly, moves
        self.start = np.array(assembly.lengths)
        self.stuck = False
        self.none = [0.0] * assembly.equations.by_error.shape[1]

    def lengths(self, fraction: float) -> list[float]:
        """Cylinder lengths at a fraction of the command, mm."""
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
        if predicted > _LARGEST_TURN * self.assembly.extent or np.abs(shift[2::3]).max() > _LARGEST_TURN:
            return None
        solved = _newton(self.assembly, q + shift, self.lengths(fraction + step), self.none)
        if solved is None or self._size_of(solved[0] - q - shift) > 0.2 * predicted + 1e-9:
            return None
        return solved if side_of(solved[1]) == side else None

    def _size_of(self, shift: Array) -> float:
        return float(np.abs(shift * self.assembly.scale).max())


def _stroke_limit(assembly: Assembly, moves: Sequence[float]) -> tuple[float, Stopped | None]:
    """How much of a command the strokes allow, and which cylinder ends it."""
    limit, stopped = 1.0, None
    for cylinder, length, move in zip(assembly.mount.cylinders, assembly.lengths, moves, strict=True):
        room = cylinder.retracted + cylinder.stroke - length if move > 0 else length - cylinder.retracted
        if abs(move) <= room + _STROKE_SLACK_MM:
            continue
        fraction = max(room, 0.0) / abs(move)
        if fraction < limit:
            way = "fully out" if move > 0 else "fully in"
            text = f"'{cylinder.id}' is {way} after {max(room, 0.0):.1f} mm of the {abs(move):.1f} mm asked for"
            limit, stopped = fraction, Stopped("stroke", (cylinder.id,), text)
    return limit, stopped


def members_in_line(assembly: Assembly, jacobian: Array) -> tuple[str, ...]:
    """The members that lose their grip first: those whose rows come nearest to cancelling out."""
    left, _, _ = np.linalg.svd(jacobian / assembly.scale)
    weights = np.abs(left[:, -1])
    share = [float(weights[part].max()) for part in assembly.equations.row_of]
    return tuple(
        member.id for member, each in zip(assembly.mount.members, share, strict=True) if each > 0.3 * max(share)
    )


def _dead_centre(assembly: Assembly, jacobian: Array) -> Stopped:
    """Name the members in line where the mount cannot go on."""
    names = members_in_line(assembly, jacobian)
    listed = ", ".join(f"'{name}'" for name in names)
    return Stopped("dead centre", names, f"the mount comes to a dead centre and can be pushed no further: see {listed}")
