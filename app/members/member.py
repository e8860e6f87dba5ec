"""What every kind of member has to say of itself, so that nothing else needs to know which kind it is.

A kind is one file beside this one: its fields, its constraint rows, what its joints' offsets do, the line along which
it pushes, where it stands and how it is drawn. ``app.members`` lists them.
"""

import math
from abc import abstractmethod
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, Protocol

import numpy as np
import sympy as sp
from numpy.typing import NDArray
from pydantic import Field

from app.document.errors import Fault
from app.document.messages import word
from app.document.parts import COINCIDENT_MM, Name, Part, Place, Point, measured
from app.members.joint import End, Joint
from app.members.outline import Outline

Numbers = NDArray[np.floating[Any]]


KIND = "kind of member"
"""What the field of that name means in each of them."""


def distance(first: Point, second: Point) -> float:
    """Distance of two points, mm; of many where coordinates are arrays."""
    x, y = second[0] - first[0], second[1] - first[1]
    many: Any = np.hypot(x, y) if isinstance(x, np.ndarray) or isinstance(y, np.ndarray) else math.hypot(x, y)
    return many  # type: ignore[no-any-return]


class Carrier(Protocol):
    """A body in the equations: where a point given in its own axes stands, and how such a direction points."""

    def point(self, own: Sequence[sp.Symbol]) -> sp.Matrix:
        """Where a point of the body stands, (x, y)."""

    def direction(self, own: Sequence[sp.Symbol]) -> sp.Matrix:
        """How a direction fixed to the body points, (x, y)."""


@dataclass(frozen=True)
class Standing:
    """Where a member's hold on its first and on its second body stands, mm, and the turn of the first, radians."""

    first: Point
    second: Point
    turn: float = 0.0


class Member(Part):
    """A member that joins two bodies.

    ``ROWS``: its constraint rows; ``OFFSETS``: errors of its joints, two a pin, one a slide or pinned end; ``NUMBERS``:
    numbers of its own that its rows take; ``DRIVEN``: whether a stroke sets its length; ``BODIES``: where its two
    bodies stand in the document. ``TITLE``: what several of its kind are called; ``ON``: what heads the bodies it
    joins; ``END_WORDS``: what its ends are called, ``{on}`` being the body there; ``SHORT_END_WORDS``: the same where
    the member stands beside it.
    """

    ROWS: ClassVar[int] = 1
    OFFSETS: ClassVar[int]
    NUMBERS: ClassVar[int]
    DRIVEN: ClassVar[bool] = False
    TITLE: ClassVar[str]
    BODIES: ClassVar[tuple[str, str]]
    ON: ClassVar[str] = "mounted on"
    END_WORDS: ClassVar[tuple[str, ...]] = ()
    SHORT_END_WORDS: ClassVar[tuple[str, ...]] = ()

    kind: str
    id: Name = Field(description="name of the member, used once")

    @property
    @abstractmethod
    def joined(self) -> tuple[str, str]:
        """The two bodies it joins, first and second."""

    @property
    @abstractmethod
    def holds(self) -> tuple[Point, Point]:
        """Where it takes hold of its first and of its second body, as drawn."""

    @property
    @abstractmethod
    def joints(self) -> tuple[tuple[str, Joint, Point], ...]:
        """Its joints in the order of their offsets: name, part and place as drawn."""

    @staticmethod
    @abstractmethod
    def constraint(
        first: Carrier, second: Carrier, own: Sequence[sp.Symbol], length: sp.Symbol, offsets: Sequence[sp.Symbol]
    ) -> list[sp.Expr]:
        """Its constraint rows in mm: nought where it closes. ``own`` as ``numbers`` lays them out."""

    @abstractmethod
    def numbers(self, first: Point, second: Point) -> list[float]:
        """Its own numbers for the rows; ``first`` and ``second`` are the reference points of its bodies as drawn."""

    @abstractmethod
    def numbers_moved(self) -> Numbers:
        """How ``numbers`` change per mm of every coordinate of its joints (x, y each): (coordinates, NUMBERS)."""

    def length_moved(self) -> Numbers:
        """How its drawn length changes per mm of the same coordinates, shape (coordinates,)."""
        return np.zeros(2 * len(self.joints))

    @abstractmethod
    def forces(self, multipliers: Sequence[float], standing: Standing) -> list[Point]:
        """The force at each of its joints, N, from the multipliers of its rows.

        At a pin or slide: of the first body on the second. At a pinned end: of the member on the body there.
        """

    @abstractmethod
    def line(self, on_blade: Point, beyond: Point, slopes: Sequence[float], carries: bool) -> tuple[Point, Point]:
        """The line through the blade's instant centre on which it holds the blade: two points, the same for a pin.

        ``on_blade`` and ``beyond``: its hold on the blade and on the other body; ``slopes``: its first row's
        derivatives by the blade's x and y; ``carries``: whether the blade is its first body.
        """

    @property
    def row_names(self) -> tuple[str, ...]:
        """What each of its rows is called in a table."""
        return (self.id,)

    @abstractmethod
    def outline(self, standing: Standing) -> Iterator[Outline]:
        """How it is drawn where it stands."""

    def faults(self, place: str) -> Iterator[Fault]:
        """What is wrong with its own numbers, with where in the document; each with its remedy."""
        yield from ()


class AtOnePoint(Member):
    """A member at one point: pin and slide are a single joint themselves."""

    BODIES = ("joins[0]", "joins[1]")

    joins: Annotated[tuple[Name, Name], Field(strict=False)] = Field(description="the two bodies it joins")
    at: Place = measured("fine", "", "the pin's centre as drawn, [x, y]")

    @property
    def joined(self) -> tuple[str, str]:
        """The two bodies it joins, first and second."""
        return self.joins

    @property
    def holds(self) -> tuple[Point, Point]:
        """The one point, twice."""
        return self.at, self.at


class BetweenEnds(Member):
    """A member between two pinned ends: rod and cylinder."""

    OFFSETS = 2
    BODIES = ("ends[0].on", "ends[1].on")

    ends: Annotated[tuple[End, End], Field(strict=False)] = Field(
        description="its two pinned ends; a cylinder's first end is the barrel"
    )

    @property
    def joined(self) -> tuple[str, str]:
        """The bodies its ends are pinned to."""
        return self.ends[0].on, self.ends[1].on

    @property
    def holds(self) -> tuple[Point, Point]:
        """Where its ends are, as drawn."""
        return self.ends[0].at, self.ends[1].at

    @property
    def joints(self) -> tuple[tuple[str, Joint, Point], ...]:
        """Its two ends."""
        first, second = self.ends
        return (f"{self.id} / 1", first, first.at), (f"{self.id} / 2", second, second.at)

    @property
    def drawn_length(self) -> float:
        """Pin to pin length as drawn, mm."""
        return distance(self.ends[0].at, self.ends[1].at)

    def numbers(self, first: Point, second: Point) -> list[float]:
        """Where its ends are from the reference points of their bodies: x, y each."""
        (ax, ay), (bx, by) = self.holds
        return [ax - first[0], ay - first[1], bx - second[0], by - second[1]]

    def numbers_moved(self) -> Numbers:
        """Every coordinate of its ends is one of its numbers."""
        return np.eye(4)

    def length_moved(self) -> Numbers:
        """Unit vector from end 1 to end 2, against end 1 and with end 2."""
        x, y = self._along(*self.holds)
        return np.array([-x, -y, x, y])

    def forces(self, multipliers: Sequence[float], standing: Standing) -> list[Point]:
        """A pull along its line, on each body toward the other end."""
        x, y = self._along(standing.first, standing.second)
        pull = (multipliers[0] * x, multipliers[0] * y)
        return [pull, (-pull[0], -pull[1])]

    def line(self, on_blade: Point, beyond: Point, slopes: Sequence[float], carries: bool) -> tuple[Point, Point]:
        """It holds along itself."""
        return on_blade, beyond

    def faults(self, place: str) -> Iterator[Fault]:
        """Ends that are the same point."""
        if self.drawn_length < COINCIDENT_MM:
            text = "the two ends of '{name}' coincide; move one, or join the bodies with a pin"
            yield Fault(f"{place}.ends", text, {"name": word(self.id)}, "ends-coincide")

    @staticmethod
    def _along(first: Point, second: Point) -> Point:
        size = math.dist(first, second)
        return (second[0] - first[0]) / size, (second[1] - first[1]) / size


def gap_between(
    first: Carrier, second: Carrier, own: Sequence[sp.Symbol], length: sp.Expr, offsets: Sequence[sp.Symbol]
) -> sp.Expr:
    """Distance of two ends less the length and the error of each end."""
    between = second.point(own[2:4]) - first.point(own[:2])
    return sp.sqrt(between.dot(between)) - length - offsets[0] - offsets[1]
