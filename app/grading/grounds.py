"""The ground under the wheels: level, with an obstacle, in waves, rough, or as an earlier pass left it.

A ground gives the heights of both wheel tracks along the way. Rough ground is that of ISO 8608 (as recalled): the
spectrum of heights G(n) = G(n0) (n/n0)^-2 with n0 = 0.1 cycles/m, drawn as a sum of sines. Left and right are alike in
long waves and apart in short ones: of isotropic ground the coherence between two tracks a distance t apart is
x K1(x), x = 2 pi n t, K1 the modified Bessel function (Robson and Dodds, J. Sound Vib. 1973, as recalled).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from app.grading.settings import Flat, Ground, Obstacle, RoughClass, Waves, sides_of
from app.solve.equations import Array

BUMP_M = 0.6
"""Length of a rut or bump."""

REFERENCE_CYCLES = 0.1
"""n0, cycles/m."""

ROUGHNESS: dict[RoughClass, float] = {"A": 16e-6, "B": 64e-6, "C": 256e-6, "D": 1024e-6}
"""G(n0) of every class, m3 (ISO 8608, as recalled)."""

LONGEST_CYCLES, SHORTEST_CYCLES = 0.05, 2.0
"""The waves that are drawn, cycles/m: 20 m to 0.5 m long."""

SINES = 240
_GOLDEN = (math.sqrt(5) - 1) / 2
_MM_PER_M = 1000.0


class Tracks(Protocol):
    """The ground of every run of a batch."""

    def at(self, way: Array) -> Array:
        """Heights of the left and the right track, mm, at places along the way, m: shape (runs, 2, places)."""


@dataclass(frozen=True)
class Shaped:
    """Ground of a shape that is the same in every run."""

    ground: Obstacle | Waves | Flat
    runs: int

    def at(self, way: Array) -> Array:
        """The shape, once for each run."""
        heights = np.zeros((2, len(way)))
        ground = self.ground
        if isinstance(ground, Waves):
            heights[:] = ground.height / 2 * np.sin(2 * math.pi * way / ground.length)
        elif isinstance(ground, Obstacle):
            along = way - ground.at
            if ground.kind == "step":
                shape = (along >= 0).astype(float)
            else:
                shape = np.where((along > 0) & (along < BUMP_M), np.sin(math.pi * along / BUMP_M), 0.0)
            for side in sides_of(ground.side):
                heights[("left", "right").index(side)] = ground.height * shape
        return np.broadcast_to(heights, (self.runs, 2, len(way)))


@lru_cache(maxsize=1)
def waves() -> tuple[Array, Array]:
    """Wave numbers of the sines, cycles/m, and the share of G(n0) n0^2 each carries, shape (SINES,) each.

    One sine a band, the bands in geometric row; it lies anywhere in its band, so that the sum does not come round, and
    carries the whole band: the integral of n^-2 over it.
    """
    edges = np.geomspace(LONGEST_CYCLES, SHORTEST_CYCLES, SINES + 1)
    within = (np.arange(SINES) * _GOLDEN) % 1.0
    return edges[:-1] * (edges[1:] / edges[:-1]) ** within, 1 / edges[:-1] - 1 / edges[1:]


def coherence(cycles: Array, apart_m: float) -> Array:
    """How alike two tracks are, 1 in long waves and 0 in short ones: x K1(x)."""
    from scipy.special import k1  # loaded when ground is rough: loading takes its time

    x = 2 * math.pi * cycles * apart_m
    alike: Array = np.where(x < 1e-9, 1.0, x * k1(np.maximum(x, 1e-9)))
    return alike


@dataclass(frozen=True, eq=False)
class RoughTracks:
    """Rough ground: a sum of sines, each run with phases of its own.

    ``cosines`` and ``sines``: what each wave adds, mm, shape (runs, 2, SINES).
    """

    cosines: Array
    sines: Array

    def at(self, way: Array) -> Array:
        """The sum of all waves."""
        phase = 2 * math.pi * waves()[0][:, None] * way
        # All runs and both tracks in one product: one for each run takes several times as long.
        cosines, sines = (each.reshape(-1, SINES) for each in (self.cosines, self.sines))
        heights: Array = cosines @ np.cos(phase) - sines @ np.sin(phase)
        return heights.reshape(*self.cosines.shape[:2], len(way))


def rough(roughness: RoughClass, track_mm: float, seeds: Sequence[int]) -> RoughTracks:
    """Rough ground of a class, a run for every seed."""
    cycles, share = waves()
    size = _MM_PER_M * np.sqrt(2 * ROUGHNESS[roughness] * REFERENCE_CYCLES**2 * share)
    alike = coherence(cycles, track_mm / _MM_PER_M)
    both, single = np.sqrt((1 + alike) / 2), np.sqrt((1 - alike) / 2)
    cosines, sines = np.empty((2, len(seeds), 2, SINES))
    for run, seed in enumerate(seeds):
        common, own = np.random.default_rng([seed, 1]).uniform(0, 2 * math.pi, (2, SINES))
        # Each side shares one wave and has another of its own, so that neither is the master of the other.
        for side, sign in enumerate((1.0, -1.0)):
            cosines[run, side] = size * (both * np.cos(common) + sign * single * np.cos(own))
            sines[run, side] = size * (both * np.sin(common) + sign * single * np.sin(own))
    return RoughTracks(cosines, sines)


@dataclass(frozen=True, eq=False)
class Cut:
    """The ground as an earlier pass left it: where the edge has been, its line; elsewhere as it was.

    ``way`` of the edge, m, shape (places,), rising; ``heights`` of both tracks there, mm, shape (runs, 2, places).
    """

    before: Tracks
    way: Array
    heights: Array

    def at(self, way: Array) -> Array:
        """What was left, or what was there."""
        heights = np.array(self.before.at(way))
        inside = (way >= self.way[0]) & (way <= self.way[-1])
        for run in range(len(heights)):
            for side in range(2):
                heights[run, side, inside] = np.interp(way[inside], self.way, self.heights[run, side])
        return heights


def tracks(ground: Ground, track_mm: float, seeds: Sequence[int]) -> Tracks:
    """The ground of a batch, a run for every seed."""
    if isinstance(ground, Flat | Obstacle | Waves):
        return Shaped(ground, len(seeds))
    return rough(ground.roughness, track_mm, seeds)
