"""The mount document: what a blade mount is made of, as drawn.

Seen from behind, x to the right, y up, millimetres; every coordinate is where the thing is as drawn. Units are mm, N,
MPa, kg and mL throughout. ``read_mount`` accepts a decoded JSON document or refuses it with every fault it has.
"""

import json
from functools import cached_property
from typing import Annotated, Any, Literal, NamedTuple

from pydantic import BeforeValidator, Discriminator, Field, StringConstraints, Tag

from app.document.construction import MOST_CONSTRUCTION, ConstructionLine
from app.document.dimensions import BLADE_ENDS, MOST_DIMENSIONS, Dimension
from app.document.outlines import MOST_OUTLINES, BodyOutline
from app.document.parts import (
    BLADE,
    Coordinate,
    Force,
    Length,
    Name,
    NotNegative,
    Part,
    Place,
    Point,
    Positive,
    measured,
)
from app.document.units import System
from app.document.words import LINE, LINES
from app.members import AnyMember, Cylinder, Joint

FORMAT = 1
MOST_BODIES = 12
MOST_MEMBERS = 60


class NamedJoint(NamedTuple):
    """A joint: its name (the member's id, with `` / 1`` or `` / 2`` for a pinned end), member, part and drawn place."""

    name: str
    member: AnyMember
    part: Joint
    at: Point


def _number_only(value: object) -> object:
    """Keep true from passing for 1."""
    return None if isinstance(value, bool) else value


class Blade(Part):
    """The blade: its cutting edge runs straight from ``left`` to ``right``."""

    left: Place = measured("fine", "left", "left end of the cutting edge, [x, y]")
    right: Place = measured("fine", "right", "right end of the cutting edge, [x, y]")
    mass: Positive | None = measured("mass", "mass", "mass of the blade and all it carries", default=None)
    mass_centre: Place | None = measured("fine", "centre", "where that mass acts, [x, y]", default=None)


class Body(Part):
    """A moving body besides the blade; one without a mass may stand in the document as its name alone."""

    name: Name = Field(description="its name, used once")
    mass: Positive | None = measured("mass", "mass", "mass of the body", default=None)
    mass_centre: Place | None = measured("fine", "centre", "where that mass acts, [x, y]", default=None)


NAMED, WEIGHED = "named", "weighed"
"""Tags of the two ways in which a body stands in a document."""

AnyBody = Annotated[
    Annotated[Name, Tag(NAMED)] | Annotated[Body, Tag(WEIGHED)],
    Discriminator(lambda given: WEIGHED if isinstance(given, dict | Body) else NAMED),
]
"""A body by its name alone, or with a mass."""


class Tyres(Part):
    """The tyres or springs that carry the frame: the load lifts the frame on them through the mount."""

    left: Coordinate = measured("fine", "left", "where the left one stands, x")
    right: Coordinate = measured("fine", "right", "where the right one stands, x")
    stiffness: Positive = measured("stiffness", "stiffness of each", "vertical stiffness of each of the two")


class Oil(Part):
    """The hydraulic oil and its relief setting."""

    bulk_modulus: Positive = measured(
        "modulus", "bulk modulus", "effective bulk modulus; of the oil without air where entrained_air is given"
    )
    relief_pressure: Positive | None = measured("pressure", "relief", "relief valve setting", default=None)
    entrained_air: Annotated[float, Field(strict=True, allow_inf_nan=False, ge=0, le=0.2)] | None = measured(
        "percent",
        "air in the oil",
        "free air in the oil, as a share of its volume at atmospheric pressure",
        default=None,
    )
    preloaded: Annotated[bool, Field(strict=True)] = Field(
        default=False, description="whether the oil on both sides of the pistons is trapped and pressed"
    )
    trapped_pressure: Positive | None = measured(
        "pressure",
        "trapped at, absolute",
        "absolute pressure of oil trapped on both sides, for air in preloaded oil",
        default=None,
    )


class Valve(Part):
    """What the valve gives each cylinder."""

    flow: Positive = measured("flow", "flow", "flow to one cylinder")
    smallest_pulse: Positive = measured("volume", "smallest pulse", "smallest volume it can let through")
    shared: Annotated[bool, Field(strict=True)] = Field(
        default=False, description="whether cylinders that move at once share that flow"
    )


class Load(Part):
    """The full working load on the blade; it rides with the blade and keeps its direction."""

    at: Place = measured("fine", "at", "where it acts on the blade as drawn, [x, y]")
    force: Annotated[tuple[Force, Force], Field(strict=False)] = measured(
        "force", "force", "force on the blade, [Fx, Fy]"
    )
    reversing: Annotated[bool, Field(strict=True)] = Field(
        default=False, description="whether it acts both ways, from its full size one way to its full size the other"
    )


class Sensors(Part):
    """The two points of the blade whose height the grade control measures."""

    left: Place = measured("fine", "left", "left sensor as drawn, [x, y]")
    right: Place = measured("fine", "right", "right sensor as drawn, [x, y]")


class Allowance(Part):
    """An error of known size that does not come from the mount, such as a receiver reading."""

    label: Name = Field(description="what it is, used once")
    plus_minus: NotNegative = measured("error", "±", "half range of height")
    at: Literal["ends", "sensors"] = Field(description="'ends' of the blade, or each of the 'sensors' on its own")


Title = Annotated[str, StringConstraints(strict=True, strip_whitespace=True, min_length=1, max_length=120), LINE]


class Mount(Part):
    """A whole mount document, format 1."""

    format: Annotated[Literal[1], BeforeValidator(_number_only)] = Field(
        description="version of this document format: 1"
    )
    title: Title = Field(description="title, 1 to 120 characters")
    note: Annotated[str, StringConstraints(strict=True, max_length=2000), LINES] | None = Field(
        default=None, description="free text"
    )
    blade: Blade = Field(description="the blade and its cutting edge")
    bodies: tuple[AnyBody, ...] = Field(
        default=(),
        description="the moving bodies besides the blade, by name or with a mass",
        max_length=MOST_BODIES,
        strict=False,
    )
    members: tuple[Annotated[AnyMember, Field(discriminator="kind")], ...] = Field(
        description="pins, rods, cylinders and slides", max_length=MOST_MEMBERS, strict=False
    )
    oil: Oil | None = Field(default=None, description="hydraulic oil; without it oil squeeze is not counted")
    valve: Valve | None = Field(default=None, description="valve; without it speed and step are not counted")
    load: Load | None = Field(default=None, description="working load; without it forces are not counted")
    tyres: Tyres | None = Field(
        default=None, description="tyres or springs under the frame; without them it stands fast"
    )
    sensors: Sensors | None = Field(default=None, description="sensor points on the blade")
    allowances: tuple[Allowance, ...] = Field(
        default=(), description="further errors of known size", max_length=20, strict=False
    )
    construction: tuple[ConstructionLine, ...] = Field(
        default=(),
        description="construction lines and points",
        max_length=MOST_CONSTRUCTION,
        strict=False,
    )
    outlines: tuple[BodyOutline, ...] = Field(
        default=(), description="outlines drawn by hand", max_length=MOST_OUTLINES, strict=False
    )
    dimensions: tuple[Dimension, ...] = Field(
        default=(),
        description="what is held between joints while others are moved",
        max_length=MOST_DIMENSIONS,
        strict=False,
    )
    alike: Annotated[bool, Field(strict=True)] = Field(
        default=False, description="whether a move or a number on one side is done on the other too"
    )
    tolerance: Length | None = measured("error", "±", "grading tolerance at the edge, either way", default=None)
    display: System | None = Field(default=None, description="units the page starts in")

    def with_joint(
        self,
        name: str,
        *,
        x: float | str | None = None,
        y: float | str | None = None,
        dx: float | str = 0.0,
        dy: float | str = 0.0,
    ) -> "Mount":
        """The mount with one joint elsewhere; this one stays as it is.

        ``name`` as the readout has it, such as ``left cylinder / 2``, or the member's own for a pin or slide. ``x`` and
        ``y``: where to; ``dx`` and ``dy``: how much farther right and up; mm, or text with a unit, ``"1/2 in"``. Raises
        NoSuchName for a joint that is not there, BadDocument where the document does not allow it.
        """
        from app.document.edit import with_joint  # which reads mounts

        return with_joint(self, name, x=x, y=y, dx=dx, dy=dy)

    def with_value(self, place: str, value: object) -> "Mount":
        """The mount with another value at one place; this one stays as it is.

        ``place``: a part or a name and its keys: ``oil.bulk_modulus``, ``tolerance``, ``blade.left[0]``,
        ``left cylinder.bore``, ``left cylinder / 2.clearance``. ``value``: a number in document units, text with a unit
        such as ``"130 ksi"``, words where the document has words, or None to leave it out. Raises NoSuchName for a
        place that is not there, BadDocument where the document does not allow the value.
        """
        from app.document.edit import with_value

        return with_value(self, place, value)

    @property
    def moving(self) -> tuple[str, ...]:
        """The moving bodies, the blade first."""
        return (BLADE, *(each if isinstance(each, str) else each.name for each in self.bodies))

    @cached_property
    def weights(self) -> tuple[tuple[str, Point, float], ...]:
        """Every body that has a mass and its centre: its name, where the mass acts as drawn, and the mass, kg."""
        blade, others = self.blade, (each for each in self.bodies if isinstance(each, Body))
        found = [(BLADE, blade.mass_centre, blade.mass), *((each.name, each.mass_centre, each.mass) for each in others)]
        return tuple((name, at, mass) for name, at, mass in found if at is not None and mass is not None)

    @cached_property
    def cylinders(self) -> tuple[Cylinder, ...]:
        """The cylinders in document order."""
        return tuple(member for member in self.members if isinstance(member, Cylinder))

    @cached_property
    def joints(self) -> tuple[NamedJoint, ...]:
        """Every joint, member by member, in the order of their offsets."""
        return tuple(NamedJoint(name, each, part, at) for each in self.members for name, part, at in each.joints)

    @property
    def held_places(self) -> dict[str, Point]:
        """Where all stands that a dimension may hold, mm as drawn: joints and the ends of the cutting edge."""
        ends = {BLADE_ENDS["left"]: self.blade.left, BLADE_ENDS["right"]: self.blade.right}
        return {each.name: each.at for each in self.joints} | ends


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
