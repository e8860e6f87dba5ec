"""Lost motion: how far a cylinder goes at a reversal before anything follows, and the play operator that does it.

The play of a joint that neither weight nor load holds to a side is taken up at every reversal. It is counted with the
cylinder whose force it feels most, force in the joint per force in the cylinder when the end that cylinder is paired
with is loaded; that ratio is also what a unit of the joint's play is in mm of that cylinder.
"""

import math

import numpy as np

from app.analysis import Analysis
from app.grading.settings import LoadKind
from app.solve.equations import Array
from app.sources import sources
from app.sources.play import HELD, contacts


def loose_joints(analysis: Analysis, load: LoadKind) -> set[str]:
    """Joints with play, by name, that nothing holds to a side while the load does what it does.

    Without a load: those to which the weight gives no side. Under a steady one: those that weight and load together do
    not push. Under one that wanders: those the budget does not call held.
    """
    with_play = [each for each in sources(analysis) if each.kind == "clearance"]
    found = analysis.sensitivities
    if load == "wandering" and found.has("load"):
        return {each.id for each in with_play if each.play({end: each.moved(end) for end in each.reach}) != HELD}
    if load == "steady" and (pressed := contacts(analysis)):
        return {each.id for each in with_play if not any(pressed[each.id].after[0])}
    if not found.has("weight"):
        return {each.id for each in with_play}
    weight, places = found.of_error("weight").tolist(), analysis.assembly.joint_errors
    sizes = {name: math.hypot(*weight[part]) for name, part in places.items()}
    least = _NO_WEIGHT * max(sizes.values(), default=0.0)
    return {each.id for each in with_play if sizes[each.id] <= least}


_NO_WEIGHT = 1e-6
"""A joint that the weight pushes with less than this share of the largest push has no side, as in the budget."""


def lost_motion(analysis: Analysis, loose: set[str], worked: list[int], paired: list[str]) -> Array:
    """Width of the lost motion of every worked cylinder, mm of its own length, shape (cylinders,).

    ``worked``: the cylinders by number; ``paired``: the case of the place each is paired with, such as 'left'.
    """
    found, places = analysis.sensitivities, analysis.assembly.joint_errors
    widths = np.zeros(len(worked))
    if not worked:
        return widths
    for name, _, part, _ in analysis.mount.joints:
        if name not in loose:
            continue
        felt = [
            math.hypot(*found.of_error(case)[places[name]].tolist()) / gain if gain > 1e-9 else 0.0
            for case, gain in (
                (case, abs(float(found.of_length(case)[each]))) for each, case in zip(worked, paired, strict=True)
            )
        ]
        most = int(np.argmax(felt))
        widths[most] += part.clearance * felt[most]
    return widths


def follow(lengths: Array, before: Array, widths: Array) -> Array:
    """What the mount sees of cylinder lengths one after the other, shape (times, ...): the play operator.

    It stays where it is until the cylinder has gone through half the width either side of it. ``before`` is what it saw
    last, ``widths`` mm.
    """
    seen = np.empty_like(lengths)
    half = widths / 2
    for number, length in enumerate(lengths):
        before = np.minimum(np.maximum(before, length - half), length + half)
        seen[number] = before
    return seen
