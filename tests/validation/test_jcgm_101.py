"""JCGM 101:2008, propagation of distributions by a Monte Carlo method: the additive examples of clause 9.2.

9.2.3: the sum of four rectangular quantities of mean 0 and standard deviation 1 has a standard uncertainty of 2.00 and
a 95 % interval of +-3.88, in closed form +-2 sqrt 3 (2 - (3/5)^(1/4)).
9.2.4: the same with one of the four of standard deviation 10: standard uncertainty 10.1 and a 95 % interval of +-17.0.
Both from memory, supported by recomputation: the closed form of the first, and of the second the sum's distribution
integrated numerically (+-17.016).

Each quantity is an allowance at an end of the blade, which is rectangular.
"""

import math
from typing import Any

import pytest

from app.results.spread import BLOCK as DRAWS
from app.sources.source import Source
from tests.answers import spread

SIX_SIGMA_OF_A_DEVIATION = 6 / math.sqrt(2 * DRAWS)
"""Relative; a standard deviation found from this many draws has one of its own of 1 / sqrt(2 n) at the most."""

HALF_A_DIGIT_AND_SIX_SIGMA = 0.005 + 0.09
"""Of 3.88: its rounding, and six deviations of a 2.5 % quantile of 100 000 draws where the density is 0.033."""

HALF_A_DIGIT_AND_SIX_SIGMA_WIDE = 0.05 + 0.18
"""Of 17.0: the same, where the density is 0.016."""


def sum_of(*deviations: float) -> dict[str, Any]:
    """The spread at the left end of rectangular quantities of these standard deviations."""
    listed = [
        Source(f"X{number}", None, "allowance", {"left": (deviation * math.sqrt(3),), "right": (0.0,)})
        for number, deviation in enumerate(deviations, 1)
    ]
    found: dict[str, Any] = spread(listed)["left"]
    return found


def test_clause_9_2_3_four_rectangular_quantities_have_the_printed_uncertainty_and_interval() -> None:
    found = sum_of(1, 1, 1, 1)

    closed_form = 2 * math.sqrt(3) * (2 - (3 / 5) ** (1 / 4))
    assert round(closed_form, 2) == 3.88
    assert found["deviation"] == pytest.approx(2.00, rel=SIX_SIGMA_OF_A_DEVIATION)
    assert found["interval_95"] == pytest.approx([-3.88, 3.88], abs=HALF_A_DIGIT_AND_SIX_SIGMA)


def test_clause_9_2_3_interval_is_narrower_than_that_of_a_normal_distribution() -> None:
    low, high = sum_of(1, 1, 1, 1)["interval_95"]

    assert (high - low) / 2 < 1.96 * 2.00


def test_clause_9_2_4_one_dominant_quantity_has_the_printed_uncertainty_and_interval() -> None:
    found = sum_of(1, 1, 1, 10)

    assert found["deviation"] == pytest.approx(math.sqrt(103), rel=SIX_SIGMA_OF_A_DEVIATION)
    assert round(math.sqrt(103), 1) == 10.1
    assert found["interval_95"] == pytest.approx([-17.0, 17.0], abs=HALF_A_DIGIT_AND_SIX_SIGMA_WIDE)
