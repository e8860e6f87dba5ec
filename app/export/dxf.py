"""The mount as a DXF drawing for a workshop's drawing program: millimetres, to scale, one layer a kind of thing.

Places, lengths and bores are exact; what the document does not say (how thick a pin is, how far a barrel reaches, where
a guide ends) is drawn as a symbol in proportion to the blade. The release is R2010, which every drawing program reads.
"""

import io
import math
import re
from collections.abc import Callable

from ezdxf import units
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new

from app.analysis import Analysis
from app.document.errors import Fault, NotLocated
from app.document.models import Mount
from app.document.parts import BLADE, FRAME, Point
from app.document.reasons import NOT_LOCATED
from app.members import AnyMember
from app.members.member import Standing
from app.members.outline import Bar, Barrel, Block, Dimension, Eye, Guide, Label, Outline

LAYERS = {
    "FRAME": 8,
    "BLADE": 5,
    "BODIES": 4,
    "PINS": 7,
    "RODS": 3,
    "CYLINDERS": 1,
    "SLIDES": 6,
    "SENSORS": 2,
    "LOAD": 30,
    "DIMENSIONS": 9,
    "TEXT": 7,
}
"""Every layer with its colour by the format's own colour index."""

LAYER_OF = {"pin": "PINS", "rod": "RODS", "cylinder": "CYLINDERS", "slide": "SLIDES"}
"""The layer of every kind of member."""

PIN_RADIUS = 0.006
TEXT_HEIGHT = 0.012
GUIDE_REACH = 0.055
BLOCK = (0.014, 0.009)
ARROW = 0.06
OFFSET = 0.03
"""Sizes of symbols as shares of the blade's width."""

BARREL_SHARE = 0.9
"""How much of a cylinder's closed length is drawn as barrel."""

Place = Callable[[str, Point], Point]
Turn = Callable[[str], float]


def dxf_bytes(analysis: Analysis, worked: bool = False) -> bytes:
    """The drawing as a file: as drawn, or ``worked``, where the strokes bring it.

    Raises NotLocated for the worked pose of a mount that is loose or bound.
    """
    drawing = draw(analysis, worked)
    text = io.StringIO()
    drawing.write(text)
    return text.getvalue().encode(drawing.output_encoding, "dxfreplace")


def draw(analysis: Analysis, worked: bool = False) -> Drawing:
    """The drawing itself: see ``dxf_bytes``."""
    place, turn, words = _as_worked(analysis) if worked else (_as_drawn, _unturned, "as drawn")
    drawing = new("R2010", units=units.MM)
    for name, colour in LAYERS.items():
        drawing.layers.add(name, color=colour)
    _Pen(analysis.mount, drawing, place, turn).all(words)
    return drawing


def _as_drawn(_: str, at: Point) -> Point:
    return at


def _unturned(_: str) -> float:
    return 0.0


def _as_worked(analysis: Analysis) -> tuple[Place, Turn, str]:
    """Where points of bodies stand and how far the bodies have turned, radians; and the strokes in words."""
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state].text
        raise NotLocated([Fault("pose", f"there is no worked pose, for {reason}; or export it as drawn")])

    def turn(body: str) -> float:
        return 0.0 if body == FRAME else float(analysis.pose.q[3 * analysis.mount.moving.index(body) + 2])

    cylinders = zip(analysis.mount.cylinders, analysis.moves, strict=True)
    moves = ", ".join(f"{each.id} {analysis.pose.fraction * move:+.1f}" for each, move in cylinders)
    return analysis.on_body, turn, f"worked: {moves}" if moves else "worked"


class _Pen:
    """Draws one mount on one drawing."""

    def __init__(self, mount: Mount, drawing: Drawing, place: Place, turn: Turn) -> None:
        self.mount, self.drawing, self.place, self.turn = mount, drawing, place, turn
        self.space = drawing.modelspace()
        self.width = math.dist(mount.blade.left, mount.blade.right)
        self.left, self.right = place(BLADE, mount.blade.left), place(BLADE, mount.blade.right)

    def all(self, words: str) -> None:
        """Draw everything, and write the title with the pose's words under it."""
        self._dimension_style()
        for body in (FRAME, *self.mount.moving):
            self._body(body)
        for member in self.mount.members:
            for shape in member.outline(self._standing(member)):
                self._shape(shape, LAYER_OF[member.kind])
        self._sensors()
        self._load()
        self._title(words)

    def _body(self, body: str) -> None:
        """A body as the hull of its joints; the blade's edge as a line of its own."""
        points = [self.place(body, at) for at in joints_on(self.mount, body)]
        if body == BLADE:
            self._line("BLADE", self.left, self.right)
            self._dimension(self.left, self.right, -3 * OFFSET)
            points += [self.left, self.right]
            if self.mount.blade.mass_centre:
                centre = self.place(BLADE, self.mount.blade.mass_centre)
                self._point("BLADE", centre)
                self._text(centre, f"mass centre {self.mount.blade.mass or 0:g} kg" if self.mount.blade.mass else "")
        layer = {FRAME: "FRAME", BLADE: "BLADE"}.get(body, "BODIES")
        corners = hull(points)
        if len(corners) > 2:
            self._outline(layer, corners)
        elif len(corners) == 2 and body != BLADE:
            self._line(layer, *corners)
        if body not in (FRAME, BLADE) and corners:
            self._text(_mean(corners), body)

    def _standing(self, member: AnyMember) -> Standing:
        (first, second), (at, to) = member.joined, member.holds
        return Standing(self.place(first, at), self.place(second, to), self.turn(first))

    def _shape(self, shape: Outline, layer: str) -> None:
        """One shape of a member on its layer; eyes, names and dimensions have layers of their own."""
        match shape:
            case Eye(at):
                self._circle("PINS", at)
            case Label(at, words):
                self._text(at, words)
            case Dimension(first, second):
                self._dimension(first, second, OFFSET)
            case Bar(first, second):
                self._line(layer, first, second)
            case Barrel():
                self._barrel(shape, layer)
            case Guide(at, along):
                reach = GUIDE_REACH * self.width
                self._line(layer, _ahead(at, along, -reach), _ahead(at, along, reach))
            case Block(at, along):
                half_length, half_width = BLOCK[0] * self.width, BLOCK[1] * self.width
                self._outline(layer, _strip(at, along, -half_length, half_length, half_width))
                self._point(layer, at)

    def _barrel(self, shape: Barrel, layer: str) -> None:
        first, last = shape.first, shape.second
        self._line(layer, first, last)
        length = math.dist(first, last)
        along = ((last[0] - first[0]) / length, (last[1] - first[1]) / length)
        barrel = min(BARREL_SHARE * shape.retracted, length)
        self._outline(layer, _strip(first, along, 0.0, barrel, shape.bore / 2))
        if length > barrel:
            self._outline(layer, _strip(first, along, barrel, length, shape.rod / 2))

    def _sensors(self) -> None:
        if not self.mount.sensors:
            return
        for side, at in (("left", self.mount.sensors.left), ("right", self.mount.sensors.right)):
            stands = self.place(BLADE, at)
            self._circle("SENSORS", stands)
            self._point("SENSORS", stands)
            self._text(stands, f"{side} sensor")

    def _load(self) -> None:
        """The load as an arrow whose tip is where it acts."""
        if not self.mount.load:
            return
        at, force = self.place(BLADE, self.mount.load.at), self.mount.load.force
        self._point("LOAD", at)
        size = math.hypot(*force)
        if not size:
            return
        along = (force[0] / size, force[1] / size)
        tail, neck = _ahead(at, along, -ARROW * self.width), _ahead(at, along, -0.25 * ARROW * self.width)
        self._line("LOAD", tail, at)
        half = 0.08 * ARROW * self.width
        self._outline("LOAD", [at, *_strip(neck, along, 0.0, 0.0, half)[:2]])
        self._text(tail, f"load {size:g} N")

    def _title(self, words: str) -> None:
        height = self.width * TEXT_HEIGHT
        x, y = min(self.left[0], self.right[0]), min(self.left[1], self.right[1]) - 0.14 * self.width
        self._text((x, y), self.mount.title, 1.6)
        self._text((x, y - 2.5 * height), f"{words}; all lengths in mm")
        middle = _mean([self.left, self.right])
        self.drawing.set_modelspace_vport(height=1.4 * self.width, center=(middle[0], middle[1] + 0.25 * self.width))

    def _line(self, layer: str, first: Point, last: Point) -> None:
        self.space.add_line(first, last, dxfattribs={"layer": layer})

    def _outline(self, layer: str, points: list[Point]) -> None:
        self.space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})

    def _point(self, layer: str, at: Point) -> None:
        self.space.add_point(at, dxfattribs={"layer": layer})

    def _circle(self, layer: str, at: Point) -> None:
        self.space.add_circle(at, PIN_RADIUS * self.width, dxfattribs={"layer": layer})

    def _text(self, at: Point, words: str, size: float = 1.0) -> None:
        """Words beside a place: up and to the right of it, clear of a pin's circle."""
        if not words:
            return
        clear = 1.5 * PIN_RADIUS * self.width
        text = self.space.add_text(plain(words), height=size * TEXT_HEIGHT * self.width, dxfattribs={"layer": "TEXT"})
        text.set_placement((at[0] + clear, at[1] + clear), align=TextEntityAlignment.LEFT)

    def _dimension_style(self) -> None:
        height = TEXT_HEIGHT * self.width
        self.drawing.dimstyles.new(
            "MOUNT",
            dxfattribs={
                "dimtxt": height,
                "dimasz": height,
                "dimexo": height,
                "dimexe": height / 2,
                "dimgap": height / 3,
                "dimtad": 1,
                "dimdec": 1,
                "dimzin": 8,
                "dimdsep": ord("."),
            },
        )

    def _dimension(self, first: Point, last: Point, offset: float) -> None:
        """The distance between two points, measured by the drawing itself; its figure reads from below or the right."""
        across, tiny = last[0] - first[0], 1e-6 * self.width
        if across < -tiny or (across <= tiny and last[1] < first[1]):
            first, last = last, first
        dimension = self.space.add_aligned_dim(
            first, last, offset * self.width, dimstyle="MOUNT", dxfattribs={"layer": "DIMENSIONS"}
        )
        dimension.render()


def plain(words: str) -> str:
    """Text that says the same in DXF: no control characters, and none of the sequences it reads as codes."""
    words = re.sub(r"[\x00-\x1f\x7f-\x9f\u2028\u2029]+", " ", words)
    words = re.sub(r"%(?=%)", "% ", words)
    words = re.sub(r"\\(?=[UM]\+)", r"\\ ", words, flags=re.IGNORECASE)
    return words.replace("^", "^ ")


def joints_on(mount: Mount, body: str) -> list[Point]:
    """Every joint's place on a body, as drawn."""
    return [at for member in mount.members for on, at in zip(member.joined, member.holds, strict=True) if on == body]


def hull(points: list[Point]) -> list[Point]:
    """Convex hull anticlockwise, by Andrew's monotone chain (Information Processing Letters 9, 1979)."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return ordered

    def half(points: list[Point]) -> list[Point]:
        chain: list[Point] = []
        for point in points:
            while len(chain) > 1 and _cross(chain[-2], chain[-1], point) <= 0:
                chain.pop()
            chain.append(point)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


def _cross(origin: Point, first: Point, second: Point) -> float:
    return (first[0] - origin[0]) * (second[1] - origin[1]) - (first[1] - origin[1]) * (second[0] - origin[0])


def _ahead(at: Point, along: Point, distance: float) -> Point:
    return at[0] + along[0] * distance, at[1] + along[1] * distance


def _strip(at: Point, along: Point, start: float, end: float, half: float) -> list[Point]:
    """Corners of a rectangle along a line, ``half`` to either side of it."""
    side = (-along[1], along[0])
    near, far = _ahead(at, along, start), _ahead(at, along, end)
    return [_ahead(near, side, half), _ahead(near, side, -half), _ahead(far, side, -half), _ahead(far, side, half)]


def _mean(points: list[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
