"""A joint carries more than it is rated for."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message, Value
from app.results.forces import joint_forces


def over_rating(analysis: Analysis) -> Iterator[Message]:
    """Every joint whose worst force passes its rating."""
    forces = joint_forces(analysis)
    for name, member, _, _ in analysis.mount.joints:
        each = forces[name]
        if each.use is None or each.use <= 1 or each.worst is None or each.rating is None:
            continue
        text = "joint '{joint}' carries {force}; it is rated for {rating}"
        values: dict[str, Value] = {
            "joint": (name, "joint"),
            "force": (each.worst, "force"),
            "rating": (each.rating, "force"),
        }
        yield Message("over-rating", text, [member.id], values)
