"""The load turns a cylinder's force over against the weight."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message, word
from app.results.actuators import actuators

NO_FORCE_N = 1e-6


def lifts_off(analysis: Analysis) -> Iterator[Message]:
    """Cylinders whose play crosses to the other side under the full load."""
    for name, each in actuators(analysis).items():
        force, weight = each.force, each.weight_force
        if force is None or weight is None or abs(weight) < NO_FORCE_N or weight * (weight + force) >= 0:
            continue
        text = "the full load turns the force on '{name}' over against the weight: its play crosses to the other side"
        yield Message("lifts-off", text, [name], {"name": word(name)})
