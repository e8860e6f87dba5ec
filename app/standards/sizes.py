"""Sizes a cylinder and its pins are bought in: bores and piston rods of a series, and a likely pin for a blade.

Metric: the series of ISO 3320, from memory. Inches: common practice of the trade, no standard's list. Check a maker's
list before ordering. The clearance said for a pin is the middle of its ISO 286 fit, as a new joint of that size has it.
"""

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from app.document.units import MM_PER_INCH, Trade
from app.standards.fits import fit_at

FIT = "H11/c11"
"""A loose fit, as pins of lifting gear are usually made: a new joint is taken to have it until another is entered."""


@dataclass(frozen=True)
class Size:
    """One size of a series."""

    label: Annotated[str, Field(description="how it is written, such as 2 1/2 in")]
    size: Annotated[float, Field(description="mm")]


@dataclass(frozen=True)
class UsualPin(Size):
    """A usual pin, by its diameter."""

    blade: Annotated[float, Field(description="width of the blade it is likely for, mm")]
    fit: Annotated[str, Field(description="the ISO 286 fit a new joint of it is taken to have")]
    clearance: Annotated[
        float,
        Field(description="middle of that fit's clearance, mm, as coarse as its units show it"),
    ]


@dataclass(frozen=True)
class Series:
    """The sizes of cylinders and pins in one system of units, smallest first."""

    bores: Annotated[tuple[Size, ...], Field(description="bores")]
    rods: Annotated[tuple[Size, ...], Field(description="piston rods")]
    pins: Annotated[tuple[UsualPin, ...], Field(description="pins")]
    source: Annotated[str, Field(description="where bores and piston rods come from")]


_BORES = "8 10 12 16 20 25 32 40 50 63 80 90 100 110 125 140 160 180 200 220 250 280 320 360 400 450 500"
_RODS = "4 5 6 8 10 12 14 16 18 20 22 25 28 32 36 40 45 50 56 63 70 80 90 100 110 125 140 160 180 200 220 250"
_RODS += " 280 320 360"
_INCH_BORES = "1.5 2 2.5 3 3.5 4 5 6 7 8"
_INCH_RODS = "0.625 1 1.125 1.25 1.375 1.5 1.75 2 2.5 3 3.5 4 5 5.5"
_PINS = (20, 25, 30, 40, 50, 60, 80)
_INCH_PINS = (0.75, 1, 1.25, 1.5, 2, 2.5, 3)

_WIDTH_PER_PIN = 60
"""Blades are about so many times as wide as their pins are thick: 40 mm at 2400 mm, 1 1/2 in at 96 in. A guess."""
_HUNDREDTH, _THOU = 0.01, MM_PER_INCH / 1000


def inches(size: float) -> str:
    """A size in inches as the trade writes it: 2.5 is '2 1/2 in'. Sixteenths at the finest."""
    whole, sixteenths = divmod(round(size * 16), 16)
    if not sixteenths:
        return f"{whole} in"
    below = 16
    while sixteenths % 2 == 0:
        sixteenths, below = sixteenths // 2, below // 2
    fraction = f"{sixteenths}/{below} in"
    return f"{whole} {fraction}" if whole else fraction


def _pins(sizes: tuple[float, ...], per: float, step: float) -> tuple[UsualPin, ...]:
    """Usual pins; ``per`` is mm a unit of their sizes, clearances come to a whole ``step``, mm."""
    found = []
    for diameter in sizes:
        size = round(diameter * per, 6)
        fit = fit_at(size, FIT)
        clearance = round(round((fit.least + fit.greatest) / 2 / step) * step, 6)
        found.append(UsualPin(_written(diameter, per), size, size * _WIDTH_PER_PIN, FIT, clearance))
    return tuple(found)


def _sizes(listed: str, per: float) -> tuple[Size, ...]:
    """The sizes of a list; ``per`` is mm a unit."""
    return tuple(Size(_written(size, per), round(size * per, 6)) for size in map(float, listed.split()))


def _written(size: float, per: float) -> str:
    return f"{size:g} mm" if per == 1 else inches(size)


SERIES: dict[Trade, Series] = {
    "metric": Series(
        _sizes(_BORES, 1), _sizes(_RODS, 1), _pins(_PINS, 1, _HUNDREDTH), "series of ISO 3320, from memory"
    ),
    "inch": Series(
        _sizes(_INCH_BORES, MM_PER_INCH),
        _sizes(_INCH_RODS, MM_PER_INCH),
        _pins(_INCH_PINS, MM_PER_INCH, _THOU),
        "common practice in inches, from memory",
    ),
}
