"""A mount laid out for the equations of its topology: which number goes where.

Every body gets a reference point, the middle of the edge for the blade and the mean of its joints for the others;
points of a body are given from it as drawn, so that at rest every angle is zero.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from app.document.models import Mount
from app.document.parts import FRAME, Point
from app.members.member import distance
from app.solve.equations import FIXED, Array, Equations, Link, Topology, derive


@dataclass(frozen=True, eq=False)
class Assembly:
    """A mount with its equations and the numbers they take.

    ``drawn`` is q as drawn, shape (unknowns,); ``lengths`` the cylinder lengths as drawn, mm; ``scale`` divides the
    columns of the Jacobian, shape (unknowns,): 1 for x and y, a body's typical distance of joints from its reference
    point, mm, for its angle.
    """

    mount: Mount
    equations: Equations
    references: tuple[Point, ...]
    numbers: tuple[float, ...]
    lengths: tuple[float, ...]
    drawn: Array
    scale: Array

    def local(self, body: int, at: Point) -> Point:
        """A point as drawn, from its body's reference point (from the origin on the frame)."""
        if body == FIXED:
            return at
        reference = self.references[body]
        return at[0] - reference[0], at[1] - reference[1]

    @cached_property
    def at_rest(self) -> tuple[Array, Array]:
        """Residual and Jacobian at the drawn pose without errors, shapes (rows,) and (rows, unknowns)."""
        nothing = [0.0] * self.equations.by_error.shape[1]
        return self.equations.at(self.drawn.tolist(), self.numbers, self.lengths, nothing)

    @cached_property
    def sizes_at_rest(self) -> Array:
        """Singular values of the scaled Jacobian at the drawn pose, largest first."""
        return np.linalg.svd(self.at_rest[1] / self.scale, compute_uv=False)

    @cached_property
    def side_at_rest(self) -> bool:
        """On which side of a singular pose the mount is drawn."""
        return side_of(self.at_rest[1])

    @cached_property
    def extent(self) -> float:
        """How large the drawing is: the diagonal around all joints and the edge, mm."""
        points = [point for member in self.mount.members for point in member.holds]
        points += [self.mount.blade.left, self.mount.blade.right]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return math.hypot(max(xs) - min(xs), max(ys) - min(ys))

    @cached_property
    def joint_errors(self) -> dict[str, slice]:
        """Which errors belong to every joint, by its name: two of a pin, one of a slide and of an end."""
        answer = {}
        for member, errors in zip(self.mount.members, self.equations.error_of, strict=True):
            each = (errors.stop - errors.start) // len(member.joints)
            for number, (name, _, _) in enumerate(member.joints):
                answer[name] = slice(errors.start + number * each, errors.start + (number + 1) * each)
        return answer


def topology_of(mount: Mount) -> Topology:
    """Which members join which bodies, with bodies by number."""
    index = body_numbers(mount)
    return Topology(
        len(mount.moving),
        tuple(Link(member.kind, *(index[body] for body in member.joined)) for member in mount.members),
    )


def body_numbers(mount: Mount) -> dict[str, int]:
    """The number of every body: the blade 0, the frame ``FIXED``."""
    return {FRAME: FIXED} | {body: number for number, body in enumerate(mount.moving)}


def side_of(jacobian: Array) -> bool:
    """On which side of a singular pose a mount stands: the sign of the determinant."""
    return bool(np.linalg.det(jacobian) > 0)


_ORIGIN = (0.0, 0.0)
_MOST_KEPT = 8
_kept: list[Assembly] = []


def assemble(mount: Mount) -> Assembly:
    """A mount laid out for its equations; the last few are kept, for work that moves one mount's cylinders about."""
    for known in _kept:
        if known.mount is mount:
            return known
    laid_out = lay_out(mount)
    _kept.insert(0, laid_out)
    del _kept[_MOST_KEPT:]
    return laid_out


def lay_out(mount: Mount, many: int | None = None) -> Assembly:
    """Lay a mount out for its equations, deriving them if this topology is new.

    ``many``: how many mounts there are where some of its numbers are arrays, one value a mount (``app.search.family``).
    Then ``numbers`` and ``references`` may be arrays, ``drawn`` and ``scale`` have shape (mounts, unknowns) and
    ``lengths`` (mounts, cylinders).
    """
    topology = topology_of(mount)
    points = _points_by_body(mount, topology)
    middle = _mean([mount.blade.left, mount.blade.right])
    references = (middle, *(_mean(points[body]) for body in range(1, topology.bodies)))
    half_blade = distance(mount.blade.left, mount.blade.right) / 2
    reach = [_reach(points[body], references[body], half_blade) for body in range(topology.bodies)]
    numbers: list[float] = []
    for member, link in zip(mount.members, topology.links, strict=True):
        first, second = (_ORIGIN if body == FIXED else references[body] for body in (link.first, link.second))
        numbers += member.numbers(first, second)
    lengths = tuple(cylinder.drawn_length for cylinder in mount.cylinders)
    return Assembly(
        mount=mount,
        equations=derive(topology),
        references=references,
        numbers=tuple(numbers),
        lengths=lengths if many is None else beside(lengths, many),  # type: ignore[arg-type]
        drawn=beside([value for reference in references for value in (*reference, 0.0)], many),
        scale=beside([value for size in reach for value in (1.0, 1.0, size)], many),
    )


def beside(values: Sequence[float], many: int | None) -> Array:
    """Numbers side by side, shape (numbers,); of many mounts, some of them arrays, shape (mounts, numbers)."""
    if many is None:
        return np.array(values)
    found: Array = (
        np.stack([np.broadcast_to(each, many) for each in values], axis=-1) if values else np.zeros((many, 0))
    )
    return found


def _points_by_body(mount: Mount, topology: Topology) -> list[list[Point]]:
    points: list[list[Point]] = [[] for _ in range(topology.bodies)]
    for member, link in zip(mount.members, topology.links, strict=True):
        for body, point in zip((link.first, link.second), member.holds, strict=True):
            if body != FIXED:
                points[body].append(point)
    return points


def _mean(points: list[Point]) -> Point:
    count = len(points) or 1
    return sum(x for x, _ in points) / count, sum(y for _, y in points) / count


def _reach(points: list[Point], reference: Point, otherwise: float) -> float:
    """Root mean square distance of a body's joints from its reference point, mm; ``otherwise`` where that is none."""
    squares = sum(distance(point, reference) ** 2 for point in points) / (len(points) or 1)
    if isinstance(squares, np.ndarray):
        many: float = np.where(squares > 0, np.sqrt(squares), otherwise)
        return many
    return math.sqrt(squares) or otherwise
