"""ISO 8608, Mechanical vibration, road surface profiles: classes A to D and the slope of their spectrum.

From memory: G(n) = G(n0) (n/n0)^-2, n0 = 0.1 cycles/m, G(n0) = 16, 64, 256, 1024e-6 m3. The rms of waves from 0.5 to
20 m follows by integration: sqrt(G(n0) n0^2 (1/n1 - 1/n2)). The coherence of two tracks on isotropic ground,
x K1(x), is checked against the integral it comes from.
"""

from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.signal import csd, welch

from app.grading.grounds import coherence, rough
from app.grading.settings import RoughClass
from app.solve.equations import Array

SPACING_M = 0.1
WAY = SPACING_M * np.arange(40_000)


@pytest.fixture(scope="module")
def ground() -> Array:
    """Class C over 4 km, five seeds, both tracks 1.8 m apart, in m: shape (5, 2, places)."""
    return rough("C", 1800.0, range(5)).at(WAY) / 1000


@pytest.mark.parametrize(("name", "rms_mm"), [("A", 1.77), ("B", 3.53), ("C", 7.07), ("D", 14.13)])
def test_the_rms_of_each_class(name: RoughClass, rms_mm: float) -> None:
    drawn = rough(name, 1800.0, range(8)).at(WAY[::4])
    assert float(np.sqrt(np.mean(drawn**2))) == pytest.approx(rms_mm, rel=0.02)


def test_the_spectrum_falls_with_the_square_of_the_wave_number(ground: Array) -> None:
    cycles, density = welch(ground, 1 / SPACING_M, nperseg=2000)
    edges = np.geomspace(0.1, 1.6, 9)
    bands = [(cycles >= low) & (cycles < high) for low, high in pairwise(edges)]
    means = [float(density.mean(axis=(0, 1))[band].mean()) for band in bands]
    middles = np.sqrt(edges[:-1] * edges[1:])
    slope, level = np.polyfit(np.log(middles / 0.1), np.log(means), 1)
    assert slope == pytest.approx(-2.0, abs=0.05)
    assert float(np.exp(level)) == pytest.approx(256e-6, rel=0.1)


def test_both_tracks_are_alike_in_long_waves_and_apart_in_short_ones(ground: Array) -> None:
    cycles, across = csd(ground[:, 0], ground[:, 1], 1 / SPACING_M, nperseg=1000)
    _, density = welch(ground, 1 / SPACING_M, nperseg=1000)
    alike = across.real.mean(axis=0) / density.mean(axis=(0, 1))
    for low, high in ((0.06, 0.1), (0.15, 0.25), (0.4, 0.6), (1.0, 1.5)):
        band = (cycles >= low) & (cycles <= high)
        assert float(alike[band].mean()) == pytest.approx(float(coherence(cycles[band], 1.8).mean()), abs=0.1)


@pytest.mark.parametrize("x", [0.05, 0.5, 2.0])
def test_the_coherence_is_that_of_isotropic_ground(x: float) -> None:
    # Isotropic with a spectrum over the plane as |n|^-3: the share between tracks is the integral over the cross wave
    # number m of cos(2 pi m t) (n^2 + m^2)^(-3/2), over the same at t = 0.
    apart = 1.0
    n = x / (2 * np.pi)
    between, _ = quad(lambda m: (n * n + m * m) ** -1.5, 0, np.inf, weight="cos", wvar=2 * np.pi * apart)
    whole, _ = quad(lambda m: (n * n + m * m) ** -1.5, 0, np.inf)
    assert float(coherence(np.array([n]), apart)[0]) == pytest.approx(between / whole, rel=1e-5)
