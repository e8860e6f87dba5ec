"""R. L. Norton, Design of Machinery (McGraw-Hill): four-bar and slider-crank positions, chapter 4.

Example 4-1 and Example 4-2: inputs and printed angles from memory, supported by the recomputed digits in brackets.
Chapter 4 problem table, row a: inputs seen in a solved-problem listing on numerade.com, printed angles from memory.
A lecture worksheet on an in-line slider-crank (coursehero.com/file/6680931/fourbar-mathcad): printed angle seen; the
lengths, 10 in and 20 in, are not in the excerpt and are inferred from the angle and two speeds it prints.
Freudenstein's equation: F. Freudenstein, "An analytical approach to the design of four-link mechanisms", Trans. ASME
76, 1954 (cited from memory); an identity, with no printed number.
Transmission angles: derived by the law of cosines, not published.
"""

import math

import pytest

from .mechanisms import NORTON_EXAMPLE_4_1, NORTON_ROW_A, ROUNDING, WAY_AHEAD, FourBar, slider_crank

HALF_A_HUNDREDTH = 0.005
"""Half a unit of the last printed digit, degrees or mm."""

EXAMPLE_4_1_DIGIT = 0.01
"""Example 4-1 prints 57.32 and -98.01 for 57.325 and -98.005: a whole unit of its last digit, degrees."""

HALF_A_THOUSANDTH = 0.0005
"""Half a unit of the last digit of the angles given to three places, degrees."""


@pytest.mark.parametrize(
    ("branch", "coupler", "rocker"),
    [
        pytest.param("open", 20.30, 57.32, id="open (20.298, 57.325)"),
        pytest.param("crossed", -60.98, -98.01, id="crossed (-60.978, -98.005)"),
    ],
)
def test_norton_example_4_1_crank_at_40_degrees_gives_the_printed_coupler_and_rocker_angles(
    branch: str, coupler: float, rocker: float
) -> None:
    reached = NORTON_EXAMPLE_4_1.linkage(branch, drawn_at=40 + WAY_AHEAD).angles_at(40)

    assert reached["crank"] == pytest.approx(40, rel=ROUNDING)
    assert reached["blade"] == pytest.approx(coupler, abs=EXAMPLE_4_1_DIGIT)
    assert reached["rocker"] == pytest.approx(rocker, abs=EXAMPLE_4_1_DIGIT)


@pytest.mark.parametrize(
    ("branch", "coupler", "rocker"),
    [
        pytest.param("open", 88.84, 117.29, id="open (88.8372, 117.2861)"),
        pytest.param("crossed", -115.21, -143.66, id="crossed (-115.2108, -143.6596)"),
    ],
)
def test_norton_chapter_4_row_a_crank_at_30_degrees_gives_the_printed_coupler_and_rocker_angles(
    branch: str, coupler: float, rocker: float
) -> None:
    reached = NORTON_ROW_A.linkage(branch, drawn_at=30 + WAY_AHEAD).angles_at(30)

    assert reached["crank"] == pytest.approx(30, rel=ROUNDING)
    assert reached["blade"] == pytest.approx(coupler, abs=HALF_A_HUNDREDTH)
    assert reached["rocker"] == pytest.approx(rocker, abs=HALF_A_HUNDREDTH)


def test_norton_chapter_4_row_a_is_reached_alike_from_a_drawing_on_either_side() -> None:
    from_above = NORTON_ROW_A.linkage("open", drawn_at=30 + WAY_AHEAD).angles_at(30)
    from_below = NORTON_ROW_A.linkage("open", drawn_at=30 - WAY_AHEAD).angles_at(30)

    assert from_above == pytest.approx(from_below, rel=ROUNDING)


def test_norton_chapter_4_row_a_transmission_angle_is_28_449_degrees_derived() -> None:
    reached = NORTON_ROW_A.linkage("open", drawn_at=30 + WAY_AHEAD).angles_at(30)

    assert reached["rocker"] - reached["blade"] == pytest.approx(28.449, abs=HALF_A_THOUSANDTH)


@pytest.mark.parametrize(("crank", "between"), [(0, 26.384), (40, 37.027), (180, 86.417)])
def test_norton_example_4_1_transmission_angle_at_its_extremes_and_at_40_degrees_derived(
    crank: float, between: float
) -> None:
    reached = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=crank - WAY_AHEAD).angles_at(crank)

    assert reached["rocker"] - reached["blade"] == pytest.approx(between, abs=HALF_A_THOUSANDTH)


@pytest.mark.parametrize("crank", [20, 45, 70, 110, 135, 160])
@pytest.mark.parametrize("branch", ["open", "crossed"])
@pytest.mark.parametrize("links", [NORTON_EXAMPLE_4_1, NORTON_ROW_A], ids=["example 4-1", "row a"])
def test_freudensteins_equation_holds_between_crank_and_rocker(links: FourBar, branch: str, crank: float) -> None:
    reached = links.linkage(branch, drawn_at=90).angles_at(crank)
    theta_2, theta_4 = math.radians(reached["crank"]), math.radians(reached["rocker"])
    a, b, c, d = links.crank, links.coupler, links.rocker, links.ground
    k1, k2, k3 = d / a, d / c, (a**2 - b**2 + c**2 + d**2) / (2 * a * c)

    residual = k1 * math.cos(theta_4) - k2 * math.cos(theta_2) + k3 - math.cos(theta_2 - theta_4)

    assert reached["crank"] == pytest.approx(crank, rel=ROUNDING)
    assert residual == pytest.approx(0, abs=ROUNDING)


@pytest.mark.parametrize(
    ("branch", "coupler", "block"),
    [
        pytest.param("open", 152.91, 126.84, id="open (152.9131, 126.838)"),
        pytest.param("crossed", 27.09, -86.84, id="crossed (27.0869, -86.838)"),
    ],
)
def test_norton_example_4_2_offset_slider_crank_gives_the_printed_coupler_angle_and_block_place(
    branch: str, coupler: float, block: float
) -> None:
    linkage = slider_crank(crank=40, coupler=120, offset=-20, branch=branch, drawn_at=60 + WAY_AHEAD)

    angles = linkage.angles_at(60)
    x, y = linkage.readout_at(60)["pose"]["members"]["block pin"]["at"]

    assert angles["crank"] == pytest.approx(60, rel=ROUNDING)
    assert angles["blade"] == pytest.approx(coupler, abs=HALF_A_HUNDREDTH)
    assert x == pytest.approx(block, abs=HALF_A_HUNDREDTH)
    assert y == pytest.approx(-20, rel=ROUNDING)


def test_lecture_worksheet_in_line_slider_crank_at_45_degrees_has_its_coupler_at_159_295_degrees() -> None:
    linkage = slider_crank(crank=254, coupler=508, offset=0, branch="open", drawn_at=45 + WAY_AHEAD)

    assert linkage.angles_at(45)["blade"] == pytest.approx(159.295, abs=HALF_A_THOUSANDTH)
