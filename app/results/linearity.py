"""Is linear good enough? The pose solved again with every error at its worst, against the linear sum."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.document.models import Rod, joints
from app.results.budget import ENDS, oil_squeeze, rod_stretch
from app.results.forces import CylinderForce, rod_pulls
from app.solve.assembly import Assembly
from app.solve.equations import Array
from app.solve.pose import Pose, settle
from app.solve.sensitivity import BLADE_BODY, Sensitivities

WARN_AT = 0.02
"""Share of the linear sum from which the difference is warned of."""

_FLOOR_MM = 1e-3
"""Sums below this are not judged: their share means nothing."""


@dataclass(frozen=True)
class Check:
    """One end at its worst: the linear sum of what moves the mount, the same solved again, and the share between them.

    mm; ``resolved`` and ``share`` are None where no pose near by closes with these errors.
    """

    linear: float
    resolved: float | None
    share: float | None


def check(
    assembly: Assembly, pose: Pose, found: Sensitivities, carried: dict[str, CylinderForce], end: str, up: bool
) -> Check:
    """Put every joint's play, the oil and the rods at their worst for one end and way, and solve again."""
    errors, lengths = _worst_errors(assembly, pose, found, carried, end, 1.0 if up else -1.0)
    linear = _linear(pose, found, end, errors, lengths)
    try:
        q = settle(assembly, pose, lengths, errors)
    except ArithmeticError:
        return Check(linear, None, None)
    return _judged(linear, _height(assembly, q, end) - _height(assembly, pose.q, end))


def estimate(
    assembly: Assembly, pose: Pose, found: Sensitivities, carried: dict[str, CylinderForce], end: str, up: bool
) -> Check:
    """The same to second order, without solving: what the linear step leaves open, weighed by the adjoint."""
    errors, lengths = _worst_errors(assembly, pose, found, carried, end, 1.0 if up else -1.0)
    linear = _linear(pose, found, end, errors, lengths)
    changes = np.subtract(lengths, pose.lengths)
    opened = assembly.equations.by_length @ changes + assembly.equations.by_error @ errors
    q = pose.q - pose.inverse @ opened
    residual, _ = assembly.equations.at(q.tolist(), assembly.numbers, lengths, errors)
    stepped = _height(assembly, q, end) - _height(assembly, pose.q, end)
    return _judged(linear, stepped - float(found.force(end) @ residual))


def _linear(pose: Pose, found: Sensitivities, end: str, errors: list[float], lengths: list[float]) -> float:
    changes = [length - before for length, before in zip(lengths, pose.lengths, strict=True)]
    linear = sum(gain * error for gain, error in zip(found.of_error(end).tolist(), errors, strict=True))
    return float(linear + sum(a * b for a, b in zip(found.of_length(end).tolist(), changes, strict=True)))


def _height(assembly: Assembly, q: Array, end: str) -> float:
    x, y = assembly.local(BLADE_BODY, getattr(assembly.mount.blade, end))
    angle = float(q[2])
    return float(q[1]) + math.sin(angle) * x + math.cos(angle) * y


def _judged(linear: float, resolved: float) -> Check:
    share = abs(resolved - linear) / abs(linear) if abs(linear) > _FLOOR_MM else 0.0
    return Check(linear, resolved, share)


def report(
    assembly: Assembly, pose: Pose, found: Sensitivities, carried: dict[str, CylinderForce]
) -> dict[str, dict[str, Any]]:
    """Both ends both ways: see ``app.results.answer.Linearity`` for every field."""
    answer: dict[str, dict[str, Any]] = {}
    for end in ENDS:
        for way, up in (("low", False), ("high", True)):
            found_out = check(assembly, pose, found, carried, end, up)
            answer.setdefault(end, {})[way] = vars(found_out).copy()
    return answer


def _worst_errors(
    assembly: Assembly, pose: Pose, found: Sensitivities, carried: dict[str, CylinderForce], end: str, sign: float
) -> tuple[list[float], list[float]]:
    """Errors of every joint and cylinder lengths at their worst for an end: shapes (errors,), (cylinders,), mm."""
    mount, gains = assembly.mount, found.of_error(end).tolist()
    errors = [0.0] * len(gains)
    places = assembly.joint_errors
    for name, _, part in joints(mount):
        own = gains[places[name]]
        size = math.hypot(*own)
        if part.clearance and size:
            errors[places[name]] = [sign * part.clearance / 2 * gain / size for gain in own]
    pulls = rod_pulls(assembly, found)
    for number, member in enumerate(mount.members):
        if isinstance(member, Rod) and member.id in pulls:
            stretch = rod_stretch(member, pulls[member.id])
            place = assembly.equations.error_of[number].start
            if gains[place] * stretch * sign > 0:
                errors[place] += stretch
    lengths = list(pose.lengths)
    for number, (cylinder, gain) in enumerate(zip(mount.cylinders, found.of_length(end).tolist(), strict=True)):
        if mount.oil and carried:
            force = carried[cylinder.id].force
            squeeze = oil_squeeze(cylinder, force, lengths[number], mount.oil.bulk_modulus)
            if gain * squeeze * sign > 0:
                lengths[number] += squeeze
    return errors, lengths
