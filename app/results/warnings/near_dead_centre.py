"""The mount stands near a dead centre."""

from collections.abc import Iterator

import numpy as np

from app.analysis import Analysis
from app.document.messages import Message, word
from app.document.parts import FRAME
from app.members.member import AtOnePoint
from app.results.dead_centre import NEAR_DEAD_CENTRE
from app.solve.pose import DEAD_CENTRE, members_in_line

_NO_TURN = 1e-9
"""Bodies that turn less than this against one another, radians per mm of the motion, only shift: there is no arm."""


def near_dead_centre(analysis: Analysis) -> Iterator[Message]:
    """Where small errors grow large; said once where the mount stopped at the dead centre itself."""
    pose = analysis.pose
    if pose.condition <= NEAR_DEAD_CENTRE or (pose.stopped and pose.stopped.code == DEAD_CENTRE):
        return
    names = members_in_line(analysis.assembly, pose.jacobian)
    follows = "small errors grow large here, and the linear sums fall short"
    arms = {name: arm for name in names if (arm := lever_arm(analysis, name)) is not None}
    if not arms:
        yield Message("near-dead-centre", f"near a dead centre: {follows}", list(names))
        return
    short = min(arms, key=lambda name: arms[name])
    text = f"near a dead centre: '{{name}}' has a lever arm of {{arm}} left, and with none it holds nothing; {follows}"
    ordered = [short, *(name for name in names if name != short)]
    yield Message("near-dead-centre", text, ordered, {"name": word(short), "arm": (arms[short], "fine")})


def lever_arm(analysis: Analysis, name: str) -> float | None:
    """How far a rod's or cylinder's line passes from the point its two bodies would turn about without it, mm.

    None for a pin or slide, and where they would not turn against one another. At a dead centre it is zero.
    """
    number, member = next((each for each in enumerate(analysis.mount.members) if each[1].id == name), (0, None))
    if member is None or isinstance(member, AtOnePoint):
        return None
    rows = analysis.assembly.equations.row_of[number]
    scaled = analysis.pose.jacobian / analysis.assembly.scale
    _, _, right = np.linalg.svd(np.delete(scaled, rows, axis=0))
    motion = right[-1] / analysis.assembly.scale
    turns = [
        0.0 if body == FRAME else float(motion[3 * analysis.mount.moving.index(body) + 2]) for body in member.joined
    ]
    turn = abs(turns[1] - turns[0])
    if turn < _NO_TURN * float(np.abs(motion).max()):
        return None
    return float(np.abs(analysis.pose.jacobian[rows] @ motion).max()) / turn
