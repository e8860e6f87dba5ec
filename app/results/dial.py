"""The load test: what a dial gauge at each end of the edge reads when the full working load comes on."""

import math
from collections.abc import Sequence

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message, Value
from app.document.parts import ENDS
from app.results.answer import Heights, answer
from app.sources import sources
from app.sources.source import Source

SHOWN_MM = 0.005
"""Less than this does not show in a reading to a hundredth."""


@answer
class DialSource:
    """What one source adds to the dial readings."""

    id: str
    """Joint, cylinder or rod."""
    member: str | None
    """The member it belongs to, by id."""
    kind: str
    """Play that moves, oil squeezed, rod stretched, lug bent, frame lifted."""
    left: float
    """At the left end, mm, + upward; of play whose side is not known, from its middle."""
    right: float
    """At the right end, likewise."""
    unsure: Heights
    """By how much more or less, mm: not 0 where the weight gives the play no side."""


@answer
class Dial:
    """What a dial gauge at each end reads when the full load comes on."""

    left: float
    """At the left end, mm, + upward."""
    right: float
    """At the right end, mm, + upward."""
    unsure: Heights
    """By how much more or less each reads, mm: not 0 where the weight gives some play no side."""
    sources: list[DialSource]
    """Every source, largest first."""
    note: Message | None
    """What is not known; null where nothing is."""


@worked_out_once
def load_test(analysis: Analysis) -> Dial | None:
    """What a dial gauge at each end reads when the full working load comes on, mm, + upward; None without a load.

    Play that moves, and all that comes with the load, by source.
    """
    if not analysis.sensitivities.has("load"):
        return None
    listed = [each for each in sources(analysis) if each.by_load or each.contact]
    entries = [_entry(source) for source in listed]
    entries.sort(key=lambda entry: -max(abs(entry.left), abs(entry.right)))
    left, right = math.fsum([each.left for each in entries]), math.fsum([each.right for each in entries])
    unsure = Heights(
        math.fsum([each.unsure.left for each in entries]), math.fsum([each.unsure.right for each in entries])
    )
    return Dial(left, right, unsure, entries, _note(analysis, listed, unsure))


def _note(analysis: Analysis, listed: Sequence[Source], unsure: Heights) -> Message | None:
    if max(unsure.left, unsure.right) < SHOWN_MM:
        return None
    joints = [each.id for each in listed if _is_unsure(each)]
    names = ", ".join(f"'{{joint_{number}}}'" for number in range(len(joints)))
    text = f"the weight does not push {names}: the play there may lie either way before the load comes on"
    if not analysis.mount.weights:
        text = f"the document has no mass: the play may lie either way before the load comes on, at {names}"
    values: dict[str, Value] = {f"joint_{number}": (name, "joint") for number, name in enumerate(joints)}
    return Message("side-not-known", text, values=values)


def _is_unsure(source: Source) -> bool:
    return source.contact is not None and any(source.contact.unsure(source.reach[end]) for end in ENDS)


def _entry(source: Source) -> DialSource:
    moved, unsure = {end: source.reach[end][0] for end in ENDS}, dict.fromkeys(ENDS, 0.0)
    if source.contact:
        for end in ENDS:
            moved[end], unsure[end] = (
                source.contact.at_full(source.reach[end]),
                source.contact.unsure(source.reach[end]),
            )
    return DialSource(
        source.id, source.member, source.kind, moved["left"], moved["right"], Heights(unsure["left"], unsure["right"])
    )
