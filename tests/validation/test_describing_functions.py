"""Hunting of a proportional end with lost motion, as its describing function has it.

Source: python-control's ``friction_backlash_nonlinearity`` and ``describing_function`` (its documentation; Astrom and
Murray, Feedback Systems, 10.5). The loop k/s exp(-s tau) through backlash of width b hunts where -1/N(A) meets it. The
method looks at the first harmonic alone and so is approximate: period within 2 %, amplitude within 20 %.
"""

import cmath
import math
from itertools import pairwise

import control
import pytest
from scipy.optimize import brentq

from app.grading.hunting import hunting
from tests.grading.plants import run

LATE_S, LOST_MM = 0.1, 1.0
PERIOD_SHARE, AMPLITUDE_SHARE = 0.02, 0.20


def gain_of(amplitude: float) -> complex:
    """The describing function of a backlash of the width, at an amplitude of its input."""
    return complex(control.describing_function(control.friction_backlash_nonlinearity(LOST_MM), amplitude))


def frequency_at(amplitude: float) -> float:
    """Where the phase of the delayed integrator and the backlash together is half a turn, rad/s."""
    lag = -cmath.phase(gain_of(amplitude))
    return (math.pi / 2 - lag) / LATE_S


def predicted(gain: float) -> tuple[float, float]:
    """Amplitude at the cylinder, mm, and period, s, of the larger of the two oscillations: the one that stays."""

    def open_loop(amplitude: float) -> float:
        return gain / frequency_at(amplitude) * abs(gain_of(amplitude)) - 1

    sizes = [0.8 + 0.05 * number for number in range(2000)]
    crossings = [(a, b) for a, b in pairwise(sizes) if open_loop(a) * open_loop(b) < 0]
    amplitude = float(brentq(open_loop, *crossings[-1]))
    return amplitude, 2 * math.pi / frequency_at(amplitude)


@pytest.mark.parametrize("product", [1.52, 1.54])
def test_with_lost_motion_it_hunts_as_the_describing_function_says(product: float) -> None:
    gain = product / LATE_S
    trace = run("proportional", gain=gain, late=LATE_S, lost=LOST_MM, speed=1e9, step=0.0025, seconds=180.0)
    found = hunting(trace.heights[0, :, 0], 0.0025)
    driven = hunting(trace.lengths[0, :, 0], 0.0025)
    amplitude, period = predicted(gain)
    assert found is not None
    assert driven is not None
    assert found.period == pytest.approx(period, rel=PERIOD_SHARE)
    assert driven.amplitude == pytest.approx(amplitude, rel=AMPLITUDE_SHARE)


def test_without_enough_gain_lost_motion_alone_does_not_hunt() -> None:
    # Describing function: no oscillation below k tau = 1.514.
    trace = run("proportional", gain=1.4 / LATE_S, late=LATE_S, lost=LOST_MM, speed=1e9, step=0.0025, seconds=60.0)
    assert hunting(trace.heights[0, :, 0], 0.0025) is None
