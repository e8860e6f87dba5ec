"""What a run comes to, from heights that are given: each number by its definition."""

import math

import numpy as np
import pytest

from app.grading.batch import Trace
from app.grading.hunting import hunting
from app.grading.summary import RunSummary, summary, time_to_grade
from app.solve.equations import Array

STEP = 0.01
TIMES = STEP * np.arange(2001)
"""20 s."""


def summed(left: Array, right: Array, *, used: Array | None = None, start: tuple[float, float] = (0, 0)) -> RunSummary:
    """The summary of ends at heights, each end with a cylinder of its own that takes ``used`` of the flow."""
    steps = len(TIMES) - 1
    flows = np.zeros((1, steps, 2)) if used is None else used[None]
    heights = np.stack([left, right, left, right], axis=1)[None]
    trace = Trace(
        times=TIMES,
        lengths=np.zeros((1, steps + 1, 2)),
        followed=np.zeros((1, steps + 1, 2)),
        heights=heights,
        flows=flows,
        used=np.abs(flows),
        starts=(np.diff(np.abs(flows) > 0, axis=1, prepend=0) > 0).astype(float),
        ended=np.full((1, 2), np.inf),
        stopped=np.full(1, np.inf),
    )
    return summary(
        trace, 0, tolerance=3.0, start=start, level=True, corrects=[[0], [1]], names=["one", "two"], flow=12.0
    )


STILL = np.zeros_like(TIMES)


def test_time_to_grade_ends_where_the_line_between_two_points_comes_into_the_tolerance() -> None:
    # From 20 mm down 10 mm/s: 3 mm is passed after 1.7 s.
    assert time_to_grade(np.maximum(20 - 10 * TIMES, 0), TIMES, 3.0) == pytest.approx(1.7)


def test_an_end_that_leaves_the_tolerance_again_is_at_grade_when_it_comes_back_to_stay() -> None:
    away = np.where((TIMES > 8) & (TIMES < 9), 5.0, 0.0)
    assert time_to_grade(away, TIMES, 3.0) == pytest.approx(9, abs=STEP)


def test_an_end_that_stays_less_than_five_seconds_is_never_at_grade() -> None:
    assert time_to_grade(np.where(TIMES < 14.9, 5.0, 0.0), TIMES, 3.0) is not None
    assert time_to_grade(np.where(TIMES < 15.1, 5.0, 0.0), TIMES, 3.0) is None
    assert time_to_grade(np.full_like(TIMES, 5.0), TIMES, 3.0) is None


def test_what_is_left_is_judged_after_the_slower_end_is_at_grade() -> None:
    # The left end is there at once; the right one after 10 s, and until then the left one errs by 2.5 mm.
    left, right = np.where(TIMES < 10, 2.5, 1.0), np.where(TIMES < 10, 9.0, -2.0)
    found = summed(left, right)
    assert found.left.time_to_grade == 0
    assert found.right.time_to_grade == pytest.approx(10, abs=STEP)
    assert [found.left.rms, found.left.worst, found.right.rms, found.right.p95] == pytest.approx([1, 1, 2, 2])
    assert found.right.inside == pytest.approx(0.5, abs=1e-3)


def test_without_a_time_to_grade_the_second_half_is_judged() -> None:
    left = np.where(TIMES < 10, 50.0, 4 * np.sin(2 * math.pi * TIMES))
    found = summed(left, STILL)
    assert found.left.time_to_grade is None
    assert found.left.rms == pytest.approx(4 / math.sqrt(2), rel=1e-3)
    assert found.left.worst == pytest.approx(4, rel=1e-3)
    # Half a sine is below its amplitude times sin(pi/2 x 0.95) for 95 % of the time.
    assert found.left.p95 == pytest.approx(4 * math.sin(math.pi / 2 * 0.95), rel=2e-3)


def test_overshoot_is_how_far_an_end_goes_past_grade_from_where_it_started() -> None:
    decay = 20 * np.exp(-TIMES) * np.cos(math.pi * TIMES)
    found = summed(-decay, STILL, start=(-20.0, 0.0))
    assert found.left.overshoot == pytest.approx(20 * float(-np.min(np.exp(-TIMES) * np.cos(math.pi * TIMES))))
    assert found.right.overshoot is None


def test_an_end_is_disturbed_from_where_it_was_when_the_other_one_was_first_corrected() -> None:
    # It stands at 2 mm; the other cylinder begins after 4 s, and this end then goes to -3 mm.
    left = np.where(TIMES < 6, 2.0, -3.0)
    left[:300] = 40.0
    used = np.zeros((len(TIMES) - 1, 2))
    used[400:500, 1] = 0.5
    found = summed(left, STILL, used=used)
    assert found.left.disturbed == pytest.approx(5)
    assert found.right.disturbed is None


def test_switchings_and_oil_are_counted_a_minute() -> None:
    # Three openings of half a second at full flow in 20 s.
    used = np.zeros((len(TIMES) - 1, 2))
    for begins in (100, 500, 900):
        used[begins : begins + 50, 0] = 1.0
    one = summed(STILL, STILL, used=used).cylinders["one"]
    assert one.switchings == pytest.approx(9)
    assert one.flow == pytest.approx(12 * 1.5 / 20)


def test_hunting_is_three_cycles_alike_and_nothing_less() -> None:
    swings = 6 * np.sin(2 * math.pi * TIMES / 0.75)
    found = hunting(swings, STEP)
    assert found is not None
    assert [found.amplitude, found.period] == pytest.approx([6.0, 0.75], rel=1e-2)
    for none in (
        swings * np.exp(-TIMES / 3),  # dies away
        6 * np.sin(2 * math.pi * TIMES / 3),  # two cycles in the last third
        6 * np.sin(math.pi * TIMES**2 / 8),  # ever quicker
        STILL + 4,
    ):
        assert hunting(none, STEP) is None
