"""What takes longer than a readout and is asked for once the hand is still: spread, linearity, what to change, wear."""

from collections.abc import Mapping
from typing import Any

from app.document.models import Mount, joints
from app.results import linearity
from app.results.budget import sources, worst_of
from app.results.forces import cylinder_forces
from app.results.improve import changes
from app.results.readout import NO_TOLERANCE, NOT_LOCATED
from app.results.spread import spread
from app.results.verified import tried
from app.results.wear import allowed_growth
from app.solve.assembly import assemble
from app.solve.pose import mobility, solve, target_lengths
from app.solve.sensitivity import sensitivities


def detail(mount: Mount, command: Mapping[str, object] | None = None) -> dict[str, Any]:
    """Everything beyond the readout: see ``app.results.answer.Detail`` for every field. Raises BadCommand."""
    moves = target_lengths(mount, command or {})
    assembly = assemble(mount)
    held = mobility(assembly)
    fields = ("spread", "linearity", "improve", "wear")
    if held.state != "located":
        return {**dict.fromkeys(fields), "absent": dict.fromkeys(fields, NOT_LOCATED[held.state])}
    pose = solve(assembly, moves)
    found = sensitivities(assembly, pose)
    carried = cylinder_forces(assembly, found)
    listed = sources(assembly, pose, found, carried)
    clearances = {name: part.clearance for name, _, part in joints(mount)}
    best = changes(assembly, pose, found, listed)
    best["tried"] = tried(mount, command or {}, best["changes"], best["end"], worst_of(listed))
    wear = None if mount.tolerance is None else allowed_growth(listed, clearances, mount.tolerance)
    return {
        "spread": spread(listed, mount.tolerance),
        "linearity": linearity.report(assembly, pose, found, carried),
        "improve": best,
        "wear": wear,
        "absent": _absent(wear),
    }


def _absent(wear: dict[str, Any] | None) -> dict[str, str]:
    """Why something is null, by its path."""
    if wear is None:
        return {"wear": NO_TOLERANCE, "spread.outside": NO_TOLERANCE}
    reasons = {}
    if wear["factor"] is None:
        reasons["wear.factor"] = "there is no play that moves an end, or the tolerance is lost without any"
    if None in wear["joints"].values():
        reasons["wear.joints"] = "this joint's play moves neither end, or the tolerance is lost without it"
    return reasons
