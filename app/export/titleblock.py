"""The title block of a drawing, in the manner of ISO 7200, and a scale bar: shapes in letters of a given height."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from app import __version__
from app.document.models import Mount
from app.document.parts import Point
from app.document.units import CUSTOMS, QUANTITIES, System, amount
from app.export.shapes import Path, Shape, Words, text_width

WIDE, HIGH = 72.0, 13.0
"""Its size in letters: 180 mm of paper, as ISO 7200 has it, with letters of 2.5 mm."""

SYMBOLS = "places, lengths, bores, edge: exact; plate, lugs, pins, guides: symbols"
"""What a workshop must not measure."""


@dataclass(frozen=True)
class Title:
    """What stands in the block."""

    title: str
    stands: str
    scale: str
    units: str
    tolerance: str
    drawn: str


@dataclass(frozen=True)
class _Cell:
    """A field of the block: where, in letters from its lower left corner, its label and what stands in it."""

    x: float
    y: float
    wide: float
    high: float
    label: str
    text: str
    size: float = 1.0


def title_of(mount: Mount, stands: str, scale: str, system: System, day: date | None = None) -> Title:
    """What stands in the block of a mount, drawn on a day or today."""
    tolerance = "none given" if mount.tolerance is None else f"±{amount(mount.tolerance, 'error', system)}"
    units = CUSTOMS[system].block
    return Title(mount.title, stands, scale, units, tolerance, (day or date.today()).isoformat())


def title_block(title: Title, corner: Point, letters: float) -> Iterator[Shape]:
    """The block with its lower left corner at a point."""
    for cell in (
        _Cell(0, 8, 48, 5, "title", title.title, 1.4),
        _Cell(0, 4, 48, 4, "pose", title.stands),
        _Cell(0, 0, 48, 4, "what to measure", SYMBOLS),
        _Cell(48, 8, 12, 5, "scale", title.scale, 1.4),
        _Cell(60, 8, 12, 5, "dimensions in", title.units, 1.4),
        _Cell(48, 4, 12, 4, "tolerance of the edge", title.tolerance),
        _Cell(60, 4, 12, 4, "date of issue", title.drawn),
        _Cell(48, 0, 12, 4, "kind of document", "sketch, sheet 1/1"),
        _Cell(60, 0, 12, 4, "made by", f"Blade Mount Sketcher {__version__}"),
    ):
        yield from _cell(cell, corner, letters)


def scale_bar(length: float, system: System, at: Point, letters: float, per_mm: float = 1.0) -> Iterator[Shape]:
    """A bar of a round length at the most ``length`` mm of the mount long; ``per_mm``: mm drawn for each."""
    shown = QUANTITIES["length"][system]
    step = round_below(length / shown.factor / 4)
    x, y = at
    long, high = step * shown.factor * per_mm, 0.8 * letters
    for number in range(4):
        left = x + number * long
        corners = ((left, y), (left + long, y), (left + long, y + high), (left, y + high))
        yield Path("TITLE", corners, closed=True)
        if number % 2 == 0:
            yield Path("TITLE", ((left, y + high / 2), (left + long, y + high / 2)))
    for number in (0, 2, 4):
        words = f"{number * step:g}" + f" {shown.unit}" * (number == 4)
        yield Words("TITLE", (x + number * long, y + 1.3 * letters), words, letters)


def round_below(length: float) -> float:
    """The largest of 1, 2, 5, 10, 20 … that is not longer."""
    power = 10.0 ** math.floor(math.log10(length))
    return next(float(f"{step * power:g}") for step in (5, 2, 1) if step * power <= length * (1 + 1e-9))


def _cell(cell: _Cell, corner: Point, letters: float) -> Iterator[Shape]:
    x, y = corner[0] + cell.x * letters, corner[1] + cell.y * letters
    right, top = x + cell.wide * letters, y + cell.high * letters
    yield Path("TITLE", ((x, y), (right, y), (right, top), (x, top)), closed=True)
    yield Words("TITLE", (x + 0.5 * letters, top - 1.1 * letters), cell.label, 0.65 * letters)
    size = min(cell.size, (cell.wide - 1.2) / max(text_width(cell.text), 1e-9))
    yield Words("TITLE", (x + 0.6 * letters, y + 0.8 * letters), cell.text, size * letters)
