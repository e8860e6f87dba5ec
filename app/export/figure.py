"""A mount as a drawing: outlines, joints, centre lines, dimensions and names, whatever format writes them.

Places, lengths, bores and the cutting edge are exact; what the document does not say (how high the plate is, how thick
a pin or rod is, how far a barrel reaches, where a guide ends) is drawn as a symbol in proportion to the blade.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from app.analysis import Analysis
from app.document.errors import Fault, NotLocated
from app.document.parts import BLADE, ENDS, FRAME, Point
from app.document.reasons import NOT_LOCATED
from app.document.units import System, amount
from app.export.bodies import drawn_by_hand, foot, hull, joints_on, lugs, plate
from app.export.construction import construction
from app.export.placing import Name, placed
from app.export.shapes import Box, Circle, Path, Shape, Span, box_of
from app.members import AnyMember
from app.members.member import AtOnePoint, Standing
from app.members.outline import Bar, Barrel, Block, Dimension, Eye, Guide, Label, Outline
from app.results.coupling import movements

PIN_RADIUS = 0.006
ROD_HALF = 0.005
GUIDE_REACH = 0.055
BLOCK = (0.014, 0.009)
ARROW = 0.06
SENSOR = 0.008
"""Sizes of symbols as shares of the blade's width."""

BARREL_SHARE = 0.9
"""How much of a cylinder's closed length is drawn as barrel."""

FAR_OUT = 0.6
"""An instant centre farther outside the blade than this share of its width is said in words and not drawn."""

_SAME = 1e-6
"""Centres nearer than this share of the width are one; a distance shorter than that is none."""


@dataclass(frozen=True)
class Figure:
    """A drawing: its shapes, the room they take, how the mount stands, in words, and what is said beside it."""

    shapes: tuple[Shape, ...]
    box: Box
    stands: str
    notes: tuple[str, ...]


def figure(analysis: Analysis, worked: bool, letters: float, system: System = "metric", named: bool = True) -> Figure:
    """The mount as drawn, or ``worked``, where the strokes bring it, with letters of that height in mm of the mount.

    ``named`` false leaves out the names, whose places take longest to find, to see what room the rest takes.
    Raises NotLocated for the worked pose of a mount that is loose or bound.
    """
    if worked and not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state].text
        raise NotLocated([Fault("pose", f"there is no worked pose, for {reason}; or export it as drawn")])
    pen = _Pen(analysis if worked else Analysis(analysis.mount), worked, letters, system)
    shapes = tuple(pen.all(named))
    return Figure(
        shapes, box_of(shapes, letters), _stands(analysis, system) if worked else "as drawn", tuple(pen.notes)
    )


def _stands(analysis: Analysis, system: System) -> str:
    cylinders = zip(analysis.mount.cylinders, analysis.moves, strict=True)
    moves = [f"{each.id} {signed(analysis.pose.fraction * move, system)}" for each, move in cylinders]
    return f"worked: {', '.join(moves)}" if moves else "worked"


def signed(move: float, system: System) -> str:
    """A move with its sign, always, and without its unit."""
    figures = amount(abs(move), "fine", system).split("\N{NO-BREAK SPACE}")[0]
    return f"{'-' if move < 0 else '+'}{figures}"


class _Pen:
    """Draws one mount as it stands."""

    def __init__(self, analysis: Analysis, worked: bool, letters: float, system: System) -> None:
        self.analysis, self.mount, self.worked = analysis, analysis.mount, worked
        self.letters, self.system = letters, system
        self.width = math.dist(self.mount.blade.left, self.mount.blade.right)
        self.ends = {end: self.place(BLADE, getattr(self.mount.blade, end)) for end in ENDS}
        places = [
            self.place(on, at) for each in self.mount.members for on, at in zip(each.joined, each.holds, strict=True)
        ]
        self.middle = _mean([*places, *self.ends.values()])
        self.low = min(y for _, y in [*places, *self.ends.values()])
        self.notes: list[str] = []
        self.names: list[Name] = []

    def all(self, named: bool) -> Iterator[Shape]:
        """Everything: outlines first, names last, where there is room for them."""
        lines = tuple(self._lines())
        yield from lines
        yield from construction(self.mount, box_of(lines, self.letters), SENSOR * self.width)
        if named:
            yield from placed(self.names, lines, self.letters)

    def _lines(self) -> Iterator[Shape]:
        for corners in drawn_by_hand(self.mount, FRAME):
            yield _closed("FRAME", corners)
        yield from self._blade()
        for body in self.mount.moving[1:]:
            yield from self._body(body)
        for member in self.mount.members:
            for shape in member.outline(self._standing(member)):
                yield from self._member(shape)
        yield from self._joints()
        yield from self._sensors()
        yield from self._load()
        yield from self._below()

    def place(self, body: str, at: Point) -> Point:
        """Where a point of a body stands."""
        return self.analysis.on_body(body, at) if self.worked else at

    def _turn(self, body: str) -> float:
        if not self.worked or body == FRAME:
            return 0.0
        return float(self.analysis.pose.q[3 * self.mount.moving.index(body) + 2])

    def _standing(self, member: AnyMember) -> Standing:
        (first, second), (at, to) = member.joined, member.holds
        return Standing(self.place(first, at), self.place(second, to), self._turn(first))

    def _blade(self) -> Iterator[Shape]:
        by_hand = drawn_by_hand(self.mount, BLADE)
        for corners in by_hand or (plate(self.mount.blade), *lugs(self.mount)):
            yield _closed("OUTLINE", [self.place(BLADE, at) for at in corners])
        yield Path("EDGE", (self.ends["left"], self.ends["right"]))
        for body, at, mass in self.mount.weights:
            stands = self.place(body, at)
            yield from self._cross(stands, SENSOR * self.width, "LOAD")
            self.names.append(Name(stands, f"{body}: {amount(mass, 'mass', self.system)}"))

    def _body(self, body: str) -> Iterator[Shape]:
        by_hand = [[self.place(body, at) for at in corners] for corners in drawn_by_hand(self.mount, body)]
        for outline in by_hand:
            yield _closed("OUTLINE", outline)
        corners = by_hand[0] if by_hand else hull([self.place(body, at) for at in joints_on(self.mount, body)])
        if len(corners) > 1 and not by_hand:
            yield Path("OUTLINE", tuple(corners), closed=len(corners) > 2)
        if corners:
            self.names.append(Name(_mean(corners), body))

    def _member(self, shape: Outline) -> Iterator[Shape]:
        match shape:
            case Label(at, words):
                self.names.append(Name(at, words))
            case Dimension(first, second):
                yield self._aligned(first, second)
            case Bar(first, second):
                yield Path("CENTRE", (first, second))
                along, length = _along(first, second)
                yield _closed("MEMBERS", _strip(first, along, 0.0, length, ROD_HALF * self.width))
            case Barrel():
                yield from self._barrel(shape)
            case Guide(at, along):
                reach, side = GUIDE_REACH * self.width, (-along[1], along[0])
                yield Path("CENTRE", (_ahead(at, along, -reach), _ahead(at, along, reach)))
                for half in (-BLOCK[1] * self.width, BLOCK[1] * self.width):
                    beside = _ahead(at, side, half)
                    yield Path("MEMBERS", (_ahead(beside, along, -reach), _ahead(beside, along, reach)))
            case Block(at, along):
                half_length, half_width = BLOCK[0] * self.width, 0.8 * BLOCK[1] * self.width
                yield _closed("MEMBERS", _strip(at, along, -half_length, half_length, half_width))
            case Eye():
                pass  # every joint has its circle

    def _barrel(self, shape: Barrel) -> Iterator[Shape]:
        along, length = _along(shape.first, shape.second)
        barrel = min(BARREL_SHARE * shape.retracted, length)
        yield Path("CENTRE", (shape.first, shape.second))
        yield _closed("MEMBERS", _strip(shape.first, along, 0.0, barrel, shape.bore / 2))
        if length > barrel:
            yield _closed("MEMBERS", _strip(shape.first, along, barrel, length, shape.rod / 2))

    def _joints(self) -> Iterator[Shape]:
        """A circle and a centre mark each, and the ground under those on the frame (ISO 3952: a fixed pivot)."""
        radius = PIN_RADIUS * self.width
        for member in self.mount.members:
            stands = self._standing(member)
            held = (stands.second,) if isinstance(member, AtOnePoint) else (stands.first, stands.second)
            for at in held:
                yield Circle("JOINTS", at, radius)
                yield from self._cross(at, 1.6 * radius)
            if isinstance(member, AtOnePoint):
                if member.kind == "pin" and FRAME in member.joined:
                    yield from self._ground(stands.second, (0.0, 1.0))
                continue
            for on, at, other in zip(member.joined, held, reversed(held), strict=True):
                if on == FRAME:
                    yield from self._ground(at, _upright(_along(other, at)[0]))

    def _ground(self, at: Point, away: Point) -> Iterator[Shape]:
        radius, side = PIN_RADIUS * self.width, (-away[1], away[0])
        base = _ahead(at, away, 3 * radius)
        yield _closed("FRAME", [at, _ahead(base, side, 1.8 * radius), _ahead(base, side, -1.8 * radius)])
        yield Path("FRAME", (_ahead(base, side, 3 * radius), _ahead(base, side, -3 * radius)))
        for start in (-2.6, -1.3, 0.0, 1.3, 2.6):
            first = _ahead(base, side, start * radius)
            yield Path("FRAME", (first, _ahead(_ahead(first, away, radius), side, radius)))

    def _sensors(self) -> Iterator[Shape]:
        if not self.mount.sensors:
            return
        size = SENSOR * self.width
        for end in ENDS:
            drawn: Point = getattr(self.mount.sensors, end)
            at = self.place(BLADE, drawn)
            yield Path("SENSORS", (self.place(BLADE, foot(self.mount.blade, drawn)), at))
            yield Circle("SENSORS", at, size)
            self.names.append(Name(at, f"{end} sensor"))

    def _load(self) -> Iterator[Shape]:
        """The load as an arrow whose tip is where it acts."""
        if not self.mount.load:
            return
        at, force = self.place(BLADE, self.mount.load.at), self.mount.load.force
        size = math.hypot(*force)
        if not size:
            yield from self._cross(at, SENSOR * self.width, "LOAD")
            return
        along = (force[0] / size, force[1] / size)
        tail, neck = _ahead(at, along, -ARROW * self.width), _ahead(at, along, -0.25 * ARROW * self.width)
        yield Path("LOAD", (tail, at))
        yield _closed("LOAD", [at, *_strip(neck, along, 0.0, 0.0, 0.08 * ARROW * self.width)[:2]])
        self.names.append(Name(tail, f"load {amount(size, 'force', self.system)}"))

    def _below(self) -> Iterator[Shape]:
        """Below the edge: the level distances from every instant centre to the ends, and the width of the blade.

        The width is the longest and stands outermost; along a tilted edge it stands next to the edge.
        """
        left, right = _rightward(self.ends["left"], self.ends["right"])
        along, _ = _along(left, right)
        row, below, tilted = self.low - 4 * self.letters, (along[1], -along[0]), abs(left[1] - right[1]) > self.letters
        if tilted:
            yield self._aligned_by(left, right, below, 4 * self.letters)
            row -= 4 * self.letters
        for names, centre in self._centres():
            yield from self._cross(centre, 3 * self.letters)
            yield Circle("CENTRE", centre, self.letters)
            self.names.append(Name(centre, f"instant centre, {names}"))
            for end in ENDS:
                if abs(self.ends[end][0] - centre[0]) > _SAME * self.width:
                    yield _level(self.ends[end], centre, row)
            row -= 3 * self.letters
        if not tilted:
            yield self._aligned_by(left, right, below, min(left[1], right[1]) - row)

    def _centres(self) -> list[tuple[str, Point]]:
        """Every instant centre that is near enough to be drawn, with the cylinders that turn the blade about it."""
        if not self.analysis.located:
            return []
        found: list[tuple[list[str], Point]] = []
        for name, movement in movements(self.analysis).items():
            centre = movement.instant_centre
            if centre is None:
                continue
            for names, known in found:
                if math.dist(known, centre) < _SAME * self.width:
                    names.append(name)
                    break
            else:
                found.append(([name], centre))
        drawn = []
        for names, centre in found:
            if self._is_near(centre):
                drawn.append((", ".join(names), centre))
            else:
                away = [
                    f"{amount(abs(self.ends[end][0] - centre[0]), 'fine', self.system)} level from the {end} end"
                    for end in ENDS
                ]
                self.notes.append(f"instant centre, {', '.join(names)}: {', '.join(away)}")
        return drawn

    def _is_near(self, centre: Point) -> bool:
        xs, ys = [x for x, _ in self.ends.values()], [y for _, y in self.ends.values()]
        out = FAR_OUT * self.width
        return min(xs) - out <= centre[0] <= max(xs) + out and min(ys) - out <= centre[1] <= max(ys) + out

    def _aligned(self, first: Point, second: Point) -> Span:
        """The length of a member, on the side of it that is farther from the middle."""
        along, _ = _along(first, second)
        side = (-along[1], along[0])
        out = (_mean([first, second])[0] - self.middle[0], _mean([first, second])[1] - self.middle[1])
        if side[0] * out[0] + side[1] * out[1] < 0:
            side = (along[1], -along[0])
        return self._aligned_by(first, second, side, 4.5 * self.letters)

    def _aligned_by(self, first: Point, second: Point, side: Point, offset: float) -> Span:
        first, second = _rightward(first, second)
        return Span(first, second, (_ahead(first, side, offset), _ahead(second, side, offset)))

    def _cross(self, at: Point, reach: float, layer: str = "CENTRE") -> Iterator[Shape]:
        for along in ((1.0, 0.0), (0.0, 1.0)):
            yield Path(layer, (_ahead(at, along, -reach), _ahead(at, along, reach)))


def _level(end: Point, centre: Point, row: float) -> Span:
    first, second = sorted((end, centre))
    return Span(first, second, ((first[0], row), (second[0], row)))


def _rightward(first: Point, second: Point) -> tuple[Point, Point]:
    """Two points in the order in which a figure along them is read from below or the right."""
    across, tiny = second[0] - first[0], 1e-9 * math.dist(first, second)
    turned = across < -tiny or (abs(across) <= tiny and second[1] < first[1])
    return (second, first) if turned else (first, second)


def _upright(along: Point) -> Point:
    """The nearest of up, down, left and right."""
    if abs(along[0]) > abs(along[1]):
        return math.copysign(1.0, along[0]), 0.0
    return 0.0, math.copysign(1.0, along[1])


def _closed(layer: str, points: list[Point]) -> Path:
    return Path(layer, tuple(points), closed=True)


def _along(first: Point, second: Point) -> tuple[Point, float]:
    length = math.dist(first, second)
    return ((second[0] - first[0]) / length, (second[1] - first[1]) / length), length


def _ahead(at: Point, along: Point, distance: float) -> Point:
    return at[0] + along[0] * distance, at[1] + along[1] * distance


def _strip(at: Point, along: Point, start: float, end: float, half: float) -> list[Point]:
    """Corners of a rectangle along a line, ``half`` to either side of it."""
    side = (-along[1], along[0])
    near, far = _ahead(at, along, start), _ahead(at, along, end)
    return [_ahead(near, side, half), _ahead(near, side, -half), _ahead(far, side, -half), _ahead(far, side, half)]


def _mean(points: list[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)
