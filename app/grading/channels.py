"""Channels: which reading works which cylinder, and what of a reading becomes movement of a cylinder."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from app.grading.settings import Way
from app.results.coupling import relative_gain
from app.solve.equations import Array

_HARDLY = 1e-3


@dataclass(frozen=True, eq=False)
class Channels:
    """From what is read to what cylinders need.

    ``needs``: mm of each cylinder per mm of each reading, shape (cylinders, 2); a cylinder has to move by minus that.
    ``paired``: the reading each cylinder is paired with, 0 or 1; ``at_end``: mm of it per mm of the cylinder, its size.
    ``left``: share of an error that a round of correcting in turn leaves; None with one cylinder.
    """

    needs: Array
    paired: tuple[int, ...]
    at_end: Array
    left: float | None


def channels(gains: Array, way: Way) -> Channels:
    """The channels of a way of controlling, from what each reading moves per mm of each cylinder, shape (2, cylinders).

    Two cylinders are paired as Bristol's relative gain says; one with the reading it moves more. Raises
    ZeroDivisionError where a cylinder does not move what it is paired with, or both move both readings alike.
    """
    count = gains.shape[1]
    if count == 1:
        paired: tuple[int, ...] = (int(np.abs(gains[0, 0]) < np.abs(gains[1, 0])),)
        share = None
    else:
        better = relative_gain(gains)
        paired = (0, 1) if better >= 0.5 - 1e-9 else (1, 0)
        best = max(better, 1.0 - better)
        share = 1.0 - 1.0 / best
    own = gains[list(paired), range(count)]
    if (np.abs(own) < _HARDLY).any():
        raise ZeroDivisionError("a cylinder does not move what it is paired with")
    needs: Array = np.zeros((count, 2))
    if way == "decoupled" and count == 2:
        needs = np.linalg.inv(gains)
    else:
        needs[range(count), list(paired)] = 1 / own
    return Channels(needs, paired, np.abs(own), share)


def stability_limit(matrix: Array) -> float:
    """Largest gain times pure delay, radians, at which two proportional channels at once still settle.

    ``matrix``: what each reading moves per unit that each asks for, shape (2, 2). Each of its eigenvalues a has to keep
    |a| below pi/2 less the size of its own angle (Hayes 1950 for a single one, x' = -a x(t - tau), as recalled).
    """
    found = np.linalg.eigvals(matrix)
    limits = [(np.pi / 2 - abs(np.angle(each))) / abs(each) for each in found if abs(each) > 1e-12]
    return float(min(limits, default=np.inf))


def pairs(paired: Sequence[int], cases: Sequence[str]) -> list[str]:
    """The case of what each cylinder is paired with."""
    return [cases[each] for each in paired]
