"""A source of error, and what every kind of source has to say of itself.

A kind is one file beside this one: which sources a mount has, what each does to the ends, how it is put at its worst
for a pose that is solved again, how it changes with what a designer can change, and its formula for the working.
``app.sources`` lists them.
"""

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar, NamedTuple, TypeAlias

import numpy as np
import sympy as sp

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import OTHER, EndName, Point
from app.document.units import FormulaQuantity
from app.solve.equations import Array
from app.sources.play import PlayWord, Sides, dot

STILL = 1e-9
"""What moves an end by less than this share of what it does at the other does not move it."""

Range: TypeAlias = tuple[float, float]


class Source(NamedTuple):
    """One source of error and what it does to both ends at once.

    ``reach`` maps an end of the blade to the height, mm, that the source at its full size adds there: for a pin one
    value per axis of the offset, else a single value. ``one_sided`` sources are either not there or fully there (oil,
    stretch); the others may take either sign. ``circle`` is true where the offset lies in a clearance circle. ``play``
    says of a clearance whether the loads hold it: 'held', 'turns over' or 'unknown'; ``sides`` to which sides they
    push it, None without a load.
    """

    id: str
    member: str | None
    kind: str
    reach: Mapping[EndName, tuple[float, ...]]
    one_sided: bool = False
    circle: bool = False
    play: PlayWord | None = None
    sides: Sides | None = None

    def range(self, end: EndName) -> Range:
        """Lowest and highest it puts an end, mm."""
        if self.one_sided:
            return min(self.reach[end][0], 0.0), max(self.reach[end][0], 0.0)
        own = self.reach[end]
        size = abs(own[0]) if len(own) == 1 else math.hypot(*own)
        return -size, size

    def other_end(self, end: EndName) -> Range:
        """Where the other end is while this source holds ``end`` lowest and highest, mm."""
        own, other = self.reach[end], self.reach[OTHER[end]]
        if math.hypot(*own) <= STILL * math.hypot(*other):
            return 0.0, 0.0  # Rounding must not choose the side.
        if self.one_sided:
            return (other[0], 0.0) if own[0] < 0 else (0.0, other[0])
        follow = dot(own, other) / math.hypot(*own)
        return -follow, follow


@dataclass(frozen=True)
class Slope:
    """How the worst error of both ends changes per unit of one number: mm per document unit."""

    what: str
    id: str
    value: float
    per_unit: dict[EndName, float]


@dataclass(frozen=True, eq=False)
class Ways:
    """Single coordinates of joints moved by 1 mm each, and what follows: one row a way, two ways a joint (x, y).

    ``numbers`` and ``lengths`` change by these, shapes (ways, numbers) and (ways, cylinders); ``drawn_lengths`` of
    every member by id, shape (ways,); ``turns`` of the blade, radians, shape (ways,). ``by_length`` and ``by_error``
    are how the sensitivities change, shapes (ways, cylinders, cases) and (ways, errors, cases).
    """

    numbers: Array
    lengths: Array
    drawn_lengths: dict[str, Array]
    turns: Array
    by_length: Array
    by_error: Array

    def zero(self) -> Array:
        """Nothing along any way, shape (ways,)."""
        return np.zeros(len(self.numbers))


class Column(NamedTuple):
    """A number that a kind's formula takes: heading, symbol, what it measures in the working, and meaning."""

    title: str
    symbol: str
    quantity: FormulaQuantity
    meaning: str


class Term(NamedTuple):
    """One source in its kind's formula: the source, its numbers by column, and where on the sheet it is."""

    source: Source
    numbers: tuple[float, ...]
    place: tuple[Point, ...] = ()


class SourceKind(ABC):
    """What a kind of source says of itself.

    ``KIND`` its name in answers; ``SYMBOL`` its name in the working's formulas; ``LABEL`` what one of its sources is on
    the budget, ``SHORT`` the same where there is little room; ``TITLE`` and ``TOGETHER`` head and name their sum.
    """

    KIND: ClassVar[str]
    SYMBOL: ClassVar[str]
    LABEL: ClassVar[str]
    SHORT: ClassVar[str]
    TITLE: ClassVar[str]
    TOGETHER: ClassVar[str]
    STEPS: ClassVar[dict[str, float]] = {}
    """Numbers a designer can change that it depends on, with a small change of each in document units."""

    @abstractmethod
    def sources(self, analysis: Analysis) -> list[Source]:
        """Every source of this kind that the mount has, at one position."""

    def put_worst(  # noqa: B027 - what does not move the mount itself puts nothing
        self, analysis: Analysis, end: EndName, sign: float, errors: list[float], lengths: list[float]
    ) -> None:
        """Put its sources at their worst for an end, upward (+1) or downward (-1), into a pose to be solved again.

        ``errors`` and ``lengths`` (mm, laid out as in ``Equations``) are changed in place. What does not move the
        mount itself has nothing to put.
        """

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """How the worst changes with the numbers it depends on; ``sides`` the worse side of each end: 0 low, 1 high."""
        yield from ()

    @abstractmethod
    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """How its part of the worst of one end changes along every way, mm per mm, shape (ways,)."""

    @abstractmethod
    def lacks(self, mount: Mount) -> Message | None:
        """What the document lacks for it; None where it lacks nothing."""

    # For the working

    WORDS: ClassVar[str]
    """The formula in a line of plain words."""
    NOTHING: ClassVar[str]
    """Why there is no source of this kind, where the document lacks nothing for it."""

    @abstractmethod
    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """The formula of one source: the symbol it gives and the expression."""

    @abstractmethod
    def columns(self) -> tuple[Column, ...]:
        """The numbers the formula takes."""

    @abstractmethod
    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """One source of this kind with the numbers of the formula for one end."""


def pushes(height: float, side: int) -> float:
    """The sign with which a one-sided height counts toward the worse side, 0 when it lies on the other."""
    sign = 1.0 if side else -1.0
    return sign if height * sign > 0 else 0.0
