"""What every joint has: its clearance and its rating; and the pinned end of a rod or cylinder."""

from typing import ClassVar

from pydantic import Field

from app.document.parts import Gap, Name, Part, Place, Positive, measured


class Joint(Part):
    """Where two parts meet with a gap between them.

    ``ROUND`` is true where the gap is a clearance circle, false where it lies across a guide only.
    """

    ROUND: ClassVar[bool] = True

    clearance: Gap = measured(
        "error",
        "clearance",
        "the whole gap: bore minus pin, both gaps added where the pin floats in eye and lug, where one pin "
        "carries several members the gap in the common bore entered at one of them only; of a slide across it",
        default=0.0,
    )
    rating: Positive | None = measured("force", "rating", "force the joint is rated for", default=None)
    stiffness: Positive | None = measured(
        "stiffness",
        "lug stiffness",
        "stiffness of the lug or bracket that carries the joint; it counts as stiff without one",
        default=None,
    )


class _Held(Part):
    """Where an end is pinned; a class of its own so that its fields come before the joint's in a document."""

    on: Name = Field(description="the body it is pinned to: 'frame', 'blade' or a name from bodies")
    at: Place = measured("fine", "", "the pin's centre as drawn, [x, y]")


class End(Joint, _Held):
    """One pinned end of a rod or cylinder."""
