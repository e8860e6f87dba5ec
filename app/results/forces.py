"""What the load and the blade's weight put on every joint and cylinder.

All from the multipliers of the adjoint solve: the force of a row on the second body is minus its multiplier times the
row's direction. Members are weightless; the blade carries the mass.
"""

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

from app.analysis import Analysis, worked_out_once
from app.document.parts import Point
from app.results.answer import answer
from app.solve.equations import Array

_NO_FORCE_N = 1e-9

Side: TypeAlias = Literal["cap", "annulus", "none"]


@answer
class JointForce:
    """The force at one joint: of the first body, or of the member, on the body it is pinned to."""

    load: Point | None
    """Under the load alone, [Fx, Fy], N."""
    weight: Point | None
    """Under the blade's weight alone, [Fx, Fy], N."""
    together: Point | None
    """Under weight and full load, [Fx, Fy], N."""
    worst: float | None
    """Largest size between no load and full load, weight included where known, N."""
    rating: float | None
    """What the joint is rated for, N."""
    use: float | None
    """Worst over rating."""


@dataclass(frozen=True)
class CylinderForce:
    """What one cylinder carries under the load alone.

    ``force``: N, + when pushed shorter. ``pressure``: MPa, the force over the area that carries it, with its sign:
    + on the cap side, - on the annulus. ``load_ratio``: |force| / |load|, None for a load of no size.
    """

    force: float
    pressure: float
    load_ratio: float | None
    side: Side


@worked_out_once
def cylinder_forces(analysis: Analysis) -> dict[str, CylinderForce]:
    """What every cylinder carries under the load; empty without a load."""
    load = analysis.mount.load
    if load is None:
        return {}
    size = math.hypot(*load.force)
    found = {}
    for cylinder in analysis.mount.cylinders:
        force = analysis.load_forces[cylinder.id]
        side: Side = "cap" if force > _NO_FORCE_N else "annulus" if force < -_NO_FORCE_N else "none"
        pressure = force / cylinder.carrying_area(force)
        found[cylinder.id] = CylinderForce(force, pressure, abs(force) / size if size else None, side)
    return found


@worked_out_once
def joint_forces(analysis: Analysis) -> dict[str, JointForce]:
    """The force at every joint, by its name, N.

    At a pin or slide: of the first body on the second. At the end of a rod or cylinder: of the member on the body it is
    pinned to. ``worst`` is the largest that occurs between no load and the full load, with the weight always there.
    """
    found = analysis.sensitivities
    load = _by_joint(analysis, found.force("load")) if found.has("load") else None
    weight = _by_joint(analysis, found.force("weight")) if found.has("weight") else None
    answer = {}
    for number, (name, _, part, _) in enumerate(analysis.mount.joints):
        loaded = load[number] if load else None
        hung = weight[number] if weight else None
        worst = worst_force(loaded, hung)
        together = (loaded[0] + hung[0], loaded[1] + hung[1]) if loaded and hung else None
        use = worst / part.rating if worst is not None and part.rating else None
        answer[name] = JointForce(loaded, hung, together, worst, part.rating, use)
    return answer


def worst_force(load: Point | None, weight: Point | None) -> float | None:
    """The largest force between no load and the full load, N; None when neither is known."""
    if load is None and weight is None:
        return None
    hung = weight or (0.0, 0.0)
    push = load or (0.0, 0.0)
    return max(math.hypot(*hung), math.hypot(hung[0] + push[0], hung[1] + push[1]))


def _by_joint(analysis: Analysis, multipliers: Array) -> list[Point]:
    values, rows = multipliers.tolist(), analysis.assembly.equations.row_of
    members = zip(analysis.mount.members, rows, analysis.standing, strict=True)
    return [force for member, part, standing in members for force in member.forces(values[part], standing)]
