"""Adding up ranges: what a tolerance means and how ranges add.

ficientdesign.com/tolerance-stack-up-analysis (a blog): three parts of 2.000 +-.005, 1.500 +-.003 and 0.500 +-.002 in a
housing of 4.020 +-.005 in; worst case +-.015, root sum of squares .00616 for the parts alone. Seen; .00794 for all
four recomputed.
SportsTurf, May 2012, p. 27: a field base finished within 1/4 in over the plane, which is +-1/8 in about it. Seen.

Each range is an allowance at the ends of a blade whose joints have no play.
"""

import pytest

from app.document.models import Mount
from app.document.units import MM_PER_INCH
from tests.answers import readout

from .mechanisms import ROUNDING, Document, mount_of, pin, rod

PARTS = (0.005, 0.003, 0.002)
HOUSING = 0.005

HALF_A_DIGIT_OF_5_PLACES = 0.000005
"""Half a unit of the last printed digit of the root sums, in."""


def blade_with_allowances(*plus_minus: float, tolerance: float | None = None) -> Mount:
    """A blade without play and with these ranges at its ends, all in inches."""
    members = [pin("pivot", "frame", "blade", (0, 0)), rod("link", ("frame", (500, 800)), ("blade", (500, 0)))]
    allowances = [
        {"label": f"part {number}", "plus_minus": size * MM_PER_INCH, "at": "ends"}
        for number, size in enumerate(plus_minus, 1)
    ]
    more: Document = {} if tolerance is None else {"tolerance": tolerance * MM_PER_INCH}
    return mount_of(members, (-1_000, 0), (1_000, 0), allowances=allowances, **more)


@pytest.mark.parametrize("end", ["left", "right"])
def test_blog_example_three_parts_in_a_housing_stack_to_the_printed_worst_case(end: str) -> None:
    found = readout(blade_with_allowances(*PARTS, HOUSING))["budget"][end]

    assert found["worst"] / MM_PER_INCH == pytest.approx(0.015, rel=ROUNDING)
    assert found["band"] / MM_PER_INCH == pytest.approx(0.035 - 0.005, rel=ROUNDING)


@pytest.mark.parametrize(
    ("ranges", "printed"),
    [pytest.param(PARTS, 0.00616, id="parts"), pytest.param((*PARTS, HOUSING), 0.00794, id="parts and housing")],
)
def test_blog_example_ranges_stack_to_the_printed_root_sum_of_squares(
    ranges: tuple[float, ...], printed: float
) -> None:
    found = readout(blade_with_allowances(*ranges))["budget"]["left"]

    assert found["rss"] / MM_PER_INCH == pytest.approx(printed, abs=HALF_A_DIGIT_OF_5_PLACES)


@pytest.mark.parametrize(("plus_minus", "inside"), [(0.124, True), (0.126, False)])
def test_sportsturf_quarter_inch_over_the_plane_is_a_tolerance_of_an_eighth_either_way(
    plus_minus: float, inside: bool
) -> None:
    answer = readout(blade_with_allowances(plus_minus, tolerance=1 / 8))["budget"]

    assert answer["inside"] is inside
    assert (answer["left"]["band"] < 0.25 * MM_PER_INCH) is inside
