"""The most promising changes made and worked out again: what a whole step really gains, not what its slope promises.

A slope holds for the smallest of steps: on the way a source may change its sign, and a stroke or the document may not
allow the step at all.
"""

from collections.abc import Mapping
from typing import Any

from app.document.errors import BadDocument
from app.document.models import Mount, as_document, joints
from app.document.refusals import read_mount
from app.results.budget import ENDS, sources, worst_of
from app.results.forces import cylinder_forces
from app.results.improve import pairs_of
from app.solve.assembly import assemble
from app.solve.pose import mobility, solve, target_lengths
from app.solve.sensitivity import sensitivities

MOST = 9
"""How many of the changes with the largest slopes are tried."""


def tried(
    mount: Mount, command: Mapping[str, object], changes: list[dict[str, Any]], end: str, worst: dict[str, float]
) -> list[dict[str, Any]]:
    """The first of ``changes`` with the fall in mm that each brings at both ends, largest first at ``end``.

    ``worst`` is the worst error of each end now, mm. Left out: steps that the document refuses, that leave the mount
    loose, bound or cut short of its command, and those that do not help.
    """
    found = []
    for change in changes[:MOST]:
        after = _worst_with(mount, command, change)
        if after is None or after[end] >= worst[end]:
            continue
        fall = {each: worst[each] - after[each] for each in ENDS}
        found.append({name: change[name] for name in ("what", "id", "value", "change")} | {"fall": fall})
    return sorted(found, key=lambda each: -each["fall"][end])


def _worst_with(mount: Mount, command: Mapping[str, object], change: dict[str, Any]) -> dict[str, float] | None:
    """The worst error of each end with a change made, mm; None where it cannot be made."""
    try:
        changed = with_change(mount, change["what"], change["id"], change["change"])
    except BadDocument:
        return None
    moves = target_lengths(changed, command)
    assembly = assemble(changed)
    if mobility(assembly).state != "located":
        return None
    pose = solve(assembly, moves)
    if pose.stopped:
        return None
    known = sensitivities(assembly, pose)
    return worst_of(sources(assembly, pose, known, cylinder_forces(assembly, known)))


def with_change(mount: Mount, what: str, name: str, by: float) -> Mount:
    """The mount with one number a designer can change changed by so much, in its unit. Raises BadDocument."""
    document = as_document(mount)
    members = {member["id"]: member for member in document["members"]}
    if what == "bulk modulus":
        document["oil"]["bulk_modulus"] += by
    elif what == "spacing":
        middle = (mount.blade.left[0] + mount.blade.right[0]) / 2
        pair = next(pair for pair in pairs_of(mount) if f"{pair[0].id} and {pair[1].id}" == name)
        for cylinder in pair:
            for joint in members[cylinder.id]["ends"]:
                joint["at"][0] += by if joint["at"][0] > middle else -by
    elif what in ("clearance", "pivot x", "pivot y"):
        joint = _joint_of(mount, members, name)
        if what == "clearance":
            joint["clearance"] = max(0.0, joint["clearance"] + by)
        else:
            joint["at"][what == "pivot y"] += by
    else:
        field = what.replace(" ", "_")
        members[name][field] = max(0.0, members[name].get(field, 0.0) + by)
    return read_mount(document)


def _joint_of(mount: Mount, members: dict[str, Any], name: str) -> dict[str, Any]:
    member = next(of for joint, of, _ in joints(mount) if joint == name)
    found: dict[str, Any] = members[member]
    return found if name == member else found["ends"][int(name[-1]) - 1]
