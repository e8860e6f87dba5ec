"""Grading and finishing tolerances of published specifications, offered as presets.

FAA P-152 par. 2.13, quoted in a construction checklist: paved-area grade within 0.05 ft (15.24 mm), safety-area grade
within 0.10 ft (30.48 mm). Second-hand.
UK Specification for Highway Works, series 700, as Table 5.4 of a thesis at 1library.co and the same figures in the
specification of a council: levels of surface and binder course +-6 mm, base +-15 mm. Second-hand.
Lawrenceburg, Indiana, code s. 155.080: earth subgrade not over 1/2 in from true. Seen.
SportsTurf, May 2012, p. 27 (read.dmtmag.com/i/64785/27): a field base within 1/4 in over the plane, that is +-1/8 in
about it; +-1/4 in is 1/2 in in total. Seen.
"""

import pytest

from app.document.units import MM_PER_INCH
from app.standards.gradings import GRADINGS
from tests.answers import readout

from .mechanisms import ROUNDING, mount_of, pin, rod

MM_PER_FOOT = 304.8
"""1 ft = 0.3048 m, exact."""

TWO_DIGITS = 0.005
"""Half a unit of the last digit of a conversion printed to hundredths of a millimetre."""


def preset(words: str) -> float:
    """The tolerance of the one preset whose label has these words, +- mm."""
    (found,) = (grading.tolerance for grading in GRADINGS if words in grading.label)
    return found


def inside_with(plus_minus: float, tolerance: float) -> bool:
    """Whether a blade without play whose end may be out by this much either way, mm, is inside a tolerance."""
    members = [pin("pivot", "frame", "blade", (0, 0)), rod("link", ("frame", (500, 800)), ("blade", (500, 0)))]
    wear = [{"label": "edge wear", "plus_minus": plus_minus, "at": "ends"}]
    mount = mount_of(members, (-1_000, 0), (1_000, 0), allowances=wear, tolerance=tolerance)
    inside: bool = readout(mount)["budget"]["inside"]
    return inside


@pytest.mark.parametrize(
    ("words", "feet", "printed_mm"),
    [("paved area", 0.05, 15.24), ("safety area", 0.10, 30.48)],
)
def test_faa_p_152_grade_is_its_fraction_of_a_foot(words: str, feet: float, printed_mm: float) -> None:
    assert preset(words) == pytest.approx(feet * MM_PER_FOOT, rel=ROUNDING)
    assert preset(words) == pytest.approx(printed_mm, abs=TWO_DIGITS)


@pytest.mark.parametrize(("words", "printed_mm"), [("surface or binder course", 6), ("road base level", 15)])
def test_highway_works_series_700_level_is_the_printed_millimetres_either_way(words: str, printed_mm: float) -> None:
    assert preset(words) == printed_mm


def test_lawrenceburg_subgrade_not_over_half_an_inch_from_true_is_half_an_inch_either_way() -> None:
    assert preset("earth subgrade") == pytest.approx(0.5 * MM_PER_INCH, rel=ROUNDING)


def test_sportsturf_quarter_inch_over_the_plane_is_an_eighth_either_way() -> None:
    assert preset("sports field base") == pytest.approx(MM_PER_INCH / 8, rel=ROUNDING)


@pytest.mark.parametrize(("total_in_inches", "inside"), [(0.249, True), (0.25, True), (0.251, False), (0.5, False)])
def test_sportsturf_base_passes_while_its_whole_travel_is_within_the_quarter_inch(
    total_in_inches: float, inside: bool
) -> None:
    either_way = total_in_inches * MM_PER_INCH / 2

    assert inside_with(either_way, preset("sports field base")) is inside


def test_sportsturf_quarter_inch_either_way_is_half_an_inch_in_total_and_twice_the_preset() -> None:
    quarter_either_way = MM_PER_INCH / 4

    assert 2 * quarter_either_way == pytest.approx(MM_PER_INCH / 2, rel=ROUNDING)
    assert quarter_either_way == pytest.approx(2 * preset("sports field base"), rel=ROUNDING)
    assert inside_with(quarter_either_way, preset("sports field base")) is False
