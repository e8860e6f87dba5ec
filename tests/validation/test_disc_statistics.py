"""Points spread evenly over a disc, and over an interval.

NIST/SEMATECH e-Handbook of Statistical Methods, mpc5331: a bias spread evenly within +-max has a standard deviation of
max / sqrt 3. Rule seen in part.
github.com/CABBAjoy/math-methods-data-analysis, stored output: a point even over a disc of R = 3 has a mean distance of
2 R / 3 = 2.0 from the centre and a variance of R^2 / 18 = 0.5. Seen; 2/3 also at quantvault.org, 1481.
One coordinate of the same point has a variance of R^2 / 4, so a standard deviation of R / 2: from memory, supported by
recomputation.

A pin's offset is read back from the spread of a blade whose left end follows it along one axis and its right end along
another; its distance from the centre only from the draws themselves.
"""

import math

import numpy as np
import pytest

from app.document.parts import EndName
from app.results.spread import BLOCK as DRAWS
from app.results.spread import _row, standard_deviation
from app.sources.source import Source
from tests.answers import spread

from .mechanisms import ROUNDING

RADIUS = 3.0

SIX_SIGMA_OF_A_DEVIATION = 6 / math.sqrt(2 * DRAWS)
"""Relative; a standard deviation found from this many draws has one of its own of 1 / sqrt(2 n) at the most."""

SIX_SIGMA_OF_A_MEAN = 6 / math.sqrt(DRAWS)
"""Share of the standard deviation."""

SIX_SIGMA_OF_A_SHARE = 6 * math.sqrt(0.25 / DRAWS)
"""Of a share of the draws, at its widest, one half."""


def pin(left: tuple[float, float], right: tuple[float, float] = (0.0, 0.0)) -> Source:
    """A pin with an offset in a disc of radius 3; each end of the blade follows it along an axis."""
    reach: dict[EndName, tuple[float, float]] = {
        "left": (RADIUS * left[0], RADIUS * left[1]),
        "right": (RADIUS * right[0], RADIUS * right[1]),
    }
    return Source("pin", "pin", "clearance", reach, chance="disc")


@pytest.mark.parametrize("degrees", [0, 30, 45, 90, 210])
def test_one_coordinate_of_a_disc_spreads_by_half_its_radius_along_any_axis(degrees: float) -> None:
    source = pin((math.cos(math.radians(degrees)), math.sin(math.radians(degrees))))

    found = spread([source])["left"]

    assert standard_deviation(source, "left") == pytest.approx(RADIUS / 2, rel=ROUNDING)
    assert found["deviation"] == pytest.approx(RADIUS / 2, rel=SIX_SIGMA_OF_A_DEVIATION)
    assert found["mean"] == pytest.approx(0, abs=SIX_SIGMA_OF_A_MEAN * RADIUS / 2)


def test_one_coordinate_of_a_rod_end_spreads_by_half_its_radius_too() -> None:
    source = Source("rod / 1", "rod", "clearance", {"left": (RADIUS,), "right": (0.0,)}, chance="disc")

    assert spread([source])["left"]["deviation"] == pytest.approx(RADIUS / 2, rel=SIX_SIGMA_OF_A_DEVIATION)


@pytest.mark.parametrize("number", [0, 7])
def test_distance_from_the_centre_of_a_disc_of_3_has_the_mean_2_and_the_variance_a_half(number: int) -> None:
    x, y = (RADIUS * _row(f"disc {axis}", number, 0).astype(float) for axis in ("x", "y"))
    distance = np.hypot(x, y)

    # The variance of a variance, from the moments of this distance, is below 2 / n of it squared.
    assert distance.mean() == pytest.approx(2.0, abs=SIX_SIGMA_OF_A_MEAN * math.sqrt(0.5))
    assert distance.var() == pytest.approx(0.5, rel=2 * SIX_SIGMA_OF_A_DEVIATION)


def test_offsets_fill_the_disc_and_not_a_square_or_a_rim() -> None:
    # The square drawn into a circle covers 2 / pi of it.
    found = spread([pin((1, 0), (0, 1))], tolerance=RADIUS / math.sqrt(2))

    assert found["outside"] == pytest.approx(1 - 2 / math.pi, abs=SIX_SIGMA_OF_A_SHARE)


def test_nist_a_bias_even_within_plus_minus_max_spreads_by_max_over_root_3() -> None:
    source = Source("bias", None, "allowance", {"left": (RADIUS,), "right": (0.0,)})

    found = spread([source])["left"]

    assert standard_deviation(source, "left") == pytest.approx(RADIUS / math.sqrt(3), rel=ROUNDING)
    assert found["deviation"] == pytest.approx(RADIUS / math.sqrt(3), rel=SIX_SIGMA_OF_A_DEVIATION)
