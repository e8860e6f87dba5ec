"""The error budget of the chosen end: every source from its formula, then the sum against the tolerance."""

import math

from app.document.models import Pin, Point, Rod, Slide, drawn_length, joints
from app.document.units import MM3_PER_ML
from app.results.budget import ENDS, sensor_carry
from app.results.forces import rod_pulls, standing_points
from app.results.readout import NO_LOAD, NO_TOLERANCE, NO_VALVE
from app.working import laws
from app.working.carrying import counted, one_sided_total
from app.working.case import Case
from app.working.formula import Law
from app.working.step import Known, Line, Place, Row, Step, Table, line

KINDS = {
    "clearance": ("play", "play of the joints"),
    "oil": ("oil", "oil squeezed"),
    "stretch": ("stretch", "rods stretched"),
    "step": ("step", "steps of the valve"),
    "allowance": ("allowance", "allowances"),
}
"""What each kind of source is called in a symbol and in words."""


def play(case: Case) -> Step:
    """Each clearance times its multiplier."""
    title = "Play of the joints"
    parts = {name: part for name, _, part in joints(case.mount)}
    places = _joint_places(case)
    gains = case.found.of_error(case.end).tolist()
    rows = []
    for source in case.of_kind("clearance"):
        gain = math.hypot(*gains[case.assembly.joint_errors[source.id]])
        cells = (parts[source.id].clearance, gain, source.range(case.end)[1])
        path = case.source_path(source.id, "clearance", "high")
        rows.append(Row(source.id, cells, path, Place("point", (places[source.id],))))
    if not rows:
        return Step("play", title, "", reason="no joint has clearance")
    words = (
        "Half the clearance, either way, times what a unit of movement in the joint does to the end. That multiplier "
        "is also the force in the joint under a unit of force upward on the end."
    )
    columns = (
        ("clearance", "c_i", "length", "clearance of the joint, bore less pin"),
        ("multiplier", "m_i", "ratio", "multiplier of the joint"),
    )
    return _listed(case, "play", title, words, laws.play(), columns, rows)


def _joint_places(case: Case) -> dict[str, Point]:
    """Where every joint stands, by its name; mm."""
    found: dict[str, Point] = {}
    for number, member in enumerate(case.mount.members):
        first, last = standing_points(case.assembly, case.pose, number)
        if isinstance(member, Pin | Slide):
            found[member.id] = last
        else:
            found |= {f"{member.id} / 1": first, f"{member.id} / 2": last}
    return found


def stretch(case: Case) -> Step:
    """What the rods stretch under the load, times what their length does to the end."""
    title = "Rods stretched by the load"
    if case.mount.load is None:
        return Step("stretch", title, "", reason=NO_LOAD)
    pulls = rod_pulls(case.assembly, case.found)
    gains = case.found.of_error(case.end).tolist()
    rods = {member.id: (number, member) for number, member in enumerate(case.mount.members) if isinstance(member, Rod)}
    rows = []
    for source in case.of_kind("stretch"):
        number, rod = rods[source.id]
        gain, moved = gains[case.assembly.equations.error_of[number].start], source.reach[case.end][0]
        cells = (gain, pulls[rod.id], drawn_length(rod), rod.elastic_modulus or 0.0, rod.section_area or 0.0, moved)
        path = case.source_path(rod.id, "stretch", "low" if moved < 0 else "high")
        rows.append(Row(rod.id, cells, path, Place("length", standing_points(case.assembly, case.pose, number))))
    if not rows:
        return Step("stretch", title, "", reason="no rod has a section and a modulus: rods count as stiff")
    words = "The pull in a rod stretches it by F l / (E A); what its length does to the end carries that to the edge."
    columns = (
        ("end per unit", "m_i", "ratio", "how far the end rises per unit the rod gets longer"),
        ("pull", "F_i", "force", "pull in the rod, − when it is pushed"),
        ("length", "l_i", "length", "length of the rod"),
        ("modulus", "E_i", "pressure", "elastic modulus of the rod"),
        ("section", "A_i", "area", "cross section of the rod"),
    )
    return _listed(case, "stretch", title, words, laws.stretch(), columns, rows)


def step(case: Case) -> Step:
    """Half the smallest step of every cylinder."""
    title = "Smallest step of the valve"
    valve = case.mount.valve
    if valve is None:
        return Step("step", title, "", reason=NO_VALVE)
    cylinders = {each.id: each for each in case.mount.cylinders}
    rows = []
    for source in case.of_kind("step"):
        cells = (
            case.actuators[source.id][case.end],
            valve.smallest_pulse * MM3_PER_ML,
            cylinders[source.id].annulus_area,
            source.range(case.end)[1],
        )
        rows.append(Row(source.id, cells, case.source_path(source.id, "step", "high")))
    words = "The valve cannot let through less than one pulse: the end is left up to half a step off, either way."
    columns = (
        ("end per unit", "s_i", "ratio", "how far the end rises per unit of the cylinder"),
        ("pulse", "q", "volume", "smallest pulse of the valve"),
        ("area", "A_i", "area", "area on the rod side, where a pulse makes the larger step"),
    )
    return _listed(case, "step", title, words, laws.pulse(), columns, rows)


def allowance(case: Case) -> Step:
    """Errors of known size, carried to the end."""
    title = "Allowances"
    rows = []
    at_sensors = sensor_carry(case.assembly, case.pose)
    at_ends = {end: {each: float(each == end) for each in ENDS} for end in ENDS}
    given = {each.label: each for each in case.mount.allowances}
    for source in case.of_kind("allowance"):
        label, _, side = source.id.rpartition(" / ")
        carry = (at_ends if given[label].at == "ends" else at_sensors)[side][case.end]
        cells = (given[label].plus_minus, carry, source.range(case.end)[1])
        rows.append(Row(source.id, cells, case.source_path(source.id, "allowance", "high")))
    if not rows:
        return Step("allowance", title, "", reason="none is entered, or none has a place")
    words = "Errors of known size, either way; one at a sensor is carried to the end along the straight blade."
    columns = (
        ("±", "a_i", "length", "the allowance"),
        ("end per unit", "g_i", "ratio", "how far the end is out per unit at that place"),
    )
    return _listed(case, "allowance", title, words, laws.allowance(), columns, rows)


def _listed(
    case: Case,
    key: str,
    title: str,
    words: str,
    law: Law,
    columns: tuple[tuple[str, str, str, str], ...],
    rows: list[Row],
) -> Step:
    """A step over a list: the formula with the numbers of the largest, the sum, and a table of them all.

    ``columns`` are (heading, symbol, quantity, meaning) of what the formula takes; rows end with what it gives.
    """
    largest = rows[0]
    values = zip(columns, largest.cells[:-1], strict=True)
    known = {
        name: Known(name, f"{meaning}, here '{largest.label}'", value, quantity, largest.place)
        for (_, name, quantity, meaning), value in values
    }
    gives = Known("e_i", f"what '{largest.label}' does to the {case.end} end", largest.cells[-1])
    kind = next(kind for kind, (name, _) in KINDS.items() if name == key)
    if key == "stretch":
        added = one_sided_total(case, kind)
    else:
        terms = tuple(row.cells[-1] for row in rows)
        given = Known(f"e_{key}", f"{KINDS[kind][1]}, all at their worst", sum(terms))
        added = Line(laws.total(key, 0), {}, given, added=terms)
    heads = tuple((head, name, quantity) for head, name, quantity, _ in columns)
    table = Table((*heads, (f"{case.end} end", "e_i", "length")), tuple(rows))
    return Step(key, title, words, (line(law, known, gives, largest.path), added), table=table)


def worst(case: Case) -> Step:
    """All sources at their worst the same way, against the tolerance."""
    total = case.totals[case.end]
    way = "up" if case.upward else "down"
    present = [kind for kind in KINDS if case.of_kind(kind)]
    known = {}
    for kind in present:
        name, words = KINDS[kind]
        parts = sum([counted(case, each) for each in case.of_kind(kind)])
        known[f"e_{name}"] = Known(f"e_{name}", words, parts)
    place = Place("point", (case.ends[case.end],))
    known["e_worst"] = Known("e_worst", f"worst error of the {case.end} end", total["worst"], place=place)
    law = laws.worst(tuple(KINDS[kind][0] for kind in present))
    lines = [line(law, known, known["e_worst"], ("budget", case.end, "worst"))] if present else []
    words = f"All sources {way} at once: the {case.end} end's worst error."
    tolerance = case.mount.tolerance
    if tolerance is None:
        return Step("worst", "The sum", f"{words} To judge it: {NO_TOLERANCE}.", tuple(lines))
    known["T"] = Known("T", "grading tolerance, either way", tolerance)
    left = Known("R", "room left inside the tolerance, − where it is exceeded", tolerance - total["worst"])
    verdict = "inside" if total["worst"] <= tolerance else "outside"
    lines.append(line(laws.room(), known, left))
    return Step("worst", "The sum against the tolerance", f"{words} It is {verdict} the tolerance.", tuple(lines))
