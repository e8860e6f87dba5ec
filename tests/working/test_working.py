"""The working: every shown formula, with the numbers put in, gives the readout's value."""

import functools
import math
from typing import Any

import pytest
import sympy as sp
from hypothesis import given

from app.analysis import Analysis
from app.document.errors import BadCommand
from app.document.models import Mount, as_document
from app.document.parts import EndName
from app.document.reading import read_mount
from app.shipped import shipped_mounts
from app.sources import KINDS
from app.working import steps_of
from app.working.answer import Working
from app.working.laws import every_law, write_all
from tests.answers import has_shape, readout, said, typed, working
from tests.formulas import is_plain, right_side, value_of
from tests.mounts import (
    Command,
    Document,
    centre_pivot,
    cylinder,
    document,
    end,
    extras,
    fewer,
    member_of,
    pin,
    pivot_on_carriage,
    twin,
    two_guides,
    worked_mounts,
)

Step = dict[str, Any]

ENDS = ("left", "right")
MOVES = (0.0, 37.5, -60.0)
CASES = [
    pytest.param(name, cylinder.id, end, move, id=f"{name}, {cylinder.id}, {end}, {move:g}")
    for name, mount in shipped_mounts().items()
    for cylinder in mount.cylinders
    for end in ENDS
    for move in MOVES
]
ROUNDING = 1e-9
"""Both ways of getting a number are exact to rounding; this allows for poses near a dead centre."""


@functools.cache
def shipped_working(name: str, cylinder: str, end: str, move: float, system: str = "metric") -> dict[str, Any]:
    return working(shipped_mounts()[name], {cylinder: move}, cylinder, end, system)


def working_of(drawn: Document, cylinder: str, end: str = "right", command: Command | None = None) -> dict[str, Step]:
    answer = working(read_mount(drawn), command or {}, cylinder, end)
    return {step["key"]: step for step in answer["steps"]}


def at(answer: Any, path: list[str | int]) -> Any:  # noqa: ANN401 - any part of an answer
    return functools.reduce(lambda found, step: found[step], path, answer)


def symbols_of(step: Step) -> dict[str, float]:
    """The value of every listed symbol, by its MathML."""
    return {each["symbol"]: each["value"] for each in step["symbols"]}


def is_sum(line: dict[str, Any]) -> bool:
    return "∑" in line["formula"]


def assert_every_formula_gives_its_result(steps: list[Step]) -> None:
    for step in steps:
        size = max((abs(each["value"]) for each in step["symbols"]), default=1.0)
        for line in step["lines"]:
            if not is_sum(line):
                found = value_of(right_side(line["formula"]), symbols_of(step))
                # What comes out as nought from numbers of some size is nought to the rounding of those numbers.
                assert found == pytest.approx(line["result"]["value"], rel=ROUNDING, abs=1e-12 * size)


def assert_every_result_is_the_readouts(steps: list[Step], answer: dict[str, Any]) -> None:
    for step in steps:
        for line in step["lines"]:
            if line["path"]:
                assert line["result"]["value"] == at(answer, line["path"])
        for row in step["table"]["rows"] if step["table"] else ():
            if row["path"]:
                assert row["cells"][-1]["value"] == at(answer, row["path"])


def assert_every_row_follows_from_its_formula(step: Step) -> None:
    """The first formula of a list, with a row's numbers in its columns' symbols, gives the row's last number."""
    columns = [column["symbol"] for column in step["table"]["columns"]]
    for row in step["table"]["rows"]:
        cells = [cell["value"] for cell in row["cells"]]
        found = value_of(right_side(step["lines"][0]["formula"]), dict(zip(columns, cells, strict=True)))
        assert found == pytest.approx(cells[-1], rel=ROUNDING, abs=1e-15)


# Every formula, for every shipped mount


@pytest.mark.parametrize(("name", "cylinder", "end", "move"), CASES)
def test_every_shown_formula_gives_its_result(name: str, cylinder: str, end: str, move: float) -> None:
    assert_every_formula_gives_its_result(shipped_working(name, cylinder, end, move)["steps"])


@pytest.mark.parametrize(("name", "cylinder", "end", "move"), CASES)
def test_every_result_is_the_readouts_own_number(name: str, cylinder: str, end: str, move: float) -> None:
    answer = readout(shipped_mounts()[name], {cylinder: move})
    steps = shipped_working(name, cylinder, end, move)["steps"]
    assert_every_result_is_the_readouts(steps, answer)
    reached = {str(line["path"][0]) for step in steps for line in step["lines"] if line["path"]}
    assert reached >= {"actuators", "budget"}


@pytest.mark.parametrize(("name", "cylinder", "end", "move"), CASES)
@pytest.mark.parametrize("key", ["play", "stretch", "step", "allowance"])
def test_every_row_of_a_list_follows_from_its_formula(
    key: str, name: str, cylinder: str, end: str, move: float
) -> None:
    step = next(each for each in shipped_working(name, cylinder, end, move)["steps"] if each["key"] == key)
    if step["reason"]:
        assert (key, step["table"]) == ("stretch", None)
        return
    assert_every_row_follows_from_its_formula(step)


@functools.cache
def written_out(law: sp.Expr, count: int) -> sp.Expr:
    """A sum over n with so many terms, every one of them written."""
    return law.subs(sp.Symbol("n", integer=True), count).doit()


@pytest.mark.parametrize(("name", "cylinder", "end", "move"), CASES)
def test_every_sum_adds_up_its_table(name: str, cylinder: str, end: EndName, move: float) -> None:
    analysis = Analysis(shipped_mounts()[name], {cylinder: move})
    number = [each.id for each in analysis.mount.cylinders].index(cylinder)
    steps, _ = steps_of(analysis, number, end)
    for step in steps:
        for line in step.lines:
            if line.law.expression.has(sp.Sum):
                assert step.table is not None
                values = [row.cells[-1] for row in step.table.rows]
                written = written_out(line.law.expression, len(values))
                numbers = {sp.IndexedBase("e")[place]: value for place, value in enumerate(values, 1)}
                assert float(written.subs(numbers)) == pytest.approx(line.gives.value, rel=ROUNDING)


@pytest.mark.parametrize(("name", "cylinder", "end", "move"), CASES)
def test_the_parts_of_the_sum_are_those_of_the_budget(name: str, cylinder: str, end: str, move: float) -> None:
    budget = readout(shipped_mounts()[name], {cylinder: move})["budget"][end]
    side = "high" if budget["high"] >= -budget["low"] else "low"
    parts: dict[str, float] = {}
    for source in budget["sources"]:
        symbol = f"e_{KINDS[source['kind']].SYMBOL}"
        parts[symbol] = parts.get(symbol, 0.0) + abs(source[side])
    step = shipped_working(name, cylinder, end, move)["steps"]
    (step,) = (each for each in step if each["key"] == "worst")
    shown = {each["name"]: each["value"] for each in step["symbols"] if each["name"] in parts}
    assert shown == pytest.approx(parts, rel=ROUNDING)


@pytest.mark.parametrize("name", list(shipped_mounts()))
@pytest.mark.parametrize("system", ["metric", "inch"])
def test_the_rounded_numbers_put_in_give_the_result_to_three_digits(name: str, system: str) -> None:
    for member in shipped_mounts()[name].cylinders:
        for step in shipped_working(name, member.id, "right", 0.0, system)["steps"]:
            for line in step["lines"]:
                if line["substituted"] and line["result"]["value"]:
                    shown = line["result"]["shown"].split(" ")[0].replace("−", "-").replace("\u2009", "")
                    assert value_of(right_side(line["substituted"])) == pytest.approx(float(shown), rel=1e-3)


# Laws, for any mount


@given(worked_mounts())
@fewer(0.6)
def test_the_working_of_any_mount_arrives_at_its_readout(case: tuple[Document, Command]) -> None:
    drawn, command = case
    mount = read_mount(drawn)
    answer = readout(mount, command)
    for each in mount.cylinders:
        for side in ENDS:
            found = working(mount, command, each.id, side)
            assert has_shape(found, Working)
            assert_every_formula_gives_its_result(found["steps"])
            assert_every_result_is_the_readouts(found["steps"], answer)
            for step in found["steps"]:
                if step["key"] in ("play", "stretch", "step", "allowance") and step["table"]:
                    assert_every_row_follows_from_its_formula(step)


@given(worked_mounts())
@fewer(0.4)
def test_a_lit_length_is_as_long_as_its_symbol_says(case: tuple[Document, Command]) -> None:
    drawn, command = case
    mount = read_mount(drawn)
    for each in mount.cylinders:
        for step in working(mount, command, each.id, "left")["steps"]:
            for symbol in step["symbols"]:
                if symbol["name"] in ("d_left", "d_right", "d_P", "h_P", "l", "r") and symbol["place"]:
                    start, stop = symbol["place"]["points"]
                    assert math.dist(start, stop) == pytest.approx(abs(symbol["value"]), rel=1e-6, abs=1e-6)


# Against sums done by hand


def test_a_centre_pivot_is_worked_as_on_paper() -> None:
    """Pivot 400 mm over the edge, level cylinder 200 mm above it, ends 1000 mm out, 4500 N up and 300 N out: by hand.

    1000/200 = 5; the load turns the blade by 1000·4500 + 400·300 = 4620000 N·mm, which the cylinder holds at -200 mm.
    """
    steps = working_of(centre_pivot(**extras()), "tilt")
    found = {line["symbol"]: line["result"]["value"] for step in steps.values() for line in step["lines"]}
    by_hand = {"x_C": 0, "y_C": 400, "kappa": -1, "r": -200, "s_right": -5, "M": 4620000, "F": 23100}
    assert {name: found[name] for name in by_hand} == pytest.approx(by_hand)
    assert found["p"] == pytest.approx(23100 / (math.pi * 63**2 / 4))
    assert "'pivot'" in steps["centre"]["words"]


def test_two_lines_meet_where_a_ruler_says() -> None:
    """The upright left cylinder stands at x = -800 and the stay runs level at y = 200: they cross at (-800, 200)."""
    steps = working_of(twin(), "right")
    assert [line["result"]["value"] for line in steps["centre"]["lines"]][1:] == pytest.approx([-800, 200])
    assert steps["coupling"]["result"]["value"] == pytest.approx(-200 / 1800)
    assert steps["movement"]["result"]["value"] == pytest.approx(-1800 / 1600)


def test_a_blade_in_upright_guides_only_shifts_and_is_worked_exactly() -> None:
    steps = working_of(two_guides(load={"at": [300, 0], "force": [700, 500]}), "lift")
    assert said(steps["centre"]["reason"]) == "it shifts only: it turns about no point"
    assert steps["movement"]["exact"]
    found = {line["symbol"]: line["result"]["value"] for line in steps["movement"]["lines"]}
    assert (found["v_x"], found["v_y"], found["s_right"]) == pytest.approx((0, -1, -1))
    assert steps["coupling"]["result"]["value"] == pytest.approx(1)
    assert steps["force"]["result"]["value"] == pytest.approx(500 / math.hypot(700, 500))


# What is exact, and what is said where it is not


@pytest.mark.parametrize(
    ("name", "cylinder", "solved"),
    [
        ("1-centre-pivot", "tilt cylinder", ["true worst"]),
        ("2-pivot-on-carriage", "tilt cylinder", ["true worst"]),
        ("2-pivot-on-carriage", "lift cylinder", ["movement", "force", "true worst"]),
        ("3-twin-cylinders", "left cylinder", ["true worst"]),
        ("5-end-hinge", "lift cylinder", ["true worst"]),
        ("6-crank-and-drop-rod", "right cylinder", ["true worst"]),
        ("6-crank-and-drop-rod", "crank cylinder", ["movement", "force", "true worst"]),
    ],
)
def test_closed_formulas_are_shown_where_they_are_short(name: str, cylinder: str, solved: list[str]) -> None:
    steps = shipped_working(name, cylinder, "right", 0.0)["steps"]
    assert [step["key"] for step in steps if not step["exact"]] == solved


def test_a_table_of_equations_is_shown_and_said_to_be_numbers() -> None:
    steps = {
        step["key"]: step for step in shipped_working("6-crank-and-drop-rod", "crank cylinder", "right", 0.0)["steps"]
    }
    movement = steps["movement"]
    assert movement["words"].startswith("Not short in closed form: the table of equations is solved with numbers")
    assert movement["matrix"].count("<mtable>") == 3
    own = next(row for row in movement["table"]["rows"] if row["label"] == "crank cylinder")
    assert own["cells"][-1]["value"] == movement["result"]["value"]


def test_what_the_document_lacks_stands_there_as_a_reason() -> None:
    steps = working_of(twin(), "left")
    assert {key: said(step["reason"]) for key, step in steps.items() if step["reason"]} == {
        "force": "needs a load",
        "pressure": "needs a load",
        "stall": "needs a load",
        "play": "no joint has clearance",
        "oil": "needs a load",
        "stretch": "needs a load",
        "bracket": "needs a load",
        "tyres": "needs a load",
        "moved": "needs a load",
        "step": "needs the valve's flow and smallest pulse",
        "allowance": "none is entered, or none has a place",
    }
    assert steps["worst"]["words"].endswith("To judge it: needs a tolerance.")
    assert not any(step["lines"] for step in steps.values() if step["reason"])


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"tolerance": 7.41}, "By this linear sum it is inside the tolerance, and the true worst is too."),
        ({"tolerance": 7.4045}, "By this linear sum it is inside the tolerance; the true worst is not."),
        ({"tolerance": 7.0}, "It is outside the tolerance."),
        ({"oil": {"bulk_modulus": 1400, "relief_pressure": 0.1}}, "before the load is on"),
    ],
)
def test_the_sum_says_no_more_of_the_tolerance_than_the_verdict(changed: dict[str, Any], words: str) -> None:
    mount = read_mount(as_document(shipped_mounts()["1-centre-pivot"]) | changed)
    (step,) = (each for each in working(mount, {}, "tilt cylinder", "right")["steps"] if each["key"] == "worst")
    assert words in step["words"]


def test_the_side_the_load_presses_is_not_said_to_carry_where_the_weight_is_the_stronger() -> None:
    # Mount 3: the load pushes the right cylinder with 1206 N, the weight pulls it with 1422 N.
    steps = {
        each["key"]: each
        for each in working(shipped_mounts()["3-twin-cylinders"], {}, "right cylinder", "right")["steps"]
    }
    assert steps["pressure"]["words"].startswith("The load alone pushes the cylinder")
    assert steps["pressure"]["words"].endswith("The weight is the stronger: with it the rod side stays pressed.")


def test_a_loose_mount_has_no_steps_and_says_why() -> None:
    loose = document([cylinder("lift", end("frame", (0, 1000)), end("blade", (0, 0)))])
    answer = working(read_mount(loose), {}, "lift", "left")
    assert answer["steps"] == []
    assert said(answer["reason"]) == "the mount hangs loose: hold it first"


# What goes out


@pytest.mark.parametrize(("name", "cylinder", "end", "move"), [each for each in CASES if each.values[3] == 0.0])
def test_every_answer_has_the_documented_fields_and_plain_mathml(
    name: str, cylinder: str, end: str, move: float
) -> None:
    answer = shipped_working(name, cylinder, end, move)
    assert has_shape(answer, Working)
    shown = [each["symbol"] for step in answer["steps"] for each in step["symbols"]]
    shown += [step["matrix"] for step in answer["steps"] if step["matrix"]]
    for step in answer["steps"]:
        shown += [line[field] for line in step["lines"] for field in ("formula", "substituted") if line[field]]
    assert all(is_plain(each) for each in shown)


def test_no_name_of_the_users_gets_into_a_formula() -> None:
    name = "__import__('os')<mi>&x"
    renamed = (
        document(
            [
                pin(f"{name} pin", "frame", "blade", (-1000, 0), clearance=0.2),
                cylinder(name, end("frame", (800, 1000)), end("blade", (800, 0))),
            ]
        )
        | extras()
    )
    plain = (
        document(
            [
                pin("a", "frame", "blade", (-1000, 0), clearance=0.2),
                cylinder("b", end("frame", (800, 1000)), end("blade", (800, 0))),
            ]
        )
        | extras()
    )
    formulas = [
        [
            line["formula"] + str(line["substituted"])
            for step in working_of(drawn, each).values()
            for line in step["lines"]
        ]
        for drawn, each in ((renamed, name), (plain, "b"))
    ]
    assert formulas[0] == formulas[1]


def test_inches_change_what_is_shown_and_not_the_values() -> None:
    metric, inch = (
        shipped_working("1-centre-pivot", "tilt cylinder", "right", 0.0, system) for system in ("metric", "inch")
    )
    pairs = [
        (ours["result"], theirs["result"])
        for one, other in zip(metric["steps"], inch["steps"], strict=True)
        for ours, theirs in zip(one["lines"], other["lines"], strict=True)
    ]
    assert all(ours["value"] == theirs["value"] for ours, theirs in pairs)
    shown = [(ours["shown"], theirs["shown"]) for ours, theirs in pairs]
    assert ("1200 mm", "47.244 in") in shown
    assert ("6000 N = 6 kN", "1348.9 lbf") in shown


@pytest.mark.parametrize(
    ("cylinder", "end", "system", "place", "message"),
    [
        ("middle", "left", "metric", "cylinder", "there is no cylinder 'middle'; the cylinders are 'left', 'right'"),
        (None, "left", "metric", "cylinder", "there is no cylinder of that kind; the cylinders are 'left', 'right'"),
        (
            ["left"],
            "left",
            "metric",
            "cylinder",
            "there is no cylinder of that kind; the cylinders are 'left', 'right'",
        ),
        ("left", "top", "metric", "end", "there is no end 'top'; give 'left' or 'right'"),
        ("left", "left", "feet", "system", "there is no system 'feet'; give 'metric' or 'inch'"),
    ],
)
def test_what_is_not_there_is_refused_by_name(
    cylinder: object, end: object, system: object, place: str, message: str
) -> None:
    mount: Mount = read_mount(twin())
    with pytest.raises(BadCommand) as refused:
        working(mount, {}, cylinder, end, system)
    assert [(fault.place, typed(fault.filled())) for fault in refused.value.faults] == [(place, message)]


def test_the_shipped_mounts_can_all_be_asked_as_documents() -> None:
    again = read_mount(as_document(shipped_mounts()["3-twin-cylinders"]))
    assert working(again, {}, "left cylinder", "left") == shipped_working(
        "3-twin-cylinders", "left cylinder", "left", 0.0
    )


def test_a_centre_that_no_two_lines_fix_is_said_to_come_from_the_table() -> None:
    """Guides that are not parallel turn the carriage, and the blade with it."""
    leaning = pivot_on_carriage(**extras())
    member_of(leaning, "lower guide")["direction"] = [0.2, 1]
    steps = working_of(leaning, "lift")
    assert [key for key, step in steps.items() if not step["exact"]] == ["centre", "movement", "force", "true worst"]
    assert "the table of equations is solved with numbers" in steps["centre"]["words"]
    assert_every_formula_gives_its_result(list(steps.values()))
    assert_every_result_is_the_readouts(list(steps.values()), readout(read_mount(leaning)))


def test_every_formula_can_be_written_before_anybody_asks() -> None:
    write_all()
    assert all(law.formula for law in every_law())
