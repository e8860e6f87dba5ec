"""What the load puts on the chosen cylinder: force, pressure, and how far its oil gives way."""

from app.document.models import Load
from app.document.parts import Point
from app.document.reasons import NO_LOAD
from app.working import laws
from app.working.case import Case
from app.working.formula import Law
from app.working.step import Known, Line, Place, Step, by_name, line
from app.working.turning import cylinder_numbers, shift_numbers

_LEAST_SPAN_MM = 1.0
"""Ends of a blade nearer to plumb than this say too little of its turn."""


def force(case: Case) -> Step:
    """The load's moment about the centre, held by the cylinder at its arm."""
    title = "Load on the cylinder"
    load, at = case.mount.load, case.load_at
    if load is None or at is None:
        return Step("force", title, "", reason=NO_LOAD)
    carried = case.carried
    known = {**case.known, **_load_numbers(load, at)}
    words = "force in the cylinder, + when it is pushed shorter"
    gives = Known("F", words, carried.force, "force", _cylinder_place(case))
    known["F"] = gives
    if case.actuator.instant_centre is None or abs(case.ends["right"][0] - case.ends["left"][0]) < _LEAST_SPAN_MM:
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
    x_c, y_c = case.known["x_C"].value, case.known["y_C"].value
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
    if case.actuator.instant_centre is not None or not case.shifts:
        known |= _movement_of_load(case)
    words = "What the load's work is while the cylinder lengthens, the cylinder has to do: force times movement."
    return (line(laws.force_by_work(), known, gives, case.path("force")),), words


def _movement_of_load(case: Case) -> dict[str, Known]:
    v_x, v_y, turn = (float(each) for each in case.moving[:3])
    x, y = case.load_at or (0.0, 0.0)
    arm_x, arm_y = x - float(case.analysis.pose.q[0]), y - float(case.analysis.pose.q[1])
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
    known, area_law = area_numbers(case)
    pushed = area_law is laws.area("cap")
    words = (
        "The load alone pushes the cylinder: by itself it would press the oil on the cap side."
        if pushed
        else "The load alone pulls the cylinder: by itself it would press the oil on the rod side, on the annulus."
    )
    weight = case.analysis.weight_forces.get(case.cylinder.id, 0.0)
    if (case.carried.force + weight) * case.carried.force < 0:
        words += f" The weight is the stronger: with it the {'rod' if pushed else 'cap'} side stays pressed."
    lines = (
        line(area_law, known, known["A"]),
        line(laws.pressure(), known, known["p"], case.path("pressure")),
    )
    return Step("pressure", title, words, lines)


def area_numbers(case: Case) -> tuple[dict[str, Known], Law]:
    """Force, bore, rod, area and pressure, and the formula of the area that carries the force."""
    carried, cylinder = case.carried, case.cylinder
    side = "cap" if carried.force >= 0 else "annulus"
    size = cylinder.cap_area if side == "cap" else cylinder.annulus_area
    place = _cylinder_place(case)
    known = by_name(
        [
            Known("F", "force in the cylinder, + when it is pushed shorter", carried.force, "force", place),
            Known("D", "bore", cylinder.bore, place=place),
            Known("d", "diameter of the piston rod", cylinder.rod, place=place),
            Known("A", "area that carries the force", size, "area", place),
            Known("p", "pressure of the oil on that side", carried.pressure, "pressure", place),
        ]
    )
    return known, laws.area(side)
