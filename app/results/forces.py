"""What the load and the blade's weight put on every joint and cylinder.

All from the multipliers of the adjoint solve: the force of a row on the second body is minus its multiplier times the
row's direction. Members are weightless; the blade carries the mass.
"""

import math
from dataclasses import dataclass
from typing import Any

from app.document.models import Cylinder, Pin, Point, Rod, Slide, joints
from app.solve.assembly import Assembly, points_of
from app.solve.equations import FIXED, Array
from app.solve.pose import Pose
from app.solve.sensitivity import Sensitivities

_NO_FORCE_N = 1e-9


@dataclass(frozen=True)
class CylinderForce:
    """What one cylinder carries under the load alone.

    ``force``: N, + when pushed shorter. ``pressure``: MPa, the force over the area that carries it, with its sign:
    + on the cap side, - on the annulus. ``load_ratio``: |force| / |load|, None for a load of no size.
    """

    force: float
    pressure: float
    load_ratio: float | None
    side: str


def cylinder_forces(assembly: Assembly, found: Sensitivities) -> dict[str, CylinderForce]:
    """What every cylinder carries under the load; empty without a load."""
    load = assembly.mount.load
    if load is None:
        return {}
    size = math.hypot(*load.force)
    answer = {}
    for cylinder, work in zip(assembly.mount.cylinders, found.of_length("load").tolist(), strict=True):
        force = -work
        area = carrying_area(cylinder, force)
        side = "cap" if force > _NO_FORCE_N else "annulus" if force < -_NO_FORCE_N else "none"
        answer[cylinder.id] = CylinderForce(force, force / area, abs(force) / size if size else None, side)
    return answer


def carrying_area(cylinder: Cylinder, force: float) -> float:
    """The area that carries a cylinder's force, mm2: the cap when pushed, the annulus when pulled."""
    return cylinder.cap_area if force >= 0 else cylinder.annulus_area


def joint_forces(assembly: Assembly, pose: Pose, found: Sensitivities) -> dict[str, dict[str, Any]]:
    """The force at every joint, N, [Fx, Fy].

    At a pin or slide: of the first body on the second. At the end of a rod or cylinder: of the member on the body it is
    pinned to. ``worst`` is the largest that occurs between no load and the full load, with the weight always there.
    """
    members = range(len(assembly.mount.members))
    lines = [None if isinstance(assembly.mount.members[i], Pin) else line_of(assembly, pose, i) for i in members]
    load = _by_joint(assembly, lines, found.force("load")) if found.has("load") else None
    weight = _by_joint(assembly, lines, found.force("weight")) if found.has("weight") else None
    answer = {}
    for number, (name, _, part) in enumerate(joints(assembly.mount)):
        loaded = load[number] if load else None
        hung = weight[number] if weight else None
        worst = worst_force(loaded, hung)
        together = (loaded[0] + hung[0], loaded[1] + hung[1]) if loaded and hung else None
        use = worst / part.rating if worst is not None and part.rating else None
        answer[name] = {
            "load": loaded,
            "weight": hung,
            "together": together,
            "worst": worst,
            "rating": part.rating,
            "use": use,
        }
    return answer


def worst_force(load: Point | None, weight: Point | None) -> float | None:
    """The largest force between no load and the full load, N; None when neither is known."""
    if load is None and weight is None:
        return None
    hung = weight or (0.0, 0.0)
    push = load or (0.0, 0.0)
    return max(math.hypot(*hung), math.hypot(hung[0] + push[0], hung[1] + push[1]))


def _by_joint(assembly: Assembly, lines: list[Point | None], multipliers: Array) -> list[Point]:
    values = multipliers.tolist()
    forces: list[Point] = []
    equations = assembly.equations
    for number, member in enumerate(assembly.mount.members):
        row = equations.row_of[number].start
        along = lines[number]
        if along is None:
            forces.append((-values[row], -values[row + 1]))
            continue
        pull = (values[row] * along[0], values[row] * along[1])
        if isinstance(member, Slide):
            forces.append((-pull[0], -pull[1]))
        else:
            forces += [pull, (-pull[0], -pull[1])]
    return forces


def line_of(assembly: Assembly, pose: Pose, number: int) -> Point:
    """Unit vector a member's row acts along: from end 1 to end 2, or square to the guide of a slide."""
    member, link = assembly.mount.members[number], assembly.equations.links[number]
    if isinstance(member, Slide):
        dx, dy = member.direction
        angle = 0.0 if link.first == FIXED else float(pose.q[3 * link.first + 2])
        size, cos, sin = math.hypot(dx, dy), math.cos(angle), math.sin(angle)
        nx, ny = -dy / size, dx / size
        return cos * nx - sin * ny, sin * nx + cos * ny
    first, last = standing_points(assembly, pose, number)
    size = math.dist(first, last)
    return (last[0] - first[0]) / size, (last[1] - first[1]) / size


def standing_points(assembly: Assembly, pose: Pose, number: int) -> tuple[Point, Point]:
    """Where a member's hold on its first and on its second body stands, mm."""
    link = assembly.equations.links[number]
    first, last = points_of(assembly.mount.members[number])
    return (
        first if link.first == FIXED else pose.point(link.first, assembly.local(link.first, first)),
        last if link.second == FIXED else pose.point(link.second, assembly.local(link.second, last)),
    )


def rod_pulls(assembly: Assembly, found: Sensitivities) -> dict[str, float]:
    """The pull in every rod under the load, N, - when pushed; empty without a load."""
    if not found.has("load"):
        return {}
    values = found.force("load").tolist()
    rows = assembly.equations.row_of
    return {m.id: values[rows[i].start] for i, m in enumerate(assembly.mount.members) if isinstance(m, Rod)}
