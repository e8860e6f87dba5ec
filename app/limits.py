"""Warnings: where a mount comes near what it cannot do."""

from typing import Any

from app.assembly import Assembly
from app.linearity import WARN_AT, Check
from app.pose import Pose, members_in_line

NEAR_DEAD_CENTRE = 60.0
"""Condition of the scaled Jacobian from which a mount is called near a dead centre: errors grow in proportion to it."""

STROKE_END_MM = 0.5

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
        pressure = entry["pressure"]
        if relief is not None and pressure is not None and abs(pressure) > relief:
            text = f"'{name}' needs {abs(pressure):.1f} MPa under the load; the relief valve opens at {relief:g} MPa"
            found.append(_warning("over-relief", text, name))
    for joint, entry in forces.items():
        if entry["use"] is not None and entry["use"] > 1:
            text = f"joint '{joint}' carries {entry['worst']:.0f} N; it is rated for {entry['rating']:g} N"
            found.append(_warning("over-rating", text, joint.split(" / ")[0]))
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


def _lifted_off(name: str, entry: dict[str, Any]) -> list[dict[str, Any]]:
    force, weight = entry["force"], entry["weight_force"]
    if force is None or weight is None or abs(weight) < NO_FORCE_N or weight * (weight + force) >= 0:
        return []
    text = f"the full load lifts '{name}' off: its force turns over against the weight"
    return [_warning("lifts-off", text, name)]


def _stroke_used_up(name: str, entry: dict[str, Any]) -> list[dict[str, Any]]:
    if entry["stroke"] - entry["extension"] < STROKE_END_MM:
        return [_warning("stroke-used-up", f"'{name}' is fully out: no stroke is left to lengthen it", name)]
    if entry["extension"] < STROKE_END_MM:
        return [_warning("stroke-used-up", f"'{name}' is fully in: no stroke is left to shorten it", name)]
    return []
