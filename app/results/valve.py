"""Speed and step: how fast a cylinder moves each end, and the smallest step it can make there.

A high ratio makes an edge quick and coarse. Flow over area is the cylinder's speed, a pulse over area its step; the cap
side fills when it lengthens and the annulus when it shortens, so the two directions differ.
"""

from typing import Any

from app.document.models import Cylinder, Valve
from app.document.units import MM3_PER_ML

_MM3_PER_LITRE = 1e6
_SECONDS_PER_MINUTE = 60.0


def speed_and_step(cylinder: Cylinder, valve: Valve, gains: dict[str, float]) -> dict[str, Any]:
    """For ``gains`` in mm of each end per mm lengthened: speeds in mm/s and steps in mm, + upward, by direction."""
    areas = {"lengthen": cylinder.cap_area, "shorten": -cylinder.annulus_area}
    flow = valve.flow * _MM3_PER_LITRE / _SECONDS_PER_MINUTE
    pulse = valve.smallest_pulse * MM3_PER_ML
    return {
        "speed": {way: {end: gain * flow / area for end, gain in gains.items()} for way, area in areas.items()},
        "step": {way: {end: gain * pulse / area for end, gain in gains.items()} for way, area in areas.items()},
    }
