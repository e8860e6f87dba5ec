"""A cylinder needs more than the relief pressure."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message, word
from app.results.actuators import actuators


def over_relief(analysis: Analysis) -> Iterator[Message]:
    """Under the load alone, or with the weight: whichever needs more."""
    for cylinder in analysis.mount.cylinders:
        each = actuators(analysis)[cylinder.id]
        if each.relief is None or each.force is None:
            continue
        cases = {"the load": each.force}
        if each.weight_force is not None:
            cases["weight and load"] = each.force + each.weight_force
        needed = {case: abs(force) / cylinder.carrying_area(force) for case, force in cases.items()}
        case = max(needed, key=lambda name: needed[name])
        if needed[case] <= each.relief:
            continue
        text = f"'{{name}}' needs {{needed}} under {case}; the relief valve opens at {{relief}}"
        values = {"name": word(cylinder.id), "needed": (needed[case], "pressure"), "relief": (each.relief, "pressure")}
        yield Message("over-relief", text, [cylinder.id], values)
