"""Wear: how far play can grow before the worst error leaves the tolerance.

Clearance enters the budget in proportion, so the limits are closed forms.
"""

from typing import Any

from app.results.budget import ENDS, Source


def allowed_growth(listed: list[Source], clearances: dict[str, float], tolerance: float) -> dict[str, Any]:
    """The factor all play may grow by, and the clearance in mm at which each joint alone uses the tolerance up.

    ``factor`` is below 1 where the tolerance is lost already, and None where there is no play, or where it is lost
    without any. A joint's clearance is None where its play moves neither end, or where the tolerance is lost
    without it.
    """
    plays = [source for source in listed if source.kind == "clearance"]
    return {
        "factor": _least(listed, plays, tolerance),
        "joints": {
            play.id: None if (grown := _least(listed, [play], tolerance)) is None else grown * clearances[play.id]
            for play in plays
        },
    }


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
