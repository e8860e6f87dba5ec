"""A correction typed at one end: the strokes, the oil and the time it takes, and what becomes of the other end."""

import math
from collections.abc import Mapping

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import OTHER, EndName
from app.document.reasons import NO_VALVE
from app.document.units import MM3_PER_LITRE, MM3_PER_ML, SECONDS_PER_MINUTE
from app.members import Cylinder
from app.results.answer import answer
from app.results.reach import corrects_alone, lifts, reach

MET_MM = 0.005
"""An end that is no farther off is where it should be."""

STAYS_SHARE = 0.01
"""An end that goes no farther than this share of the correction stays."""

OUT_OF_REACH = Message("correction-out-of-reach", "nothing brings this end there")


@answer
class Correction:
    """What it takes to raise one end, the other staying where the mount can keep it."""

    end: EndName
    """The end that is corrected."""
    rise: float
    """How far, mm, + upward."""
    met: bool
    """Whether it gets there."""
    other: float
    """How far the other end goes, mm, + upward."""
    alone: bool
    """Whether the other end stays."""
    strokes: dict[str, float]
    """How much every cylinder gets longer, mm, by id."""
    oil: float
    """Oil that flows into the cylinders, mL."""
    time: float | None
    """Seconds at the valve's flow, all cylinders at once; null without a valve, or where it does not get there."""
    why: Message | None
    """Why it does not get there, or takes no time that is known; null where it does."""


def correction(mount: Mount, strokes: Mapping[str, object], end: EndName, rise: float) -> Correction:
    """Raise one ``end`` of a located mount by ``rise`` mm from where ``strokes`` bring it. Raises BadCommand."""
    before = Analysis(mount, strokes)
    now, other = lifts(before), OTHER[end]
    asked = {end: now[end] + rise, other: now[other] if corrects_alone(before) else 0.0}
    after, _ = reach(mount, strokes, asked)
    gone = {each: height - now[each] for each, height in lifts(after).items()}
    met = abs(gone[end] - rise) < MET_MM
    cylinders = zip(mount.cylinders, before.pose.lengths, after.pose.lengths, strict=True)
    moves = [(cylinder, then - first) for cylinder, first, then in cylinders]
    volumes = [volume_for(cylinder, move) for cylinder, move in moves]
    why = None if met else after.pose.stopped or OUT_OF_REACH
    if met and mount.valve is None:
        why = NO_VALVE
    flow = mount.valve.flow * MM3_PER_LITRE / SECONDS_PER_MINUTE if mount.valve else math.inf
    return Correction(
        end=end,
        rise=rise,
        met=met,
        other=gone[other],
        alone=abs(gone[other]) <= STAYS_SHARE * abs(rise),
        strokes={cylinder.id: move for cylinder, move in moves},
        oil=sum(volumes) / MM3_PER_ML,
        time=max(volumes, default=0.0) / flow if met and mount.valve else None,
        why=why,
    )


def volume_for(cylinder: Cylinder, move: float) -> float:
    """Oil that fills a cylinder while it gets ``move`` mm longer, mm3: its cap side, or its annulus when shorter."""
    return abs(move) * (cylinder.cap_area if move > 0 else cylinder.annulus_area)
