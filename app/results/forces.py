"""What the load and the blade's weight put on every joint and cylinder.

All from the multipliers of the adjoint solve: the force of a row on the second body is minus its multiplier times the
row's direction. Members are weightless; the bodies carry the masses.
"""

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from app.analysis import Analysis, worked_out_once
from app.document.parts import Point
from app.members import AnyMember, Cylinder
from app.results.answer import answer
from app.results.relief import pressure_of, stall_of, stalls, stalls_over
from app.solve.equations import Array
from app.solve.poses import Poses

_NO_FORCE_N = 1e-9

Side: TypeAlias = Literal["cap", "annulus", "none"]


@answer
class JointForce:
    """The force at one joint: of the first body, or of the member, on the body it is pinned to."""

    load: Point | None
    """Under the load alone, [Fx, Fy], N."""
    weight: Point | None
    """Under the weight alone, [Fx, Fy], N."""
    together: Point | None
    """Under weight and full load, [Fx, Fy], N."""
    worst: float | None
    """Largest size between no load and full load (both ways where it reverses), weight included where known, N."""
    stall: float | None
    """Size when the load is grown, either way, until the first cylinder reaches its relief, N, weight included; at a
    cylinder's own ends at least what it pushes with at relief; null where no cylinder feels the load."""
    rating: float | None
    """What the joint is rated for, N."""
    use: float | None
    """The larger of worst and stall over rating."""


@dataclass(frozen=True)
class CylinderForce:
    """What one cylinder carries under the load alone.

    ``force``: N, + when pushed shorter. ``pressure``: MPa, its size over the area that carries it: the cap when pushed,
    the annulus when pulled. ``load_ratio``: |force| / |load|, None for a load of no size.
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
        pressure = pressure_of(cylinder, force)
        found[cylinder.id] = CylinderForce(force, pressure, abs(force) / size if size else None, side)
    return found


@worked_out_once
def joint_forces(analysis: Analysis) -> dict[str, JointForce]:
    """The force at every joint, by its name, N.

    At a pin or slide: of the first body on the second. At the end of a rod or cylinder: of the member on the body it is
    pinned to. ``worst`` is the largest that occurs between no load and the full load, with the weight always there.
    """
    found, reversing = analysis.sensitivities, bool(analysis.mount.load and analysis.mount.load.reversing)
    load = _by_joint(analysis, found.force("load")) if found.has("load") else None
    weight = _by_joint(analysis, found.force("weight")) if found.has("weight") else None
    answer = {}
    for number, (name, member, part, _) in enumerate(analysis.mount.joints):
        loaded = load[number] if load else None
        hung = weight[number] if weight else None
        worst = worst_force(loaded, hung, reversing)
        stall = _stall(analysis, member, loaded, hung)
        together = (loaded[0] + hung[0], loaded[1] + hung[1]) if loaded and hung else None
        most = max((each for each in (worst, stall) if each is not None), default=None)
        use = most / part.rating if most is not None and part.rating else None
        answer[name] = JointForce(loaded, hung, together, worst, stall, part.rating, use)
    return answer


def worst_force(load: Point | None, weight: Point | None, reversing: bool = False) -> float | None:
    """The largest force between no load and the full load, N, both ways where it reverses; None when neither is known.

    The size of weight + t load is a convex function of t, so that it is largest at an end of the range.
    """
    if load is None and weight is None:
        return None
    shares = (0.0, 1.0, -1.0) if reversing else (0.0, 1.0)
    return max(_size(load, weight, share) for share in shares)


def _size(load: Point | None, weight: Point | None, share: float) -> float:
    (hung_x, hung_y), (push_x, push_y) = weight or (0.0, 0.0), load or (0.0, 0.0)
    return math.hypot(hung_x + share * push_x, hung_y + share * push_y)


def _stall(analysis: Analysis, member: AnyMember, load: Point | None, weight: Point | None) -> float | None:
    """What a joint carries when the load has grown until the first cylinder is at relief, N."""
    sizes = [_size(load, weight, multiple) for multiple in stalls(analysis)] if load else []
    relief = analysis.mount.oil.relief_pressure if analysis.mount.oil else None
    if relief and isinstance(member, Cylinder):
        sizes.append(stall_of(member, relief))
    return max(sizes, default=None)


def uses_over(poses: Poses) -> Array:
    """The largest use of a rated joint at each of many poses, as ``JointForce.use`` has it; shape (poses,).

    Minus infinity where no joint is rated or nothing pushes one.
    """
    most = np.full(len(poses), -math.inf)
    loaded, hung = poses.has("load"), poses.has("weight")
    if not (loaded or hung):
        return most
    nothing = np.zeros((len(poses), poses.assembly.equations.by_error.shape[1]))
    load, weight = poses.of_error("load") if loaded else nothing, poses.of_error("weight") if hung else nothing
    shares: list[Array | float] = [0.0, 1.0, *([-1.0] if poses.mount.load and poses.mount.load.reversing else [])]
    shares += stalls_over(poses)
    relief = poses.mount.oil.relief_pressure if poses.mount.oil else None
    for name, member, part, _ in poses.mount.joints:
        if not part.rating:
            continue
        at = poses.assembly.joint_errors[name]
        for share in shares:
            size = np.linalg.norm(weight[:, at] + np.reshape(share, (-1, 1)) * load[:, at], axis=1)
            np.maximum(most, size / part.rating, out=most)
        if relief and isinstance(member, Cylinder):
            np.maximum(most, stall_of(member, relief) / part.rating, out=most)
    return most


def _by_joint(analysis: Analysis, multipliers: Array) -> list[Point]:
    values, rows = multipliers.tolist(), analysis.assembly.equations.row_of
    members = zip(analysis.mount.members, rows, analysis.standing, strict=True)
    return [force for member, part, standing in members for force in member.forces(values[part], standing)]
