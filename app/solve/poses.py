"""Many poses at once: Newton's method and the adjoint on stacks of small matrices.

The one place where many poses are solved: the true worst, a mount over its travel, the search for a better geometry
and the grading run all stand on it. The rows are those of ``equations``, through NumPy on arrays; a stack may hold
poses of one mount or of many mounts of one topology, a row each.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from app.document.models import Mount
from app.document.parts import Point
from app.solve.assembly import Assembly
from app.solve.equations import Array, Equations
from app.solve.pose import RESIDUAL_MM
from app.solve.sensitivity import BLADE_BODY, cases_of

Places: TypeAlias = NDArray[np.intp]
Marks: TypeAlias = NDArray[np.bool_]
Numbers: TypeAlias = Sequence[float | Array] | Sequence[float]
"""The numbers of the rows: one each for all poses, or an array of one for each pose."""

MOST_ROUNDS = 12


class Closed(NamedTuple):
    """What became of a stack: q, shape (poses, unknowns); Jacobians, shape (poses, rows, unknowns); which closed."""

    q: Array
    jacobian: Array
    closed: Marks


def close(
    equations: Equations,
    numbers: Numbers,
    q: Array,
    lengths: Array,
    errors: Array | None = None,
    most: int = MOST_ROUNDS,
) -> Closed:
    """Newton's method on every pose of a stack, from ``q``.

    Shapes: ``q`` (poses, unknowns), ``lengths`` (poses, cylinders), mm, ``errors`` (poses, errors), mm, none where
    None; ``most`` rounds. A pose that does not close to 1e-10 mm is marked and its q is not to be used. Which of the
    poses that fit the lengths is found depends on where it starts: to stay on a branch, start near and look at
    ``sides``.
    """
    q, closed = q.copy(), np.zeros(len(q), dtype=bool)
    errors = np.zeros((len(q), equations.by_error.shape[1])) if errors is None else errors
    jacobian = np.zeros((len(q), equations.rows, equations.unknowns))
    going = np.arange(len(q))
    with np.errstate(all="ignore"):
        for _ in range(most):
            own = numbers if len(going) == len(q) else rows_of(numbers, going)
            residual, slopes = equations.stacked(q[going], own, lengths[going], errors[going])
            jacobian[going] = slopes
            worst = np.abs(residual).max(axis=1) if equations.rows else np.zeros(len(going))
            closed[going[worst < RESIDUAL_MM]] = True
            sound = (worst >= RESIDUAL_MM) & np.isfinite(worst) & np.isfinite(slopes).all(axis=(1, 2))
            going, residual, slopes = going[sound], residual[sound], slopes[sound]
            if not len(going):
                break
            try:
                step = np.linalg.solve(slopes, residual[:, :, None])[:, :, 0]
            except np.linalg.LinAlgError:
                regular = _regular(slopes)
                going, residual, slopes = going[regular], residual[regular], slopes[regular]
                step = np.linalg.solve(slopes, residual[:, :, None])[:, :, 0]
            q[going] -= step
    return Closed(q, jacobian, closed)


def rows_of(numbers: Numbers, which: Places | Marks) -> Numbers:
    """The numbers of some poses of a stack."""
    return [each[which] if isinstance(each, np.ndarray) else each for each in numbers]


def _regular(matrices: Array) -> Marks:
    """Which square matrices of a stack can be solved."""
    determinant = np.linalg.det(matrices)
    regular: Marks = np.logical_and(np.isfinite(determinant), determinant != 0)
    return regular


def sides(jacobian: Array) -> Marks:
    """On which side of a singular pose each of a stack stands: the signs of the determinants."""
    positive: Marks = np.linalg.det(jacobian) > 0
    return positive


@dataclass(frozen=True, eq=False)
class Poses:
    """Solved poses of one mount, and what the adjoint solve says of each: as ``Sensitivities`` says of one.

    ``q`` shape (poses, unknowns); ``jacobian`` (poses, rows, unknowns); ``lengths`` of the cylinders (poses,
    cylinders), mm.
    """

    assembly: Assembly
    q: Array
    jacobian: Array
    lengths: Array

    def __len__(self) -> int:
        return len(self.q)

    @property
    def mount(self) -> Mount:
        """The mount."""
        return self.assembly.mount

    def point(self, body: int, at: Point) -> tuple[Array, Array]:
        """Where a point of a moving body as drawn stands: x and y, each of shape (poses,), mm."""
        (x, y), turn = self.assembly.local(body, at), self.q[:, 3 * body + 2]
        cos, sin = np.cos(turn), np.sin(turn)
        return self.q[:, 3 * body] + cos * x - sin * y, self.q[:, 3 * body + 1] + sin * x + cos * y

    def on_blade(self, at: Point) -> tuple[Array, Array]:
        """Where a point of the blade as drawn stands, mm."""
        return self.point(BLADE_BODY, at)

    @cached_property
    def inverse(self) -> Array:
        """The inverses of the Jacobians, shape (poses, unknowns, rows)."""
        return np.linalg.inv(self.jacobian)

    @cached_property
    def cases(self) -> dict[str, int]:
        """The columns of the answers by name, as in ``Sensitivities``."""
        return {name: column for column, name in enumerate(cases_of(self.mount))}

    @cached_property
    def multipliers(self) -> Array:
        """Lambda of every case, shape (poses, rows, cases)."""
        driven = np.zeros((len(self.q), self.q.shape[1], len(self.cases)))
        for column, pushes in enumerate(cases_of(self.mount).values()):
            for push in pushes:
                first = 3 * push.body
                x, y = self.point(push.body, push.at)
                driven[:, first, column] += push.force[0]
                driven[:, first + 1, column] += push.force[1]
                arm_x, arm_y = x - self.q[:, first], y - self.q[:, first + 1]
                driven[:, first + 2, column] += arm_x * push.force[1] - arm_y * push.force[0]
        found: Array = self.inverse.transpose(0, 2, 1) @ driven
        return found

    @cached_property
    def by_length(self) -> Array:
        """Change of every case per mm of every cylinder, shape (poses, cylinders, cases)."""
        found: Array = -self.assembly.equations.by_length.T @ self.multipliers
        return found

    @cached_property
    def by_error(self) -> Array:
        """Change of every case per mm of every error, shape (poses, errors, cases)."""
        found: Array = -self.assembly.equations.by_error.T @ self.multipliers
        return found

    @cached_property
    def velocities(self) -> Array:
        """How every body moves per mm that each cylinder lengthens, shape (poses, unknowns, cylinders)."""
        found: Array = -self.inverse @ self.assembly.equations.by_length
        return found

    def has(self, case: str) -> bool:
        """Whether the document has what this case needs."""
        return case in self.cases

    def of_length(self, case: str) -> Array:
        """Change of one case per mm of every cylinder, shape (poses, cylinders)."""
        found: Array = self.by_length[:, :, self.cases[case]]
        return found

    def of_error(self, case: str) -> Array:
        """Change of one case per mm of every error, shape (poses, errors)."""
        found: Array = self.by_error[:, :, self.cases[case]]
        return found

    def forces(self, case: str) -> Array:
        """The force in every cylinder in a case of loads, N, + when pushed shorter; shape (poses, cylinders)."""
        if not self.has(case):
            return np.zeros((len(self), len(self.mount.cylinders)))
        return -self.of_length(case)

    @cached_property
    def condition(self) -> Array:
        """Condition number of the scaled Jacobian of every pose, shape (poses,)."""
        sizes = np.linalg.svd(self.jacobian / np.expand_dims(self.assembly.scale, -2), compute_uv=False)
        found: Array = np.divide(sizes[:, 0], sizes[:, -1], out=np.full(len(sizes), 1e300), where=sizes[:, -1] > 0)
        return found
