"""Which way the loads push every joint, and whether they hold its play to one side.

For every joint the adjoint gives g, the work of the loads per unit offset: a 2-vector at a pin, a number at the end of
a rod or cylinder and at a slide. The play lies over in the direction of g, at half the clearance. From weight alone to
weight with the full load g runs along a straight line; where its start and its end point to the same side, so does all
between, and the play is held.
"""

import math
from collections.abc import Sequence
from typing import Literal, TypeAlias

from app.analysis import Analysis, worked_out_once

PlayWord: TypeAlias = Literal["held", "turns over", "unknown"]
HELD: PlayWord = "held"
TURNS_OVER: PlayWord = "turns over"
UNKNOWN: PlayWord = "unknown"

_NO_PUSH = 1e-9
"""A joint pushed with less than this share of the largest push of a state is not pushed at all."""

Pushes = dict[str, list[float]]
"""g of every joint, by its name: N per axis."""


Sides = tuple[list[float], list[float]]
"""The sides a joint is pushed to by the weight alone and under the full load: unit vectors, zero where not pushed."""


@worked_out_once
def contact_sides(analysis: Analysis) -> dict[str, Sides]:
    """To which sides every joint is pushed in the two states of the load test; empty without a load."""
    if not analysis.sensitivities.has("load"):
        return {}
    before, after = states(analysis)
    first, last = sides_of(before), sides_of(after)
    if not analysis.sensitivities.has("weight"):
        # A joint the load leaves alone stays with the weight, however small that is.
        last = {name: side if any(side) else first[name] for name, side in last.items()}
    return {name: (side, last[name]) for name, side in first.items()}


def play_of(sides: Sides | None, weighed: bool) -> PlayWord:
    """Whether the loads hold a joint's play: 'held', 'turns over', or 'unknown' without mass or load."""
    if sides is None or not weighed:
        return UNKNOWN
    return HELD if dot(*sides) > _NO_PUSH else TURNS_OVER


def states(analysis: Analysis) -> tuple[Pushes, Pushes]:
    """The pushes under the weight alone, and under the weight with the full load. Needs a load.

    Without a mass the weight has a direction and no size: the second state is the load alone.
    """
    load = _pushes(analysis, "load")
    if not analysis.sensitivities.has("weight"):
        return _pushes(analysis, "faint weight"), load
    weight = _pushes(analysis, "weight")
    return weight, {name: [a + b for a, b in zip(push, load[name], strict=True)] for name, push in weight.items()}


def _pushes(analysis: Analysis, case: str) -> Pushes:
    work = analysis.sensitivities.of_error(case).tolist()
    return {name: work[part] for name, part in analysis.assembly.joint_errors.items()}


def sides_of(pushes: Pushes) -> Pushes:
    """The side every joint is pushed to: unit vectors, zero where it is not pushed."""
    floor = _NO_PUSH * max((math.hypot(*push) for push in pushes.values()), default=0.0)
    sides = {}
    for name, push in pushes.items():
        size = math.hypot(*push)
        sides[name] = [each / size if size > floor else 0.0 for each in push]
    return sides


def dot(a: Sequence[float], b: Sequence[float]) -> float:
    """Scalar product."""
    return sum([x * y for x, y in zip(a, b, strict=True)])
