"""Sentences with values in them: filled in with the reader's units, and never mistaken for one another."""

import json

import pytest

from app.document.errors import Fault
from app.document.messages import Message, Value, filled, word
from app.document.units import QUANTITIES, SYSTEMS, Measure, System, amount
from app.results.answer import as_plain
from tests.answers import typed


def test_a_number_stands_in_its_sentence_in_the_units_of_the_reader() -> None:
    message = Message("over-relief", "it needs {needed}", values={"needed": (21, "pressure")})
    assert typed(message.filled()) == typed(message.filled("metric")) == "it needs 21.0 MPa"
    assert typed(message.filled("inch")) == "it needs 3046 psi"


@pytest.mark.parametrize(
    ("value", "measure", "metric", "inch"),
    [
        (25.4, "error", "25.40 mm", "1.000 in"),
        (25.4, "fine", "25.4 mm", "1.00 in"),
        (25.4, "length", "25 mm", "1.0 in"),
        (4500, "force", "4.50 kN", "1012 lbf"),
        (21, "pressure", "21.0 MPa", "3046 psi"),
        (1400, "modulus", "1400 MPa", "203053 psi"),
        (290, "mass", "290 kg", "639 lb"),
        (120.8, "line mass", "120.8 kg/m", "81.2 lb/ft"),
        (3, "ratio", "3.00", "3.00"),
        (0.061, "percent", "6.10 %", "6.10 %"),
        (1.5, "angle", "1.50°", "1.50°"),
        (3117, "area", "3117 mm²", "4.83 in²"),
        (150, "volume", "150.0 mL", "9.15 in³"),
        (12, "flow", "12.0 L/min", "3.17 gal/min"),
        (64, "speed", "64 mm/s", "2.5 in/s"),
        (350, "stiffness", "350 N/mm", "1999 lbf/in"),
        (12, "count", "12", "12"),
        (0.75, "time", "0.75 s", "0.75 s"),
        (2.5, "rate", "2.50 1/s", "2.50 1/s"),
        (0.8, "pace", "0.80 m/s", "2.62 ft/s"),
        (6, "way", "6.0 m", "19.7 ft"),
    ],
)
def test_every_quantity_is_shown_in_either_system(value: float, measure: Measure, metric: str, inch: str) -> None:
    assert (typed(amount(value, measure, "metric")), typed(amount(value, measure, "inch"))) == (metric, inch)


def test_the_table_of_quantities_is_tried_whole() -> None:
    (marks,) = test_every_quantity_is_shown_in_either_system.pytestmark  # type: ignore[attr-defined]
    assert {measure for _, measure, _, _ in marks.args[1]} == QUANTITIES.keys()


def test_a_number_and_its_unit_are_kept_on_one_line() -> None:
    assert amount(21, "pressure") == "21.0\N{NO-BREAK SPACE}MPa"


def test_a_negative_number_has_a_minus_sign_and_no_hyphen() -> None:
    assert typed(amount(-3, "fine")) == "\N{MINUS SIGN}3.0 mm"


@pytest.mark.parametrize(
    ("value", "measure", "shown"),
    [
        (0.004, "error", "0.004 mm"),
        (0.0042, "error", "0.0042 mm"),
        (0.00996, "error", "0.01 mm"),
        (0.001, "fine", "0.001 mm"),
        (3.14159, "force", "0.0031 kN"),
        (0.4, "length", "0.4 mm"),
        (-0.0042, "error", "−0.0042 mm"),
        (0, "error", "0.00 mm"),
    ],
)
def test_a_small_number_keeps_two_figures_and_no_idle_zeros(value: float, measure: Measure, shown: str) -> None:
    assert typed(amount(value, measure)) == shown


def test_a_number_too_small_to_be_anything_is_shown_as_nothing_and_not_with_two_hundred_zeros() -> None:
    assert typed(amount(1e-200, "error")) == "0.00 mm"
    assert typed(amount(-5e-324, "error")) == "0.00 mm"


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_word_is_shown_as_it_stands_in_both_systems(system: System) -> None:
    message = Message(
        "x", "'{name}' and joint '{joint}'", values={"name": word("25.4 mm"), "joint": ("a / 1", "joint")}
    )
    assert message.filled(system) == "'25.4 mm' and joint 'a / 1'"


def test_what_stands_in_braces_and_is_no_value_stays_as_it_is() -> None:
    assert filled("expected an object { } or {this}, found {found}", {"found": word("[ ]")}) == (
        "expected an object { } or {this}, found [ ]"
    )


def test_a_users_name_with_braces_is_taken_for_no_place() -> None:
    values: dict[str, Value] = {"name": word("{needed}"), "needed": (21, "pressure"), "other": word("{name}{0}{")}
    assert typed(filled("'{name}' needs {needed} beside '{other}'", values)) == (
        "'{needed}' needs 21.0 MPa beside '{name}{0}{'"
    )


def test_a_message_leaves_as_plain_json_with_its_values_beside_the_sentence() -> None:
    message = Message(
        "over-relief", "'{name}' needs {needed}", ["lift"], {"name": word("lift"), "needed": (21.5, "pressure")}
    )
    assert json.loads(json.dumps(as_plain(message))) == {
        "code": "over-relief",
        "text": "'{name}' needs {needed}",
        "members": ["lift"],
        "values": {"name": ["lift", "word"], "needed": [21.5, "pressure"]},
    }


def test_a_fault_reads_with_its_place_before_its_sentence_in_metric_units() -> None:
    fault = Fault("members[0].bore", "the bore of {bore} is too small", {"bore": (50.8, "fine")}, "bore-not-larger")
    assert typed(str(fault)) == "members[0].bore: the bore of 50.8 mm is too small"
    assert typed(fault.filled("inch")) == "the bore of 2.00 in is too small"
