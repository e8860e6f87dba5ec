"""The load turns a cylinder's force over against the weight."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message, word
from app.results.actuators import actuators

NO_FORCE_N = 1e-6


def lifts_off(analysis: Analysis) -> Iterator[Message]:
    """Cylinders whose force crosses to the other side under the full load, either way where it acts both ways."""
    load = analysis.mount.load
    ways = (1.0, -1.0) if load is not None and load.reversing else (1.0,)
    for name, each in actuators(analysis).items():
        force, weight = each.force, each.weight_force
        if force is None or weight is None or abs(weight) < NO_FORCE_N:
            continue
        if all(weight * (weight + way * force) >= 0 for way in ways):
            continue
        text = "the full load turns the force on '{name}' over against the weight: any play there crosses over"
        yield Message("lifts-off", text, [name], {"name": word(name)})
