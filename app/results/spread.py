"""How the edge error spreads when every source takes its value by chance: Monte Carlo over the budget.

After JCGM 101:2008 (propagation of distributions by a Monte Carlo method), for two questions. *Nothing known*: the
offset at a pin is uniform over its clearance circle; at the end of a rod or cylinder the part of such an offset along
its line acts; a slide's offset, an allowance and half a step are rectangular; the load is uniform from none to full,
the same for all that comes with it. *Pressed as the loads come*: the same, but every joint lies where weight and that
share of the load push it, and on the rim where nothing pushes it. Blocks are drawn until the interval ends are settled
(7.9, adaptive procedure). The seed is fixed, so that two mounts are compared on the same chances.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from app.analysis import Analysis, worked_out_once
from app.document.parts import ENDS, EndName
from app.results.answer import answer
from app.results.budget import statistical
from app.sources import sources
from app.sources.source import Source

BLOCK = 100_000
MOST_BLOCKS = 20
SETTLED_DIGITS = 2.0
"""Twice the standard deviation of an interval end's average over the blocks, in units of its third digit."""

SEED = 20_100_731
BINS = 48
_KEPT_ROWS = 96

Draws: TypeAlias = NDArray[np.float32]
Errors: TypeAlias = dict[EndName, NDArray[np.float64]]


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
    plus_minus: float
    """Twice the standard deviation of the interval ends' averages over the blocks, the largest of the four, mm."""
    within_rss: float
    """Share of draws within the root sum of squares of the budget either way."""


@answer
class SpreadCase:
    """How the error of both ends spreads for one question."""

    left: SpreadEnd
    """Left end."""
    right: SpreadEnd
    """Right end."""
    outside: float | None
    """Share of draws outside the tolerance at either end; null without tolerance."""
    draws: int
    """Number of draws."""


@answer
class Spread(SpreadCase):
    """Monte Carlo over the budget, after JCGM 101: where nothing is known of the play; and as the loads press it."""

    pressed: SpreadCase | None
    """The same where every joint lies as weight and load push it; null without a load."""
    seed: int
    """Seed of the draws."""


@worked_out_once
def spread(analysis: Analysis) -> Spread:
    """The spread of both ends' error."""
    return spread_of(sources(analysis), analysis.mount.tolerance)


def spread_of(listed: Sequence[Source], tolerance: float | None) -> Spread:
    """The spread of both ends' error, mm, from the sources."""
    free = _case(listed, tolerance, lambda block: _drawn(listed, block, _anywhere))
    loaded = any(source.contact for source in listed) or any(source.by_load for source in listed)
    pressed = _case(listed, tolerance, lambda block: _drawn(listed, block, _pressed)) if loaded else None
    return Spread(free.left, free.right, free.outside, free.draws, pressed, SEED)


def _case(listed: Sequence[Source], tolerance: float | None, block_of: Callable[[int], Errors]) -> SpreadCase:
    """Draw blocks until the interval ends of both ends are settled."""
    blocks: list[Errors] = []
    ends: dict[EndName, list[list[float]]] = {end: [] for end in ENDS}
    while len(blocks) < MOST_BLOCKS:
        blocks.append(block_of(len(blocks)))
        for end in ENDS:
            ordered = np.partition(blocks[-1][end], _ranks(BLOCK))
            ends[end].append([float(ordered[rank]) for rank in _ranks(BLOCK)])
        if len(blocks) > 1 and all(_unsettled(ends[end]) <= _allowed(ends[end]) for end in ENDS):
            break
    errors = {end: np.concatenate([block[end] for block in blocks]) for end in ENDS}
    outside = None
    if tolerance is not None:
        outside = float(np.mean((np.abs(errors["left"]) > tolerance) | (np.abs(errors["right"]) > tolerance)))
    left, right = (
        _of_end(errors[end], _unsettled(ends[end]), statistical([source.range(end) for source in listed]))
        for end in ENDS
    )
    return SpreadCase(left, right, outside, len(errors["left"]))


def _unsettled(found: list[list[float]]) -> float:
    """Twice the standard deviation of the average of the block's interval ends, the largest of the four, mm."""
    deviations = np.std(np.array(found), axis=0, ddof=1) / math.sqrt(len(found))
    return 2 * float(deviations.max())


def _allowed(found: list[list[float]]) -> float:
    """``SETTLED_DIGITS`` in the third digit of the largest interval end, mm."""
    largest = float(np.abs(np.mean(np.array(found), axis=0)).max())
    return SETTLED_DIGITS * 10.0 ** (math.floor(math.log10(largest)) - 2) if largest > 0 else 0.0


_Chances: TypeAlias = Callable[[Source, int, int, Draws], Sequence[Draws]]


def _drawn(listed: Sequence[Source], block: int, chances_of: _Chances) -> Errors:
    """The errors of both ends in one block of draws, mm, shape (BLOCK,)."""
    # Drawn in units of the largest reach, so that no size of error is too large for single precision.
    unit = max((math.hypot(*source.reach[end]) for source in listed for end in ENDS), default=0.0) or 1.0
    drawn = {end: np.zeros(BLOCK, dtype=np.float32) for end in ENDS}
    share = _load_share(listed, block)
    for number, source in enumerate(listed):
        for axis, chance in enumerate(chances_of(source, number, block, share)):
            for end in ENDS:
                if source.reach[end][axis]:
                    drawn[end] += np.float32(source.reach[end][axis] / unit) * chance
    return {end: drawn[end].astype(np.float64) * unit for end in ENDS}


def _load_share(listed: Sequence[Source], block: int) -> Draws:
    """The share of the load in every draw: from none to full, or from full to full where it reverses."""
    reversing = any(source.back for source in listed) or any(each.contact and each.contact.reversing for each in listed)
    share = _row("load", 0, block)
    return 2 * share - 1 if reversing else share


def standard_deviation(source: Source, end: EndName) -> float:
    """What one source adds to an end's standard deviation in closed form, mm, where nothing is known.

    A uniform disc of radius r has r/2 on any axis; a rectangle of half width a has a/sqrt(3); from zero to b it has
    b/sqrt(12) (in proportion to the load, one way).
    """
    size = math.hypot(*source.reach[end])
    if source.by_load:
        return size / math.sqrt(12)
    return size / 2 if source.chance == "disc" else size / math.sqrt(3)


def _of_end(error: NDArray[np.float64], plus_minus: float, rss: float) -> SpreadEnd:
    ranks = _ranks(len(error))
    ordered = np.partition(error, ranks)
    low3, low2, high2, high3 = (float(ordered[rank]) for rank in ranks)
    least, most = float(error.min()), float(error.max())
    room = max(most - least, 1e-9)
    counts = np.bincount(np.minimum((error - least) / room * BINS, BINS - 1).astype(np.int64), minlength=BINS)
    return SpreadEnd(
        mean=float(error.mean()),
        deviation=float(error.std()),
        interval_95=(low2, high2),
        interval_99_7=(low3, high3),
        histogram=Histogram(least, least + room, counts[:BINS].tolist()),
        plus_minus=plus_minus,
        within_rss=float(np.mean(np.abs(error) <= rss)),
    )


@lru_cache(maxsize=32)
def _ranks(draws: int) -> tuple[int, int, int, int]:
    """Ranks of the ends of the probabilistically symmetric intervals of 99.7 % and 95 %."""
    return tuple(round(share * (draws - 1)) for share in (0.0015, 0.025, 0.975, 0.9985))  # type: ignore[return-value]


def _anywhere(source: Source, number: int, block: int, share: Draws) -> Sequence[Draws]:
    """Standard draws for each axis of a source of which nothing is known."""
    if source.by_load:
        loads, parts = zip(*source.shares, strict=True)
        return [np.interp(share, loads, parts).astype(np.float32) if len(loads) > 2 else share]
    if source.chance == "rectangle":
        return [_row("rectangle", number, block)]
    axes = ("disc x", "disc y")[: len(source.reach["left"])]
    return [_row(axis, number, block) for axis in axes]


def _pressed(source: Source, number: int, block: int, share: Draws) -> Sequence[Draws]:
    """The same where weight and load press every joint to a side."""
    if source.contact is None:
        return _anywhere(source, number, block, share)
    push = [
        np.float32(w) + share * np.float32(f) for w, f in zip(source.contact.weight, source.contact.load, strict=True)
    ]
    size = np.sqrt(sum(each * each for each in push))
    pressed = size > source.contact.floor
    sides = [np.divide(each, size, out=np.zeros_like(each), where=pressed) for each in push]
    if not pressed.all():
        sides = [np.where(pressed, side, rim) for side, rim in zip(sides, _rim(len(push), number, block), strict=True)]
    return sides


def _rim(axes: int, number: int, block: int) -> Iterator[Draws]:
    """A place on the rim: either side of a guide, anywhere round a pin."""
    if axes == 1:
        yield np.sign(_row("rectangle", number, block), dtype=np.float32)
        return
    x, y = _row("disc x", number, block), _row("disc y", number, block)
    size: Draws = np.maximum(np.hypot(x, y), np.float32(1e-12))
    yield np.divide(x, size)
    yield np.divide(y, size)


@lru_cache(maxsize=_KEPT_ROWS)
def _row(kind: str, number: int, block: int) -> Draws:
    """One row of standard draws: uniform over [0, 1], [-1, 1] or a coordinate of the unit disc."""
    # Both coordinates of a disc come from one stream, so that together they fill the disc.
    chance = np.random.default_rng((SEED, {"load": 0, "rectangle": 1}.get(kind, 2), number, block))
    if kind == "load":
        return chance.random(BLOCK, dtype=np.float32)
    if kind == "rectangle":
        return 2 * chance.random(BLOCK, dtype=np.float32) - 1
    radius = np.sqrt(chance.random(BLOCK, dtype=np.float32))
    angle = np.float32(2 * math.pi) * chance.random(BLOCK, dtype=np.float32)
    coordinate: Draws = radius * (np.cos(angle) if kind == "disc x" else np.sin(angle))
    return coordinate
