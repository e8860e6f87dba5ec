"""A joint carries more than it is rated for, under the entered load or when its cylinder stalls."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message, Value
from app.results.forces import joint_forces

AT_STALL = (
    "at stall joint '{joint}' carries {force}, if the port relief is set as the relief valve; it is rated for {rating}"
)


def over_rating(analysis: Analysis) -> Iterator[Message]:
    """Every joint whose force passes its rating: as entered, else where the first cylinder is at relief."""
    forces = joint_forces(analysis)
    for name, member, _, _ in analysis.mount.joints:
        each = forces[name]
        if each.rating is None:
            continue
        if each.worst is not None and each.worst > each.rating:
            force, text = each.worst, "joint '{joint}' carries {force}; it is rated for {rating}"
        elif each.stall is not None and each.stall > each.rating:
            force, text = each.stall, AT_STALL
        else:
            continue
        values: dict[str, Value] = {"joint": (name, "joint"), "force": (force, "force")}
        values["rating"] = (each.rating, "force")
        yield Message("over-rating", text, [member.id], values)
