"""R. L. Norton, Design of Machinery (McGraw-Hill): velocities and instant centres, chapter 6.

Examples 6-7 and 6-8: inputs and printed speeds from memory, supported by the recomputed digits in brackets.
Chapter 6 problem table, row a: inputs seen in a solved-problem listing on numerade.com, printed speeds from memory.
Instant centres of Example 6-7: derived by Kennedy's theorem, not published; they give the printed speeds.
A lecture worksheet on an in-line slider-crank (coursehero.com/file/6680931/fourbar-mathcad): printed speeds seen; the
lengths, 10 in and 20 in, are not in the excerpt and are inferred.
The engine gives movement per mm of cylinder; ratios of it are the ratios of the speeds.
"""

import math

import pytest

from app.document.units import MM_PER_INCH
from app.solve.sensitivity import velocities

from .mechanisms import NORTON_EXAMPLE_4_1, NORTON_ROW_A, ROUNDING, WAY_AHEAD, slider_crank

HALF_A_THOUSANDTH = 0.0005
"""Half a unit of the last printed digit, rad/s, in/s or mm."""

HALF_A_HUNDREDTH = 0.005
"""Half a unit of the last printed digit, rad/s or mm/s."""

HALF_A_MILLIONTH = 0.0000005
"""Half a unit of the last digit of the derived speed ratio."""

HALF_A_TEN_THOUSANDTH = 0.00005
"""Half a unit of the last digit of the derived centre on the ground line, mm."""


def test_norton_example_6_7_crank_at_25_rad_s_turns_coupler_and_rocker_at_the_printed_speeds() -> None:
    turns = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40 + WAY_AHEAD).turn_per_crank_turn(40)

    assert 25 * turns["blade"] == pytest.approx(-4.121, abs=HALF_A_THOUSANDTH)
    assert 25 * turns["rocker"] == pytest.approx(6.998, abs=HALF_A_THOUSANDTH)


def test_norton_example_6_7_rocker_speed_follows_from_the_heights_of_the_two_ends_in_the_readout() -> None:
    answer = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40 + WAY_AHEAD).readout_at(40)
    driver, ends = answer["actuators"]["driver"], answer["pose"]["ends"]

    # A height that changes at v, an arm of x beside the pivot: the link turns at v / x.
    crank_turn = driver["left"] / ends["left"][0]
    rocker_turn = driver["right"] / (ends["right"][0] - NORTON_EXAMPLE_4_1.ground)

    assert 25 * rocker_turn / crank_turn == pytest.approx(6.998, abs=HALF_A_THOUSANDTH)


def test_norton_example_6_7_crank_turns_alike_by_the_bodies_speeds_and_by_the_readouts_height() -> None:
    linkage = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40 + WAY_AHEAD)
    answer = linkage.readout_at(40)

    by_speed = velocities(*linkage.posed_at(40))[linkage.place_of("crank") + 2, 0]
    by_height = answer["actuators"]["driver"]["left"] / answer["pose"]["ends"]["left"][0]

    assert by_speed == pytest.approx(by_height, rel=ROUNDING)


@pytest.mark.parametrize(
    ("branch", "coupler", "rocker"),
    [
        pytest.param("open", -5.99, -3.99, id="open (-5.9910, -3.9917)"),
        pytest.param("crossed", -0.66, -2.66, id="crossed (-0.6624, -2.6616)"),
    ],
)
def test_norton_chapter_6_row_a_crank_at_10_rad_s_turns_coupler_and_rocker_at_the_printed_speeds(
    branch: str, coupler: float, rocker: float
) -> None:
    turns = NORTON_ROW_A.linkage(branch, drawn_at=30 + WAY_AHEAD).turn_per_crank_turn(30)

    assert 10 * turns["blade"] == pytest.approx(coupler, abs=HALF_A_HUNDREDTH)
    assert 10 * turns["rocker"] == pytest.approx(rocker, abs=HALF_A_HUNDREDTH)


def test_norton_example_6_7_coupler_turns_about_the_crossing_of_crank_and_rocker_derived() -> None:
    answer = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40 + WAY_AHEAD).readout_at(40)
    centre = answer["actuators"]["driver"]["instant_centre"]
    crank_pin = answer["pose"]["members"]["crank pin"]["at"]

    assert centre == pytest.approx((216.534, 181.693), abs=HALF_A_THOUSANDTH)
    # The crank pin goes round both the crank pivot, at 25 rad/s on 40 mm, and the instant centre.
    assert 25 * 40 / math.dist(centre, crank_pin) == pytest.approx(4.121, abs=HALF_A_THOUSANDTH)


def test_norton_example_6_7_crank_and_rocker_share_the_centre_that_kennedys_theorem_gives_derived() -> None:
    turn = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40 + WAY_AHEAD).turn_per_crank_turn(40)["rocker"]

    # The place x on the ground line where both links go equally fast: x = turn * (x - ground).
    shared = -turn * NORTON_EXAMPLE_4_1.ground / (1 - turn)

    assert turn == pytest.approx(0.279919, abs=HALF_A_MILLIONTH)
    assert shared == pytest.approx(-38.8733, abs=HALF_A_TEN_THOUSANDTH)


def test_norton_example_6_8_crank_at_minus_30_rad_s_turns_the_coupler_at_5_616_rad_s() -> None:
    linkage = slider_crank(crank=40, coupler=120, offset=-20, branch="open", drawn_at=60 + WAY_AHEAD)

    assert -30 * linkage.turn_per_crank_turn(60)["blade"] == pytest.approx(5.616, abs=HALF_A_THOUSANDTH)


def test_norton_example_6_8_block_slides_at_1346_09_mm_s_derived() -> None:
    linkage = slider_crank(crank=40, coupler=120, offset=-20, branch="open", drawn_at=60 + WAY_AHEAD)

    assert -30 * linkage.shift_per_crank_turn("block", 60) == pytest.approx(1346.09, abs=HALF_A_HUNDREDTH)


def test_lecture_worksheet_in_line_slider_crank_at_1_rad_s_has_the_printed_coupler_and_block_speeds() -> None:
    linkage = slider_crank(crank=254, coupler=508, offset=0, branch="open", drawn_at=45 + WAY_AHEAD)

    block_inch = linkage.shift_per_crank_turn("block", 45) / MM_PER_INCH

    assert abs(linkage.turn_per_crank_turn(45)["blade"]) == pytest.approx(0.378, abs=HALF_A_THOUSANDTH)
    assert abs(block_inch) == pytest.approx(9.744, abs=HALF_A_THOUSANDTH)
