"""The true worst: the edge with every joint, length and load somewhere in its range, the pose solved again at each.

The linear sum is what follows the hand; this is searched when the hand rests. Tyres, steps and allowances do not
move the mount's own joints and are added as they are.
"""

import math

import numpy as np

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message
from app.document.parts import ENDS, EndName, Point
from app.results.answer import answer
from app.results.budget import budget
from app.solve.farthest import Farthest, farthest
from app.solve.sensitivity import BLADE_BODY
from app.sources import KINDS, offsets, sources

COMES_APART = Message(
    "comes-apart",
    "with some of its play and give the mount comes apart or snaps through: there is no farthest place of the edge",
)

SAID_FROM = 0.02
"""Share of the linear sum by which the true worst must pass it to stand in its place."""


@answer
class TrueWorst:
    """The farthest one end goes one way."""

    value: float
    """The end's height about where it should be, mm, with the way's sign."""
    linear: float
    """The same by the linear sum, mm."""
    offsets: dict[str, float | Point]
    """Where every joint is then, mm: along its rod or cylinder or across its guide, [x, y] at a pin; bent lugs and
    stretched rods are in it."""
    lengths: dict[str, float]
    """How much every cylinder has given way then, mm, - shorter."""


@answer
class TrueWorstEnd:
    """The farthest one end goes."""

    low: TrueWorst | None
    """Downward; null where the mount comes apart."""
    high: TrueWorst | None
    """Upward; null where the mount comes apart."""

    @property
    def size(self) -> float | None:
        """The larger of both ways, mm; None where the mount comes apart."""
        if self.low is None or self.high is None:
            return None
        return max(abs(self.low.value), abs(self.high.value))


@answer
class TrueWorsts:
    """The farthest both ends go."""

    left: TrueWorstEnd
    """Left end."""
    right: TrueWorstEnd
    """Right end."""

    def of(self, end: EndName) -> TrueWorstEnd:
        """One end."""
        return self.left if end == "left" else self.right


@worked_out_once
def true_worst(analysis: Analysis) -> TrueWorsts:
    """Both ends both ways, searched from seeded starts: the same mount gets the same answer."""
    blade, assembly, moving = analysis.mount.blade, analysis.assembly, offsets(analysis)
    points = {end: assembly.local(BLADE_BODY, at) for end, at in zip(ENDS, (blade.left, blade.right), strict=True)}
    wanted = [(points[end], way) for end in ENDS for way in (-1.0, 1.0)]
    found = farthest(assembly, analysis.pose, wanted, moving)
    left, right = (
        TrueWorstEnd(_true(analysis, end, 0, found[place]), _true(analysis, end, 1, found[place + 1]))
        for end, place in zip(ENDS, (0, 2), strict=True)
    )
    return TrueWorsts(left, right)


def inside(analysis: Analysis) -> bool | None:
    """Whether the larger of linear and true worst of both ends is within the tolerance; None where not judged."""
    tolerance, linear = analysis.mount.tolerance, budget(analysis).inside
    if tolerance is None or not linear:
        return linear
    sizes = [true_worst(analysis).of(end).size for end in ENDS]
    return None if None in sizes else all(size is not None and size <= tolerance for size in sizes)


def _true(analysis: Analysis, end: EndName, side: int, found: Farthest | None) -> TrueWorst | None:
    if found is None:
        return None
    resting = math.fsum([each.range(end)[side] for each in sources(analysis) if not KINDS[each.kind].MOVES_JOINTS])
    own = budget(analysis).of(end)
    places: dict[str, float | Point] = {}
    for name, part in analysis.assembly.joint_errors.items():
        by = found.errors[part].tolist()
        if any(by):
            places[name] = (by[0], by[1]) if len(by) > 1 else by[0]
    lengths = {
        cylinder.id: float(change)
        for cylinder, change in zip(analysis.mount.cylinders, np.asarray(found.lengths), strict=True)
        if change
    }
    return TrueWorst(found.change + resting, own.high if side else own.low, places, lengths)
