"""The one adjoint solve: how everything that can change moves the heights that matter, and what force it carries.

For a height y = h(q) of the blade, lambda = Phi_q^-T h_q gives dy/d(.) = -lambda . Phi_(.) for every cylinder length
and every error. For a load with generalised force Q the same solve, lambda = Phi_q^-T Q, gives the work done per unit
of each of them, and lambda itself holds the constraint forces (principle of virtual work).
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from app.document.models import Mount
from app.document.parts import Point
from app.document.units import STANDARD_GRAVITY
from app.solve.assembly import Assembly
from app.solve.equations import Array
from app.solve.pose import Pose

BLADE_BODY = 0


@dataclass(frozen=True, eq=False)
class Sensitivities:
    """Answers of the adjoint solve at one pose.

    ``multipliers``: lambda, shape (rows, cases). ``by_length``: shape (cylinders, cases). ``by_error``: shape
    (errors, cases). ``cases`` names the columns: 'left' and 'right' for the heights of the blade's ends, 'sensor left'
    and 'sensor right' where there are sensors (all mm per mm), 'load' and 'weight' (of every body that has a mass) for
    the work of the loads (N) where the document has them.
    """

    cases: dict[str, int]
    multipliers: Array
    by_length: Array
    by_error: Array

    def of_length(self, case: str) -> Array:
        """Change per mm of every cylinder, shape (cylinders,)."""
        return self.by_length[:, self.cases[case]]

    def of_error(self, case: str) -> Array:
        """Change per mm of every error, shape (errors,)."""
        return self.by_error[:, self.cases[case]]

    def force(self, case: str) -> Array:
        """The multipliers of a case, shape (rows,)."""
        return self.multipliers[:, self.cases[case]]

    def has(self, case: str) -> bool:
        """Whether the document has what this case needs."""
        return case in self.cases


class Push(NamedTuple):
    """A force, N (or 1 upward for a height), at a point of a body as drawn, mm; ``body`` by its number."""

    body: int
    at: Point
    force: Point


def weights_of(mount: Mount) -> list[Push]:
    """The weight of every body that has a mass and its centre."""
    return [Push(mount.moving.index(name), at, (0.0, -mass * STANDARD_GRAVITY)) for name, at, mass in mount.weights]


def cases_of(mount: Mount) -> dict[str, list[Push]]:
    """The cases of the adjoint solve: the forces that act together in each."""
    up = (0.0, 1.0)
    cases = {"left": [Push(BLADE_BODY, mount.blade.left, up)], "right": [Push(BLADE_BODY, mount.blade.right, up)]}
    if mount.sensors:
        cases["sensor left"] = [Push(BLADE_BODY, mount.sensors.left, up)]
        cases["sensor right"] = [Push(BLADE_BODY, mount.sensors.right, up)]
    if mount.load:
        cases["load"] = [Push(BLADE_BODY, mount.load.at, mount.load.force)]
    if weights := weights_of(mount):
        cases["weight"] = weights
    return cases


def sensitivities(assembly: Assembly, pose: Pose) -> Sensitivities:
    """Solve for every case the document allows, in one go. Needs a located mount."""
    cases = cases_of(assembly.mount)
    driven = np.zeros((len(assembly.drawn), len(cases)))
    for column, pushes in enumerate(cases.values()):
        for push in pushes:
            driven[3 * push.body : 3 * push.body + 3, column] += _generalised(assembly, pose, push)
    multipliers = pose.inverse.T @ driven
    return Sensitivities(
        cases={name: column for column, name in enumerate(cases)},
        multipliers=multipliers,
        by_length=-assembly.equations.by_length.T @ multipliers,
        by_error=-assembly.equations.by_error.T @ multipliers,
    )


def _generalised(assembly: Assembly, pose: Pose, push: Push) -> tuple[float, float, float]:
    """A force at a point of a body as a force on its (x, y, angle)."""
    x, y = pose.point(push.body, assembly.local(push.body, push.at))
    arm_x, arm_y = x - pose.q[3 * push.body], y - pose.q[3 * push.body + 1]
    return push.force[0], push.force[1], float(arm_x * push.force[1] - arm_y * push.force[0])


def velocities(assembly: Assembly, pose: Pose) -> Array:
    """How every body moves per mm that each cylinder lengthens: dq/du, shape (unknowns, cylinders)."""
    return -pose.inverse @ assembly.equations.by_length
