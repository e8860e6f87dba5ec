"""What the load puts on the chosen cylinder: force, pressure, and how far its oil gives way."""

import math

from app.document.models import Load, Point
from app.document.units import MM3_PER_ML
from app.results.budget import Source, oil_squeeze
from app.results.forces import CylinderForce
from app.results.readout import NO_LOAD, NO_OIL
from app.working import laws
from app.working.case import Case
from app.working.formula import Law
from app.working.step import Known, Line, Place, Row, Step, Table, by_name, line
from app.working.turning import cylinder_numbers, shift_numbers

_LEAST_SPAN_MM = 1.0
"""Ends of a blade nearer to plumb than this say too little of its turn."""


def force(case: Case) -> Step:
    """The load's moment about the centre, held by the cylinder at its arm."""
    title = "Load on the cylinder"
    load, at = case.mount.load, case.load_at
    if load is None or at is None:
        return Step("force", title, "", reason=NO_LOAD)
    carried = case.carried[case.cylinder.id]
    known = {**case.known, **_load_numbers(load, at)}
    words = "force in the cylinder, + when it is pushed shorter"
    gives = Known("F", words, carried.force, "force", _cylinder_place(case))
    known["F"] = gives
    if case.actuator["instant_centre"] is None or abs(case.ends["right"][0] - case.ends["left"][0]) < _LEAST_SPAN_MM:
        lines, words = _by_work(case, known, gives)
    else:
        lines, words = _by_moments(case, known, gives, at)
    if carried.load_ratio is not None:
        ratio = Known("n", "cylinder force per unit of load", carried.load_ratio, "ratio")
        lines += (line(laws.load_ratio(), known, ratio, case.path("load_ratio")),)
    return Step("force", title, words, lines, exact=bool(case.direct and case.held))


def _load_numbers(load: Load, at: Point) -> dict[str, Known]:
    here = Place("point", (at,))
    return by_name(
        [
            Known("x_P", "how far right the load acts", at[0], place=here),
            Known("y_P", "how high the load acts", at[1], place=here),
            Known("F_x", "force of the load to the right", load.force[0], "force", here),
            Known("F_y", "force of the load upward", load.force[1], "force", here),
        ]
    )


def _cylinder_place(case: Case) -> Place | None:
    return Place("length", case.direct) if case.direct else None


def _by_moments(case: Case, known: dict[str, Known], gives: Known, at: Point) -> tuple[tuple[Line, ...], str]:
    x_c, y_c = case.actuator["instant_centre"]
    (x_p, y_p), (f_x, f_y) = at, (known["F_x"].value, known["F_y"].value)
    level = Place("length", ((x_c, y_p), (x_p, y_p)))
    plumb = Place("length", ((x_p, y_c), (x_p, y_p)))
    known |= by_name(
        [
            Known("d_P", "level distance from the centre to the load", x_p - x_c, place=level),
            Known("h_P", "how far above the centre the load acts", y_p - y_c, place=plumb),
            Known("M", "moment of the load about the centre", (x_p - x_c) * f_y - (y_p - y_c) * f_x, "moment"),
        ]
    )
    lines = [line(law, known, known[law.name]) for law in laws.load_moment()]
    if case.direct and case.held:
        known |= cylinder_numbers(case)
        words = "Moments about the centre balance: the load at its distance, the cylinder at its arm."
    else:
        span = case.ends["right"][0] - case.ends["left"][0]
        arm = span / (known["s_right"].value - known["s_left"].value)
        known["r"] = Known("r", "arm at which the cylinder would have to act on the blade itself", arm)
        lines.append(line(laws.arm_by_movement(), known, known["r"]))
        words = (
            "Moments about the centre balance. The cylinder acts by way of other members: its arm is that of one which "
            "would turn the blade as far."
        )
    return (*lines, line(laws.force_by_moment(), known, gives, case.path("force"))), words


def _by_work(case: Case, known: dict[str, Known], gives: Known) -> tuple[tuple[Line, ...], str]:
    known |= shift_numbers(case)
    if case.actuator["instant_centre"] is not None or not case.shifts:
        known |= _movement_of_load(case)
    words = "What the load's work is while the cylinder lengthens, the cylinder has to do: force times movement."
    return (line(laws.force_by_work(), known, gives, case.path("force")),), words


def _movement_of_load(case: Case) -> dict[str, Known]:
    v_x, v_y, turn = (float(each) for each in case.moving[:3])
    x, y = case.load_at or (0.0, 0.0)
    arm_x, arm_y = x - float(case.pose.q[0]), y - float(case.pose.q[1])
    here = Place("point", ((x, y),))
    return by_name(
        [
            Known("v_x", "how far the load shifts to the right per unit", v_x - turn * arm_y, "ratio", here),
            Known("v_y", "how far the load rises per unit", v_y + turn * arm_x, "ratio", here),
        ]
    )


def pressure(case: Case) -> Step:
    """Force over the area that carries it."""
    title = "Pressure"
    if case.mount.load is None:
        return Step("pressure", title, "", reason=NO_LOAD)
    known, area_law = _area_numbers(case)
    pushed = area_law is laws.area("cap")
    words = (
        "The cylinder is pushed: the oil on the cap side carries it."
        if pushed
        else "The cylinder is pulled: the oil on the rod side carries it, on the annulus round the rod."
    )
    lines = (
        line(area_law, known, known["A"]),
        line(laws.pressure(), known, known["p"], case.path("pressure")),
    )
    return Step("pressure", title, words, lines)


def _area_numbers(case: Case) -> tuple[dict[str, Known], Law]:
    carried, cylinder = case.carried[case.cylinder.id], case.cylinder
    side = "cap" if carried.force >= 0 else "annulus"
    size = cylinder.cap_area if side == "cap" else cylinder.annulus_area
    place = _cylinder_place(case)
    known = by_name(
        [
            Known("F", "force in the cylinder, + when it is pushed shorter", carried.force, "force", place),
            Known("D", "bore", cylinder.bore, place=place),
            Known("d", "diameter of the piston rod", cylinder.rod, place=place),
            Known("A", "area that carries the force", size, "area", place),
            Known("p", "pressure of the oil, − on the rod side", carried.pressure, "pressure", place),
        ]
    )
    return known, laws.area(side)


def oil(case: Case) -> Step:
    """How far the squeezed oil lets every cylinder give way, and what that does to the end."""
    title = "Oil squeezed by the load"
    bulk = case.mount.oil
    if case.mount.load is None or bulk is None:
        return Step("oil", title, "", reason=NO_LOAD if case.mount.load is None else NO_OIL)
    known, _ = _area_numbers(case)
    carried = case.carried[case.cylinder.id]
    known |= case.known | _trapped(case, carried, bulk.bulk_modulus)
    words_e = f"what the oil of this cylinder does to the {case.end} end"
    moved = known[f"s_{case.end}"].value * known["Delta_l"].value
    known["e"] = Known("e", words_e, moved, "length", Place("point", (case.ends[case.end],)))
    volume, change = laws.oil()
    lines = (
        line(volume, known, known["V"]),
        line(change, known, known["Delta_l"]),
        line(laws.oil_at_end(case.end), known, known["e"], _one_sided_path(case, case.cylinder.id, "oil", moved)),
    )
    words = (
        "Under pressure the trapped oil loses p V / K of its volume and the piston follows. The table holds every "
        f"cylinder; what goes {'up' if case.upward else 'down'} counts against the {case.end} end."
    )
    return Step("oil", title, words, (*lines, one_sided_total(case, "oil")), table=_oil_of_all(case, bulk.bulk_modulus))


def _trapped(case: Case, carried: CylinderForce, modulus: float) -> dict[str, Known]:
    cylinder, size = case.cylinder, case.pose.lengths[case.number]
    out = min(max(size - cylinder.retracted, 0.0), cylinder.stroke)
    pushed = carried.force >= 0
    area = cylinder.cap_area if pushed else cylinder.annulus_area
    column = out if pushed else cylinder.stroke - out
    hose = cylinder.hose_volume * MM3_PER_ML
    place = _cylinder_place(case)
    words = "how far the cylinder gives, − shorter"
    change = oil_squeeze(cylinder, carried.force, size, modulus)
    return by_name(
        [
            Known("l_oil", "length of the oil column that carries", column, place=place),
            Known("V_hose", "oil in hose and ports", hose, "volume"),
            Known("V", "trapped oil", area * column + hose, "volume", place),
            Known("K", "bulk modulus of the oil", modulus, "pressure"),
            Known("Delta_l", words, change, place=place),
        ]
    )


def _oil_of_all(case: Case, modulus: float) -> Table:
    rows = []
    for source in case.of_kind("oil"):
        number = next(i for i, each in enumerate(case.mount.cylinders) if each.id == source.id)
        cylinder, carried = case.mount.cylinders[number], case.carried[source.id]
        change = oil_squeeze(cylinder, carried.force, case.pose.lengths[number], modulus)
        gain, moved = case.actuators[source.id][case.end], source.reach[case.end][0]
        rows.append(Row(source.id, (gain, change, moved), _one_sided_path(case, source.id, "oil", moved)))
    columns = (
        ("end per unit", f"s_{case.end}", "ratio"),
        ("gives", "Delta_l", "length"),
        (f"{case.end} end", "e_i", "length"),
    )
    return Table(columns, tuple(rows))


def _one_sided_path(case: Case, name: str, kind: str, moved: float) -> tuple[str | int, ...]:
    return case.source_path(name, kind, "low" if moved < 0 else "high")


def counted(case: Case, source: Source) -> float:
    """How much a source adds to the worst of the chosen end, 0 or more, mm."""
    low, high = source.range(case.end)
    return math.fabs(high if case.upward else low)


def one_sided_total(case: Case, kind: str) -> Line:
    """What goes the worse way, added up over all sources of a kind."""
    terms = tuple(counted(case, each) for each in case.of_kind(kind))
    way = f"all {kind} that moves the {case.end} end {'up' if case.upward else 'down'}"
    return Line(laws.total(kind, 1 if case.upward else -1), {}, Known(f"e_{kind}", way, sum(terms)), added=terms)
