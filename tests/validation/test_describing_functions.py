"""Hunting of a proportional end with lost motion, as its describing function has it.

Source: python-control's ``friction_backlash_nonlinearity`` and ``describing_function`` (its documentation; Astrom and
Murray, Feedback Systems, 10.5). The loop k/s exp(-s tau) through backlash of width b hunts where -1/N(A) meets it. The
method looks at the first harmonic alone and so is approximate: period within 2 %, amplitude within 20 %.
"""

import cmath
import math
from itertools import pairwise

import control
import numpy as np
import pytest
from scipy.optimize import brentq

from app.grading.hunting import hunting
from app.grading.lost_motion import follow
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


def test_the_play_operator_is_that_of_the_documentation() -> None:
    # Doctest of friction_backlash_nonlinearity(2), a gap of 2 in all: 0, 1, 2, 1, 0, -1 give 0, 0, 1, 1, 1, 0.
    given = np.array([0.0, 1.0, 2.0, 1.0, 0.0, -1.0])
    backlash = control.friction_backlash_nonlinearity(2)
    assert follow(given, np.array(0.0), np.array(2.0)).tolist() == [0, 0, 1, 1, 1, 0]
    assert [backlash(each) for each in given.tolist()] == [0, 0, 1, 1, 1, 0]


SPEED_MM_S, HYSTERESIS_MM = 40.0, 2.0


def test_a_relay_hunts_near_where_its_describing_function_meets_the_loop() -> None:
    # N(A) = 4M/(pi A) exp(-j asin(h/A)) (Franklin, Powell and Emami-Naeini, fig. 9.30), integrator, delay as Pade of
    # order 6. The path is a triangle, whose first harmonic is 8/pi^2 of its height; the method is good to a tenth here.
    trace = run("on/off", hysteresis=HYSTERESIS_MM, speed=SPEED_MM_S, late=LATE_S)
    found = hunting(trace.heights[0, :, 0], 0.01)
    loop = control.tf([1.0], [1.0, 0.0]) * control.tf(*control.pade(LATE_S, 6))
    relay = control.relay_hysteresis_nonlinearity(SPEED_MM_S, HYSTERESIS_MM)
    ((amplitude, frequency),) = control.describing_function_response(
        loop, relay, np.geomspace(1.001 * HYSTERESIS_MM, 40, 400)
    ).intersections
    assert found is not None
    assert found.amplitude * 8 / math.pi**2 == pytest.approx(float(amplitude), rel=0.1)
    assert found.period == pytest.approx(2 * math.pi / float(frequency), rel=0.1)
