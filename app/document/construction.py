"""Construction lines and points: what the drawing is set out by. They carry nothing and are no members."""

from typing import Annotated

from pydantic import Field

from app.document.parts import Part, Place, measured

MOST_CONSTRUCTION = 40

_Angle = Annotated[float, Field(strict=True, allow_inf_nan=False, ge=-360, le=360)]


class ConstructionLine(Part):
    """A construction line, or a point where it has no angle: joints rest on it while they are drawn and dragged."""

    at: Place = measured("fine", "at", "a point of it as drawn, [x, y]")
    angle: _Angle | None = measured(
        "angle",
        "angle",
        "which way the line runs, from level to the right, anticlockwise; a point has none",
        default=None,
    )
