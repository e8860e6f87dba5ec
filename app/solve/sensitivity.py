"""The one adjoint solve: how everything that can change moves the heights that matter, and what force it carries.

For a height y = h(q) of the blade, lambda = Phi_q^-T h_q gives dy/d(.) = -lambda . Phi_(.) for every cylinder length
and every error. For a load with generalised force Q the same solve, lambda = Phi_q^-T Q, gives the work done per unit
of each of them, and lambda itself holds the constraint forces (principle of virtual work).
"""

from collections.abc import Sequence
from dataclasses import dataclass

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
    and 'sensor right' where there are sensors (all mm per mm), 'load' and 'weight' for the work of the loads (N) where
    the document has them, 'faint weight' for that of 1 N straight down at the middle of the edge.
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


def weight_of(mount: Mount) -> tuple[Point, Point] | None:
    """Where the blade's weight acts and its force in N; None without a mass and its centre."""
    if mount.blade.mass is None or mount.blade.mass_centre is None:
        return None
    return mount.blade.mass_centre, (0.0, -mount.blade.mass * STANDARD_GRAVITY)


def cases_of(mount: Mount) -> dict[str, tuple[Point, Point]]:
    """The cases of the adjoint solve: a point of the blade as drawn and the force that acts there, N, or 1 upward."""
    cases: dict[str, tuple[Point, Point]] = {
        "left": (mount.blade.left, (0.0, 1.0)),
        "right": (mount.blade.right, (0.0, 1.0)),
    }
    if mount.sensors:
        cases["sensor left"] = (mount.sensors.left, (0.0, 1.0))
        cases["sensor right"] = (mount.sensors.right, (0.0, 1.0))
    if mount.load:
        cases["load"] = (mount.load.at, mount.load.force)
    if weight := weight_of(mount):
        cases["weight"] = weight
    else:
        (x1, y1), (x2, y2) = mount.blade.left, mount.blade.right
        cases["faint weight"] = (((x1 + x2) / 2, (y1 + y2) / 2), (0.0, -1.0))
    return cases


def sensitivities(assembly: Assembly, pose: Pose) -> Sensitivities:
    """Solve for every case the document allows, in one go. Needs a located mount."""
    cases = cases_of(assembly.mount)
    driven = np.zeros((len(assembly.drawn), len(cases)))
    for column, (at, direction) in enumerate(cases.values()):
        driven[:3, column] = _generalised(assembly, pose, at, direction)
    multipliers = pose.inverse.T @ driven
    return Sensitivities(
        cases={name: column for column, name in enumerate(cases)},
        multipliers=multipliers,
        by_length=-assembly.equations.by_length.T @ multipliers,
        by_error=-assembly.equations.by_error.T @ multipliers,
    )


def _generalised(assembly: Assembly, pose: Pose, at: Point, direction: Sequence[float]) -> tuple[float, float, float]:
    """A force at a point of the blade as a force on its (x, y, angle)."""
    x, y = pose.point(BLADE_BODY, assembly.local(BLADE_BODY, at))
    arm_x, arm_y = x - pose.q[0], y - pose.q[1]
    return direction[0], direction[1], float(arm_x * direction[1] - arm_y * direction[0])


def velocities(assembly: Assembly, pose: Pose) -> Array:
    """How every body moves per mm that each cylinder lengthens: dq/du, shape (unknowns, cylinders)."""
    return -pose.inverse @ assembly.equations.by_length
