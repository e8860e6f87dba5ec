"""Is linear good enough? The edge with every error at its linear worst, to second order, against the linear sum.

It warns while the hand moves; the true worst is searched when it rests.
"""

import math
from typing import NamedTuple

import numpy as np

from app.analysis import Analysis, worked_out_once
from app.document.parts import EndName
from app.results.budget import budget
from app.solve.equations import Array
from app.solve.sensitivity import BLADE_BODY
from app.sources import offsets

WARN_AT = 0.02
"""Share of the linear sum from which the difference is warned of."""

_FLOOR_MM = 1e-3
"""Sums below this are not judged: their share means nothing."""


class LinearCheck(NamedTuple):
    """One end at its linear worst one way: play, oil and whatever else moves the mount's own joints."""

    linear: float
    """Linear sum of what moves the mount, mm."""
    resolved: float
    """The same to second order, or of the pose solved again, mm."""

    @property
    def share(self) -> float:
        """Difference over the linear sum; 0 where that is under 0.001 mm."""
        return abs(self.resolved - self.linear) / abs(self.linear) if abs(self.linear) > _FLOOR_MM else 0.0


@worked_out_once
def worst_estimated(analysis: Analysis) -> LinearCheck:
    """The worse end and way, estimated."""
    totals = budget(analysis)
    end = totals.worse_end
    return estimated(analysis, end, totals.of(end).upward)


def estimated(analysis: Analysis, end: EndName, up: bool) -> LinearCheck:
    """One end at its linear worst to second order, without solving: what a linear step leaves open, by the adjoint."""
    errors, lengths = corner(analysis, end, up)
    found, pose, equations = analysis.sensitivities, analysis.pose, analysis.assembly.equations
    changes = np.subtract(lengths, pose.lengths)
    linear = float(found.of_error(end) @ errors + found.of_length(end) @ changes)
    opened = equations.by_length @ changes + equations.by_error @ errors
    q = pose.q - pose.inverse @ opened
    residual, _ = equations.at(q.tolist(), analysis.assembly.numbers, lengths, errors)
    stepped = height(analysis, q, end) - height(analysis, pose.q, end)
    return LinearCheck(linear, stepped - float(found.force(end) @ residual))


def height(analysis: Analysis, q: Array, end: EndName) -> float:
    """How high an end is, mm, where the bodies are at ``q``."""
    blade = analysis.mount.blade
    x, y = analysis.assembly.local(BLADE_BODY, blade.left if end == "left" else blade.right)
    angle = float(q[3 * BLADE_BODY + 2])
    return float(q[3 * BLADE_BODY + 1]) + math.sin(angle) * x + math.cos(angle) * y


def corner(analysis: Analysis, end: EndName, up: bool) -> tuple[list[float], list[float]]:
    """Errors of every joint and cylinder lengths at an end's linear worst: shapes (errors,), (cylinders,), mm."""
    sign = 1.0 if up else -1.0
    by_error = analysis.sensitivities.of_error(end).tolist()
    by_length = analysis.sensitivities.of_length(end).tolist()
    errors, lengths = [0.0] * len(by_error), list(analysis.pose.lengths)
    for offset in offsets(analysis):
        gains = [by_error[place] for place in offset.errors] + [by_length[place] for place in offset.lengths]
        put = offset.worst(gains, sign)
        for place, part in zip(offset.errors, put[: len(offset.errors)], strict=True):
            errors[place] += part
        for place, part in zip(offset.lengths, put[len(offset.errors) :], strict=True):
            lengths[place] += part
    return errors, lengths
