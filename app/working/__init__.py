"""The working: the sum behind every number of one cylinder and one end of the blade, step by step."""

from collections.abc import Callable, Mapping

from app.analysis import Analysis
from app.document.errors import BadCommand, Fault
from app.document.messages import Message, word
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reasons import NOT_LOCATED
from app.document.units import SYSTEMS, System
from app.sources import KINDS
from app.sources.oil import Oil
from app.sources.source import SourceKind
from app.working.answer import Working
from app.working.carrying import force, pressure
from app.working.case import Case
from app.working.moved import moved
from app.working.resolved import resolved
from app.working.squeezed import oil
from app.working.stalled import stall
from app.working.step import Step
from app.working.sums import of_kind, worst
from app.working.together import together
from app.working.turning import centre, coupling, movement


def working(
    mount: Mount, strokes: Mapping[str, object], cylinder: object, end: object, system: object = "metric"
) -> Working:
    """The working of a mount with its cylinders moved by ``strokes``.

    ``end`` is 'left' or 'right'; ``system`` says in which units numbers are printed, 'metric' or 'inch'; values stay in
    mm, N and MPa. Raises BadCommand for a cylinder, end or system that is not there.
    """
    analysis = Analysis(mount, strokes)
    number, side, shown = _chosen(mount, cylinder, end, system)
    steps, reason = steps_of(analysis, number, side)
    return Working(mount.cylinders[number].id, side, shown, reason, [each.as_answer(shown) for each in steps])


def steps_of(analysis: Analysis, number: int, end: EndName) -> tuple[list[Step], Message | None]:
    """The steps with their formulas for a cylinder, by its number, and an end; and why there are none."""
    if not analysis.located:
        return [], NOT_LOCATED[analysis.mobility.state]
    case = Case(analysis, number, end)
    before = [each(case) for each in (centre, coupling, movement, together, force, pressure, stall)]
    of_sources = [_of_source(case, kind) for kind in KINDS.values()]
    return [*before, *of_sources, worst(case), resolved(case), moved(case)], None


_MORE_TO_SAY: dict[str, Callable[[Case, SourceKind], Step]] = {Oil.KIND: oil}
"""Kinds of source whose working shows more than their formula, sum and table."""


def _of_source(case: Case, kind: SourceKind) -> Step:
    return _MORE_TO_SAY.get(kind.KIND, of_kind)(case, kind)


def _chosen(mount: Mount, cylinder: object, end: object, system: object) -> tuple[int, EndName, System]:
    """The cylinder's number, the end and the system. Raises BadCommand with all faults."""
    faults = []
    known = [each.id for each in mount.cylinders]
    if cylinder not in known:
        names = ", ".join(f"'{each}'" for each in known) or "none: this mount has no cylinder"
        values = {"found": word(_shown(cylinder)), "names": word(names)}
        faults.append(Fault("cylinder", "there is no cylinder {found}; the cylinders are {names}", values))
    side = next((each for each in ENDS if each == end), None)
    if side is None:
        text = "there is no end {found}; give 'left' or 'right'"
        faults.append(Fault("end", text, {"found": word(_shown(end))}))
    shown = next((each for each in SYSTEMS if each == system), None)
    if shown is None:
        text = "there is no system {found}; give 'metric' or 'inch'"
        faults.append(Fault("system", text, {"found": word(_shown(system))}))
    if faults or side is None or shown is None:
        raise BadCommand(faults)
    return known.index(str(cylinder)), side, shown


def _shown(value: object) -> str:
    return f"'{value[:60]}'" if isinstance(value, str) else "of that kind"
