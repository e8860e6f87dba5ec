"""What a designer should look at: where a mount comes near what it cannot do.

A new warning is a file here, a function that finds it, and a line in ``WARNINGS``.
"""

from collections.abc import Callable, Iterator

from app.analysis import Analysis
from app.document.messages import Message
from app.results.warnings.lifts_off import lifts_off
from app.results.warnings.near_dead_centre import near_dead_centre
from app.results.warnings.no_sensors import no_sensors
from app.results.warnings.not_linear import not_linear
from app.results.warnings.over_rating import over_rating
from app.results.warnings.over_relief import over_relief
from app.results.warnings.sensors_close import sensors_close
from app.results.warnings.stopped import stopped
from app.results.warnings.stroke_used_up import stroke_used_up

WARNINGS: tuple[Callable[[Analysis], Iterator[Message]], ...] = (
    over_relief,
    stopped,
    near_dead_centre,
    not_linear,
    stroke_used_up,
    lifts_off,
    over_rating,
    sensors_close,
    no_sensors,
)
"""Everything that is looked for, in the order in which it is said."""


def warnings(analysis: Analysis) -> list[Message]:
    """Everything there is to look at."""
    return [message for find in WARNINGS for message in find(analysis)]
