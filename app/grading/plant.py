"""What a run moves: cylinder lengths in, heights out; the mount of the document, or any other that answers alike."""

import math
from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np

from app.document.models import Mount
from app.grading.loads import Seats
from app.grading.settings import Channel
from app.solve.assembly import Assembly
from app.solve.equations import Array
from app.solve.poses import Marks, Poses, close, sides

LEFT_END, RIGHT_END, LEFT_SEEN, RIGHT_SEEN = range(4)
"""Heights of a plant, mm off grade: the ends of the edge, and what the receivers see."""

_AT_ONCE = 8192
"""Poses solved in one stack: more would only want more memory."""


class Stood(NamedTuple):
    """Where a stack stands: ``q`` as the plant likes it, shape (poses, ...), and which could be reached."""

    q: Array
    closed: Marks


class Plant(Protocol):
    """A mount as a run sees it: the worked cylinders, by number from 0."""

    @property
    def cylinders(self) -> int:
        """How many are worked."""

    @property
    def shortest(self) -> Array:
        """Their lengths closed, mm, shape (cylinders,)."""

    @property
    def longest(self) -> Array:
        """Their lengths fully out, mm, shape (cylinders,)."""

    def begin(self, runs: int) -> tuple[Array, Array]:
        """Lengths as drawn, shape (runs, cylinders), and q there."""

    def stand(self, lengths: Array, share: Array, near: Array) -> Stood:
        """Work the cylinders to lengths, shape (poses, cylinders), a share of the load on; from q ``near`` by."""

    def heights(self, q: Array, frame: Array) -> Array:
        """Ends and what receivers see, mm off grade, shape (poses, 4).

        ``frame``: heights of the frame over the left and right wheel track, mm, shape (poses, 2).
        """


@dataclass(frozen=True, eq=False)
class MountPlant:
    """The mount of a document.

    ``worked``: the cylinders that are worked, by number in the document. ``track`` and ``middle`` of the wheels, mm.
    """

    assembly: Assembly
    worked: tuple[int, ...]
    seats: Seats
    channel: Channel
    track: float
    middle: float
    drawn: Array
    """Where the mount stands before the run, q shape (unknowns,)."""
    lengths: Array
    """Lengths of all cylinders there, mm, shape (all cylinders,)."""
    side: bool

    @property
    def cylinders(self) -> int:
        """How many are worked."""
        return len(self.worked)

    @property
    def shortest(self) -> Array:
        """Their lengths closed, mm."""
        return np.array([self.mount.cylinders[each].retracted for each in self.worked])

    @property
    def longest(self) -> Array:
        """Their lengths fully out, mm."""
        strokes: Array = np.array([self.mount.cylinders[each].stroke for each in self.worked])
        return np.add(self.shortest, strokes)

    @property
    def mount(self) -> Mount:
        """The mount."""
        return self.assembly.mount

    def begin(self, runs: int) -> tuple[Array, Array]:
        """As drawn."""
        return np.tile(self.lengths[list(self.worked)], (runs, 1)), np.tile(self.drawn, (runs, 1))

    def stand(self, lengths: Array, share: Array, near: Array) -> Stood:
        """Newton's method on the house's own rows, what the load moves put in as offsets of the joints."""
        q, closed = np.empty((len(lengths), near.shape[1])), np.empty(len(lengths), dtype=bool)
        for first in range(0, len(lengths), _AT_ONCE):
            part = slice(first, first + _AT_ONCE)
            whole = np.tile(self.lengths, (len(lengths[part]), 1))
            whole[:, list(self.worked)] = lengths[part]
            given, errors = self.seats.at(share[part])
            found = close(self.assembly.equations, self.assembly.numbers, near[part], whole + given, errors)
            q[part] = found.q
            closed[part] = found.closed
            closed[part][found.closed] = sides(found.jacobian[found.closed]) == self.side
        return Stood(q, closed)

    def heights(self, q: Array, frame: Array) -> Array:
        """The blade on its frame, both turned by what the wheels stand on."""
        poses = Poses(self.assembly, q, np.zeros((len(q), 0, 0)), np.zeros((len(q), 0)))
        turned, lifted = np.arctan((frame[:, 1] - frame[:, 0]) / self.track), frame.mean(axis=1)
        sin, cos = np.sin(turned), np.cos(turned)
        blade, sensors = self.mount.blade, self.mount.sensors
        heights = np.empty((len(q), 4))
        for place, at in ((LEFT_END, blade.left), (RIGHT_END, blade.right)):
            x, y = poses.on_blade(at)
            heights[:, place] = lifted + (x - self.middle) * sin + y * cos - at[1]
        if sensors is None:
            heights[:, LEFT_SEEN:] = heights[:, :LEFT_SEEN]
        else:
            for place, at in ((LEFT_SEEN, sensors.left), (RIGHT_SEEN, sensors.right)):
                x, y = poses.on_blade(at)
                heights[:, place] = lifted + (x - self.middle) * sin + y * cos - at[1]
        if self.channel == "height and cross fall":
            heights[:, RIGHT_SEEN] = self.apart * np.sin(q[:, 2] + turned)
        return heights

    @property
    def apart(self) -> float:
        """How far apart the two places are that set height and cross fall, mm."""
        places = self.mount.sensors or self.mount.blade
        return math.dist(places.left, places.right)
