"""What every part of a mount document is made of: its fields, with what they measure, their limits and their labels.

A field says its meaning without a unit; the unit follows from what it measures. Documents keep mm, N, MPa, kg and mL.
"""

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BaseModel, ConfigDict, Field, JsonValue, StringConstraints

from app.document.units import DOCUMENT_UNITS, Measure
from app.document.words import NAME

FRAME = "frame"
BLADE = "blade"
FARTHEST_MM = 100_000.0
COINCIDENT_MM = 0.001
"""Ends nearer than this are the same point."""

Point: TypeAlias = tuple[float, float]

EndName: TypeAlias = Literal["left", "right"]
ENDS: tuple[EndName, EndName] = ("left", "right")
OTHER: dict[EndName, EndName] = {"left": "right", "right": "left"}
"""The other end of the blade."""

_FINITE: dict[str, Any] = {"strict": True, "allow_inf_nan": False}
Coordinate = Annotated[float, Field(**_FINITE, ge=-FARTHEST_MM, le=FARTHEST_MM)]
Place = Annotated[tuple[Coordinate, Coordinate], Field(strict=False)]
Length = Annotated[float, Field(**_FINITE, ge=0.001, le=FARTHEST_MM)]
Positive = Annotated[float, Field(**_FINITE, ge=0.001, le=1e9)]
NotNegative = Annotated[float, Field(**_FINITE, ge=0, le=1e9)]
Gap = Annotated[float, Field(**_FINITE, ge=0, le=1000)]
Force = Annotated[float, Field(**_FINITE, ge=-1e9, le=1e9)]
Name = Annotated[
    str,
    StringConstraints(strict=True, strip_whitespace=True, min_length=1, max_length=60, pattern=r"^[^/\x00-\x1f\x7f]*$"),
    NAME,
]


class Part(BaseModel):
    """Any piece of the document: fixed once read, and no key goes unnoticed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


def measured(measure: Measure, label: str, meaning: str, **more: Any) -> Any:  # noqa: ANN401 - what Field returns
    """A field that holds a number or numbers: what it measures, its label on a form, and its meaning without a unit."""
    unit = DOCUMENT_UNITS[measure]
    extra: dict[str, JsonValue] = {"measure": measure, "label": label, "meaning": meaning}
    return Field(description=f"{meaning}, {unit}" if unit else meaning, json_schema_extra=extra, **more)
