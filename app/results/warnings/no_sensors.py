"""An allowance stands at sensors that are not there."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message


def no_sensors(analysis: Analysis) -> Iterator[Message]:
    """Such an allowance is left out of the budget."""
    mount = analysis.mount
    if any(allowance.at == "sensors" for allowance in mount.allowances) and not mount.sensors:
        yield Message(
            "no-sensors", "an allowance stands at the sensors, but there are none: it is left out of the budget"
        )
