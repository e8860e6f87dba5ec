"""How members are drawn, without saying on what: the shapes a drawing is made of.

Places and lengths are exact, in mm; what the document does not say (how thick a pin is, where a guide ends) is left to
whoever draws, in proportion to the blade.
"""

from dataclasses import dataclass
from typing import TypeAlias

from app.document.parts import Point


@dataclass(frozen=True)
class Eye:
    """The eye of a pin."""

    at: Point


@dataclass(frozen=True)
class Bar:
    """A rod, from eye to eye."""

    first: Point
    second: Point


@dataclass(frozen=True)
class Barrel:
    """A cylinder, from its barrel's eye to its rod's; diameters and closed length in mm."""

    first: Point
    second: Point
    bore: float
    rod: float
    retracted: float


@dataclass(frozen=True)
class Guide:
    """A straight guide through a point along a unit vector."""

    at: Point
    along: Point


@dataclass(frozen=True)
class Block:
    """What runs on a guide, at a point along a unit vector."""

    at: Point
    along: Point


@dataclass(frozen=True)
class Dimension:
    """The distance between two points."""

    first: Point
    second: Point


@dataclass(frozen=True)
class Label:
    """A name beside a place."""

    at: Point
    words: str

    @classmethod
    def along(cls, first: Point, second: Point, words: str) -> "Label":
        """A name part of the way along a line, clear of the dimension's figure in its middle."""
        share = 0.3
        return cls((first[0] + share * (second[0] - first[0]), first[1] + share * (second[1] - first[1])), words)


Outline: TypeAlias = Eye | Bar | Barrel | Guide | Block | Dimension | Label
