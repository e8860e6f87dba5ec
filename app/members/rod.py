"""Rod: two pinned ends a fixed distance apart."""

from collections.abc import Iterator, Sequence
from typing import Literal

import numpy as np
import sympy as sp
from pydantic import Field

from app.document.parts import Point, Positive, measured
from app.members.member import KIND, BetweenEnds, Carrier, Numbers, Standing, gap_between
from app.members.outline import Bar, Dimension, Eye, Label, Outline


class Rod(BetweenEnds):
    """Two pinned ends a fixed distance apart; stiff unless section and modulus are both given."""

    NUMBERS = 5
    TITLE = "Rods"
    END_WORDS = ("{on} end", "{on} end")
    SHORT_END_WORDS = ("end 1", "end 2")

    kind: Literal["rod"] = Field(description=KIND)
    section_area: Positive | None = measured("area", "section", "cross section", default=None)
    elastic_modulus: Positive | None = measured("modulus", "Young's modulus", "Young's modulus", default=None)

    @staticmethod
    def constraint(
        first: Carrier, second: Carrier, own: Sequence[sp.Symbol], length: sp.Symbol, offsets: Sequence[sp.Symbol]
    ) -> list[sp.Expr]:
        """Distance of its ends less its length less the error of each end."""
        return [gap_between(first, second, own, own[4], offsets)]

    def numbers(self, first: Point, second: Point) -> list[float]:
        """Its ends, and its length."""
        return [*super().numbers(first, second), self.drawn_length]

    def numbers_moved(self) -> Numbers:
        """A moved end makes it as much longer as drawn."""
        return np.column_stack([super().numbers_moved(), self.length_moved()])

    def stretch(self, pull: float) -> float:
        """How much it gets longer under a pull in N: F L / (E A), mm. 0 without section and modulus."""
        if self.section_area is None or self.elastic_modulus is None:
            return 0.0
        return pull * self.drawn_length / (self.elastic_modulus * self.section_area)

    def outline(self, standing: Standing) -> Iterator[Outline]:
        """A line between its eyes, its name, and its length."""
        first, second = standing.first, standing.second
        yield Eye(first)
        yield Eye(second)
        yield Label.along(first, second, self.id)
        yield Dimension(first, second)
        yield Bar(first, second)
