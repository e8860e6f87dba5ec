"""What a drawing is made of before any format writes it: shapes on layers, in mm of the mount, x right and y up."""

import math
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from app.document.parts import Point

LineType: TypeAlias = Literal["full", "chain"]
"""Full for what is seen, dash and dot for centre lines: ISO 128-2, types 01 and 10."""


@dataclass(frozen=True)
class Layer:
    """A kind of line: its colour by the DXF colour index, its type, and its weight on paper, mm."""

    colour: int
    line: LineType
    weight: float


EXTRA_WIDE, WIDE, NARROW = 0.7, 0.5, 0.25
"""Line weights, mm: wide and narrow are two to one, ISO 128-2."""

LAYERS = {
    "OUTLINE": Layer(7, "full", WIDE),
    "EDGE": Layer(5, "full", EXTRA_WIDE),
    "MEMBERS": Layer(3, "full", WIDE),
    "JOINTS": Layer(1, "full", WIDE),
    "FRAME": Layer(8, "full", NARROW),
    "CENTRE": Layer(4, "chain", NARROW),
    "CONSTRUCTION": Layer(9, "chain", NARROW),
    "SENSORS": Layer(2, "full", NARROW),
    "LOAD": Layer(30, "full", NARROW),
    "DIMENSIONS": Layer(9, "full", NARROW),
    "NAMES": Layer(7, "full", NARROW),
    "TITLE": Layer(7, "full", NARROW),
}
"""Every layer. OUTLINE: blade and bodies; EDGE: cutting edge; CENTRE: centre lines, centre marks, instant centres;
CONSTRUCTION: what the drawing is set out by."""

_LETTER = 0.72
"""Width of a letter over the height of a capital, on the safe side of a plain drawing font."""


@dataclass(frozen=True)
class Path:
    """Straight lines through points."""

    layer: str
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True)
class Circle:
    """A circle."""

    layer: str
    centre: Point
    radius: float


@dataclass(frozen=True)
class Words:
    """Text whose first letter stands at a point, ``height`` mm high."""

    layer: str
    at: Point
    text: str
    height: float

    @property
    def width(self) -> float:
        """How long it is at the most, mm; a wide letter counts twice."""
        return text_width(self.text) * self.height


@dataclass(frozen=True)
class Span:
    """A dimension: two measured points, and the dimension line between the extension lines from them."""

    first: Point
    second: Point
    line: tuple[Point, Point]

    @property
    def length(self) -> float:
        """What it measures, mm."""
        return math.dist(*self.line)

    @property
    def angle(self) -> float:
        """How its line runs, degrees; above -90 and up to 90, so that its figure is read from below or the right."""
        (x, y), (to_x, to_y) = self.line
        return math.degrees(math.atan2(to_y - y, to_x - x))


Shape: TypeAlias = Path | Circle | Words | Span


@dataclass(frozen=True)
class Box:
    """The room shapes take, mm."""

    left: float
    low: float
    right: float
    high: float

    @property
    def width(self) -> float:
        """How wide it is."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """How high it is."""
        return self.high - self.low

    @property
    def middle(self) -> Point:
        """Its middle."""
        return (self.left + self.right) / 2, (self.low + self.high) / 2


def box_of(shapes: Iterable[Shape], letters: float) -> Box:
    """The room all of them take; ``letters``: height of the figures of dimensions, mm."""
    points = [point for shape in shapes for point in _reach(shape, letters)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def text_width(text: str) -> float:
    """How long a text is at the most, in heights of a letter; a wide letter counts twice."""
    return _LETTER * sum(2 if unicodedata.east_asian_width(letter) in "WF" else 1 for letter in text)


def _reach(shape: Shape, letters: float) -> Iterator[Point]:
    match shape:
        case Path(_, points):
            yield from points
        case Circle(_, (x, y), radius):
            yield x - radius, y - radius
            yield x + radius, y + radius
        case Words(_, (x, y), _, height):
            yield x, y - 0.3 * height
            yield x + shape.width, y + height
        case Span(first, second, line):
            yield from (first, second)
            for x, y in line:
                yield x - 2 * letters, y - 2 * letters
                yield x + 2 * letters, y + 2 * letters
