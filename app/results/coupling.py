"""Coupling: how far moving one end of the blade disturbs the other, and what must move to correct one end alone."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.document.models import Pin, Point, Slide
from app.solve.assembly import Assembly, points_of
from app.solve.equations import FIXED, Array
from app.solve.pose import Pose
from app.solve.sensitivity import BLADE_BODY, Sensitivities, velocities

_STILL = 1e-9
"""Movement per mm below this is none: rounding of the solve."""

NOT_TWO = "needs exactly two cylinders"
ONE_END = "the one cylinder moves the {lead} end alone: nothing corrects the other"
ONE_CYLINDER = "one cylinder moves both ends together: no move corrects one end alone"
NO_CYLINDER = "this mount has no cylinder"
MANY_CYLINDERS = "with more than two cylinders many moves do it: none is the one"
SINGULAR = "the two cylinders move both ends in the same proportion: no move corrects one end alone"


@dataclass(frozen=True)
class Correction:
    """What the cylinders can do together.

    ``worst``: the coupling farthest from 0. ``interaction``: Bristol's relative gain of the better pairing.
    ``moves``: mm of each cylinder that raise one end by 1 mm and leave the other. ``reason`` says why the last two
    are None.
    """

    worst: float | None
    interaction: float | None
    moves: dict[str, dict[str, float]] | None
    reason: str | None


def lead_and_coupling(left: float, right: float) -> tuple[str, float | None]:
    """The end a cylinder moves more ('right' when equal) and the other end's movement over that one's.

    The coupling is None when neither end moves.
    """
    lead = "left" if abs(left) > abs(right) * (1 + _STILL) else "right"
    most, other = (left, right) if lead == "left" else (right, left)
    return lead, None if abs(most) < _STILL else other / most


def relative_gain(gains: Array) -> float:
    """Relative gain of pairing input 1 with output 1 for a 2x2 steady-state gain matrix.

    Source: Bristol, "On a new measure of interaction for multivariable process control", IEEE Trans. AC-11, 1966:
    lambda11 = 1 / (1 - g12 g21 / (g11 g22)). Raises ZeroDivisionError when the matrix is singular.
    """
    direct, cross = float(gains[0, 0] * gains[1, 1]), float(gains[0, 1] * gains[1, 0])
    sizes = [math.hypot(*column) for column in gains.T.tolist()]
    if abs(direct - cross) <= _STILL * sizes[0] * sizes[1]:
        raise ZeroDivisionError("the gain matrix is singular")
    return direct / (direct - cross)


def edge_movement(assembly: Assembly, pose: Pose, found: Sensitivities) -> dict[str, dict[str, Any]]:
    """For every cylinder: how it moves the ends, its coupling and the blade's instant centre."""
    answer: dict[str, dict[str, Any]] = {}
    if not assembly.lengths:
        return answer
    left, right = found.of_length("left").tolist(), found.of_length("right").tolist()
    moving = velocities(assembly, pose)
    for number, cylinder in enumerate(assembly.mount.cylinders):
        lead, coupling = lead_and_coupling(left[number], right[number])
        centre = _instant_centre(pose, moving[:, number])
        entry = {
            "left": left[number],
            "right": right[number],
            "lead": lead,
            "coupling": coupling,
            "instant_centre": centre,
            "centre_lines": lines_through(assembly, pose, moving[:, number], cylinder.id) if centre else [],
        }
        if found.has("sensor left"):
            seen_left = float(found.of_length("sensor left")[number])
            seen_right = float(found.of_length("sensor right")[number])
            seen_lead, seen_coupling = lead_and_coupling(seen_left, seen_right)
            entry["sensors"] = {
                "left": seen_left,
                "right": seen_right,
                "lead": seen_lead,
                "coupling": seen_coupling,
            }
        answer[cylinder.id] = entry
    return answer


def correction(movement: dict[str, dict[str, Any]]) -> Correction:
    """What the cylinders can do together, from how each moves the ends."""
    known = [entry["coupling"] for entry in movement.values() if entry["coupling"] is not None]
    # Between +1 and -1 the see-saw is the worse; rounding must not choose.
    worst = max(known, key=lambda each: (round(abs(each), 9), -each)) if known else None
    if len(movement) != 2:
        return Correction(worst, None, None, _why_not(movement))
    gains = np.array([[entry[end] for entry in movement.values()] for end in ("left", "right")])
    try:
        gain = relative_gain(gains)
    except ZeroDivisionError:
        return Correction(worst, None, None, SINGULAR)
    undo = np.linalg.inv(gains)
    moves = {
        end: {name: float(undo[row, column]) for row, name in enumerate(movement)}
        for column, end in enumerate(("left", "right"))
    }
    return Correction(worst, max(gain, 1.0 - gain), moves, None)


def _why_not(movement: dict[str, dict[str, Any]]) -> str:
    """Why a mount without exactly two cylinders has no correcting moves."""
    if len(movement) != 1:
        return MANY_CYLINDERS if movement else NO_CYLINDER
    (only,) = movement.values()
    if only["coupling"] is not None and abs(only["coupling"]) < _STILL:
        return ONE_END.format(lead=only["lead"])
    return ONE_CYLINDER


def _instant_centre(pose: Pose, moving: Array) -> Point | None:
    """The point the blade turns about, mm; None when it only shifts or stands still."""
    vx, vy, turn = moving[:3].tolist()
    shift = float(np.hypot(vx, vy))
    if abs(turn) * 1e7 <= max(shift, _STILL):
        return None
    return float(pose.q[0] - vy / turn), float(pose.q[1] + vx / turn)


def lines_through(assembly: Assembly, pose: Pose, moving: Array, driven: str) -> list[dict[str, Any]]:
    """The members whose lines meet in the instant centre: they hold the blade to a body that stands still.

    A rod or locked cylinder holds along its own line, a slide square to its guide, a pin at itself.
    """
    lines = []
    for number, (member, link) in enumerate(zip(assembly.mount.members, assembly.equations.links, strict=True)):
        if BLADE_BODY not in (link.first, link.second) or member.id == driven:
            continue
        other = link.second if link.first == BLADE_BODY else link.first
        if other != FIXED and not is_still(assembly, moving, other):
            continue
        first, last = points_of(member)
        on_blade, held = (first, last) if link.first == BLADE_BODY else (last, first)
        through = pose.point(BLADE_BODY, assembly.local(BLADE_BODY, on_blade))
        if isinstance(member, Slide) and link.first == BLADE_BODY:
            through = held if other == FIXED else pose.point(other, assembly.local(other, held))
        if isinstance(member, Pin):
            toward = through
        elif isinstance(member, Slide):
            row = pose.jacobian[assembly.equations.row_of[number].start]
            toward = (through[0] + float(row[0]), through[1] + float(row[1]))
        else:
            toward = held if other == FIXED else pose.point(other, assembly.local(other, held))
        lines.append({"member": member.id, "through": through, "toward": toward})
    return lines


def is_still(assembly: Assembly, moving: Array, body: int) -> bool:
    """Whether a body other than the frame stands still while the mount moves by ``moving``, shape (unknowns,)."""
    part = slice(3 * body, 3 * body + 3)
    return bool(np.abs(moving[part] * assembly.scale[part]).max() < _STILL)
