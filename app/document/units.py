"""Units and quantities: what is measured, in which unit either system shows it, and the exact factors between them.

Documents, engine and answers use mm, N, MPa, kg, degrees and mL; only what meets a person's eye converts, from this
table: the command line by ``Message.filled``, the page by the same table in its vocabulary. Factors are exact by
definition: the 1959 yard and pound agreement and NIST Special Publication 811, appendix B.
"""

import math
import re
from dataclasses import dataclass
from typing import Annotated, Literal, TypeAlias

from pydantic import Field

MM_PER_INCH = 25.4
MM_PER_FOOT = 12 * MM_PER_INCH
M_PER_FOOT = MM_PER_FOOT / 1000
KG_PER_POUND = 0.45359237
STANDARD_GRAVITY = 9.80665
"""m/s2, by definition; N of weight per kg of mass."""

NEWTON_PER_LBF = KG_PER_POUND * STANDARD_GRAVITY
MPA_PER_PSI = NEWTON_PER_LBF / MM_PER_INCH**2

MM3_PER_ML = 1000.0
MM3_PER_LITRE = 1e6
SECONDS_PER_MINUTE = 60.0
LITRE_PER_GALLON = 231 * MM_PER_INCH**3 / MM3_PER_LITRE
"""The US liquid gallon of 231 cubic inches, NIST Special Publication 811, appendix B."""

DEGREES = math.degrees(1.0)
"""Degrees per radian."""

System: TypeAlias = Literal["metric", "inch"]
SYSTEMS: tuple[System, ...] = ("metric", "inch")

Trade: TypeAlias = Literal["metric", "inch"]
"""By which of the two what is bought, printed and supposed is round: sizes, papers, scales, usual values."""

Measure: TypeAlias = Literal[
    "error",
    "length",
    "fine",
    "force",
    "pressure",
    "modulus",
    "mass",
    "line mass",
    "ratio",
    "percent",
    "angle",
    "area",
    "volume",
    "flow",
    "speed",
    "stiffness",
    "count",
    "time",
    "rate",
    "pace",
    "way",
]
"""What a number measures. ``error`` is a height or clearance, ``fine`` a length to a tenth, ``length`` a large one,
``way`` one travelled and ``pace`` how fast, ``line mass`` the mass of a length of blade."""

FormulaQuantity: TypeAlias = Literal[
    "length", "area", "volume", "force", "moment", "pressure", "stiffness", "turn", "ratio"
]
"""What a number of a printed formula is; there units are chosen so that no formula needs a factor."""

DASH = "\N{EN DASH}"
MINUS = "\N{MINUS SIGN}"
_THIN = "\N{NO-BREAK SPACE}"
_MOST_PLACES = 20
"""Decimals of the smallest of numbers; what is smaller still is shown as nothing."""


@dataclass(frozen=True)
class Unit:
    """How a quantity is shown in a system."""

    unit: Annotated[str, Field(description="its sign; empty for a plain number")]
    factor: Annotated[float, Field(description="how many document units one of it is")]
    digits: Annotated[int, Field(description="decimals it is shown with")]


@dataclass(frozen=True)
class Customs:
    """What a system is called, and what is round in it."""

    sign: Annotated[str, Field(description="what stands on its button")]
    words: Annotated[str, Field(description="its unit of length in words, several of them")]
    block: Annotated[str, Field(description="what a title block calls it")]
    rise: Annotated[float, Field(description="a round rise of an end, mm")]
    fractions: Annotated[bool, Field(description="whether parts of a step are halves of halves, not tenths")]
    cross_fall: Annotated[str, Field(description="what the rise across over the run is called where it is used")]
    trade: Annotated[Trade, Field(description="whose sizes, papers and usual values go with it")]


CUSTOMS: dict[System, Customs] = {
    "metric": Customs("mm", "millimetres", "mm", 10, False, "cross fall", "metric"),
    "inch": Customs("in", "inches", "inches", MM_PER_INCH, True, "cross slope", "inch"),
}
"""Every system of units. What is written in its units stands in ``QUANTITIES``, ``FORMULA_UNITS``, ``LENGTH_STEPS``."""

QUANTITIES: dict[Measure, dict[System, Unit]] = {
    "error": {"metric": Unit("mm", 1, 2), "inch": Unit("in", MM_PER_INCH, 3)},
    "length": {"metric": Unit("mm", 1, 0), "inch": Unit("in", MM_PER_INCH, 1)},
    "fine": {"metric": Unit("mm", 1, 1), "inch": Unit("in", MM_PER_INCH, 2)},
    "force": {"metric": Unit("kN", 1000, 2), "inch": Unit("lbf", NEWTON_PER_LBF, 0)},
    "pressure": {"metric": Unit("MPa", 1, 1), "inch": Unit("psi", MPA_PER_PSI, 0)},
    "modulus": {"metric": Unit("MPa", 1, 0), "inch": Unit("psi", MPA_PER_PSI, 0)},
    "mass": {"metric": Unit("kg", 1, 0), "inch": Unit("lb", KG_PER_POUND, 0)},
    "line mass": {"metric": Unit("kg/m", 1, 1), "inch": Unit("lb/ft", KG_PER_POUND / M_PER_FOOT, 1)},
    "ratio": {"metric": Unit("", 1, 2), "inch": Unit("", 1, 2)},
    "percent": {"metric": Unit("%", 0.01, 2), "inch": Unit("%", 0.01, 2)},
    "angle": {"metric": Unit("°", 1, 2), "inch": Unit("°", 1, 2)},
    "area": {"metric": Unit("mm²", 1, 0), "inch": Unit("in²", MM_PER_INCH**2, 2)},
    "volume": {"metric": Unit("mL", 1, 1), "inch": Unit("in³", MM_PER_INCH**3 / MM3_PER_ML, 2)},
    "flow": {"metric": Unit("L/min", 1, 1), "inch": Unit("gal/min", LITRE_PER_GALLON, 2)},
    "speed": {"metric": Unit("mm/s", 1, 0), "inch": Unit("in/s", MM_PER_INCH, 1)},
    "stiffness": {
        "metric": Unit("N/mm", 1, 0),
        "inch": Unit("lbf/in", NEWTON_PER_LBF / MM_PER_INCH, 0),
    },
    "count": {"metric": Unit("", 1, 0), "inch": Unit("", 1, 0)},
    "time": {"metric": Unit("s", 1, 2), "inch": Unit("s", 1, 2)},
    "rate": {"metric": Unit("1/s", 1, 2), "inch": Unit("1/s", 1, 2)},
    "pace": {"metric": Unit("m/s", 1, 2), "inch": Unit("ft/s", M_PER_FOOT, 2)},
    "way": {"metric": Unit("m", 1, 1), "inch": Unit("ft", M_PER_FOOT, 1)},
}

FORMULA_UNITS: dict[FormulaQuantity, dict[System, tuple[str, float]]] = {
    "length": {"metric": ("mm", 1.0), "inch": ("in", MM_PER_INCH)},
    "area": {"metric": ("mm²", 1.0), "inch": ("in²", MM_PER_INCH**2)},
    "volume": {"metric": ("mm³", 1.0), "inch": ("in³", MM_PER_INCH**3)},
    "force": {"metric": ("N", 1.0), "inch": ("lbf", NEWTON_PER_LBF)},
    "moment": {"metric": ("N·mm", 1.0), "inch": ("lbf·in", NEWTON_PER_LBF * MM_PER_INCH)},
    "pressure": {"metric": ("MPa", 1.0), "inch": ("psi", MPA_PER_PSI)},
    "stiffness": {"metric": ("N/mm", 1.0), "inch": ("lbf/in", NEWTON_PER_LBF / MM_PER_INCH)},
    "turn": {"metric": ("1/mm", 1.0), "inch": ("1/in", 1 / MM_PER_INCH)},
    "ratio": {"metric": ("", 1.0), "inch": ("", 1.0)},
}
"""The unit of every quantity of a formula, and how many mm, N and MPa make one of it.

Chosen so that no formula needs a factor: MPa are N/mm² and psi are lbf/in².
"""

DOCUMENT_UNITS: dict[Measure, str] = {
    **{measure: shown["metric"].unit for measure, shown in QUANTITIES.items()},
    "force": "N",
    "percent": "",
    "angle": "degrees",
    "area": "mm2",
}
"""The unit documents and answers keep a quantity in; a share has none."""


TYPED: dict[str, dict[str, float]] = {
    "mm": {
        "mm": 1,
        "cm": 10,
        "m": 1000,
        **dict.fromkeys(("in", "inch", "inches", '"', "''"), MM_PER_INCH),
        **dict.fromkeys(("ft", "foot", "feet", "'"), MM_PER_FOOT),
    },
    "kN": {
        "n": 1,
        "kn": 1000,
        **dict.fromkeys(("lbf", "lb", "lbs"), NEWTON_PER_LBF),
        **dict.fromkeys(("kip", "kips"), 1000 * NEWTON_PER_LBF),
    },
    "MPa": {
        **dict.fromkeys(("mpa", "n/mm²", "n/mm2"), 1.0),
        "gpa": 1000,
        "bar": 0.1,
        "kpa": 0.001,
        "psi": MPA_PER_PSI,
        "ksi": 1000 * MPA_PER_PSI,
    },
    "kg/m": {
        "kg/m": 1,
        "lb/ft": KG_PER_POUND / M_PER_FOOT,
        "lb/in": KG_PER_POUND / M_PER_FOOT * 12,
    },
    "kg": {"kg": 1, "t": 1000, **dict.fromkeys(("lb", "lbs"), KG_PER_POUND)},
    "mL": {
        **dict.fromkeys(("ml", "cm³", "cm3", "cc"), 1.0),
        "l": 1000,
        **dict.fromkeys(("in³", "in3", "cu in"), MM_PER_INCH**3 / MM3_PER_ML),
    },
    "mm²": {
        **dict.fromkeys(("mm²", "mm2"), 1.0),
        **dict.fromkeys(("cm²", "cm2"), 100.0),
        **dict.fromkeys(("in²", "in2", "sq in"), MM_PER_INCH**2),
    },
    "L/min": {**dict.fromkeys(("l/min", "lpm"), 1.0), **dict.fromkeys(("gal/min", "gpm"), LITRE_PER_GALLON)},
    "s": {"s": 1, "ms": 0.001, "min": SECONDS_PER_MINUTE},
    "1/s": {"1/s": 1},
    "m/s": {"m/s": 1, "km/h": 1 / 3.6, "ft/s": M_PER_FOOT, "mph": 5280 * M_PER_FOOT / 3600},
    "m": {"m": 1, "cm": 0.01, "mm": 0.001, **dict.fromkeys(("ft", "foot", "feet", "'"), M_PER_FOOT)},
    "°": {**dict.fromkeys(("°", "deg", "degrees"), 1.0)},
    "%": {"%": 0.01},
    "N/mm": {"n/mm": 1, "kn/mm": 1000, "lbf/in": NEWTON_PER_LBF / MM_PER_INCH, "lb/in": NEWTON_PER_LBF / MM_PER_INCH},
}
"""Units that may be typed after a number, by the metric unit it is shown in: how many document units each is."""

LENGTH_STEPS: dict[System, dict[str, float]] = {
    "metric": {f"{step} mm": float(step) for step in (1, 5, 10, 25, 50)},
    "inch": {
        "1/16 in": MM_PER_INCH / 16,
        "1/8 in": MM_PER_INCH / 8,
        "1/4 in": MM_PER_INCH / 4,
        "1/2 in": MM_PER_INCH / 2,
        "1 in": MM_PER_INCH,
        "2 in": 2 * MM_PER_INCH,
    },
}
"""Steps a grid may have, mm, by their label."""


def in_trade(words: str, system: System) -> str:
    """Words as the trade of a system has them: cross fall with mm, cross slope with inches."""
    name = CUSTOMS[system].cross_fall
    return re.sub("cross fall", lambda found: found[0][0] + name[1:], words, flags=re.IGNORECASE)


def amount(value: float, measure: Measure, system: System = "metric") -> str:
    """A number of document units with its unit, as a person reads it in a system.

    With the decimals of its quantity, and more where fewer than two figures would be left: 0.004 mm, not 0.00 mm.
    """
    shown = QUANTITIES[measure][system]
    size = abs(value) / shown.factor
    places = shown.digits
    if size and not math.isinf(size):
        places = min(max(places, 1 - math.floor(math.log10(size))), _MOST_PLACES)
    figures = f"{size:.{places}f}"
    while len(figures) > 1 and figures.endswith("0") and places > shown.digits:
        figures, places = figures[:-1], places - 1
    figures = figures.rstrip(".")
    sign = MINUS if value < 0 and float(figures) else ""
    if not shown.unit:
        return sign + figures
    return f"{sign}{figures}{'' if shown.unit == '°' else _THIN}{shown.unit}"
