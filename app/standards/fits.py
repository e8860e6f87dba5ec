"""Ready-made fits for a joint: what a nominal diameter and an ISO 286 fit leave as clearance.

ISO 286-1 gives a hole H from 0 to its tolerance grade, a shaft from its fundamental deviation es (0 or below) down by
its own grade. Least clearance: -es; greatest: IT of the hole - es + IT of the shaft. Tables for 18 to 80 mm nominal, in
micrometres: grades and shafts c to f as in tables reprinted from ISO 286-1; shafts g and h from memory of the same.
"""

import math
from dataclasses import dataclass

from app.document.errors import BadCommand, Fault

GRADES = {
    30.0: {6: 13, 7: 21, 8: 33, 9: 52, 10: 84, 11: 130},
    50.0: {6: 16, 7: 25, 8: 39, 9: 62, 10: 100, 11: 160},
    80.0: {6: 19, 7: 30, 8: 46, 9: 74, 10: 120, 11: 190},
}
"""International tolerance grades by the upper end of the nominal step (over 18 to 30, over 30 to 50, over 50 to 80)."""

SHAFTS = {
    30.0: {"c": -110, "d": -65, "e": -40, "f": -20, "g": -7, "h": 0},
    40.0: {"c": -120, "d": -80, "e": -50, "f": -25, "g": -9, "h": 0},
    50.0: {"c": -130, "d": -80, "e": -50, "f": -25, "g": -9, "h": 0},
    65.0: {"c": -140, "d": -100, "e": -60, "f": -30, "g": -10, "h": 0},
    80.0: {"c": -150, "d": -100, "e": -60, "f": -30, "g": -10, "h": 0},
}
"""Upper deviations of shafts by the upper end of the nominal step; c has steps of its own."""

SMALLEST, LARGEST = 18.0, 80.0
FITS = ("H7/h6", "H7/g6", "H7/f7", "H8/f7", "H9/e8", "H9/d9", "H11/c11")
"""Clearance fits of the hole basis, closest first."""


@dataclass(frozen=True)
class Fit:
    """A fit at one nominal diameter: least and greatest diametral clearance, mm."""

    fit: str
    least: float
    greatest: float


def fits(nominal: float) -> list[Fit]:
    """Every fit at a nominal diameter in mm. Raises BadCommand outside the tables."""
    return [fit_at(nominal, fit) for fit in FITS]


def fit_at(nominal: float, fit: str) -> Fit:
    """One fit, such as 'H8/f7', at a nominal diameter in mm. Raises BadCommand for what is not tabulated."""
    if not SMALLEST < nominal <= LARGEST:
        what = "that is no number, so it" if math.isnan(nominal) else f"{nominal:g} mm"
        message = f"{what} is not tabulated; give more than {SMALLEST:g} and at most {LARGEST:g} mm"
        raise BadCommand([Fault("nominal", message)])
    hole, shaft = _parts(fit)
    grades = next(table for upper, table in GRADES.items() if nominal <= upper)
    deviations = next(table for upper, table in SHAFTS.items() if nominal <= upper)
    deviation = deviations[shaft[0]]
    return Fit(fit, -deviation / 1000, (grades[hole] - deviation + grades[shaft[1]]) / 1000)


def _parts(fit: str) -> tuple[int, tuple[str, int]]:
    """Grade of the hole H, then letter and grade of the shaft."""
    hole, _, shaft = fit.partition("/")
    grades = {str(grade): grade for grade in GRADES[30.0]}
    letter, number = shaft[:1], shaft[1:]
    if hole[:1] != "H" or hole[1:] not in grades or letter not in SHAFTS[30.0] or number not in grades:
        raise BadCommand([Fault("fit", f"'{fit[:20]}' is no tabulated fit; give one such as {', '.join(FITS)}")])
    return grades[hole[1:]], (letter, grades[number])
