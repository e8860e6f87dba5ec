"""The mount document: what a blade mount is made of, as drawn.

Seen from behind, x to the right, y up, millimetres; every coordinate is where the thing is as drawn. Units are mm, N,
MPa, kg and mL throughout. ``read_mount`` accepts a decoded JSON document or refuses it with every fault it has.
"""

import json
import math
from collections.abc import Iterator
from functools import cached_property
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

FORMAT = 1
FRAME = "frame"
BLADE = "blade"
MOST_BODIES = 12
MOST_MEMBERS = 60
FARTHEST_MM = 100_000.0
COINCIDENT_MM = 0.001
"""Ends nearer than this are the same point."""

Point: TypeAlias = tuple[float, float]

_FINITE: dict[str, Any] = {"strict": True, "allow_inf_nan": False}
_Coordinate = Annotated[float, Field(**_FINITE, ge=-FARTHEST_MM, le=FARTHEST_MM)]
_Place = Annotated[tuple[_Coordinate, _Coordinate], Field(strict=False)]
_Length = Annotated[float, Field(**_FINITE, ge=0.001, le=FARTHEST_MM)]
_Positive = Annotated[float, Field(**_FINITE, ge=0.001, le=1e9)]
_NotNegative = Annotated[float, Field(**_FINITE, ge=0, le=1e9)]
_Gap = Annotated[float, Field(**_FINITE, ge=0, le=1000)]
_Force = Annotated[float, Field(**_FINITE, ge=-1e9, le=1e9)]
_Name = Annotated[
    str,
    StringConstraints(strict=True, strip_whitespace=True, min_length=1, max_length=60, pattern=r"^[^/\x00-\x1f\x7f]*$"),
]

CLEARANCE = "diametral clearance, mm: bore minus pin, or the whole lateral gap of a slide"
RATING = "force the joint is rated for, N"


def _number_only(value: object) -> object:
    """Keep true from passing for 1."""
    return None if isinstance(value, bool) else value


class Part(BaseModel):
    """Any piece of the document: fixed once read, and no key goes unnoticed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Blade(Part):
    """The blade: its cutting edge runs straight from ``left`` to ``right``."""

    left: _Place = Field(description="left end of the cutting edge, [x, y] in mm")
    right: _Place = Field(description="right end of the cutting edge, [x, y] in mm")
    mass: _Positive | None = Field(default=None, description="mass of the blade and all it carries, kg")
    mass_centre: _Place | None = Field(default=None, description="where that mass acts, [x, y] in mm")


class End(Part):
    """One pinned end of a rod or cylinder."""

    on: _Name = Field(description="the body it is pinned to: 'frame', 'blade' or a name from bodies")
    at: _Place = Field(description="the pin's centre as drawn, [x, y] in mm")
    clearance: _Gap = Field(default=0.0, description=CLEARANCE)
    rating: _Positive | None = Field(default=None, description=RATING)


_Ends = Annotated[
    tuple[End, End], Field(strict=False, description="its two pinned ends; a cylinder's first end is the barrel")
]


class Pin(Part):
    """Two bodies share a point and turn about it."""

    kind: Literal["pin"]
    id: _Name = Field(description="name of the member, used once")
    joins: Annotated[tuple[_Name, _Name], Field(strict=False)] = Field(description="the two bodies it joins")
    at: _Place = Field(description="the pin's centre as drawn, [x, y] in mm")
    clearance: _Gap = Field(default=0.0, description=CLEARANCE)
    rating: _Positive | None = Field(default=None, description=RATING)


class Slide(Part):
    """A point of the second body runs on a straight guide fixed to the first."""

    kind: Literal["slide"]
    id: _Name = Field(description="name of the member, used once")
    joins: Annotated[tuple[_Name, _Name], Field(strict=False)] = Field(
        description="the body that carries the guide, then the body that runs on it"
    )
    at: _Place = Field(description="the running point as drawn, [x, y] in mm")
    direction: _Place = Field(description="direction of the guide as drawn, [dx, dy]; its size does not matter")
    clearance: _Gap = Field(default=0.0, description=CLEARANCE)
    rating: _Positive | None = Field(default=None, description=RATING)


class Rod(Part):
    """Two pinned ends a fixed distance apart; stiff unless section and modulus are both given."""

    kind: Literal["rod"]
    id: _Name = Field(description="name of the member, used once")
    ends: _Ends
    section_area: _Positive | None = Field(default=None, description="cross section, mm2")
    elastic_modulus: _Positive | None = Field(default=None, description="Young's modulus, MPa")


class Cylinder(Part):
    """A hydraulic cylinder: two pinned ends whose distance its stroke sets."""

    kind: Literal["cylinder"]
    id: _Name = Field(description="name of the member, used once")
    ends: _Ends
    bore: _Length = Field(description="bore diameter, mm")
    rod: _Length = Field(description="piston rod diameter, mm")
    retracted: _Length = Field(description="pin to pin length fully closed, mm")
    stroke: _Length = Field(description="stroke, mm")
    hose_volume: _NotNegative = Field(default=0.0, description="trapped oil in hose and ports on each side, mL")

    @property
    def cap_area(self) -> float:
        """Piston area that carries a push, mm2."""
        return math.pi / 4 * self.bore**2

    @property
    def annulus_area(self) -> float:
        """Area around the rod that carries a pull, mm2."""
        return math.pi / 4 * (self.bore**2 - self.rod**2)


Member: TypeAlias = Annotated[Pin | Rod | Cylinder | Slide, Field(discriminator="kind")]


class Oil(Part):
    """The hydraulic oil and its relief setting."""

    bulk_modulus: _Positive = Field(description="effective bulk modulus, MPa")
    relief_pressure: _Positive | None = Field(default=None, description="relief valve setting, MPa")


class Valve(Part):
    """What the valve gives each cylinder."""

    flow: _Positive = Field(description="flow to one cylinder, L/min")
    smallest_pulse: _Positive = Field(description="smallest volume it can let through, mL")


class Load(Part):
    """The full working load on the blade; it rides with the blade and keeps its direction."""

    at: _Place = Field(description="where it acts on the blade as drawn, [x, y] in mm")
    force: Annotated[tuple[_Force, _Force], Field(strict=False)] = Field(
        description="force on the blade, [Fx, Fy] in N"
    )


class Sensors(Part):
    """The two points of the blade whose height the grade control measures."""

    left: _Place = Field(description="left sensor as drawn, [x, y] in mm")
    right: _Place = Field(description="right sensor as drawn, [x, y] in mm")


class Allowance(Part):
    """An error of known size that does not come from the mount, such as a receiver reading."""

    label: _Name = Field(description="what it is, used once")
    plus_minus: _NotNegative = Field(description="half range, mm of height")
    at: Literal["ends", "sensors"] = Field(description="'ends' of the blade, or each of the 'sensors' on its own")


class Mount(Part):
    """A whole mount document, format 1."""

    format: Annotated[Literal[1], BeforeValidator(_number_only)] = Field(
        description="version of this document format: 1"
    )
    title: Annotated[str, StringConstraints(strict=True, strip_whitespace=True, min_length=1, max_length=120)] = Field(
        description="title, 1 to 120 characters"
    )
    note: Annotated[str, StringConstraints(strict=True, max_length=2000)] | None = Field(
        default=None, description="free text"
    )
    blade: Blade
    bodies: tuple[_Name, ...] = Field(
        default=(), description="names of the moving bodies besides the blade", max_length=MOST_BODIES, strict=False
    )
    members: tuple[Member, ...] = Field(
        description="pins, rods, cylinders and slides", max_length=MOST_MEMBERS, strict=False
    )
    oil: Oil | None = Field(default=None, description="hydraulic oil; without it oil squeeze is not counted")
    valve: Valve | None = Field(default=None, description="valve; without it speed and step are not counted")
    load: Load | None = Field(default=None, description="working load; without it forces are not counted")
    sensors: Sensors | None = Field(default=None, description="sensor points on the blade")
    allowances: tuple[Allowance, ...] = Field(
        default=(), description="further errors of known size", max_length=20, strict=False
    )
    tolerance: _Length | None = Field(default=None, description="grading tolerance, +- mm at the edge")
    display: Literal["metric", "inch"] | None = Field(default=None, description="units the page starts in")

    @property
    def moving(self) -> tuple[str, ...]:
        """The moving bodies, the blade first."""
        return (BLADE, *self.bodies)

    @cached_property
    def cylinders(self) -> tuple[Cylinder, ...]:
        """The cylinders in document order."""
        return tuple(member for member in self.members if isinstance(member, Cylinder))


def joined(member: Pin | Rod | Cylinder | Slide) -> tuple[str, str]:
    """The two bodies a member joins, first and second."""
    if isinstance(member, Pin | Slide):
        return member.joins
    return member.ends[0].on, member.ends[1].on


def joints(mount: Mount) -> Iterator[tuple[str, str, Pin | Slide | End]]:
    """Every joint: its name, its member's id and the part that holds it.

    A joint is named after its member, with `` / 1`` or `` / 2`` for the ends of a rod or cylinder.
    """
    for member in mount.members:
        if isinstance(member, Pin | Slide):
            yield member.id, member.id, member
        else:
            for number, end in enumerate(member.ends, 1):
                yield f"{member.id} / {number}", member.id, end


def drawn_length(member: Rod | Cylinder) -> float:
    """Pin to pin length as drawn, mm."""
    return math.dist(member.ends[0].at, member.ends[1].at)


def as_document(mount: Mount) -> dict[str, Any]:
    """The mount as plain JSON values: whole numbers without a point, absent things left out."""
    document: dict[str, Any] = _plain(mount.model_dump(mode="json", exclude_unset=True, exclude_none=True))
    return document


def as_text(mount: Mount) -> str:
    """The mount as the text of a document file; reading it gives the same mount."""
    return json.dumps(as_document(mount), indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _plain(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_plain(item) for item in value]
    if isinstance(value, float) and value.is_integer():
        return int(value)
    return value
