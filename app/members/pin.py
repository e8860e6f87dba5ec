"""Pin: two bodies share a point and turn about it."""

from collections.abc import Iterator, Sequence
from typing import Literal

import numpy as np
import sympy as sp
from pydantic import Field

from app.document.parts import Point
from app.members.joint import Joint
from app.members.member import KIND, AtOnePoint, Carrier, Numbers, Standing
from app.members.outline import Eye, Label, Outline


class Pin(Joint, AtOnePoint):
    """Two bodies share a point and turn about it."""

    ROWS = 2
    OFFSETS = 2
    NUMBERS = 4
    TITLE = "Pins"
    ON = "joins"

    kind: Literal["pin"] = Field(description=KIND)

    @property
    def joints(self) -> tuple[tuple[str, Joint, Point], ...]:
        """The pin itself."""
        return ((self.id, self, self.at),)

    @staticmethod
    def constraint(
        first: Carrier, second: Carrier, own: Sequence[sp.Symbol], length: sp.Symbol, offsets: Sequence[sp.Symbol]
    ) -> list[sp.Expr]:
        """Point of the second body less point of the first less the offset, x and y."""
        return list(second.point(own[2:4]) - first.point(own[:2]) - sp.Matrix(offsets))

    def numbers(self, first: Point, second: Point) -> list[float]:
        """The point from the reference points of both bodies."""
        x, y = self.at
        return [x - first[0], y - first[1], x - second[0], y - second[1]]

    def numbers_moved(self) -> Numbers:
        """The point moves on both bodies alike."""
        return np.array([[1.0, 0.0, 1.0, 0.0], [0.0, 1.0, 0.0, 1.0]])

    def forces(self, multipliers: Sequence[float], standing: Standing) -> list[Point]:
        """Of the first body on the second: minus the multipliers."""
        return [(-multipliers[0], -multipliers[1])]

    def line(self, on_blade: Point, beyond: Point, slopes: Sequence[float], carries: bool) -> tuple[Point, Point]:
        """It holds the blade at itself."""
        return on_blade, on_blade

    @property
    def row_names(self) -> tuple[str, ...]:
        """A row each way."""
        return f"{self.id}, level", f"{self.id}, plumb"

    def outline(self, standing: Standing) -> Iterator[Outline]:
        """Its eye, and its name."""
        yield Eye(standing.second)
        yield Label(standing.second, self.id)
