"""A source of error, and what every kind of source has to say of itself.

A kind is one file beside this one: which sources a mount has, what each does to the ends, how it is put at its worst
for a pose that is solved again, how it changes with what a designer can change, and its formula for the working.
``app.sources`` lists them.
"""

import math
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import ClassVar, Literal, NamedTuple, TypeAlias

import numpy as np
import sympy as sp

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, OTHER, EndName, Point
from app.document.units import FormulaQuantity
from app.solve.equations import Array
from app.solve.farthest import Offset
from app.solve.poses import Poses
from app.solve.sensitivity import BLADE_BODY
from app.sources.play import HELD, HELD_SHARE, MOVES, TURNS_OVER, UNKNOWN, Contact, PlayWord, dot

STILL = 1e-9
"""What moves an end by less than this share of what it does at the other does not move it."""

Range: TypeAlias = tuple[float, float]
Chance: TypeAlias = Literal["disc", "rectangle", "load"]


class Source(NamedTuple):
    """One source of error and what it does to both ends at once.

    ``reach`` maps an end of the blade to the height, mm, that the source at its full size adds there: for a pin one
    value per axis of the offset, else a single value. ``chance`` says how it comes: anywhere in a clearance circle
    ('disc'), either way ('rectangle'), or with the load ('load'): not there without it, fully there with all of it.
    ``shares`` says of the latter how much of ``reach`` is there at which share of the load, in rising order: straight
    lines between these. ``contact`` is how the loads push a joint with play, None without a load.
    """

    id: str
    member: str | None
    kind: str
    reach: Mapping[EndName, tuple[float, ...]]
    chance: Chance = "rectangle"
    shares: tuple[tuple[float, float], ...] = ((0.0, 0.0), (1.0, 1.0))
    contact: Contact | None = None

    @property
    def by_load(self) -> bool:
        """Whether it comes with the load."""
        return self.chance == "load"

    @property
    def back(self) -> float:
        """How much of ``reach`` is there at the other extreme of the load: 0 unless it reverses."""
        return self.shares[0][1]

    def range(self, end: EndName) -> Range:
        """Lowest and highest it puts an end, mm."""
        own = self.reach[end]
        if self.by_load:
            full, back = own[0], own[0] * self.back
            return min(full, back, 0.0), max(full, back, 0.0)
        size = abs(own[0]) if len(own) == 1 else math.hypot(*own)
        return -size, size

    def other_end(self, end: EndName) -> Range:
        """Where the other end is while this source holds ``end`` lowest and highest, mm."""
        own, other = self.reach[end], self.reach[OTHER[end]]
        if math.hypot(*own) <= STILL * math.hypot(*other):
            return 0.0, 0.0  # Rounding must not choose the side.
        if self.by_load:
            full, back = other[0], other[0] * self.back
            return (full, back) if own[0] < 0 else (back, full)
        follow = dot(own, other) / math.hypot(*own)
        return -follow, follow

    def moved(self, end: EndName) -> Range:
        """What the load really moves of it, mm: of play from where the weight lays it, of all else its range."""
        return self.contact.moved(self.reach[end]) if self.contact else self.range(end)

    def play(self, moved: Mapping[EndName, Range]) -> PlayWord | None:
        """What the load does to play, in a word, given what it moves at both ends; None for what is no play."""
        if self.kind != "clearance":
            return None
        if self.contact is None or not self.contact.known:
            return UNKNOWN
        if self.contact.turns:
            return TURNS_OVER
        width, whole = max([(high - low, 2 * math.hypot(*self.reach[end])) for end, (low, high) in moved.items()])
        return HELD if width <= HELD_SHARE * whole else MOVES


class Ranges(NamedTuple):
    """What the sources of a kind do to both ends over many poses, added up: shapes (2, poses), left first, mm.

    Lowest and highest they put an end, and of that what the load really moves (as ``Source.range`` and ``Source.moved``
    have it for one source at one pose).
    """

    low: Array
    high: Array
    moved_low: Array
    moved_high: Array

    @classmethod
    def none(cls, poses: Poses) -> "Ranges":
        """No source at all."""
        return cls(*np.zeros((4, 2, len(poses))))

    @classmethod
    def either_way(cls, sizes: Iterable[Array], poses: Poses) -> "Ranges":
        """Sources that go as far up as down: the size of each, shape (2, poses)."""
        total = sum((np.abs(size) for size in sizes), np.zeros((2, len(poses))))
        return cls(-total, total, -total, total)

    @classmethod
    def with_load(cls, heights: Iterable[tuple[Array, Array]], poses: Poses) -> "Ranges":
        """Sources that come with the load: the height of each with all of it and at its other extreme, (2, poses)."""
        low, high = np.zeros((2, len(poses))), np.zeros((2, len(poses)))
        for full, back in heights:
            low += np.minimum(np.minimum(full, back), 0.0)
            high += np.maximum(np.maximum(full, back), 0.0)
        return cls(low, high, low, high)


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
    every member by id, shape (ways,); ``moved`` the bodies, shape (ways, unknowns). ``by_length`` and ``by_error`` are
    how the sensitivities change, shapes (ways, cylinders, cases) and (ways, errors, cases).
    """

    numbers: Array
    lengths: Array
    drawn_lengths: dict[str, Array]
    moved: Array
    by_length: Array
    by_error: Array

    def zero(self) -> Array:
        """Nothing along any way, shape (ways,)."""
        return np.zeros(len(self.numbers))

    @property
    def turns(self) -> Array:
        """How the blade turns, radians, shape (ways,)."""
        turns: Array = self.moved[:, 3 * BLADE_BODY + 2]
        return turns


def counted(height: float, back: float, side: int) -> float:
    """The factor with which what comes with the load counts toward the worse side (0 low, 1 high): its sign and share.

    ``height`` is what all of the load does; ``back`` how much of it is there at the other extreme of the load.
    """
    sign = 1.0 if side else -1.0
    return sign * (1.0 if height * sign > 0 else back)


def at_ends(values: Callable[[str], Array]) -> Array:
    """A value of both ends over many poses, from the case of each, shape (2, ...)."""
    return np.stack([values(end) for end in ENDS])


def back_of(position: Analysis | Poses) -> float:
    """How much of what is in proportion to the load is there at its other extreme: -1 where it reverses, else 0."""
    load = position.mount.load
    return -1.0 if load and load.reversing else 0.0


def shares_of(analysis: Analysis) -> tuple[tuple[float, float], ...]:
    """The same share by share of the load."""
    return ((-1.0, -1.0), (0.0, 0.0), (1.0, 1.0)) if back_of(analysis) else ((0.0, 0.0), (1.0, 1.0))


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
    MOVES_JOINTS: ClassVar[bool] = False
    """Whether its sources move the mount's own joints or lengths: whether ``offsets`` says all that they do."""

    @abstractmethod
    def sources(self, analysis: Analysis) -> list[Source]:
        """Every source of this kind that the mount has, at one position."""

    @abstractmethod
    def over(self, poses: Poses) -> Ranges:
        """What all of them do together over many poses: the sums of ``sources`` at each of these."""

    def offsets(self, analysis: Analysis) -> list[Offset]:
        """What its sources do to the mount itself, for a pose that is solved again; none where they move no joint."""
        return []

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
