"""The readout: every answer about a mount put together. The only door for command line, server and notebooks."""

import math
from collections.abc import Mapping
from typing import Any

from app.document.models import Mount, Pin, Rod, Slide, drawn_length
from app.results.budget import ENDS, budget, sources, worse_end
from app.results.coupling import NOT_TWO, Correction, correction, edge_movement
from app.results.dial import load_test
from app.results.forces import CylinderForce, cylinder_forces, joint_forces, standing_points
from app.results.linearity import estimate
from app.results.valve import speed_and_step
from app.results.warnings import warnings_of
from app.solve.assembly import Assembly, assemble
from app.solve.equations import Array
from app.solve.pose import Mobility, Pose, mobility, solve, target_lengths
from app.solve.sensitivity import BLADE_BODY, Sensitivities, sensitivities

DEGREES = math.degrees(1.0)

NO_LOAD = "needs a load"
NO_OIL = "needs the oil's bulk modulus"
NO_MASS = "needs the blade's mass and its centre"
NO_VALVE = "needs the valve's flow and smallest pulse"
NO_RELIEF = "needs the relief pressure"
NO_TOLERANCE = "needs a tolerance"
NOT_LOCATED = {
    "loose": "the mount hangs loose: hold it first",
    "bound": "the mount is bound: free it first",
}


def readout(mount: Mount, command: Mapping[str, object] | None = None) -> dict[str, Any]:
    """Everything the tool knows of a mount with its cylinders moved by ``command`` (mm longer than drawn, by id).

    Fields: ``app.results.answer.Readout``. Raises BadCommand for a command that names no cylinder or is no number.
    """
    moves = target_lengths(mount, command or {})
    assembly = assemble(mount)
    held = mobility(assembly)
    if held.state != "located":
        return _without_numbers(assembly, held)
    pose = solve(assembly, moves)
    found = sensitivities(assembly, pose)
    carried = cylinder_forces(assembly, found)
    movement = edge_movement(assembly, pose, found)
    together = correction(movement)
    forces = joint_forces(assembly, pose, found)
    actuators = _actuators(assembly, pose, found, movement, carried)
    listed = sources(assembly, pose, found, carried)
    totals = budget(listed, mount.tolerance)
    end = worse_end(totals)
    judged = estimate(assembly, pose, found, carried, end, totals[end]["high"] >= -totals[end]["low"])
    return {
        "mobility": _mobility(assembly, held),
        "pose": _pose(assembly, pose, moves),
        "actuators": actuators,
        "coupling": {"worst": together.worst, "interaction": together.interaction, "moves": together.moves},
        "forces": forces,
        "budget": totals,
        "dial": load_test(found, listed),
        "warnings": warnings_of(assembly, pose, actuators, forces, judged),
        "absent": _absent(mount, together, actuators),
    }


def _without_numbers(assembly: Assembly, held: Mobility) -> dict[str, Any]:
    reason = NOT_LOCATED[held.state]
    fields = ("pose", "actuators", "coupling", "forces", "budget", "dial")
    return {
        "mobility": _mobility(assembly, held),
        **dict.fromkeys(fields),
        "warnings": [],
        "absent": dict.fromkeys(fields, reason),
    }


def _mobility(assembly: Assembly, held: Mobility) -> dict[str, Any]:
    members = assembly.mount.members
    return {
        "state": held.state,
        "freedom": held.freedom,
        "redundant": held.redundant,
        "members": [members[number].id for number in held.members],
        "freeing": [members[number].id for number in held.freeing],
        "motion": [_motion(assembly, row) for row in held.motion],
    }


def _motion(assembly: Assembly, row: Array) -> dict[str, Any]:
    """One free motion by body: the shift of its reference point in mm and its turn in degrees, about 1 mm in size."""
    return {
        body: {
            "at": list(assembly.references[number]),
            "shift": row[3 * number : 3 * number + 2].tolist(),
            "turn": float(row[3 * number + 2]) * DEGREES,
        }
        for number, body in enumerate(assembly.mount.moving)
    }


def _pose(assembly: Assembly, pose: Pose, moves: tuple[float, ...]) -> dict[str, Any]:
    mount = assembly.mount
    ends = {
        "left": pose.point(BLADE_BODY, assembly.local(BLADE_BODY, mount.blade.left)),
        "right": pose.point(BLADE_BODY, assembly.local(BLADE_BODY, mount.blade.right)),
    }
    rise, run = ends["right"][1] - ends["left"][1], ends["right"][0] - ends["left"][0]
    members: dict[str, dict[str, Any]] = {}
    strokes = {cylinder.id: number for number, cylinder in enumerate(mount.cylinders)}
    for number, member in enumerate(mount.members):
        first, last = standing_points(assembly, pose, number)
        if isinstance(member, Pin | Slide):
            members[member.id] = {"at": last}
            continue
        length = drawn_length(member) if isinstance(member, Rod) else pose.lengths[strokes[member.id]]
        members[member.id] = {"ends": [first, last], "length": length}
        if member.id in strokes:
            members[member.id]["extension"] = length - mount.cylinders[strokes[member.id]].retracted
    stopped = pose.stopped
    return {
        "ends": ends,
        "slope": rise / run if run else None,
        "members": members,
        "bodies": _bodies(assembly, pose),
        "command": {c.id: pose.fraction * move for c, move in zip(mount.cylinders, moves, strict=True)},
        "fraction": pose.fraction,
        "stopped": {"by": stopped.by, "members": list(stopped.members), "text": stopped.text} if stopped else None,
    }


def _bodies(assembly: Assembly, pose: Pose) -> dict[str, Any]:
    """Every moving body: where its reference point was drawn, where it stands, and how far it has turned."""
    q = pose.q.tolist()
    return {
        body: {
            "drawn": assembly.references[number],
            "at": (q[3 * number], q[3 * number + 1]),
            "angle": q[3 * number + 2] * DEGREES,
        }
        for number, body in enumerate(assembly.mount.moving)
    }


def _actuators(
    assembly: Assembly,
    pose: Pose,
    found: Sensitivities,
    movement: dict[str, dict[str, Any]],
    carried: dict[str, CylinderForce],
) -> dict[str, dict[str, Any]]:
    answer = {}
    mount = assembly.mount
    relief = mount.oil.relief_pressure if mount.oil else None
    for number, cylinder in enumerate(mount.cylinders):
        force = carried.get(cylinder.id)
        weight = -float(found.of_length("weight")[number]) if found.has("weight") else None
        gains = {end: movement[cylinder.id][end] for end in ENDS}
        moving = speed_and_step(cylinder, mount.valve, gains) if mount.valve else {"speed": None, "step": None}
        answer[cylinder.id] = {
            **movement[cylinder.id],
            **moving,
            "weight_force": weight,
            "relief": relief,
            "relief_share": abs(force.pressure) / relief if force and relief else None,
            "force": force.force if force else None,
            "side": force.side if force else None,
            "pressure": force.pressure if force else None,
            "load_ratio": force.load_ratio if force else None,
            "extension": pose.lengths[number] - cylinder.retracted,
            "stroke": cylinder.stroke,
        }
    return answer


def _absent(mount: Mount, together: Correction, actuators: dict[str, dict[str, Any]]) -> dict[str, str]:
    """Why a number is not there, by its path."""
    reasons: dict[str, str] = {}
    if mount.load is None:
        by_load = ("force", "side", "pressure", "load_ratio", "relief_share")
        reasons |= {f"actuators.{name}": NO_LOAD for name in by_load}
        reasons |= dict.fromkeys(("forces.load", "forces.together", "budget.oil", "budget.stretch", "dial"), NO_LOAD)
    elif mount.load.force == (0.0, 0.0):
        reasons["actuators.load_ratio"] = "needs a load of some size"
    if mount.oil is None:
        reasons["budget.oil"] = NO_OIL
    if mount.blade.mass is None or mount.blade.mass_centre is None:
        reasons |= dict.fromkeys(("forces.weight", "actuators.weight_force"), NO_MASS)
        reasons.setdefault("forces.together", NO_MASS)
        if mount.load is None:
            reasons["forces.worst"] = f"{NO_LOAD}, or the blade's mass and its centre"
    if mount.valve is None:
        reasons |= dict.fromkeys(("actuators.speed", "actuators.step", "budget.step"), NO_VALVE)
    if mount.oil is None or mount.oil.relief_pressure is None:
        reasons["actuators.relief"] = NO_RELIEF
        reasons.setdefault("actuators.relief_share", NO_RELIEF)
    if mount.tolerance is None:
        reasons["budget.inside"] = NO_TOLERANCE
    if any(entry["coupling"] is None for entry in actuators.values()):
        reasons["actuators.coupling"] = "a cylinder that moves neither end has none"
    if not mount.cylinders:
        reasons["coupling.worst"] = "this mount has no cylinder"
    elif together.worst is None:
        reasons["coupling.worst"] = "no cylinder moves either end"
    if together.reason:
        reasons["coupling.interaction"] = together.reason if len(mount.cylinders) == 2 else NOT_TWO
        reasons["coupling.moves"] = together.reason
    return reasons
