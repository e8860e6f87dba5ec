"""What the load does in a run: its share over time, and what it moves of oil, rods, lugs and play at each share."""

import math
from dataclasses import dataclass

import numpy as np

from app.analysis import Analysis
from app.grading.settings import LoadKind
from app.solve.equations import Array
from app.sources import KINDS
from app.sources.play import contacts

WANDERS_S = 1.0
"""Time constant of a load that wanders."""

_BASE_S = 0.05
"""Time between the draws of a wandering load: a fraction of that constant, and the same for every step of a run."""

_MIDDLE, _SPREAD = 0.5, 0.35
"""Of the share of the load, before it is kept between none and all."""

_SHARES = np.linspace(0.0, 1.0, 33)


@dataclass(frozen=True, eq=False)
class Seats:
    """What the load has moved at each share of it: cylinder lengths and offsets of joints, mm.

    ``lengths`` shape (shares, cylinders), ``errors`` (shares, errors), from the weight alone; straight between.
    """

    lengths: Array
    errors: Array

    def at(self, share: Array) -> tuple[Array, Array]:
        """At shares, shape (poses,): (poses, cylinders) and (poses, errors)."""
        place = np.clip(share, 0.0, 1.0) * (len(_SHARES) - 1)
        low = np.minimum(place.astype(int), len(_SHARES) - 2)
        part = (place - low)[:, None]
        lengths = self.lengths[low] + part * (self.lengths[low + 1] - self.lengths[low])
        return lengths, self.errors[low] + part * (self.errors[low + 1] - self.errors[low])


def seats(analysis: Analysis, loose: set[str]) -> Seats:
    """What each share of the load moves: oil, rods and lugs as in the budget, play to the side it is pressed to.

    ``loose``: joints whose play is lost motion instead, by name.
    """
    equations = analysis.assembly.equations
    lengths = np.zeros((len(_SHARES), len(analysis.mount.cylinders)))
    errors = np.zeros((len(_SHARES), equations.by_error.shape[1]))
    for kind in KINDS.values():
        there = {each.id: np.array(each.shares) for each in kind.sources(analysis)}
        for each in kind.offsets(analysis):
            if each.free:
                continue
            on = np.interp(_SHARES, there[each.name][:, 0], there[each.name][:, 1])
            for number, place in enumerate(each.errors):
                errors[:, place] += on * each.size[number]
            for number, place in enumerate(each.lengths, len(each.errors)):
                lengths[:, place] += on * each.size[number]
    pressed = contacts(analysis)
    for name, _, part, _ in analysis.mount.joints:
        if part.clearance and name in pressed and name not in loose:
            sides = np.array([pressed[name].side(float(share)) for share in _SHARES])
            moved = part.clearance / 2 * (sides - np.array(pressed[name].before))
            moved[0] = 0.0
            errors[:, analysis.assembly.joint_errors[name]] += moved
    return Seats(lengths, errors)


def shares(kind: LoadKind, seeds: list[int], times: Array) -> Array:
    """Share of the load on at times, s, shape (runs, times), of a run for every seed."""
    if kind != "wandering":
        return np.full((len(seeds), len(times)), 1.0 if kind == "steady" else 0.0)
    count = math.ceil(times[-1] / _BASE_S) + 2
    keeps = math.exp(-_BASE_S / WANDERS_S)
    drawn = np.array([np.random.default_rng([seed, 2]).standard_normal(count) for seed in seeds])
    wandering = drawn.copy()
    for each in range(1, count):
        wandering[:, each] = keeps * wandering[:, each - 1] + math.sqrt(1 - keeps**2) * drawn[:, each]
    share = np.clip(_MIDDLE + _SPREAD * wandering, 0.0, 1.0)
    base = _BASE_S * np.arange(count)
    return np.array([np.interp(times, base, each) for each in share])
