"""A cylinder has no stroke left one way."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message, word
from app.results.actuators import actuators

STROKE_END_MM = 0.5


def stroke_used_up(analysis: Analysis) -> Iterator[Message]:
    """Cylinders that are fully out or fully in."""
    for name, each in actuators(analysis).items():
        if each.stroke - each.extension < STROKE_END_MM:
            text = "'{name}' is fully out: no stroke is left to lengthen it"
        elif each.extension < STROKE_END_MM:
            text = "'{name}' is fully in: no stroke is left to shorten it"
        else:
            continue
        yield Message("stroke-used-up", text, [name], {"name": word(name)})
