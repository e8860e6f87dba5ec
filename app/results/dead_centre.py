"""How near a mount stands to a dead centre, and how it would give way there."""

import numpy as np

from app.analysis import Analysis
from app.solve.equations import Array

NEAR_DEAD_CENTRE = 60.0
"""Condition of the scaled Jacobian from which a mount is called near a dead centre: errors grow in proportion to it."""


def nearly_free(analysis: Analysis) -> Array | None:
    """The motion that is held worst, as a change of q with joints moving by about 1 mm; None away from dead centres."""
    if analysis.pose.condition <= NEAR_DEAD_CENTRE:
        return None
    _, _, right = np.linalg.svd(analysis.pose.jacobian / analysis.assembly.scale)
    motion: Array = right[-1] / analysis.assembly.scale
    return motion
