"""The load test: what a dial gauge at each end of the edge reads when the full working load comes on."""

import math
from collections.abc import Sequence
from typing import Any

from app.results.budget import ENDS, Source
from app.results.play import dot
from app.solve.sensitivity import Sensitivities

MIDDLE = (
    "the weight does not push {joints}: the play there is taken from its middle, "
    "so the reading may be {left:.2f} mm (left) and {right:.2f} mm (right) more or less"
)
NO_SIZE = "the document has no mass: weight is taken as pushing straight down at the middle of the edge, with no size"

_SHOWN_MM = 0.005
"""Less than this does not show in a reading to a hundredth."""


def load_test(found: Sensitivities, listed: Sequence[Source]) -> dict[str, Any] | None:
    """What a dial gauge at each end reads when the full working load comes on, mm, + upward; None without a load.

    Play that turns over, oil and stretch, by source. A joint that carries nothing in a state is taken in the middle of
    its play there.
    """
    if not found.has("load"):
        return None
    entries = [_entry(source, moved) for source in listed if (moved := _moved(source))]
    entries.sort(key=lambda entry: -max(abs(entry["left"]), abs(entry["right"])))
    return {
        **{end: math.fsum([entry[end] for entry in entries]) for end in ENDS},
        "sources": entries,
        "note": _note(listed) if found.has("weight") else NO_SIZE,
    }


def _note(listed: Sequence[Source]) -> str | None:
    """What was assumed of joints that only the load pushes; None where that moves no end."""
    middle = [each for each in listed if each.sides and not any(each.sides[0]) and any(each.sides[1])]
    unsure = {end: math.fsum(abs(dot(each.sides[1], each.reach[end])) for each in middle if each.sides) for end in ENDS}
    if max(unsure.values()) < _SHOWN_MM:
        return None
    return MIDDLE.format(joints=", ".join(f"'{each.id}'" for each in middle), **unsure)


def _moved(source: Source) -> dict[str, float] | None:
    """How far a source moves each end between the two states; None for one that the load does not move."""
    if source.one_sided:
        return {end: source.reach[end][0] for end in ENDS}
    if source.sides is None:
        return None
    swing = [b - a for a, b in zip(*source.sides, strict=True)]
    return {end: dot(swing, source.reach[end]) for end in ENDS}


def _entry(source: Source, moved: dict[str, float]) -> dict[str, Any]:
    return {"id": source.id, "member": source.member, "kind": source.kind, **moved}
