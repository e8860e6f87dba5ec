"""The mount stands near a dead centre."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message
from app.solve.pose import DEAD_CENTRE, members_in_line

NEAR_DEAD_CENTRE = 60.0
"""Condition of the scaled Jacobian from which a mount is called near a dead centre: errors grow in proportion to it."""


def near_dead_centre(analysis: Analysis) -> Iterator[Message]:
    """Where small errors grow large; said once where the mount stopped at the dead centre itself."""
    pose = analysis.pose
    if pose.condition <= NEAR_DEAD_CENTRE or (pose.stopped and pose.stopped.code == DEAD_CENTRE):
        return
    text = "near a dead centre: small errors grow large here, and the linear sums fall short"
    yield Message("near-dead-centre", text, list(members_in_line(analysis.assembly, pose.jacobian)))
