"""The mount on one sheet of paper, to scale: the same outlines, joints and dimensions as the DXF drawing, printed.

Lines by ISO 128-2 (wide 0.5 mm, narrow 0.25 mm, the cutting edge 0.7 mm), dimensions by ISO 129-1, frame by ISO 5457,
title block in the manner of ISO 7200. Letters and arrows have their size on paper, everything else has it by the scale.
"""

import io
import math
from dataclasses import dataclass
from itertools import pairwise

from reportlab.lib.units import mm as POINTS
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from app.analysis import Analysis
from app.document.errors import DoesNotFit, Fault
from app.document.messages import Value, word
from app.document.parts import Point
from app.document.units import CUSTOMS, System, amount
from app.export.figure import Figure, figure
from app.export.papers import BINDING, FITS, MARGIN, PAPERS, SCALES, USUAL, Paper
from app.export.shapes import LAYERS, Circle, Path, Shape, Span, Words, text_width
from app.export.titleblock import HIGH, WIDE, scale_bar, title_block, title_of

LETTERS = 2.5
"""Height of letters on paper, mm (ISO 3098-1)."""

CAPITALS = 0.72
"""Height of a capital over the size of the font."""

FONT = "Helvetica"
ARROW = (1.0, 0.17)
"""Length and half width of an arrowhead, in letters."""

CHAIN = (6.0, 1.0, 0.6, 1.0)
"""Dash, gap, dot and gap of a centre line on paper, mm."""

CLEAR = 4.0
"""Between the drawing and frame or title block, mm."""


def pdf_bytes(
    analysis: Analysis, worked: bool = False, system: System = "metric", paper: str = "", scale: str = FITS
) -> bytes:
    """The sheet as a file: as drawn, or ``worked``; ``paper`` by its name, ``scale`` such as ``1:10`` or ``fits``.

    Raises NotLocated for the worked pose of a mount that is loose or bound, DoesNotFit where the paper has no room.
    """
    sheet, name = _Sheet(PAPERS[paper or USUAL[CUSTOMS[system].trade]]), paper or USUAL[CUSTOMS[system].trade]
    reduction, drawn = _reduced(analysis, worked, system, name, scale)
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(sheet.paper.width * POINTS, sheet.paper.height * POINTS), initialFontName=FONT)
    canvas.setTitle(analysis.mount.title)
    canvas.setSubject(f"{drawn.stands}, 1:{reduction} on {name}")
    canvas.setAuthor("Blade Mount Sketcher")
    pen = _Pen(canvas, system)
    pen.frame(sheet.paper)
    for shape in _ordered(drawn.shapes):
        pen.shape(shape, _Placed(1 / reduction, drawn.box.middle, sheet.middle))
    on_paper = _Placed(1.0, (0.0, 0.0), (0.0, 0.0))
    title = title_of(analysis.mount, drawn.stands, f"1:{reduction}", system)
    corner = (sheet.paper.width - MARGIN - WIDE * LETTERS, MARGIN)
    for shape in title_block(title, corner, LETTERS):
        pen.shape(shape, on_paper)
    left = BINDING + CLEAR
    room = corner[0] - left - CLEAR - 8 * LETTERS
    for shape in scale_bar(min(room, 120.0) * reduction, system, (left, MARGIN + CLEAR), LETTERS, 1 / reduction):
        pen.shape(shape, on_paper)
    for row, note in enumerate(reversed(drawn.notes)):
        height = min(LETTERS, (corner[0] - left - CLEAR) / text_width(note))
        pen.shape(Words("TITLE", (left, MARGIN + CLEAR + (4 + 1.6 * row) * LETTERS), note, height), on_paper)
    canvas.showPage()
    canvas.save()
    return file.getvalue()


@dataclass(frozen=True)
class _Sheet:
    """Where the drawing has room on a paper: inside the frame, above the title block."""

    paper: Paper

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of that room, mm."""
        width, height = self.paper.frame
        return width - 2 * CLEAR, height - HIGH * LETTERS - 2 * CLEAR

    @property
    def middle(self) -> Point:
        """The middle of that room, mm from the lower left corner of the paper."""
        width, height = self.room
        return BINDING + CLEAR + width / 2, MARGIN + HIGH * LETTERS + CLEAR + height / 2


@dataclass(frozen=True)
class _Placed:
    """Where points stand on paper: ``size`` mm for each mm, and a point of theirs where it is put."""

    size: float
    point: Point
    put: Point

    def at(self, point: Point) -> Point:
        """Where a point stands, in points of the printer."""
        (x, y), (own_x, own_y), (left, low) = point, self.point, self.put
        return (left + self.size * (x - own_x)) * POINTS, (low + self.size * (y - own_y)) * POINTS


def _reduced(analysis: Analysis, worked: bool, system: System, paper: str, scale: str) -> tuple[int, Figure]:
    """The reduction and the mount drawn for it. Raises DoesNotFit, naming the largest scale that fits."""
    asked = None if scale == FITS else int(scale.removeprefix("1:"))
    room = _Sheet(PAPERS[paper]).room

    def at(reduction: int, named: bool = True) -> Figure:
        return figure(analysis, worked, LETTERS * reduction, system, named)

    def fits(drawn: Figure, reduction: int) -> bool:
        return drawn.box.width / reduction <= room[0] and drawn.box.height / reduction <= room[1]

    def fitting(reduction: int) -> Figure | None:
        """The drawing at a scale, if it fits there; names are placed only where the rest does."""
        if not fits(at(reduction, named=False), reduction):
            return None
        drawn = at(reduction)
        return drawn if fits(drawn, reduction) else None

    if asked and (drawn := fitting(asked)):
        return asked, drawn
    found = None
    for reduction in SCALES[CUSTOMS[system].trade]:
        if found := fitting(reduction):
            break
    else:
        reduction = 0
    if found and not asked:
        return reduction, found
    asked = asked or SCALES[CUSTOMS[system].trade][-1]
    needs = at(asked).box
    remedy = f"choose 1:{reduction}, the largest that fits, or a larger paper" if reduction else "choose a larger paper"
    values: dict[str, Value] = {
        "scale": word(f"1:{asked}"),
        "paper": word(paper),
        "width": (needs.width / asked, "fine"),
        "height": (needs.height / asked, "fine"),
        "room": (room[0], "fine"),
        "rise": (room[1], "fine"),
    }
    text = (
        "at {scale} the drawing with its dimensions is {width} wide and {height} high, and {paper} has room for "
        f"{{room}} by {{rise}}; {remedy}"
    )
    raise DoesNotFit([Fault("scale", text, values, "does-not-fit")])


def _ordered(shapes: tuple[Shape, ...]) -> list[Shape]:
    """Dimensions first: the space that their figures keep free is cut from no outline."""
    return sorted(shapes, key=lambda shape: not isinstance(shape, Span))


class _Pen:
    """Writes shapes on a page."""

    def __init__(self, canvas: Canvas, system: System) -> None:
        self.canvas, self.system = canvas, system
        canvas.setLineJoin(1)

    def frame(self, paper: Paper) -> None:
        """The frame of the sheet."""
        width, height = paper.frame
        self.canvas.setLineWidth(0.7 * POINTS)
        self.canvas.rect(BINDING * POINTS, MARGIN * POINTS, width * POINTS, height * POINTS)

    def shape(self, shape: Shape, placed: _Placed) -> None:
        """One shape, in the line of its layer."""
        match shape:
            case Path(layer, points, closed):
                self._line(layer)
                ends = [*points, points[0]] if closed else points
                self._path([placed.at(each) for each in ends], closed)
            case Circle(layer, centre, radius):
                self._line(layer)
                self.canvas.setDash()
                self.canvas.circle(*placed.at(centre), radius * placed.size * POINTS)
            case Words(_, at, text, height):
                self._words(placed.at(at), text, height * placed.size * POINTS)
            case Span():
                self._span(shape, placed)

    def _line(self, layer: str) -> None:
        line = LAYERS[layer]
        self.canvas.setLineWidth(line.weight * POINTS)
        self.canvas.setDash([part * POINTS for part in CHAIN] if line.line == "chain" else [])

    def _path(self, points: list[Point], closed: bool) -> None:
        path = self.canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        if closed:
            path.close()
        self.canvas.drawPath(path)

    def _words(self, at: Point, text: str, height: float) -> None:
        """Text from a point on, its capitals ``height`` points high."""
        self.canvas.setFont(FONT, height / CAPITALS)
        self.canvas.drawString(*at, text)

    def _blank(self, x: float, y: float, width: float, height: float) -> None:
        self.canvas.setFillGray(1)
        self.canvas.rect(x - 0.5, y, width + 1, height, stroke=0, fill=1)
        self.canvas.setFillGray(0)

    def _span(self, span: Span, placed: _Placed) -> None:
        """Extension lines, dimension line with its arrows, and the figure above its middle (ISO 129-1)."""
        self._line("DIMENSIONS")
        start, end = (placed.at(each) for each in span.line)
        letter, long = LETTERS * POINTS, math.dist(start, end)
        for measured, foot in zip((span.first, span.second), (start, end), strict=True):
            self._extension(placed.at(measured), foot)
        along = ((end[0] - start[0]) / long, (end[1] - start[1]) / long)
        inside = long > 3 * letter
        self._path(
            [start, end] if inside else [_beyond(start, along, -2 * letter), _beyond(end, along, 2 * letter)], False
        )
        for tip, way in ((start, 1), (end, -1)):
            self._arrow(tip, along, way if inside else -way)
        text = amount(span.length, "fine", self.system).split("\N{NO-BREAK SPACE}")[0]
        size = letter / CAPITALS
        width = stringWidth(text, FONT, size)
        self.canvas.saveState()
        self.canvas.translate((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        self.canvas.rotate(span.angle)
        self._blank(-width / 2, 0.3 * letter, width, 1.1 * letter)
        self.canvas.setFont(FONT, size)
        self.canvas.drawCentredString(0, 0.4 * letter, text)
        self.canvas.restoreState()

    def _extension(self, measured: Point, foot: Point) -> None:
        """From a little off the measured point to a little past the dimension line."""
        long = math.dist(measured, foot)
        if long < POINTS:
            return
        along = ((foot[0] - measured[0]) / long, (foot[1] - measured[1]) / long)
        self._path([_beyond(measured, along, POINTS), _beyond(foot, along, 2 * POINTS)], closed=False)

    def _arrow(self, tip: Point, along: Point, way: int) -> None:
        letter = LETTERS * POINTS
        back, side = _beyond(tip, along, way * ARROW[0] * letter), (-along[1], along[0])
        corners = [tip, _beyond(back, side, ARROW[1] * letter), _beyond(back, side, -ARROW[1] * letter)]
        path = self.canvas.beginPath()
        path.moveTo(*corners[0])
        for _, corner in pairwise(corners):
            path.lineTo(*corner)
        path.close()
        self.canvas.drawPath(path, stroke=0, fill=1)


def _beyond(at: Point, along: Point, distance: float) -> Point:
    return at[0] + along[0] * distance, at[1] + along[1] * distance
