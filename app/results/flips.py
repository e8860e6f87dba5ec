"""How near a mount is to its flip: how much more or less load turns the push on a joint or a cylinder over.

At a flip the play of a joint, or the side of the oil that carries, goes over to the other side: readings jump there.
Weight and load add up in proportion at one pose, so that the multiples of the load where it happens are closed forms.
"""

from collections.abc import Iterator
from typing import Literal

from app.analysis import Analysis, worked_out_once
from app.results.answer import answer
from app.results.dial import SHOWN_MM
from app.sources import sources

NO_FORCE_N = 1e-6


@answer
class Flip:
    """A push that turns over at some share of the load."""

    of: str
    """The joint, by name, or the cylinder, by id."""
    kind: Literal["joint", "cylinder"]
    """Whether the play of a joint goes over or the oil of a cylinder is pressed on its other side."""
    multiple: float
    """The multiple of the load at which it does; its size where the load acts both ways."""


@answer
class Flips:
    """The flips nearest to the load that is entered."""

    more: Flip | None
    """The next one with more load; null where none comes."""
    less: Flip | None
    """The last one within the load; null where none came."""
    unheld: list[str]
    """Joints, by name, whose play shows at an end and whose side nothing holds under the weight alone."""


@worked_out_once
def flips(analysis: Analysis) -> Flips:
    """The nearest flip with more load, the nearest with less, and the joints that have no side; none without a load."""
    found = list(_flips(analysis))
    more = min((each for each in found if each.multiple > 1), key=lambda each: each.multiple, default=None)
    less = max((each for each in found if each.multiple <= 1), key=lambda each: each.multiple, default=None)
    return Flips(more, less, _unheld(analysis))


def _flips(analysis: Analysis) -> Iterator[Flip]:
    for source in sources(analysis):
        if source.contact and source.contact.reverses_at is not None:
            yield Flip(source.id, "joint", abs(source.contact.reverses_at))
    both_ways = analysis.mount.load is not None and analysis.mount.load.reversing
    for name, load in analysis.load_forces.items():
        weight = analysis.weight_forces.get(name, 0.0)
        if abs(weight) < NO_FORCE_N or abs(load) < NO_FORCE_N:
            continue
        multiple = -weight / load
        if multiple > 0 or both_ways:
            yield Flip(name, "cylinder", abs(multiple))


def _unheld(analysis: Analysis) -> list[str]:
    found = []
    for source in sources(analysis):
        contact = source.contact
        if contact and max(contact.unsure(reach) for reach in source.reach.values()) >= SHOWN_MM:
            found.append(source.id)
    return found
