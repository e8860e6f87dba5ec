"""A ratio that is given over the same run holds for a tenth more load, or the page says why it does not."""

import pytest

from app.comparison.runs import compare_runs
from app.shipped import shipped_mounts
from tests.comparison.test_ratios_hold import LOADS, MOST, PAIRS, ratio, with_load
from tests.samples import the_rest

SHIPPED = shipped_mounts()
STEPS = [(a, b, newtons) for a, b in PAIRS for newtons in LOADS[:-1]]
QUICK = STEPS[100::382]
"""Three of different pairs and loads."""
TASK = {"seconds": 8, "start": {"right": -20}}


@pytest.mark.parametrize(("a", "b", "newtons"), [*QUICK, *the_rest(*[each for each in STEPS if each not in QUICK])])
def test_no_ratio_over_a_run_changes_by_more_than_twice_for_a_tenth_more_load(a: str, b: str, newtons: float) -> None:
    before, after = (
        compare_runs(with_load(SHIPPED[a], load), with_load(SHIPPED[b], load), TASK).rows
        for load in (newtons, 1.1 * newtons)
    )
    for one, other in zip(before, after, strict=True):
        once, again = ratio(one), ratio(other)
        if once and again:
            assert max(once, again) <= MOST * min(once, again), one.name
