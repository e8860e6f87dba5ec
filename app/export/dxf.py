"""The mount as a DXF drawing for a workshop's drawing program: to scale, in mm or inches, one layer a kind of line.

What is drawn, and what of it is exact: ``figure``. The release is R2010, which every drawing program reads.
"""

import io
import math
import re

from ezdxf import units
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new

from app.analysis import Analysis
from app.document.parts import Point
from app.document.units import CUSTOMS, QUANTITIES, System
from app.export.figure import figure
from app.export.shapes import LAYERS, Circle, Path, Shape, Span, Words
from app.export.titleblock import HIGH, scale_bar, title_block, title_of

TEXT_HEIGHT = 0.012
"""Height of letters as a share of the blade's width."""

CHAIN = (6.0, -1.0, 1.0, -1.0)
"""A dash, a gap, a dot's dash and a gap of a centre line, in letters."""


_SIGNS = {"mm": units.MM, "cm": units.CM, "in": units.IN}
"""The unit a drawing says it is in, by its sign."""


def dxf_bytes(analysis: Analysis, worked: bool = False, system: System = "metric") -> bytes:
    """The drawing as a file: as drawn, or ``worked``, where the strokes bring it.

    Raises NotLocated for the worked pose of a mount that is loose or bound.
    """
    drawing = draw(analysis, worked, system)
    text = io.StringIO()
    drawing.write(text)
    return text.getvalue().encode(drawing.output_encoding, "dxfreplace")


def draw(analysis: Analysis, worked: bool = False, system: System = "metric") -> Drawing:
    """The drawing itself: see ``dxf_bytes``."""
    blade = analysis.mount.blade
    letters = TEXT_HEIGHT * math.dist(blade.left, blade.right)
    drawn = figure(analysis, worked, letters, system)
    pen = _Pen(system, letters)
    for shape in drawn.shapes:
        pen.shape(shape)
    left, low = drawn.box.left, drawn.box.low - (HIGH + 3) * letters
    for shape in title_block(title_of(analysis.mount, drawn.stands, "1:1", system), (left, low), letters):
        pen.shape(shape)
    for shape in scale_bar(drawn.box.width / 3, system, (left, low - 4 * letters), letters):
        pen.shape(shape)
    for row, note in enumerate(drawn.notes):
        pen.shape(Words("TITLE", (left, low - (7 + 2 * row) * letters), note, letters))
    middle, height = drawn.box.middle, drawn.box.height + (HIGH + 10) * letters
    pen.look_at((middle[0], middle[1] - HIGH * letters / 2), 1.1 * max(height, 0.7 * drawn.box.width))
    return pen.drawing


class _Pen:
    """Writes shapes in mm into a drawing in the unit of a system."""

    def __init__(self, system: System, letters: float) -> None:
        shown = QUANTITIES["fine"][system]
        self.size = 1 / shown.factor
        self.drawing = new("R2010", units=_SIGNS[shown.unit])
        self.drawing.header["$MEASUREMENT"] = 0 if CUSTOMS[system].trade == "inch" else 1
        self.drawing.header["$LUNITS"] = 2
        self.drawing.header["$LUPREC"] = shown.digits
        self.space = self.drawing.modelspace()
        dashes = [part * letters * self.size for part in CHAIN]
        chain = [sum(map(abs, dashes)), *dashes]
        self.drawing.linetypes.add("CENTRE", chain, description="dash and dot, ISO 128 type 10")
        for name, layer in LAYERS.items():
            line = "CENTRE" if layer.line == "chain" else "CONTINUOUS"
            self.drawing.layers.add(name, color=layer.colour, linetype=line, lineweight=round(100 * layer.weight))
        self._dimension_style(letters * self.size, shown.digits)

    def shape(self, shape: Shape) -> None:
        """Write one shape on its layer."""
        match shape:
            case Path(layer, (first, second), False):
                self.space.add_line(self._at(first), self._at(second), dxfattribs={"layer": layer})
            case Path(layer, points, closed):
                self.space.add_lwpolyline(
                    [self._at(each) for each in points], close=closed, dxfattribs={"layer": layer}
                )
            case Circle(layer, centre, radius):
                self.space.add_circle(self._at(centre), self.size * radius, dxfattribs={"layer": layer})
            case Words(layer, at, words, height):
                text = self.space.add_text(plain(words), height=self.size * height, dxfattribs={"layer": layer})
                text.set_placement(self._at(at), align=TextEntityAlignment.LEFT)
            case Span():
                self._dimension(shape)

    def look_at(self, middle: Point, height: float) -> None:
        """What is seen when the drawing is opened."""
        self.drawing.set_modelspace_vport(height=self.size * height, center=self._at(middle))

    def _at(self, at: Point) -> Point:
        return self.size * at[0], self.size * at[1]

    def _dimension(self, span: Span) -> None:
        """A distance that the drawing itself measures."""
        dimension = self.space.add_linear_dim(
            self._at(span.line[0]),
            self._at(span.first),
            self._at(span.second),
            angle=span.angle,
            dimstyle="MOUNT",
            dxfattribs={"layer": "DIMENSIONS"},
        )
        dimension.render()

    def _dimension_style(self, height: float, places: int) -> None:
        self.drawing.dimstyles.new(
            "MOUNT",
            dxfattribs={
                "dimtxt": height,
                "dimasz": height,
                "dimexo": height / 2,
                "dimexe": height / 2,
                "dimgap": height / 3,
                "dimtad": 1,
                "dimdec": places,
                "dimzin": 8,
                "dimdsep": ord("."),
            },
        )


def plain(words: str) -> str:
    """Text that says the same in DXF: no control characters, and none of the sequences it reads as codes."""
    words = re.sub(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]+", " ", words)
    words = re.sub(r"%(?=%)", "% ", words)
    words = re.sub(r"\\(?=[UM]\+)", r"\\ ", words, flags=re.IGNORECASE)
    return words.replace("^", "^ ")
