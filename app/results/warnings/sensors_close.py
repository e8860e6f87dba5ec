"""The sensors stand so near one another that what one is out shows many times at an end."""

from collections.abc import Iterator

from app.analysis import Analysis
from app.document.messages import Message
from app.sources.allowance import sensor_carry

SENSORS_CARRY = 3.0
"""From how many mm at an end per mm at one sensor the two are called too near one another."""


def sensors_close(analysis: Analysis) -> Iterator[Message]:
    """How much an end is out for a unit at one sensor."""
    carry = [abs(each) for ends in sensor_carry(analysis).values() for each in ends.values()]
    if not carry or max(carry) < SENSORS_CARRY:
        return
    text = "the sensors stand so near one another that an error at one of them is {carry} times as large at an end"
    yield Message("sensors-close", text, values={"carry": (max(carry), "ratio")})
