"""Where the loads press every joint, and what the load really moves of its play.

For every joint the adjoint gives g, the work of a load per unit offset: a 2-vector at a pin, a number at the end of a
rod or cylinder and at a slide. Under weight and t times the load the play lies over at half the clearance in the
direction of gW + t gF. While t goes from 0 to 1 (from -1 to 1 where the load reverses) that direction runs along an
arc, and the edge with it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from app.analysis import Analysis, worked_out_once
from app.solve.equations import Array
from app.solve.poses import Poses

PlayWord: TypeAlias = Literal["held", "moves", "turns over", "unknown"]
HELD: PlayWord = "held"
MOVES: PlayWord = "moves"
TURNS_OVER: PlayWord = "turns over"
UNKNOWN: PlayWord = "unknown"

HELD_SHARE = 0.05
"""Play is called held where the load moves at most this share of it."""

_NO_WEIGHT = 1e-6
"""A joint that the weight pushes with less than this share of the mount's largest push has no known side."""

_NO_PUSH = 1e-9
"""A joint pushed with less than this share of the largest push is not pushed at all."""

_STRAIGHT = 1e-12
"""Sine of the angle below which two pushes run along one line."""


@dataclass(slots=True)
class Contact:
    """How the loads push one joint: ``weight`` and ``load`` are the work per unit offset, N per axis.

    ``known`` is false where the weight gives it no side; ``floor`` the push, N, below which there is none;
    ``reversing`` whether the load acts both ways.
    """

    weight: Sequence[float]
    load: Sequence[float]
    known: bool
    floor: float
    reversing: bool
    before: list[float] = field(init=False)
    """The side it lies at under the weight alone; zero where it is not known."""
    after: tuple[list[float], ...] = field(init=False)
    """The sides it lies at under the full loads that come; zero where they do not push it."""
    reverses_at: float | None = field(init=False)
    """The multiple of the load at which its push reverses, the smaller by size where the load acts both ways.

    At a pin the push has reversed where it has turned by more than 90 degrees. None when never, or not known.
    """

    def __post_init__(self) -> None:
        self.before = self.side(0.0) if self.known else [0.0] * len(self.weight)
        self.after = tuple([self.side(share) for share in ((1.0, -1.0) if self.reversing else (1.0,))])
        self.reverses_at = self._reversal()

    def side(self, share: float) -> list[float]:
        """The side it lies at under the weight and a share of the load: a unit vector, zero where it is not pushed."""
        push = [w + share * f for w, f in zip(self.weight, self.load, strict=True)]
        size = math.hypot(*push)
        return [each / size for each in push] if size > self.floor else [0.0] * len(push)

    def _reversal(self) -> float | None:
        against = dot(self.weight, self.load)
        if not self.known or not against:
            return None
        multiple = -dot(self.weight, self.weight) / against
        return multiple if multiple > 0 or self.reversing else None

    @property
    def turns(self) -> bool:
        """Whether its push reverses within the loads that come."""
        multiple = self.reverses_at
        return multiple is not None and abs(multiple) <= 1

    def moved(self, reach: Sequence[float]) -> tuple[float, float]:
        """Lowest and highest the load moves an end from where it stands under the weight alone, mm.

        ``reach`` is what the offset at its full size does to the end, mm per axis. In full where the side under the
        weight is not known.
        """
        if not self.known:
            own = math.hypot(*reach)
            seats = [dot(side, reach) for side in self.after if any(side)]
            return (min(seats) - own, max(seats) + own) if seats else (0.0, 0.0)
        if len(reach) == 1:
            ends = [reach[0] * (side[0] - self.before[0]) for side in self.after if any(side)]
            return min([0.0, *ends]), max([0.0, *ends])
        found = [self._swept(reach, side) for side in self.after]
        return min(low for low, _ in found), max(high for _, high in found)

    def at_full(self, reach: Sequence[float]) -> float:
        """How far the full load moves an end, mm; from the middle of the play where the side is not known."""
        after = self.after[0]
        return dot(after, reach) - dot(self.before, reach) if any(after) else 0.0

    def unsure(self, reach: Sequence[float]) -> float:
        """By how much more or less, mm: by half the play where the load pushes it and the weight gives it no side."""
        return math.hypot(*reach) if not self.known and any(self.after[0]) else 0.0

    def _swept(self, reach: Sequence[float], after: Sequence[float]) -> tuple[float, float]:
        """The range of reach . (s(t) - s(0)) while the push turns from the weight's side to that with all of a load."""
        before = self.before
        if not any(after):
            return 0.0, 0.0
        cross = before[0] * after[1] - before[1] * after[0]
        start, end = dot(before, reach), dot(after, reach)
        low, high = min(0.0, end - start), max(0.0, end - start)
        if abs(cross) <= _STRAIGHT:
            return low, high  # along one line the push turns over without sweeping what lies between
        turn, size = math.atan2(cross, dot(before, after)), math.hypot(*reach)
        for sign in (1.0, -1.0):
            # Whether the direction that moves the end most lies on the arc.
            toward = math.atan2(
                sign * (before[0] * reach[1] - before[1] * reach[0]),
                sign * (before[0] * reach[0] + before[1] * reach[1]),
            )
            if size and min(turn, 0.0) < toward < max(turn, 0.0):
                low, high = min(low, sign * size - start), max(high, sign * size - start)
        return low, high


@worked_out_once
def contacts(analysis: Analysis) -> dict[str, Contact]:
    """How the loads push every joint, by its name; empty without a load."""
    found = analysis.sensitivities
    if not found.has("load"):
        return {}
    load = found.of_error("load").tolist()
    weight = found.of_error("weight").tolist() if found.has("weight") else [0.0] * len(load)
    reversing = bool(analysis.mount.load and analysis.mount.load.reversing)
    pushes = {name: (weight[part], load[part]) for name, part in analysis.assembly.joint_errors.items()}
    sizes = [
        size
        for w, f in pushes.values()
        for size in (math.hypot(*w), math.hypot(*(a + b for a, b in zip(w, f, strict=True))))
    ]
    largest = max(sizes, default=0.0)
    return {
        name: Contact(w, f, math.hypot(*w) > _NO_WEIGHT * largest, _NO_PUSH * largest, reversing)
        for name, (w, f) in pushes.items()
    }


@dataclass(frozen=True, eq=False)
class PushesOver:
    """How the loads push every joint over many poses: as ``Contact`` has it for one joint at one.

    ``weight`` and ``load`` the work per unit of every error, N, shape (poses, errors); ``known_from`` and ``floor`` the
    pushes, N, from which the weight gives a joint its side and the loads push it at all, shape (poses,).
    """

    weight: Array
    load: Array
    known_from: Array
    floor: Array
    reversing: bool

    def moved(self, errors: NDArray[np.intp], reach: Array) -> tuple[Array, Array]:
        """Lowest and highest the load moves the ends by each of several joints, mm, shapes (2, poses, joints).

        ``errors`` the places of the joints' offsets, shape (joints, axes); ``reach`` what each offset at its full size
        does to either end, shape (2, poses, joints, axes).
        """
        weight, load, floor = self.weight[:, errors], self.load[:, errors], self.floor[:, None]
        known = np.linalg.norm(weight, axis=2) > self.known_from[:, None]
        before = np.where(known[..., None], _units(weight, floor), 0.0)
        afters = [_units(weight + share * load, floor) for share in ((1.0, -1.0) if self.reversing else (1.0,))]
        swept = [_swept_over(reach, before, after) for after in afters]
        lows, highs = (np.stack(each) for each in zip(*swept, strict=True))
        pushed = np.stack([after.any(axis=2) for after in afters])
        seats = np.stack([(after * reach).sum(axis=3) for after in afters])
        own = np.linalg.norm(reach, axis=3)
        least = np.where(pushed[:, None], seats, math.inf).min(axis=0) - own
        most = np.where(pushed[:, None], seats, -math.inf).max(axis=0) + own
        any_push = pushed.any(axis=0)
        unsure_low, unsure_high = np.where(any_push, least, 0.0), np.where(any_push, most, 0.0)
        return np.where(known, lows.min(axis=0), unsure_low), np.where(known, highs.max(axis=0), unsure_high)


def pushes_over(poses: Poses) -> PushesOver | None:
    """How the loads push every joint over many poses; None without a load."""
    if poses.mount.load is None:
        return None
    load = poses.of_error("load")
    weight = poses.of_error("weight") if poses.has("weight") else np.zeros_like(load)
    starts = [place.start for place in poses.assembly.joint_errors.values()]
    sizes = [np.sqrt(np.add.reduceat(push**2, starts, axis=1)).max(axis=1) for push in (weight, weight + load)]
    largest = np.maximum(*sizes) if starts else np.zeros(len(poses))
    return PushesOver(weight, load, _NO_WEIGHT * largest, _NO_PUSH * largest, poses.mount.load.reversing)


def _units(push: Array, floor: Array) -> Array:
    """Unit vectors along pushes, shape (..., axes), zero where these are no larger than the floor."""
    size = np.linalg.norm(push, axis=-1)
    pushed = (size > floor)[..., None]
    units: Array = np.divide(push, size[..., None], out=np.zeros_like(push), where=pushed)
    return units


def _swept_over(reach: Array, before: Array, after: Array) -> tuple[Array, Array]:
    """``Contact._swept`` over many poses, of joints of one axis or two; shapes (2, poses, joints)."""
    pushed = after.any(axis=-1)
    start, end = (before * reach).sum(axis=-1), (after * reach).sum(axis=-1)
    low = np.where(pushed, np.minimum(0.0, end - start), 0.0)
    high = np.where(pushed, np.maximum(0.0, end - start), 0.0)
    if reach.shape[-1] == 1:
        return low, high
    cross = before[..., 0] * after[..., 1] - before[..., 1] * after[..., 0]
    turn, size = np.arctan2(cross, (before * after).sum(axis=-1)), np.linalg.norm(reach, axis=-1)
    across = before[..., 0] * reach[..., 1] - before[..., 1] * reach[..., 0]
    for sign in (1.0, -1.0):
        toward = np.arctan2(sign * across, sign * start)
        within = (np.minimum(turn, 0.0) < toward) & (toward < np.maximum(turn, 0.0))
        on_arc = pushed & (np.abs(cross) > _STRAIGHT) & (size > 0) & within
        low = np.where(on_arc, np.minimum(low, sign * size - start), low)
        high = np.where(on_arc, np.maximum(high, sign * size - start), high)
    return low, high


def dot(a: Sequence[float], b: Sequence[float]) -> float:
    """Scalar product."""
    return sum([x * y for x, y in zip(a, b, strict=True)])
