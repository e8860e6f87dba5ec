"""Is linear good enough? The pose solved again with every error at its worst, against the linear sum."""

import math

import numpy as np

from app.analysis import Analysis, worked_out_once
from app.document.parts import EndName
from app.results.answer import answer
from app.results.budget import budget
from app.solve.equations import Array
from app.solve.pose import settle
from app.solve.sensitivity import BLADE_BODY
from app.sources import KINDS

WARN_AT = 0.02
"""Share of the linear sum from which the difference is warned of."""

_FLOOR_MM = 1e-3
"""Sums below this are not judged: their share means nothing."""


@answer
class LinearCheck:
    """One end at its worst one way: play, oil and rods only."""

    linear: float
    """Linear sum of what moves the mount, mm."""
    resolved: float | None
    """The pose solved again, mm; null where none closes near by."""
    share: float | None
    """Difference over the linear sum; 0 where that is under 0.001 mm."""


@answer
class LinearEnd:
    """One end both ways."""

    low: LinearCheck
    """Downward."""
    high: LinearCheck
    """Upward."""


@answer
class Linearity:
    """Is linear good enough?"""

    left: LinearEnd
    """Left end."""
    right: LinearEnd
    """Right end."""


@worked_out_once
def linearity(analysis: Analysis) -> Linearity:
    """Both ends both ways, each solved again."""
    left, right = (
        LinearEnd(check(analysis, end, up=False), check(analysis, end, up=True)) for end in ("left", "right")
    )
    return Linearity(left, right)


def check(analysis: Analysis, end: EndName, up: bool) -> LinearCheck:
    """Put every source that moves the mount at its worst for one end and way, and solve again."""
    errors, lengths = _worst_errors(analysis, end, 1.0 if up else -1.0)
    linear = _linear(analysis, end, errors, lengths)
    try:
        q = settle(analysis.assembly, analysis.pose, lengths, errors)
    except ArithmeticError:
        return LinearCheck(linear, None, None)
    return _judged(linear, _height(analysis, q, end) - _height(analysis, analysis.pose.q, end))


@worked_out_once
def worst_estimated(analysis: Analysis) -> LinearCheck:
    """The worse end and way, estimated."""
    totals = budget(analysis)
    end = totals.worse_end
    return estimated(analysis, end, totals.of(end).upward)


def estimated(analysis: Analysis, end: EndName, up: bool) -> LinearCheck:
    """The same as ``check`` to second order, without solving: what the linear step leaves open, by the adjoint."""
    errors, lengths = _worst_errors(analysis, end, 1.0 if up else -1.0)
    linear = _linear(analysis, end, errors, lengths)
    pose, equations = analysis.pose, analysis.assembly.equations
    changes = np.subtract(lengths, pose.lengths)
    opened = equations.by_length @ changes + equations.by_error @ errors
    q = pose.q - pose.inverse @ opened
    residual, _ = equations.at(q.tolist(), analysis.assembly.numbers, lengths, errors)
    stepped = _height(analysis, q, end) - _height(analysis, pose.q, end)
    return _judged(linear, stepped - float(analysis.sensitivities.force(end) @ residual))


def _linear(analysis: Analysis, end: EndName, errors: list[float], lengths: list[float]) -> float:
    found, pose = analysis.sensitivities, analysis.pose
    changes = [length - before for length, before in zip(lengths, pose.lengths, strict=True)]
    linear = sum(gain * error for gain, error in zip(found.of_error(end).tolist(), errors, strict=True))
    return float(linear + sum(a * b for a, b in zip(found.of_length(end).tolist(), changes, strict=True)))


def _height(analysis: Analysis, q: Array, end: EndName) -> float:
    blade = analysis.mount.blade
    x, y = analysis.assembly.local(BLADE_BODY, blade.left if end == "left" else blade.right)
    angle = float(q[2])
    return float(q[1]) + math.sin(angle) * x + math.cos(angle) * y


def _judged(linear: float, resolved: float) -> LinearCheck:
    share = abs(resolved - linear) / abs(linear) if abs(linear) > _FLOOR_MM else 0.0
    return LinearCheck(linear, resolved, share)


def _worst_errors(analysis: Analysis, end: EndName, sign: float) -> tuple[list[float], list[float]]:
    """Errors of every joint and cylinder lengths at their worst for an end: shapes (errors,), (cylinders,), mm."""
    errors = [0.0] * analysis.assembly.equations.by_error.shape[1]
    lengths = list(analysis.pose.lengths)
    for kind in KINDS.values():
        kind.put_worst(analysis, end, sign, errors, lengths)
    return errors, lengths
