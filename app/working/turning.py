"""How the chosen cylinder moves the blade: the centre it turns about, the coupling, and the edge's movement."""

import numpy as np

from app.document.messages import Message
from app.document.parts import OTHER, Point
from app.document.units import FORMULA_UNITS, FormulaQuantity, System
from app.members import Pin
from app.working import laws
from app.working.case import Case
from app.working.formula import Law, matrix
from app.working.step import Known, Line, Place, Row, Step, Table, by_name, line

NOT_SHORT = "not short in closed form: the table of equations is solved with numbers"

_STANDS_STILL = Message("stands-still", "the blade stands still")
_SHIFTS_ONLY = Message("shifts-only", "it shifts only: it turns about no point")
_MOVES_NEITHER = Message("moves-neither-end", "this cylinder moves neither end")

_LARGEST_TABLE = 12
"""A larger table of equations is not printed: its solution is."""


def centre(case: Case) -> Step:
    """Where the blade turns, and which lines meet there."""
    title = "Where the blade turns"
    if case.actuator.instant_centre is None:
        if not np.abs(case.moving[:3]).max() > 0:
            return Step("centre", title, "This cylinder does not move the blade.", reason=_STANDS_STILL)
        words = "This cylinder shifts the whole blade and does not turn it: all of it moves alike."
        return Step("centre", title, words, reason=_SHIFTS_ONLY)
    if case.pinned:
        return _at_pin(case, title)
    if case.held:
        return _where_lines_meet(case, title)
    return _by_movement(case, title)


def _at_pin(case: Case, title: str) -> Step:
    pin = next(each for each in case.lines if _is_pin(case, each.member))
    (x, y), here = pin.through, Place("point", (pin.through,))
    known = by_name(
        [
            Known("x_1", "how far right the pin stands", x, place=here),
            Known("y_1", "how high the pin stands", y, place=here),
        ]
    )
    level, plumb = laws.at_pin()
    words = f"The pin '{pin.member}' holds the blade to what stands still: the blade turns about it."
    return Step("centre", title, words, _centre_lines(case, known, level, plumb))


def _is_pin(case: Case, name: str) -> bool:
    return any(isinstance(member, Pin) and member.id == name for member in case.mount.members)


def _where_lines_meet(case: Case, title: str) -> Step:
    known: dict[str, Known] = {}
    for number, each in enumerate(case.lines, 1):
        known |= _line(number, each.through, each.toward, f"line of '{each.member}'")
    along, level, plumb = laws.meeting()
    here = (case.known["x_C"].value, case.known["y_C"].value)
    start = case.lines[0].through
    a, b = known["a_1"].value, known["b_1"].value
    share = ((here[0] - start[0]) * a + (here[1] - start[1]) * b) / (a * a + b * b)
    words_t = "how many times (a₁, b₁) it is along line 1 to the centre"
    known["t"] = Known("t", words_t, share, "ratio", Place("length", (start, here)))
    first, second = (each.member for each in case.lines)
    words = f"'{first}' and '{second}' hold the blade each along its own line: it turns about where the lines meet."
    return Step("centre", title, words, (line(along, known, known["t"]), *_centre_lines(case, known, level, plumb)))


def _line(number: int, through: Point, toward: Point, words: str) -> dict[str, Known]:
    here, along = Place("point", (through,)), Place("line", (through, toward))
    right, up = toward[0] - through[0], toward[1] - through[1]
    return by_name(
        [
            Known(f"x_{number}", f"how far right a point of line {number} stands", through[0], place=here),
            Known(f"y_{number}", "how high that point stands", through[1], place=here),
            Known(f"a_{number}", f"how far line {number} runs to the right: {words}", right, place=along),
            Known(f"b_{number}", f"how far line {number} runs up", up, place=along),
        ]
    )


def _centre_lines(case: Case, known: dict[str, Known], level: Law, plumb: Law) -> tuple[Line, Line]:
    return (
        line(level, known, case.known["x_C"], case.path("instant_centre", 0)),
        line(plumb, known, case.known["y_C"], case.path("instant_centre", 1)),
    )


def _by_movement(case: Case, title: str) -> Step:
    v_x, v_y, turn = (float(each) for each in case.moving[:3])
    x, y = float(case.analysis.pose.q[0]), float(case.analysis.pose.q[1])
    here = Place("point", ((x, y),))
    known = by_name(
        [
            Known("x_0", "how far right the middle of the blade as drawn stands", x, place=here),
            Known("y_0", "how high it stands", y, place=here),
            Known("v_x", "how far it shifts to the right per unit of the cylinder", v_x, "ratio", here),
            Known("v_y", "how far it rises per unit of the cylinder", v_y, "ratio", here),
            Known("omega", "how far the blade turns per unit of the cylinder, anticlockwise", turn, "turn", here),
        ]
    )
    level, plumb = laws.by_movement()
    words = f"Other bodies move too, so no two lines fix the centre ({NOT_SHORT}); it is the point that does not move."
    return Step("centre", title, words, _centre_lines(case, known, level, plumb), exact=False)


def coupling(case: Case) -> Step:
    """The coupling as the ratio of two level distances from the centre."""
    title = "Coupling"
    ratio, lead = case.actuator.coupling, case.actuator.lead
    if ratio is None:
        return Step("coupling", title, "", reason=_MOVES_NEITHER)
    gives = Known("kappa", "coupling: the other end's movement over the lead end's", ratio, "ratio")
    other = OTHER[lead]
    if case.actuator.instant_centre is None:
        words = f"The {other} end's movement over the {lead} end's."
        given = line(laws.coupling_of_movements(lead), case.known, gives, case.path("coupling"))
        return Step("coupling", title, words, (given,))
    words = (
        f"Turning about the centre, each end moves in proportion to its level distance from it; the {lead} end moves "
        f"more. The {other} end's distance over the {lead} end's is the coupling."
    )
    distances = tuple(line(laws.level_distance(end), case.known, case.known[f"d_{end}"]) for end in (lead, other))
    return Step(
        "coupling", title, words, (*distances, line(laws.coupling(lead), case.known, gives, case.path("coupling")))
    )


def movement(case: Case) -> Step:
    """How far the chosen end rises per mm the cylinder lengthens."""
    if case.direct and case.held:
        if case.actuator.instant_centre is not None:
            return _by_arm(case)
        if case.shifts and not case.pinned:
            return _by_shift(case)
    return _by_table(case)


TITLE = "Edge movement for the cylinder's movement"


def cylinder_numbers(case: Case) -> dict[str, Known]:
    """Where the cylinder's ends stand, its length and its arm about the centre; none unless it acts directly."""
    if case.direct is None:
        return {}
    a, b = case.direct
    (x_a, y_a), (x_b, y_b) = a, b
    size = case.analysis.pose.lengths[case.number]
    found = [
        Known("x_A", "how far right its end A stands, on what stands still", x_a, place=Place("point", (a,))),
        Known("y_A", "how high A stands", y_a, place=Place("point", (a,))),
        Known("x_B", "how far right its end B on the blade stands", x_b, place=Place("point", (b,))),
        Known("y_B", "how high B stands", y_b, place=Place("point", (b,))),
        Known("l", "length of the cylinder, pin to pin", size, place=Place("length", (a, b))),
    ]
    if here := case.actuator.instant_centre:
        arm = ((x_b - here[0]) * (y_b - y_a) - (y_b - here[1]) * (x_b - x_a)) / size
        ux, uy = (x_b - x_a) / size, (y_b - y_a) / size
        along = (here[0] - x_a) * ux + (here[1] - y_a) * uy
        foot = (x_a + along * ux, y_a + along * uy)
        words = "arm of the cylinder's line about the centre, + where lengthening turns the blade anticlockwise"
        found.append(Known("r", words, arm, place=Place("length", (here, foot))))
    return by_name(found)


def _by_arm(case: Case) -> Step:
    known = {**case.known, **cylinder_numbers(case)}
    moved = f"s_{case.end}"
    words = (
        f"The cylinder turns the blade at the arm of its line about the centre; the {case.end} end rises at its level "
        "distance. The end's distance over the cylinder's arm is the edge movement."
    )
    return Step(
        "movement",
        TITLE,
        words,
        (
            line(laws.length(), known, known["l"], ("pose", "members", case.cylinder.id, "length")),
            line(laws.arm(), known, known["r"]),
            line(laws.movement(case.end), known, known[moved], case.path(case.end)),
        ),
    )


def shift_numbers(case: Case) -> dict[str, Known]:
    """How far a point of the blade shifts per mm the cylinder lengthens, where it does not turn."""
    v_x, v_y, _ = (float(each) for each in case.moving[:3])
    here = Place("point", (case.ends[case.end],))
    return by_name(
        [
            Known("v_x", "how far the blade shifts to the right per unit of the cylinder", v_x, "ratio", here),
            Known("v_y", "how far the blade rises per unit of the cylinder", v_y, "ratio", here),
        ]
    )


def _by_shift(case: Case) -> Step:
    known = {**case.known, **cylinder_numbers(case), **shift_numbers(case)}
    first = case.lines[0]
    known |= _line(1, first.through, first.toward, f"line of '{first.member}'")
    level, plumb = laws.shift()
    one, two = (each.member for each in case.lines)
    words = (
        f"'{one}' and '{two}' hold the blade along parallel lines: it shifts square to them, and both ends rise alike."
    )
    return Step(
        "movement",
        TITLE,
        words,
        (
            line(laws.length(), known, known["l"], ("pose", "members", case.cylinder.id, "length")),
            line(level, known, known["v_x"]),
            line(plumb, known, known["v_y"]),
            line(laws.same_as_shift(case.end), known, known[f"s_{case.end}"], case.path(case.end)),
        ),
    )


def _by_table(case: Case) -> Step:
    """The matrix step: the forces that 1 upward at each end puts on every member are the movements sought."""
    ends = (OTHER[case.end], case.end)
    solved = np.array([case.analysis.sensitivities.force(end) for end in ends]).T
    row = case.analysis.assembly.equations.row_of[case.member].start
    known = dict(case.known)
    for column, end in enumerate(ends):
        words = f"the cylinder's number in the solution for the {end} end"
        known[f"lambda_{end}"] = Known(f"lambda_{end}", words, float(solved[row, column]), "ratio")
    rows = [
        Row(label, tuple(solved[number].tolist()))
        for member, part in zip(case.mount.members, case.analysis.assembly.equations.row_of, strict=True)
        for label, number in zip(member.row_names, range(part.start, part.stop), strict=True)
    ]
    columns: tuple[tuple[str, str, FormulaQuantity], ...] = tuple(
        (f"{end} end", f"lambda_{end}", "ratio") for end in ends
    )
    words = (
        f"{NOT_SHORT[0].upper()}{NOT_SHORT[1:]}. Put a force of 1 upward on an end and balance every body, three lines "
        "each: forces to the right, forces up, moments. The force that falls to the cylinder is how far that end rises "
        "per unit it lengthens, and the force at any joint is what a unit of play there does to the end."
    )
    return Step(
        "movement",
        TITLE,
        words,
        tuple(line(laws.from_table(end), known, known[f"s_{end}"], case.path(end)) for end in ends),
        exact=False,
        table=Table(columns, tuple(rows)),
        matrix=lambda system: _table_of_equations(case, system),
    )


def _table_of_equations(case: Case, system: System) -> str | None:
    """MathML of the table: Jacobian transposed times solution = 1 upward at each end. None where it is too large."""
    jacobian = case.analysis.pose.jacobian
    if len(jacobian) > _LARGEST_TABLE:
        return None
    ends = (OTHER[case.end], case.end)
    solved = np.array([case.analysis.sensitivities.force(end) for end in ends]).T
    turned = jacobian.T @ solved
    lever = np.array([1.0, 1.0, FORMULA_UNITS["length"][system][1]] * (len(jacobian) // 3))[:, None]
    tiny = 1e-9 * max(1.0, float(np.abs(jacobian).max()))
    left, right = jacobian.T / lever, np.where(np.abs(turned) < tiny, 0.0, turned) / lever
    return f"<mrow>{matrix(left.tolist())}<mo>·</mo>{matrix(solved.tolist())}<mo>=</mo>{matrix(right.tolist())}</mrow>"
