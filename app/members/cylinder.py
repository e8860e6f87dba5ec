"""Cylinder: two pinned ends whose distance its stroke sets."""

import math
from collections.abc import Iterator, Sequence
from typing import Literal

import sympy as sp
from pydantic import Field

from app.document.errors import Fault
from app.document.messages import Value, word
from app.document.parts import COINCIDENT_MM, Length, NotNegative, measured
from app.members.member import KIND, BetweenEnds, Carrier, Standing, gap_between
from app.members.outline import Barrel, Dimension, Eye, Label, Outline

_STROKE_SLACK_MM = 1e-6


class Cylinder(BetweenEnds):
    """A hydraulic cylinder: two pinned ends whose distance its stroke sets."""

    NUMBERS = 4
    DRIVEN = True
    TITLE = "Cylinders"
    END_WORDS = ("barrel end", "rod end")
    SHORT_END_WORDS = ("barrel", "rod end")

    kind: Literal["cylinder"] = Field(description=KIND)
    bore: Length = measured("fine", "bore", "bore diameter")
    rod: Length = measured("fine", "piston rod", "piston rod diameter")
    retracted: Length = measured("fine", "closed length", "pin to pin length fully closed")
    stroke: Length = measured("fine", "stroke", "stroke")
    hose_volume: NotNegative = measured(
        "volume", "oil in hose", "trapped oil in hose and ports on each side", default=0.0
    )

    @property
    def cap_area(self) -> float:
        """Piston area that carries a push, mm2."""
        return math.pi / 4 * self.bore**2

    @property
    def annulus_area(self) -> float:
        """Area around the rod that carries a pull, mm2."""
        return math.pi / 4 * (self.bore**2 - self.rod**2)

    def carrying_area(self, force: float) -> float:
        """The area that carries its force, mm2: the cap when pushed (+), the annulus when pulled."""
        return self.cap_area if force >= 0 else self.annulus_area

    @staticmethod
    def constraint(
        first: Carrier, second: Carrier, own: Sequence[sp.Symbol], length: sp.Symbol, offsets: Sequence[sp.Symbol]
    ) -> list[sp.Expr]:
        """Distance of its ends less its length less the error of each end."""
        return [gap_between(first, second, own, length, offsets)]

    def outline(self, standing: Standing) -> Iterator[Outline]:
        """Barrel and piston rod between its eyes, its name, and its length."""
        first, second = standing.first, standing.second
        yield Eye(first)
        yield Eye(second)
        yield Label.along(first, second, self.id)
        yield Dimension(first, second)
        yield Barrel(first, second, self.bore, self.rod, self.retracted)

    def faults(self, place: str) -> Iterator[Fault]:
        """Coinciding ends, a bore not larger than the rod, a drawn length outside the stroke."""
        yield from super().faults(place)
        if self.bore <= self.rod:
            text = "the bore of {bore} is not larger than the piston rod of {rod}; make it larger"
            values: dict[str, Value] = {"bore": (self.bore, "fine"), "rod": (self.rod, "fine")}
            yield Fault(f"{place}.bore", text, values, "bore-not-larger")
        length, longest = self.drawn_length, self.retracted + self.stroke
        if length < COINCIDENT_MM or self.retracted - _STROKE_SLACK_MM <= length <= longest + _STROKE_SLACK_MM:
            return
        found = "'{name}' is drawn {length} long, "
        values = {
            "name": word(self.id),
            "length": (length, "fine"),
            "shortest": (self.retracted, "fine"),
            "longest": (longest, "fine"),
        }
        if length < self.retracted:
            side = "shorter than its closed length of {shortest}; move an end or change that"
        else:
            side = "longer than its full reach of {longest} ({shortest} closed + {stroke} stroke); "
            side += "move an end or change them"
            values["stroke"] = (self.stroke, "fine")
        yield Fault(f"{place}.ends", found + side, values, "outside-stroke")
