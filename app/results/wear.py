"""Wear: how far play can grow before the worst error leaves the tolerance.

Clearance enters the budget in proportion, so the limits are closed forms.
"""

from app.analysis import Analysis, worked_out_once
from app.document.parts import ENDS
from app.results.answer import answer
from app.sources import sources
from app.sources.source import Source


@answer
class Wear:
    """How far play can grow."""

    factor: float | None
    """All play by this factor brings the worst to the tolerance; below 1 where the tolerance is lost already."""
    joints: dict[str, float | None]
    """Clearance at which each joint alone does, mm; null where its play moves neither end, or it is lost without it."""


@worked_out_once
def wear(analysis: Analysis) -> Wear | None:
    """The factor all play may grow by, and the clearance at which each joint alone uses the tolerance up.

    None without a tolerance. The factor is None where there is no play, or where the tolerance is lost without any.
    """
    tolerance = analysis.mount.tolerance
    if tolerance is None:
        return None
    listed = sources(analysis)
    clearances = {name: part.clearance for name, _, part, _ in analysis.mount.joints}
    plays = [source for source in listed if source.kind == "clearance"]
    return Wear(
        factor=_least(listed, plays, tolerance),
        joints={
            play.id: None if (grown := _least(listed, [play], tolerance)) is None else grown * clearances[play.id]
            for play in plays
        },
    )


def _least(listed: list[Source], growing: list[Source], tolerance: float) -> float | None:
    """The smallest factor on some sources that brings an end to the tolerance, either way."""
    factors = []
    for end in ENDS:
        for side, sign in ((0, -1.0), (1, 1.0)):
            moving = sum(sign * source.range(end)[side] for source in growing)
            fixed = sum(sign * source.range(end)[side] for source in listed if source not in growing)
            if fixed > tolerance:
                return None
            if moving > 1e-12:
                factors.append((tolerance - fixed) / moving)
    return min(factors, default=None)
