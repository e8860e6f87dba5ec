"""Runs of ends with given gains, whose answers are known in closed form.

Expected values are derived beside each test; none was taken from the code under test.
"""

import math
from typing import get_args

import numpy as np
import pytest

from app.grading.channels import channels, stability_limit
from app.grading.hunting import hunting
from app.grading.settings import ValveKind
from tests.grading.plants import run, settles, simulated

SEE_SAW = ((1.0, -6.0), (1.0, 6.0))
"""A lift that raises both ends mm for mm and a tilt that moves them six times as far, one up and one down."""


def uprights(inward: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """Gains of upright cylinders at +-1 under a half blade ``inward`` times as long: the far end goes the other way."""
    own, other = (1 + inward) / 2, (1 - inward) / 2
    return (own, other), (other, own)


def mm_of(sizes: list[float]) -> object:
    """The same to rounding."""
    return pytest.approx(sizes, abs=1e-9)


# On/off


def test_a_relay_hunts_by_its_hysteresis_and_what_it_goes_in_the_dead_time() -> None:
    # Amplitude h + v tau = 2 + 40 x 0.1; period 4 tau + 4 h/v + 2 b/v = 0.4 + 0.2 + 0.15.
    found = hunting(run("on/off", hysteresis=2.0, lost=3.0).heights[0, :, 0], 0.01)
    assert found is not None
    assert found.amplitude == pytest.approx(6.0, rel=1e-9)
    assert found.period == pytest.approx(0.750, rel=1e-9)


@pytest.mark.parametrize("times", [3, 7, 10])
def test_a_step_however_coarse_leaves_the_path_of_an_on_off_valve(times: int) -> None:
    fine = run("on/off", hysteresis=2.0, lost=3.0, late=0.1234, step=0.01).heights[0, ::times, 0]
    coarse = run("on/off", hysteresis=2.0, lost=3.0, late=0.1234, step=0.01 * times).heights[0, :, 0]
    assert coarse[:400].tolist() == mm_of(fine[: len(coarse)][:400].tolist())


def test_a_dead_band_rests_exactly_where_the_end_goes_less_than_all_of_it_in_the_dead_time() -> None:
    # v tau = 4 mm < 2 d.
    tail = run("on/off", dead_band=[1.9, 1.99, 2.01, 2.1]).heights[:, -500:, 0]
    assert (np.ptp(tail, axis=1) > 1).tolist() == [True, True, False, False]


def test_with_unequal_speeds_the_slower_way_decides_whether_it_rests() -> None:
    # The quicker way goes past to the other side and comes back slowly: 30 x 0.1 < 2 d.
    tail = run("on/off", speed=(60.0, 30.0), dead_band=[1.45, 1.55]).heights[:, -500:, 0]
    assert (np.ptp(tail, axis=1) > 1).tolist() == [True, False]


def test_a_sampled_dead_band_always_rests_where_a_period_more_is_within_it_and_never_below_the_dead_time() -> None:
    # v (tau + T) = 40 x 0.15 = 6 mm < 2 d rests from anywhere; v tau = 4 mm > 2 d hunts from anywhere.
    starts = np.linspace(10, 12, 9)
    for start in starts:
        tail = run("on/off", start=(start, 0), dead_band=[1.95, 3.05], every=5).heights[:, -500:, 0]
        assert (np.ptp(tail, axis=1) > 1).tolist() == [True, False]


def test_a_pulse_is_a_volume_however_coarse_the_step() -> None:
    # From 20 mm: pulses of 0.02 s at 40 mm/s move 0.8 mm each; the last leaves less than the dead band of 0.4 mm.
    fine, coarse = (
        run("pulsed", dead_band=0.41, gain=0.01, shortest=0.02, late=0.0, every=every, step=step)
        for every, step in ((10, 0.01), (1, 0.1))
    )
    assert fine.heights[0, ::10, 0].tolist() == mm_of(coarse.heights[0, :, 0].tolist())
    assert np.unique(np.round(np.diff(coarse.heights[0, :, 0]), 9)).tolist() == [-0.8, 0.0]


# Proportional


@pytest.mark.parametrize("periods", [1, 2, 4])
def test_a_sampled_proportional_loop_settles_exactly_below_its_limit(periods: int) -> None:
    # e(j+1) = e(j) - k T e(j-n): its roots reach the unit circle at k T = 2 sin(pi / (4 n + 2)).
    limit = 2 * math.sin(math.pi / (4 * periods + 2)) / 0.05
    gains = [0.97 * limit, 1.03 * limit]
    trace = run("proportional", speed=1e9, gain=gains, late=0.05 * periods, every=5, seconds=60.0)
    assert settles(trace) == [True, False]


def test_the_far_end_of_uprights_goes_out_by_what_their_place_inward_says() -> None:
    # Both ends at once, no delay: e_sum falls as exp(-k t), e_difference as exp(-k rho t), rho = L/a. From (0, 20) the
    # left end is half of 20 (exp(-k t) - exp(-k rho t)), largest where exp(-k t) = rho^(-1/(rho - 1)).
    rho = 1200 / 850
    expected = 10 * (rho ** (-1 / (rho - 1)) - rho ** (-rho / (rho - 1)))
    plain = np.array(uprights(rho))
    paired = plain / plain[0, 0]
    k = 0.5  # slow beside the step, so that reading once a step is no delay to speak of
    trace = run("proportional", start=(0.0, 20.0), gains=plain, speed=1e9, gain=k * plain[0, 0], late=0.0, every=1,
                step=0.002, seconds=20.0)  # fmt: skip
    assert np.linalg.eigvals(paired * plain[0, 0]).max() == pytest.approx(rho)
    assert np.abs(trace.heights[0, :, 0]).max() == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("gains", [SEE_SAW, uprights(1.41)])
def test_two_ends_settle_exactly_where_every_eigenvalue_allows(gains: list[list[float]]) -> None:
    matrix = np.array(gains)
    limit = stability_limit(matrix @ channels(matrix, "each its own").needs) / 0.1
    trace = run("proportional", gains=gains, speed=1e9, gain=[0.96 * limit, 1.04 * limit], seconds=120.0)
    assert settles(trace) == [True, False]


def test_a_see_saw_in_proportion_is_a_damped_spiral_no_endless_chase() -> None:
    matrix = np.array(SEE_SAW)
    eigenvalues = np.linalg.eigvals(matrix @ channels(matrix, "each its own").needs)
    assert eigenvalues.tolist() == pytest.approx([1 - 1j, 1 + 1j]) or eigenvalues.tolist() == pytest.approx(
        [1 + 1j, 1 - 1j]
    )
    assert stability_limit(matrix @ channels(matrix, "each its own").needs) == pytest.approx(math.pi / 4 / math.sqrt(2))


def test_decoupled_channels_leave_the_other_end_where_it_is() -> None:
    trace = run("proportional", start=(0.0, 20.0), gains=SEE_SAW, way="decoupled", gain=3.0, every=5)
    assert np.abs(trace.heights[0, :, 0]).max() < 1e-9
    assert settles(run("proportional", start=(20.0, 0.0), gains=SEE_SAW, way="decoupled", gain=3.0, every=5)) == [True]


# Ends in turn


def errors_at_turns(gains: tuple[tuple[float, float], tuple[float, float]], near: float) -> list[float]:
    """What is left at the right end each time the operator turns to it."""
    simulation = simulated("proportional", start=(0.0, 20.0), gains=gains, way="one after the other", speed=1e9,
                           gain=8.0, late=0.0, every=1, handed_over=near, seconds=120.0)  # fmt: skip
    simulation.advance(simulation.batch.steps)
    trace = simulation.trace
    steps = [round(now / 0.01) for now, _ in trace.turns]
    return [abs(float(trace.heights[0, step, 1])) for step in steps][::2]


def test_ends_in_turn_leave_the_product_of_both_couplings_a_round() -> None:
    # r = c1 c2 = ((L - a)/(L + a))^2 of uprights at +-a under a half blade L.
    gains = uprights(1200 / 850)
    expected = (350 / 2050) ** 2
    assert channels(np.array(gains), "each its own").left == pytest.approx(expected)
    left = errors_at_turns(gains, near=1e-9)
    assert left[1] / left[0] == pytest.approx(expected, rel=1e-3)


def test_ends_in_turn_of_a_see_saw_never_settle_with_perfect_corrections() -> None:
    left = errors_at_turns(SEE_SAW, near=1e-6)
    assert min(left) > 19.9


def test_niederlinskis_index_is_what_a_round_in_turn_does_not_leave() -> None:
    # Niederlinski (Automatica 1971, recalled): det G / (g11 g22) = 1 - c1 c2, above nought for a pairing that can work.
    matrix = np.array(uprights(1200 / 850))
    index = np.linalg.det(matrix) / (matrix[0, 0] * matrix[1, 1])
    left = channels(matrix, "each its own").left
    assert left is not None
    assert index == pytest.approx(1 - left)


# Valves together


def test_two_cylinders_on_one_pump_go_at_half_their_speed_while_both_move() -> None:
    own, shared = (
        run("on/off", start=(20.0, 20.0), dead_band=4.0, shared=shared).heights[0, :, 0] for shared in (False, True)
    )
    assert own[11] - own[15] == pytest.approx(1.6)
    assert shared[11] - shared[15] == pytest.approx(0.8)


def test_a_proportional_valve_is_no_quicker_than_its_full_flow() -> None:
    heights = run("proportional", gain=50.0, every=5, late=0.0).heights[0, :, 0]
    assert heights[0] - heights[10] == pytest.approx(4.0)


# A run as such


def test_a_run_cut_in_two_and_continued_is_the_same_run() -> None:
    whole = simulated("on/off", hysteresis=1.0, lost=1.0, gains=SEE_SAW)
    whole.advance(3000)
    cut = simulated("on/off", hysteresis=1.0, lost=1.0, gains=SEE_SAW)
    for piece in (7, 500, 1, 3000):
        cut.advance(piece)
    assert cut.trace.heights.tolist() == whole.trace.heights.tolist()


@pytest.mark.parametrize("valve", get_args(ValveKind))
def test_slowing_time_and_speeds_alike_leaves_the_path(valve: ValveKind) -> None:
    quick = run(valve, gain=4.0, dead_band=0.5, shortest=0.01, every=5, seconds=10.0)
    slow = run(valve, gain=2.0, dead_band=0.5, shortest=0.02, every=5, late=0.2, speed=20.0, step=0.02, seconds=20.0)
    assert slow.heights == pytest.approx(quick.heights, abs=1e-9)


def test_more_dead_time_never_hunts_less() -> None:
    late = np.linspace(0.02, 0.4, 20)
    trace = run("on/off", dead_band=1.0, late=late.tolist(), seconds=60.0)
    sizes = np.ptp(trace.heights[:, -2000:, 0], axis=1)
    assert (np.diff(sizes) > -1e-6).all()


def test_no_start_no_ground_and_no_noise_leave_an_end_on_grade() -> None:
    for valve in get_args(ValveKind):
        assert not run(valve, start=(0.0, 0.0), gain=2.0, every=5).heights.any()
