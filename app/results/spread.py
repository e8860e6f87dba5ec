"""How the edge error spreads when every source takes its value by chance: Monte Carlo over the budget.

After JCGM 101:2008 (propagation of distributions by a Monte Carlo method): the offset at a pin is uniform over its
clearance circle; at the end of a rod or cylinder the part of such an offset along its line acts; a slide's offset, an
allowance and half a step are rectangular; the load is uniform from none to full, the same for all it squeezes and
stretches. The draws are made once from a fixed seed and kept, so that two mounts are compared on the same chances.
"""

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from app.analysis import Analysis, worked_out_once
from app.document.parts import ENDS, EndName
from app.results.answer import answer
from app.sources import sources
from app.sources.source import Source

DRAWS = 100_000
SEED = 20_100_731
BINS = 48
_KEPT_ROWS = 64

Draws = NDArray[np.float32]


@answer
class Histogram:
    """How often the error fell into bins of equal width."""

    least: float
    """Lower edge of the first bin, mm."""
    most: float
    """Upper edge of the last bin, mm."""
    counts: list[int]
    """Draws in each bin."""


@answer
class SpreadEnd:
    """How the error of one end spreads."""

    mean: float
    """Mean, mm."""
    deviation: float
    """Standard deviation, mm."""
    interval_95: tuple[float, float]
    """Symmetric 95 % interval, mm."""
    interval_99_7: tuple[float, float]
    """Symmetric 99.7 % interval, mm."""
    histogram: Histogram
    """Shape of the spread."""


@answer
class Spread:
    """Monte Carlo over the budget, after JCGM 101."""

    left: SpreadEnd
    """Left end."""
    right: SpreadEnd
    """Right end."""
    outside: float | None
    """Share of draws outside the tolerance at either end; null without tolerance."""
    draws: int
    """Number of draws."""
    seed: int
    """Seed of the draws."""


@worked_out_once
def spread(analysis: Analysis) -> Spread:
    """The spread of both ends' error."""
    return spread_of(sources(analysis), analysis.mount.tolerance)


def spread_of(listed: list[Source], tolerance: float | None) -> Spread:
    """The spread of both ends' error, mm, from the sources."""
    # Drawn in units of the largest reach, so that no size of error is too large for single precision.
    unit = max((math.hypot(*source.reach[end]) for source in listed for end in ENDS), default=0.0) or 1.0
    drawn = {end: np.zeros(DRAWS, dtype=np.float32) for end in ENDS}
    for number, source in enumerate(listed):
        for axis, chance in enumerate(_chances(source, number)):
            for end in ENDS:
                if source.reach[end][axis]:
                    drawn[end] += np.float32(source.reach[end][axis] / unit) * chance
    errors = {end: drawn[end].astype(np.float64) * unit for end in ENDS}
    outside = None
    if tolerance is not None:
        outside = float(np.mean((np.abs(errors["left"]) > tolerance) | (np.abs(errors["right"]) > tolerance)))
    return Spread(_of_end(errors["left"]), _of_end(errors["right"]), outside, DRAWS, SEED)


def standard_deviation(source: Source, end: EndName) -> float:
    """What one source adds to an end's standard deviation in closed form, mm.

    A uniform disc of radius r has r/2 on any axis; a rectangle of half width a has a/sqrt(3); from zero to b it has
    b/sqrt(12).
    """
    size = math.hypot(*source.reach[end])
    if source.one_sided:
        return size / math.sqrt(12)
    return size / 2 if source.circle else size / math.sqrt(3)


def _of_end(error: NDArray[np.float64]) -> SpreadEnd:
    ordered = np.partition(error, _ranks())
    low3, low2, high2, high3 = (float(ordered[rank]) for rank in _ranks())
    least, most = float(error.min()), float(error.max())
    room = max(most - least, 1e-9)
    counts = np.bincount(np.minimum((error - least) / room * BINS, BINS - 1).astype(np.int64), minlength=BINS)
    return SpreadEnd(
        mean=float(error.mean()),
        deviation=float(error.std()),
        interval_95=(low2, high2),
        interval_99_7=(low3, high3),
        histogram=Histogram(least, least + room, counts[:BINS].tolist()),
    )


@lru_cache(maxsize=1)
def _ranks() -> tuple[int, int, int, int]:
    """Ranks of the ends of the probabilistically symmetric intervals of 99.7 % and 95 %."""
    return tuple(round(share * (DRAWS - 1)) for share in (0.0015, 0.025, 0.975, 0.9985))  # type: ignore[return-value]


def _chances(source: Source, number: int) -> list[Draws]:
    """Standard draws for each axis of a source."""
    if source.one_sided:
        return [_row("load", 0)]
    if not source.circle:
        return [_row("rectangle", number)]
    axes = ("disc x", "disc y")[: len(source.reach["left"])]
    return [_row(axis, number) for axis in axes]


@lru_cache(maxsize=_KEPT_ROWS)
def _row(kind: str, number: int) -> Draws:
    """One row of standard draws: uniform over [0, 1], [-1, 1] or a coordinate of the unit disc."""
    # Both coordinates of a disc come from one stream, so that together they fill the disc.
    chance = np.random.default_rng((SEED, {"load": 0, "rectangle": 1}.get(kind, 2), number))
    if kind == "load":
        return chance.random(DRAWS, dtype=np.float32)
    if kind == "rectangle":
        return 2 * chance.random(DRAWS, dtype=np.float32) - 1
    radius = np.sqrt(chance.random(DRAWS, dtype=np.float32))
    angle = np.float32(2 * math.pi) * chance.random(DRAWS, dtype=np.float32)
    coordinate: Draws = radius * (np.cos(angle) if kind == "disc x" else np.sin(angle))
    return coordinate
