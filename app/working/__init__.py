"""The working: the sum behind every number of one cylinder and one end of the blade, step by step."""

from collections.abc import Mapping
from typing import Any

from app.document.errors import BadCommand, Fault
from app.document.models import Mount
from app.results.budget import ENDS
from app.results.readout import NOT_LOCATED
from app.solve.assembly import assemble
from app.solve.pose import mobility, solve, target_lengths
from app.working.carrying import force, oil, pressure
from app.working.case import case_of
from app.working.step import Step
from app.working.sums import allowance, play, step, stretch, worst
from app.working.together import together
from app.working.turning import centre, coupling, movement

SYSTEMS = ("metric", "inch")
_STEPS = (centre, coupling, movement, together, force, pressure, play, oil, stretch, step, allowance, worst)


def working(
    mount: Mount, command: Mapping[str, object], cylinder: object, end: object, system: object = "metric"
) -> dict[str, Any]:
    """The working of a mount with its cylinders moved by ``command``: see ``app.working.answer.Working``.

    ``end`` is 'left' or 'right'; ``system`` says in which units numbers are printed, 'metric' or 'inch'; values stay in
    mm, N and MPa. Raises BadCommand for a cylinder, end or system that is not there.
    """
    steps, reason = steps_of(mount, command, cylinder, end, system)
    return {
        "cylinder": cylinder,
        "end": end,
        "system": system,
        "reason": reason,
        "steps": [each.as_answer(str(system)) for each in steps],
    }


def steps_of(
    mount: Mount, command: Mapping[str, object], cylinder: object, end: object, system: object = "metric"
) -> tuple[list[Step], str | None]:
    """The steps with their formulas, and why there are none. Raises BadCommand."""
    moves = target_lengths(mount, command)
    _refuse(mount, cylinder, end, system)
    assembly = assemble(mount)
    held = mobility(assembly)
    if held.state != "located":
        return [], NOT_LOCATED[held.state]
    case = case_of(assembly, solve(assembly, moves), str(cylinder), str(end))
    return [each(case) for each in _STEPS], None


def _refuse(mount: Mount, cylinder: object, end: object, system: object) -> None:
    faults = []
    known = [each.id for each in mount.cylinders]
    if cylinder not in known:
        names = ", ".join(f"'{each}'" for each in known) or "none: this mount has no cylinder"
        faults.append(Fault("cylinder", f"there is no cylinder {_shown(cylinder)}; the cylinders are {names}"))
    if end not in ENDS:
        faults.append(Fault("end", f"there is no end {_shown(end)}; give 'left' or 'right'"))
    if system not in SYSTEMS:
        faults.append(Fault("system", f"there is no system {_shown(system)}; give 'metric' or 'inch'"))
    if faults:
        raise BadCommand(faults)


def _shown(value: object) -> str:
    return f"'{value[:60]}'" if isinstance(value, str) else "of that kind"
