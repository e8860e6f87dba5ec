"""Where names stand on a drawing: beside what they name, clear of its lines and of each other."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from app.document.parts import Point
from app.export.shapes import Box, Circle, Path, Shape, Span, Words
from app.solve.equations import Array

DISTANCES = (0.8, 1.8, 3.0, 4.5, 6.5, 9.0, 12.0, 16.0, 21.0, 27.0)
"""How far from what it names a name may stand, in letters; the nearest that is clear is taken."""

_OBLIQUE = ((1, 1), (1, -1), (-1, 1), (-1, -1))
WAYS: tuple[Point, ...] = (
    *_OBLIQUE,
    *((1, 0), (-1, 0), (0, 1), (0, -1)),
    *((across, up / 2) for across, up in _OBLIQUE),
    *((across / 2, up) for across, up in _OBLIQUE),
)
"""Where it may stand: right and above first, then round."""

LED = 2.0
"""A name farther off than this, in letters, has a line that leads to it."""


@dataclass(frozen=True)
class Name:
    """A name and the place it belongs to, mm."""

    at: Point
    text: str


def placed(names: Iterable[Name], shapes: Iterable[Shape], letters: float) -> Iterator[Shape]:
    """The names as words clear of the shapes, where there is room, with lines that lead to those farther off."""
    lines = tuple(shapes)
    taken = _segments(lines, letters)
    read = [figure_box(shape, letters) for shape in lines if isinstance(shape, Span)]
    for name in names:
        words, lead = _best(name, taken, read, letters)
        if lead:
            yield Path("NAMES", lead)
            taken = np.vstack([taken, _row(*lead)])
        yield words
        read.append(words_box(words))
        taken = np.vstack([taken, _sides(read[-1])])


def words_box(words: Words) -> Box:
    """The room words take, with what hangs below their line."""
    x, y = words.at
    return Box(x, y - 0.3 * words.height, x + words.width, y + 1.1 * words.height)


def crossings(box: Box, segments: Array) -> int:
    """How many segments (x, y, x, y) run through a box or lie in it."""
    return int(_crossings([box], segments)[0])


def _crossings(boxes: list[Box], segments: Array) -> Array:
    """The same for several boxes at once, ``[box]``."""
    x1, y1, x2, y2 = segments.T
    left, low, right, high = np.array([(each.left, each.low, each.right, each.high) for each in boxes]).T[:, :, None]
    near = (np.minimum(x1, x2) < right) & (np.maximum(x1, x2) > left)
    near &= (np.minimum(y1, y2) < high) & (np.maximum(y1, y2) > low)
    sides = [(x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) for x in (left, right) for y in (low, high)]
    met: Array = np.sum(near & (np.min(sides, axis=0) <= 0) & (np.max(sides, axis=0) >= 0), axis=1)
    return met


def _best(name: Name, taken: Array, read: list[Box], letters: float) -> tuple[Words, tuple[Point, Point] | None]:
    """The first place that is clear, or the one with fewest crossings, and the line that leads there if it is far."""
    found: tuple[int, Words, tuple[Point, Point] | None] | None = None
    width = Words("NAMES", (0.0, 0.0), name.text, letters).width
    around = _around(taken, name.at, (DISTANCES[-1] + 2) * letters + width)
    for distance in DISTANCES:
        places = [_beside(name, way, distance * letters, letters, width) for way in WAYS]
        boxes = [Box(x, y - 0.3 * letters, x + width, y + 1.1 * letters) for x, y in places]
        for place, box, met in zip(places, boxes, _crossings(boxes, around), strict=True):
            hits = int(met)
            lead = (name.at, _nearest(box, name.at)) if distance > LED else None
            if lead and not hits and read:
                hits = int(_crossings(read, np.array([_row(*lead)])).sum())
            if found is None or hits < found[0]:
                found = hits, Words("NAMES", place, name.text, letters), lead
            if not hits:
                return found[1], found[2]
    _, words, lead = found or (0, Words("NAMES", name.at, name.text, letters), None)
    return words, lead


def _around(segments: Array, at: Point, reach: float) -> Array:
    """The segments that come nearer to a point than ``reach``, across and up."""
    x1, y1, x2, y2 = segments.T
    (x, y) = at
    near = (np.minimum(x1, x2) < x + reach) & (np.maximum(x1, x2) > x - reach)
    near &= (np.minimum(y1, y2) < y + reach) & (np.maximum(y1, y2) > y - reach)
    kept: Array = segments[near]
    return kept


def _beside(name: Name, way: Point, distance: float, letters: float, width: float) -> Point:
    """Where words of that width begin."""
    x, y = name.at
    across, up = way
    left = x + across * distance - (width if across < 0 else 0.0 if across else width / 2)
    low = y + up * distance - (1.1 * letters if up < 0 else -0.3 * letters if up else 0.4 * letters)
    return left, low


def _nearest(box: Box, at: Point) -> Point:
    return min(max(at[0], box.left), box.right), min(max(at[1], box.low), box.high)


def _sides(box: Box) -> list[tuple[float, float, float, float]]:
    corners = ((box.left, box.low), (box.right, box.low), (box.right, box.high), (box.left, box.high))
    return [_row(*ends) for ends in zip(corners, (*corners[1:], corners[0]), strict=True)]


def _row(first: Point, second: Point) -> tuple[float, float, float, float]:
    return (*first, *second)


def _segments(shapes: Iterable[Shape], letters: float) -> Array:
    """Every line of the shapes as x, y, x, y; circles and the figures of dimensions as boxes round them."""
    found: list[tuple[float, float, float, float]] = []
    for shape in shapes:
        match shape:
            case Path(_, points, closed):
                ends = (*points, points[0]) if closed else points
                found += [_row(*each) for each in pairwise(ends)]
            case Circle(_, (x, y), radius):
                found += _sides(Box(x - radius, y - radius, x + radius, y + radius))
            case Words():
                found += _sides(words_box(shape))
            case Span(first, second, line):
                found += [_row(first, line[0]), _row(second, line[1]), _row(*line)]
                found += _sides(figure_box(shape, letters))
    return np.array(found, dtype=float).reshape(-1, 4)


def figure_box(span: Span, letters: float) -> Box:
    """The room the figure of a dimension takes above the middle of its line, however it is turned."""
    (x, y), (to_x, to_y) = span.line
    angle = math.radians(span.angle)
    middle = (x + to_x) / 2 - 0.9 * letters * math.sin(angle), (y + to_y) / 2 + 0.9 * letters * math.cos(angle)
    half = 2.6 * letters * abs(math.cos(angle)) + 0.8 * letters * abs(math.sin(angle))
    rise = 2.6 * letters * abs(math.sin(angle)) + 0.8 * letters * abs(math.cos(angle))
    return Box(middle[0] - half, middle[1] - rise, middle[0] + half, middle[1] + rise)
