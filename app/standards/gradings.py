"""Grading tolerances of published specifications, to start from.

All were read second-hand, as each entry's source says: check the clause that binds the work before relying on it. What
a specification allows is of the finished surface, by its own way of measuring; a blade needs to be better than that.
"""

from dataclasses import dataclass

from app.document.units import MM_PER_FOOT, MM_PER_INCH


@dataclass(frozen=True)
class Grading:
    """One published tolerance: what for, how many +- mm, and where it stands."""

    label: str
    tolerance: float
    source: str


GRADINGS = (
    Grading(
        "sports field base, within a quarter inch over the plane",
        MM_PER_INCH / 8,
        "SportsTurf, May 2012, p. 27: a quarter inch in total, so half of it either way",
    ),
    Grading("road surface or binder course level", 6.0, "UK Specification for Highway Works, series 700, second-hand"),
    Grading("road base level", 15.0, "UK Specification for Highway Works, series 700, second-hand"),
    Grading("earth subgrade, not over 1/2 in from true", MM_PER_INCH / 2, "Lawrenceburg, Indiana, code s. 155.080"),
    Grading("airfield paved area grade, 0.05 ft", 0.05 * MM_PER_FOOT, "FAA P-152 par. 2.13, second-hand"),
    Grading("airfield safety area grade, 0.10 ft", 0.10 * MM_PER_FOOT, "FAA P-152 par. 2.13, second-hand"),
)
