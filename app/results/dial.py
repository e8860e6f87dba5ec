"""The load test: what a dial gauge at each end of the edge reads when the full working load comes on."""

import math
from collections.abc import Sequence

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message, word
from app.document.parts import ENDS, EndName
from app.results.answer import answer
from app.sources import sources
from app.sources.play import dot
from app.sources.source import Source

NO_SIZE = Message(
    "no-size",
    "the document has no mass: weight is taken as pushing straight down at the middle of the edge, with no size",
)

_SHOWN_MM = 0.005
"""Less than this does not show in a reading to a hundredth."""


@answer
class DialSource:
    """What one source adds to the dial readings."""

    id: str
    """Joint, cylinder or rod."""
    member: str | None
    """The member it belongs to, by id."""
    kind: str
    """Play that turns over, oil squeezed, rod stretched."""
    left: float
    """At the left end, mm, + upward."""
    right: float
    """At the right end, mm, + upward."""


@answer
class Dial:
    """What a dial gauge at each end reads when the full load comes on."""

    left: float
    """At the left end, mm, + upward."""
    right: float
    """At the right end, mm, + upward."""
    sources: list[DialSource]
    """Every source, largest first."""
    note: Message | None
    """What was assumed; null when nothing was."""


@worked_out_once
def load_test(analysis: Analysis) -> Dial | None:
    """What a dial gauge at each end reads when the full working load comes on, mm, + upward; None without a load.

    Play that turns over, oil and stretch, by source. A joint that carries nothing in a state is taken in the middle of
    its play there.
    """
    if not analysis.sensitivities.has("load"):
        return None
    listed = sources(analysis)
    entries = [
        DialSource(source.id, source.member, source.kind, moved["left"], moved["right"])
        for source in listed
        if (moved := _moved(source))
    ]
    entries.sort(key=lambda entry: -max(abs(entry.left), abs(entry.right)))
    left, right = math.fsum([each.left for each in entries]), math.fsum([each.right for each in entries])
    return Dial(left, right, entries, _note(listed) if analysis.sensitivities.has("weight") else NO_SIZE)


def _note(listed: Sequence[Source]) -> Message | None:
    """What was assumed of joints that only the load pushes; None where that moves no end."""
    middle = [each for each in listed if each.sides and not any(each.sides[0]) and any(each.sides[1])]
    unsure = {end: math.fsum(abs(dot(each.sides[1], each.reach[end])) for each in middle if each.sides) for end in ENDS}
    if max(unsure.values()) < _SHOWN_MM:
        return None
    text = (
        "the weight does not push {joints}: the play there is taken from its middle, "
        "so the reading may be {left} (left) and {right} (right) more or less"
    )
    names = word(", ".join(f"'{each.id}'" for each in middle))
    values = {"joints": names, "left": (unsure["left"], "error"), "right": (unsure["right"], "error")}
    return Message("play-from-middle", text, values=values)


def _moved(source: Source) -> dict[EndName, float] | None:
    """How far a source moves each end between the two states; None for one that the load does not move."""
    if source.one_sided:
        return {end: source.reach[end][0] for end in ENDS}
    if source.sides is None:
        return None
    swing = [b - a for a, b in zip(*source.sides, strict=True)]
    return {end: dot(swing, source.reach[end]) for end in ENDS}
