"""Speed and step: how fast a cylinder moves each end, and the smallest step it can make there.

A high ratio makes an edge quick and coarse. Flow over area is the cylinder's speed, a pulse over area its step; the cap
side fills when it lengthens and the annulus when it shortens, so the two directions differ.
"""

from app.document.models import Valve
from app.document.units import MM3_PER_LITRE, MM3_PER_ML, SECONDS_PER_MINUTE
from app.members import Cylinder
from app.results.answer import Heights, answer
from app.results.coupling import Movement


@answer
class Ways:
    """A value for each end and each way a cylinder can go: cap and annulus differ."""

    lengthen: Heights
    """While the cylinder gets longer."""
    shorten: Heights
    """While it gets shorter."""


def speed_and_step(cylinder: Cylinder, valve: Valve, movement: Movement) -> tuple[Ways, Ways]:
    """Speeds in mm/s and steps in mm of both ends, + upward, from how the cylinder moves them."""
    flow = valve.flow * MM3_PER_LITRE / SECONDS_PER_MINUTE
    pulse = valve.smallest_pulse * MM3_PER_ML

    def ways(volume: float) -> Ways:
        cap, annulus = cylinder.cap_area, -cylinder.annulus_area
        return Ways(
            Heights(movement.left * volume / cap, movement.right * volume / cap),
            Heights(movement.left * volume / annulus, movement.right * volume / annulus),
        )

    return ways(flow), ways(pulse)
