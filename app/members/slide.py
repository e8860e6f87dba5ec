"""Slide: a point of one body runs on a straight guide fixed to another."""

import math
from collections.abc import Iterator, Sequence
from typing import Annotated, ClassVar, Literal

import numpy as np
import sympy as sp
from pydantic import Field

from app.document.errors import Fault
from app.document.parts import COINCIDENT_MM, Name, Place, Point, measured
from app.members.joint import Joint
from app.members.member import KIND, AtOnePoint, Carrier, Numbers, Standing
from app.members.outline import Block, Guide, Label, Outline


class _Guided(AtOnePoint):
    """A point that runs on a guide; a class of its own so that its fields come before the joint's in a document."""

    joins: Annotated[tuple[Name, Name], Field(strict=False)] = Field(
        description="the body that carries the guide, then the body that runs on it"
    )
    at: Place = measured("fine", "", "the running point as drawn, [x, y]")
    direction: Place = Field(
        description="direction of the guide as drawn, [dx, dy]; its size does not matter",
        json_schema_extra={"measure": "ratio", "label": "guide runs"},
    )


class Slide(Joint, _Guided):
    """A point of the second body runs on a straight guide fixed to the first."""

    ROUND: ClassVar[bool] = False
    OFFSETS = 1
    NUMBERS = 6
    TITLE = "Slides"
    ON = "guide on, runs on"

    kind: Literal["slide"] = Field(description=KIND)

    @property
    def joints(self) -> tuple[tuple[str, Joint, Point], ...]:
        """The slide itself."""
        return ((self.id, self, self.at),)

    @property
    def along(self) -> Point:
        """Unit vector of the guide as drawn."""
        dx, dy = self.direction
        size = math.hypot(dx, dy)
        return dx / size, dy / size

    @staticmethod
    def constraint(
        first: Carrier, second: Carrier, own: Sequence[sp.Symbol], length: sp.Symbol, offsets: Sequence[sp.Symbol]
    ) -> list[sp.Expr]:
        """Distance of the running point from the guide line less the lateral offset."""
        normal = first.direction(own[2:4])
        return [normal.dot(second.point(own[4:6]) - first.point(own[:2])) - offsets[0]]

    def numbers(self, first: Point, second: Point) -> list[float]:
        """A point of the guide, its unit normal, the running point."""
        (x, y), (dx, dy) = self.at, self.direction
        size = math.hypot(dx, dy)
        return [x - first[0], y - first[1], -dy / size, dx / size, x - second[0], y - second[1]]

    def numbers_moved(self) -> Numbers:
        """The point moves on both bodies alike; the guide keeps its direction."""
        return np.array([[1.0, 0.0, 0.0, 0.0, 1.0, 0.0], [0.0, 1.0, 0.0, 0.0, 0.0, 1.0]])

    def forces(self, multipliers: Sequence[float], standing: Standing) -> list[Point]:
        """Of the guide on what runs there: square to the guide."""
        dx, dy = self.direction
        size, cos, sin = math.hypot(dx, dy), math.cos(standing.turn), math.sin(standing.turn)
        nx, ny = -dy / size, dx / size
        pull = (multipliers[0] * (cos * nx - sin * ny), multipliers[0] * (sin * nx + cos * ny))
        return [(-pull[0], -pull[1])]

    def line(self, on_blade: Point, beyond: Point, slopes: Sequence[float], carries: bool) -> tuple[Point, Point]:
        """It holds square to its guide, through the running point."""
        through = beyond if carries else on_blade
        return through, (through[0] + float(slopes[0]), through[1] + float(slopes[1]))

    def outline(self, standing: Standing) -> Iterator[Outline]:
        """Its guide, the block that runs there, and its name."""
        cos, sin = math.cos(standing.turn), math.sin(standing.turn)
        dx, dy = self.along
        along = (cos * dx - sin * dy, sin * dx + cos * dy)
        yield Guide(standing.first, along)
        yield Block(standing.second, along)
        yield Label(standing.second, self.id)

    def faults(self, place: str) -> Iterator[Fault]:
        """A direction without a length."""
        if math.hypot(*self.direction) < COINCIDENT_MM:
            text = "has no length; give the way the guide runs, such as [0, 1] for plumb"
            yield Fault(f"{place}.direction", text, code="no-direction")
