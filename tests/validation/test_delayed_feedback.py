"""A proportional end with a pure delay, x' = -k x(t - tau).

N. D. Hayes, Roots of the transcendental equation associated with a certain difference-differential equation, J. London
Math. Soc. 1950 (recalled): it settles exactly for 0 < k tau < pi/2, and k tau <= 1/e leaves no oscillation.
"""

import math

import pytest

from tests.grading.plants import run, settles

LATE_S = 0.1


@pytest.mark.parametrize("step", [0.0025, 0.005])
def test_it_settles_exactly_below_a_quarter_turn(step: float) -> None:
    limit = math.pi / 2 / LATE_S
    trace = run("proportional", gain=[0.98 * limit, 1.02 * limit], late=LATE_S, speed=1e9, step=step, seconds=60.0)
    assert settles(trace) == [True, False]


def test_up_to_one_over_e_it_never_passes_grade() -> None:
    gains = [share / math.e / LATE_S for share in (0.5, 0.9, 0.999, 1.1)]
    trace = run("proportional", gain=gains, late=LATE_S, speed=1e9, step=0.0025, seconds=20.0)
    lowest = trace.heights[:, :, 0].min(axis=1)
    assert (lowest >= 0).tolist() == [True, True, True, False]
