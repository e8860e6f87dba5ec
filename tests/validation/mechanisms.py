"""Mounts that stand in for the mechanisms of the sources: linkages driven by a cylinder, beams, twin uprights.

A linkage is drawn closed at one crank angle, on the branch wanted, and worked to the published crank angle by the
engine; nothing here solves it there. Angles are in degrees, counterclockwise from x, lengths in mm.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

from app.document.models import Mount
from app.document.parts import Point
from app.document.reading import read_mount
from app.members import Cylinder
from app.solve.assembly import Assembly, assemble
from app.solve.pose import Pose, solve
from app.solve.sensitivity import velocities
from tests.answers import readout

Document: TypeAlias = dict[str, Any]

ROUNDING = 1e-9
"""Tolerance of an identity, relative or on numbers of about 1: what a Newton solve to 1e-10 mm leaves of 16 digits."""

WAY_AHEAD = 50.0
"""A linkage is drawn this many degrees of crank before or after the angle it is driven to."""


def polar(size: float, degrees: float) -> Point:
    """The point at a distance from the origin and an angle from x."""
    return size * math.cos(math.radians(degrees)), size * math.sin(math.radians(degrees))


def direction(start: Point, stop: Point) -> float:
    """The angle of the line from one point to another, degrees."""
    return math.degrees(math.atan2(stop[1] - start[1], stop[0] - start[0]))


def wrapped(degrees: float) -> float:
    """The same direction in -180 to 180 degrees."""
    return math.remainder(degrees, 360.0)


def mount_of(
    members: Iterable[Document],
    left: Point,
    right: Point,
    mass: tuple[float, Point] | None = None,
    **more: Any,  # noqa: ANN401 - any key of the document
) -> Mount:
    """A mount with its blade's edge from ``left`` to ``right`` and, if given, its mass in kg and where it acts."""
    blade: Document = {"left": left, "right": right}
    if mass:
        blade |= {"mass": mass[0], "mass_centre": mass[1]}
    return read_mount({"format": 1, "title": "check", "blade": blade, "members": list(members), **more})


def pin(name: str, first: str, second: str, at: Point, **more: float) -> Document:
    """A pin of the document."""
    return {"kind": "pin", "id": name, "joins": [first, second], "at": at, **more}


def slide(name: str, first: str, second: str, at: Point, along: Point) -> Document:
    """A slide of the document."""
    return {"kind": "slide", "id": name, "joins": [first, second], "at": at, "direction": along}


def rod(name: str, first: tuple[str, Point], last: tuple[str, Point], clearance: float = 0.0) -> Document:
    """A rod of the document, from (body, place) to (body, place), with the same clearance at both ends."""
    return {"kind": "rod", "id": name, "ends": _ends(first, last, clearance)}


def cylinder(
    name: str,
    first: tuple[str, Point],
    last: tuple[str, Point],
    *,
    bore: float = 50.0,
    rod: float = 25.0,
    retracted: float | None = None,
    stroke: float | None = None,
    clearance: float = 0.0,
) -> Document:
    """A cylinder of the document; unless told otherwise it can go from nearly closed up to three times as drawn."""
    drawn = math.dist(first[1], last[1])
    return {
        "kind": "cylinder",
        "id": name,
        "ends": _ends(first, last, clearance),
        "bore": bore,
        "rod": rod,
        "retracted": drawn / 100 if retracted is None else retracted,
        "stroke": 3 * drawn if stroke is None else stroke,
    }


def _ends(first: tuple[str, Point], last: tuple[str, Point], clearance: float) -> list[Document]:
    return [{"on": body, "at": at, "clearance": clearance} for body, at in (first, last)]


def bare_cylinder(bore: float, rod: float, stroke: float) -> Cylinder:
    """A cylinder on its own, with no dead volume; its closed length is twice its stroke."""
    drawn = cylinder(
        "cylinder", ("frame", (0, 0)), ("blade", (0, 2 * stroke)), bore=bore, rod=rod, retracted=2 * stroke
    )
    return Cylinder.model_validate({**drawn, "stroke": stroke})


@dataclass(frozen=True)
class Linkage:
    """A linkage as a mount whose only cylinder, 'driver', turns the crank about the origin.

    ``drawn`` gives the drawn angle of every body's link; ``anchor`` and ``crank_pin`` are the driver's drawn ends.
    """

    mount: Mount
    drawn: Mapping[str, float]
    anchor: Point
    crank_pin: Point

    def stroke_to(self, crank_angle: float) -> float:
        """How much longer than drawn the driver is with the crank at an angle, mm."""
        there = polar(math.hypot(*self.crank_pin), crank_angle)
        return math.dist(self.anchor, there) - math.dist(self.anchor, self.crank_pin)

    def readout_at(self, crank_angle: float) -> dict[str, Any]:
        """The readout with the crank driven to an angle."""
        return readout(self.mount, {"driver": self.stroke_to(crank_angle)})

    def angles_at(self, crank_angle: float) -> dict[str, float]:
        """The angle of every link with the crank driven to an angle, degrees."""
        bodies = self.readout_at(crank_angle)["pose"]["bodies"]
        return {body: wrapped(drawn + bodies[body]["angle"]) for body, drawn in self.drawn.items()}

    def posed_at(self, crank_angle: float) -> tuple[Assembly, Pose]:
        """The assembly and its pose with the crank driven to an angle."""
        assembly = assemble(self.mount)
        return assembly, solve(assembly, [self.stroke_to(crank_angle)])

    def place_of(self, body: str) -> int:
        """Where a body's x, y and angle start among the unknowns."""
        return 3 * self.mount.moving.index(body)

    def turn_per_crank_turn(self, crank_angle: float) -> dict[str, float]:
        """The turning rate of every body over that of the crank."""
        moving = velocities(*self.posed_at(crank_angle))[:, 0]
        crank = moving[self.place_of("crank") + 2]
        return {body: float(moving[self.place_of(body) + 2] / crank) for body in self.mount.moving}

    def shift_per_crank_turn(self, body: str, crank_angle: float) -> float:
        """How far a body's reference point goes along x per radian of the crank, mm."""
        moving = velocities(*self.posed_at(crank_angle))[:, 0]
        return float(moving[self.place_of(body)] / moving[self.place_of("crank") + 2])


@dataclass(frozen=True)
class FourBar:
    """The links of a four-bar, mm. The crank turns about the origin, the rocker about (ground, 0)."""

    crank: float
    coupler: float
    rocker: float
    ground: float

    def closed(self, crank_angle: float, branch: str) -> tuple[Point, Point]:
        """Crank pin and rocker pin with the crank at an angle, where two circles cross.

        'open': the rocker pin to the left of the line from the crank pin to the rocker's pivot; 'crossed': to its
        right.
        """
        ax, ay = polar(self.crank, crank_angle)
        span = math.dist((ax, ay), (self.ground, 0))
        ux, uy = (self.ground - ax) / span, -ay / span
        along = (self.coupler**2 - self.rocker**2 + span**2) / (2 * span)
        aside = math.sqrt(self.coupler**2 - along**2) * {"open": 1, "crossed": -1}[branch]
        return (ax, ay), (ax + along * ux - aside * uy, ay + along * uy + aside * ux)

    def linkage(self, branch: str, drawn_at: float, blade: str = "coupler") -> Linkage:
        """The four-bar as a mount of four pins, drawn at a crank angle, with its coupler or rocker as the blade.

        The edge runs from pin to pin of the coupler, or level outward from the rocker's pivot.
        """
        a, b = self.closed(drawn_at, branch)
        pivot = (self.ground, 0.0)
        coupler, rocker = ("blade", "rocker") if blade == "coupler" else ("coupler", "blade")
        left, right = sorted((a, b)) if blade == "coupler" else (pivot, (self.ground + self.rocker, 0.0))
        anchor = _beside(self.crank, drawn_at)
        members = [
            pin("crank pivot", "frame", "crank", (0, 0)),
            pin("rocker pivot", "frame", rocker, pivot),
            pin("crank pin", "crank", coupler, a),
            pin("rocker pin", rocker, coupler, b),
            cylinder("driver", ("frame", anchor), ("crank", a)),
        ]
        bodies = ["crank", rocker if blade == "coupler" else coupler]
        drawn = {"crank": drawn_at, coupler: direction(a, b), rocker: direction(pivot, b)}
        return Linkage(mount_of(members, left, right, bodies=bodies), drawn, anchor, a)


NORTON_EXAMPLE_4_1 = FourBar(crank=40, coupler=120, rocker=80, ground=100)
NORTON_ROW_A = FourBar(crank=2 * 25.4, coupler=7 * 25.4, rocker=9 * 25.4, ground=6 * 25.4)


def slider_crank(crank: float, coupler: float, offset: float, branch: str, drawn_at: float) -> Linkage:
    """A slider-crank as a mount: crank, coupler (the blade) and a block on two slides along y = ``offset``.

    The coupler's angle is taken at the block, looking toward the crank. 'open': the block to the right of the crank
    pin; 'crossed': to the left.
    """
    a = polar(crank, drawn_at)
    reach = math.sqrt(coupler**2 - (a[1] - offset) ** 2) * {"open": 1, "crossed": -1}[branch]
    b = (a[0] + reach, offset)
    left, right = sorted((a, b))
    anchor = _beside(crank, drawn_at)
    members = [
        pin("crank pivot", "frame", "crank", (0, 0)),
        pin("crank pin", "crank", "blade", a),
        pin("block pin", "blade", "block", b),
        slide("guide", "frame", "block", b, (1, 0)),
        slide("guide behind", "frame", "block", (b[0] + crank, offset), (1, 0)),
        cylinder("driver", ("frame", anchor), ("crank", a)),
    ]
    drawn = {"crank": drawn_at, "blade": direction(b, a)}
    return Linkage(mount_of(members, left, right, bodies=["crank", "block"]), drawn, anchor, a)


def _beside(crank: float, drawn_at: float) -> Point:
    """An anchor for the driver, square to the crank as drawn, so that it has 90 degrees of crank to either side."""
    return polar(3 * crank, drawn_at - 90)


def twin_uprights(left_at: float, right_at: float, left: float, right: float, **more: Any) -> Mount:  # noqa: ANN401
    """A blade from x = ``left`` to ``right`` on two upright cylinders, held sideways by a level stay."""
    members = [
        cylinder("left cylinder", ("frame", (left_at, 800)), ("blade", (left_at, 300)), bore=76.2, rod=38.1),
        cylinder("right cylinder", ("frame", (right_at, 800)), ("blade", (right_at, 300)), bore=76.2, rod=38.1),
        rod("side stay", ("frame", (left_at - 700, 300)), ("blade", (left_at, 300))),
    ]
    return mount_of(members, (left, 0), (right, 0), **more)
