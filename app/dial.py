"""The load test: what a dial gauge at each end of the edge reads when the full working load comes on."""

import math
from collections.abc import Sequence
from typing import Any

from app.assembly import Assembly
from app.budget import ENDS, Source
from app.play import dot, sides_of, states
from app.sensitivity import Sensitivities

NO_SIZE = "the document has no mass: weight is taken as pushing straight down at the middle of the edge, with no size"


def load_test(assembly: Assembly, found: Sensitivities, listed: Sequence[Source]) -> dict[str, Any] | None:
    """What a dial gauge at each end reads when the full working load comes on, mm, + upward; None without a load.

    Play that turns over, oil and stretch, by source. A joint that carries nothing in a state is taken in the middle of
    its play there.
    """
    if not found.has("load"):
        return None
    before, after = states(assembly, found)
    first, last = sides_of(before), sides_of(after)
    if not found.has("weight"):
        # A joint the load leaves alone stays with the weight, however small that is.
        last = {name: side if any(side) else first[name] for name, side in last.items()}
    entries: list[dict[str, Any]] = []
    for source in listed:
        if source.one_sided:
            moved = {end: source.reach[end][0] for end in ENDS}
        elif source.kind == "clearance":
            swing = [b - a for a, b in zip(first[source.id], last[source.id], strict=True)]
            moved = {end: dot(swing, source.reach[end]) for end in ENDS}
        else:
            continue
        entries.append({"id": source.id, "member": source.member, "kind": source.kind, **moved})
    entries.sort(key=lambda entry: -max(abs(entry[end]) for end in ENDS))
    return {
        **{end: math.fsum(entry[end] for entry in entries) for end in ENDS},
        "sources": entries,
        "note": None if found.has("weight") else NO_SIZE,
    }
