"""Warnings: where a mount comes near what it cannot do."""

from typing import Any

from app.results.budget import sensor_carry
from app.results.forces import carrying_area
from app.results.linearity import WARN_AT, Check
from app.solve.assembly import Assembly
from app.solve.pose import Pose, members_in_line

NEAR_DEAD_CENTRE = 60.0
"""Condition of the scaled Jacobian from which a mount is called near a dead centre: errors grow in proportion to it."""

STROKE_END_MM = 0.5

SENSORS_CARRY = 3.0
"""From how many mm at an end per mm at one sensor the two are called too near one another."""

NO_FORCE_N = 1e-6


def warnings_of(
    assembly: Assembly,
    pose: Pose,
    actuators: dict[str, dict[str, Any]],
    forces: dict[str, dict[str, Any]],
    judged: Check,
) -> list[dict[str, Any]]:
    """Everything a designer should look at, as ``{code, text, members}``."""
    found = []
    if pose.stopped:
        code = {"stroke": "stroke-end", "dead centre": "dead-centre", "too far": "too-far"}[pose.stopped.by]
        found.append(_warning(code, pose.stopped.text, *pose.stopped.members))
    if pose.condition > NEAR_DEAD_CENTRE and not (pose.stopped and pose.stopped.by == "dead centre"):
        text = "near a dead centre: small errors grow large here, and the linear sums fall short"
        found.append(_warning("near-dead-centre", text, *members_in_line(assembly, pose.jacobian)))
    if judged.share is None or judged.share > WARN_AT:
        found.append(_warning("not-linear", _not_linear(judged)))
    relief = assembly.mount.oil.relief_pressure if assembly.mount.oil else None
    for name, entry in actuators.items():
        found += _stroke_used_up(name, entry)
        found += _lifted_off(name, entry)
        found += _over_relief(assembly, name, entry, relief)
    for joint, entry in forces.items():
        if entry["use"] is not None and entry["use"] > 1:
            text = f"joint '{joint}' carries {entry['worst']:.0f} N; it is rated for {entry['rating']:g} N"
            found.append(_warning("over-rating", text, joint.split(" / ")[0]))
    found += _sensors_close(assembly, pose)
    if any(allowance.at == "sensors" for allowance in assembly.mount.allowances) and not assembly.mount.sensors:
        text = "an allowance stands at the sensors, but there are none: it is left out of the budget"
        found.append(_warning("no-sensors", text))
    return found


def _warning(code: str, text: str, *members: str) -> dict[str, Any]:
    return {"code": code, "text": text, "members": list(members)}


def _not_linear(judged: Check) -> str:
    if judged.share is None or judged.share > 1:
        return "with every error at its worst the mount stands quite elsewhere: the linear sums do not hold here"
    return f"with every error at its worst the edge is about {100 * judged.share:.1f} % off the linear sum"


def _over_relief(assembly: Assembly, name: str, entry: dict[str, Any], relief: float | None) -> list[dict[str, Any]]:
    """A cylinder that needs more than the relief pressure under the load, alone or with the weight."""
    if relief is None or entry["force"] is None:
        return []
    cylinder = next(each for each in assembly.mount.cylinders if each.id == name)
    cases = {"the load": entry["force"]}
    if entry["weight_force"] is not None:
        cases["weight and load"] = entry["force"] + entry["weight_force"]
    needed = {case: abs(force) / carrying_area(cylinder, force) for case, force in cases.items()}
    case = max(needed, key=lambda each: needed[each])
    if needed[case] <= relief:
        return []
    text = f"'{name}' needs {needed[case]:.1f} MPa under {case}; the relief valve opens at {relief:g} MPa"
    return [_warning("over-relief", text, name)]


def _sensors_close(assembly: Assembly, pose: Pose) -> list[dict[str, Any]]:
    """Sensors so near one another that what one of them is out shows many times at an end."""
    carry = [abs(each) for ends in sensor_carry(assembly, pose).values() for each in ends.values()]
    if not carry or max(carry) < SENSORS_CARRY:
        return []
    text = f"the sensors stand so near one another that 1 mm at one of them is {max(carry):.1f} mm at an end"
    return [_warning("sensors-close", text)]


def _lifted_off(name: str, entry: dict[str, Any]) -> list[dict[str, Any]]:
    force, weight = entry["force"], entry["weight_force"]
    if force is None or weight is None or abs(weight) < NO_FORCE_N or weight * (weight + force) >= 0:
        return []
    text = f"the full load turns the force on '{name}' over against the weight: its play crosses to the other side"
    return [_warning("lifts-off", text, name)]


def _stroke_used_up(name: str, entry: dict[str, Any]) -> list[dict[str, Any]]:
    if entry["stroke"] - entry["extension"] < STROKE_END_MM:
        return [_warning("stroke-used-up", f"'{name}' is fully out: no stroke is left to lengthen it", name)]
    if entry["extension"] < STROKE_END_MM:
        return [_warning("stroke-used-up", f"'{name}' is fully in: no stroke is left to shorten it", name)]
    return []
