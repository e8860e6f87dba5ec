"""Warnings: each at its limit, in its words, and none before."""

import math

import pytest

from app.document.reading import read_mount
from app.results.dead_centre import NEAR_DEAD_CENTRE
from app.results.warnings.near_dead_centre import lever_arm
from tests.answers import readout, said
from tests.mounts import Command, Document, analysed, cylinder, end, hinge, member_of, pin, twin

LOAD = {"at": [1000, 0], "force": [0, 4500]}
"""At 2000 mm from the hinge of the hinged mount: 5000 N in its cylinder, 500 N in the hinge."""

PRESSURE = 1.604
"""MPa of 5000 N on a piston of 63 mm, rounded: 5000 / 3117.2."""


def warnings(document: Document, command: Command | None = None) -> list[tuple[str, str, list[str]]]:
    found = readout(read_mount(document), command)["warnings"]
    return [(each["code"], said(each), each["members"]) for each in found]


def codes(document: Document, command: Command | None = None) -> list[str]:
    return [code for code, _, _ in warnings(document, command)]


def test_a_mount_well_within_its_limits_has_no_warnings() -> None:
    rated = hinge(load=LOAD, oil={"bulk_modulus": 1400, "relief_pressure": 18})
    member_of(rated, "hinge")["rating"] = 60000
    assert warnings(rated) == []


# Pressure and rating


def test_a_pressure_above_the_relief_setting_is_told_with_both_numbers() -> None:
    document = hinge(load=LOAD, oil={"bulk_modulus": 1400, "relief_pressure": 1.5})
    assert warnings(document) == [
        ("over-relief", "'lift' needs 1.6 MPa under the load; the relief valve opens at 1.5 MPa", ["lift"])
    ]


@pytest.mark.parametrize(("relief", "expected"), [(PRESSURE - 0.001, ["over-relief"]), (PRESSURE + 0.001, [])])
def test_the_relief_warning_starts_at_the_relief_setting(relief: float, expected: list[str]) -> None:
    assert codes(hinge(load=LOAD, oil={"bulk_modulus": 1400, "relief_pressure": relief})) == expected


def test_a_pulled_cylinder_is_held_against_the_relief_setting_too() -> None:
    pulled = hinge(load={"at": [1000, 0], "force": [0, -4500]}, oil={"bulk_modulus": 1400, "relief_pressure": 2})
    assert codes(pulled) == ["over-relief"]


def test_oil_without_a_relief_setting_warns_of_nothing() -> None:
    assert codes(hinge(load=LOAD, oil={"bulk_modulus": 1400})) == []


def test_a_joint_above_its_rating_is_told_with_both_numbers_and_its_member() -> None:
    document = hinge(load=LOAD)
    member_of(document, "lift")["ends"][1]["rating"] = 4000
    assert warnings(document) == [
        ("over-rating", "joint 'lift / 2' carries 5.00 kN; it is rated for 4.00 kN", ["lift"])
    ]


@pytest.mark.parametrize(("rating", "expected"), [(499, ["over-rating"]), (501, [])])
def test_the_rating_warning_starts_at_the_rating(rating: float, expected: list[str]) -> None:
    document = hinge(load=LOAD)
    member_of(document, "hinge")["rating"] = rating
    assert codes(document) == expected


def test_a_joint_that_passes_its_rating_only_at_stall_is_told_so() -> None:
    # The cap at 18 MPa pushes with 18 x 3117.2 N = 56.11 kN.
    document = hinge(load=LOAD, oil={"bulk_modulus": 1400, "relief_pressure": 18})
    member_of(document, "lift")["ends"][1]["rating"] = 50_000
    words = "at stall joint 'lift / 2' carries 56.11 kN, if the port relief is set as the relief valve; it is rated for"
    assert warnings(document) == [("over-rating", f"{words} 50.00 kN", ["lift"])]


@pytest.mark.parametrize(("reversing", "expected"), [(False, []), (True, ["lifts-off"])])
def test_a_load_that_acts_both_ways_is_watched_both_ways(reversing: bool, expected: list[str]) -> None:
    # The weight pulls the cylinder with some 1.6 kN; the load downward pulls it too, upward it pushes with 5 kN.
    document = hinge(load={"at": [1000, 0], "force": [0, -4500], "reversing": reversing})
    document["blade"] |= {"mass": 290, "mass_centre": [0, 190]}
    assert codes(document) == expected


# Stroke


def test_a_command_cut_short_by_the_stroke_warns_that_it_is_and_that_none_is_left() -> None:
    assert warnings(twin(), {"left": 250}) == [
        ("stroke-end", "'left' is fully out after 200.0 mm of the 250.0 mm asked for", ["left"]),
        ("stroke-used-up", "'left' is fully out: no stroke is left to lengthen it", ["left"]),
    ]


def test_a_cylinder_drawn_fully_in_has_no_stroke_left_to_shorten_it() -> None:
    document = twin()
    member_of(document, "right")["retracted"] = 800
    assert warnings(document) == [("stroke-used-up", "'right' is fully in: no stroke is left to shorten it", ["right"])]


@pytest.mark.parametrize(("move", "expected"), [(199.4, []), (199.6, ["stroke-used-up"]), (-199.6, ["stroke-used-up"])])
def test_the_last_half_millimetre_of_stroke_counts_as_used_up(move: float, expected: list[str]) -> None:
    assert codes(twin(), {"left": move}) == expected


# Dead centre


def elbow() -> Document:
    """In line when its cylinder is 1800 mm long, 519.4 mm longer than drawn."""
    members = [
        pin("hinge", "frame", "blade", (0, 0)),
        cylinder("lift", end("frame", (0, 1000)), end("blade", (800, 0)), outward=1200),
    ]
    return {**hinge(), "blade": {"left": [0, 0], "right": [1000, 0]}, "members": members}


def test_a_mount_at_its_dead_centre_warns_once() -> None:
    assert warnings(elbow(), {"lift": 600}) == [
        (
            "dead-centre",
            "the mount comes to a dead centre and can be pushed no further: see 'hinge', 'lift'",
            ["hinge", "lift"],
        )
    ]


def test_a_mount_near_its_dead_centre_warns_that_linear_sums_fall_short() -> None:
    assert warnings(elbow(), {"lift": 519.0}) == [
        (
            "near-dead-centre",
            "near a dead centre: 'lift' has a lever arm of 18.3 mm left, and with none it holds nothing; "
            "small errors grow large here, and the linear sums fall short",
            ["lift", "hinge"],
        )
    ]


@pytest.mark.parametrize("move", [0.0, 300.0, 519.0])
def test_the_lever_arm_is_how_far_the_line_passes_from_the_hinge(move: float) -> None:
    first, second, third = 1000.0, 800.0, math.hypot(1000, 800) + move
    half = (first + second + third) / 2
    height = 2 * math.sqrt(half * (half - first) * (half - second) * (half - third)) / third
    assert lever_arm(analysed(elbow(), {"lift": move}), "lift") == pytest.approx(height)
    assert lever_arm(analysed(elbow(), {"lift": move}), "hinge") is None


@pytest.mark.parametrize("move", [400.0, 500.0, 515.0, 518.0, 518.5, 519.0])
def test_the_near_dead_centre_warning_starts_at_its_condition(move: float) -> None:
    condition = analysed(elbow(), {"lift": move}).pose.condition
    assert ("near-dead-centre" in codes(elbow(), {"lift": move})) == (condition > NEAR_DEAD_CENTRE)


def test_near_a_dead_centre_the_blade_would_give_way_by_turning_about_its_hinge() -> None:
    pose = readout(read_mount(elbow()), {"lift": 519.0})["pose"]
    motion, (x, y) = pose["yielding"]["blade"], pose["bodies"]["blade"]["at"]
    turn, (hinge_x, hinge_y) = math.radians(motion["turn"]), member_of(elbow(), "hinge")["at"]
    at_hinge = motion["shift"][0] - turn * (hinge_y - y), motion["shift"][1] + turn * (hinge_x - x)
    assert math.hypot(*at_hinge) < 0.02 * abs(turn) * 1000
    assert readout(read_mount(elbow()), {"lift": 300.0})["pose"]["yielding"] is None


# Sensors


def test_an_allowance_at_sensors_that_are_not_there_is_told() -> None:
    document = twin(allowances=[{"label": "receiver", "plus_minus": 1.5, "at": "sensors"}])
    text = "an allowance stands at the sensors, but there are none: it is left out of the budget"
    assert warnings(document) == [("no-sensors", text, [])]


def test_sensors_near_one_another_are_told_with_what_they_multiply() -> None:
    document = twin(sensors={"left": [-200, 1700], "right": [200, 1700]})
    assert warnings(document) == [
        (
            "sensors-close",
            "the sensors stand so near one another that an error at one of them is 3.00 times as large at an end",
            [],
        )
    ]
    assert warnings(twin(sensors={"left": [-210, 1700], "right": [210, 1700]})) == []


# Relief, with the weight


def test_the_weight_counts_toward_the_relief_pressure_where_it_pushes_the_same_way() -> None:
    # The load, 10 kN down at the right, pulls the right cylinder; the weight, 1000 kg in the middle, pulls it too.
    document = twin(load={"at": [800, 0], "force": [0, -10000]})
    document["blade"] |= {"mass": 1000, "mass_centre": [0, 190]}
    cylinder = member_of(document, "right")
    annulus = math.pi / 4 * (cylinder["bore"] ** 2 - cylinder["rod"] ** 2)
    alone, together = 10000 / annulus, (10000 + 1000 * 9.80665 / 2) / annulus
    document["oil"] = {"bulk_modulus": 1400, "relief_pressure": (alone + together) / 2}
    found = [(code, text) for code, text, _ in warnings(document) if code == "over-relief"]
    relief = document["oil"]["relief_pressure"]
    assert found == [
        (
            "over-relief",
            f"'right' needs {together:.1f} MPa under weight and load; the relief valve opens at {relief:.1f} MPa",
        )
    ]
