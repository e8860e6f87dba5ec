"""Papers and scales of a drawing that is printed: what there is, and what room a paper has."""

from dataclasses import dataclass

from app.document.units import MM_PER_INCH, Trade

BINDING, MARGIN = 20.0, 10.0
"""Between the edge of the paper and the frame, mm: on the left, where it is bound, and elsewhere (ISO 5457)."""


@dataclass(frozen=True)
class Paper:
    """A sheet, lying: its size in mm, and the standard it stands in."""

    width: float
    height: float
    standard: str

    @property
    def frame(self) -> tuple[float, float]:
        """Width and height inside the frame, mm."""
        return self.width - BINDING - MARGIN, self.height - 2 * MARGIN


PAPERS: dict[str, Paper] = {
    "A4": Paper(297, 210, "ISO 216"),
    "A3": Paper(420, 297, "ISO 216"),
    "A2": Paper(594, 420, "ISO 216"),
    "A1": Paper(841, 594, "ISO 216"),
    "Letter": Paper(11 * MM_PER_INCH, 8.5 * MM_PER_INCH, "ASME Y14.1, A"),
    "B": Paper(17 * MM_PER_INCH, 11 * MM_PER_INCH, "ASME Y14.1"),
    "C": Paper(22 * MM_PER_INCH, 17 * MM_PER_INCH, "ASME Y14.1"),
    "D": Paper(34 * MM_PER_INCH, 22 * MM_PER_INCH, "ASME Y14.1"),
    "E": Paper(44 * MM_PER_INCH, 34 * MM_PER_INCH, "ASME Y14.1"),
}
"""Every paper by its name."""

USUAL: dict[Trade, str] = {"metric": "A4", "inch": "Letter"}
"""The paper that any printer has."""

SCALES: dict[Trade, tuple[int, ...]] = {
    "metric": (1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000),
    "inch": (1, 2, 4, 8, 10, 16, 20, 32, 48, 64, 96, 128, 192, 384, 768),
}
"""Reductions of a drawing, largest first: ISO 5455 and, common beside it, 1:25; halves and fractions of a foot."""

FITS = "fits"
"""The scale that asks for the largest one that fits."""

SCALE_CHOICES = (FITS, *(f"1:{each}" for each in sorted({*SCALES["metric"], *SCALES["inch"]})))
