"""One of two mounts over its own travel: every number at every pose it can reach, at a tenth less and more load too."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np

from app.comparison.side import LESS, MORE, Side, Wanted, reloaded
from app.document.messages import Message
from app.document.models import Mount
from app.document.reasons import NO_CYLINDER, NOT_LOCATED
from app.results.absent import absent
from app.strokes.over import AtWorst, Travel, travel

STEPS = 41
"""Strokes a side: what ``POST /travel`` has where nothing else is asked for."""

Names: TypeAlias = Callable[[str], bool]
"""Whether a layer is one of those that are meant, by its name."""


@dataclass(eq=False)
class OverSide:
    """A mount over the strokes of its first two cylinders, the others moved by ``strokes``, mm longer than drawn."""

    mount: Mount
    strokes: Mapping[str, object]

    @cached_property
    def drawn(self) -> Side:
        """Where it stands."""
        return Side(self.mount, self.strokes, Wanted("right", 0.0))

    @cached_property
    def why_not(self) -> Message | None:
        """Why it has no travel; None where it has one."""
        if not self.drawn.now.located:
            return NOT_LOCATED[self.drawn.now.mobility.state]
        return None if self.mount.cylinders else NO_CYLINDER

    @cached_property
    def over(self) -> Travel:
        """Over its travel; of a mount that has one."""
        return travel(self.mount, self.strokes, None, STEPS)

    @cached_property
    def around(self) -> tuple[Travel, ...]:
        """At a tenth less and a tenth more load; neither without a load."""
        mounts = [reloaded(self.mount, share) for share in (LESS, MORE)]
        return tuple([travel(each, self.strokes, None, STEPS) for each in mounts if each])

    def at(self, worst: AtWorst | None) -> Side:
        """The mount where a number is farthest from nought; where it stands, without one."""
        return Side(self.mount, worst.command if worst else self.strokes, Wanted("right", 0.0))

    @cached_property
    def at_worst(self) -> Side:
        """Where the worst edge error is largest, by the linear sum."""
        return self.at(self.over.worst.get("worst"))

    @cached_property
    def worst(self) -> float | None:
        """The larger of the linear worst over the travel and the true worst there, mm; None where it comes apart."""
        sizes = list(self.at_worst.worst.values())
        return None if None in sizes else max(size for size in sizes if size is not None)

    @property
    def reached(self) -> float:
        """The share of its strokes the mount can go to."""
        return float(self.over.reached.mean())

    @property
    def inside(self) -> float | None:
        """The share of the travel it reaches where it is inside the tolerance; None where it is judged nowhere."""
        return inside_of(self.over)

    def passes(self, layer: str) -> AtWorst | None:
        """Where a share is passed the most, if it is passed anywhere: of relief or of a rating."""
        found = self.over.worst.get(layer)
        return found if found and found.value > 1 else None

    def heights(self, end: str) -> tuple[float, float]:
        """How low and how high an end goes, mm above where drawn."""
        layer = self.over.layers[end]
        return float(np.ma.min(layer)), float(np.ma.max(layer))

    def reason(self, *paths: str) -> Message | None:
        """Why a number is not there: that of the first path that has one."""
        if self.why_not:
            return self.why_not
        known = absent(self.drawn.now)
        return next((known[path] for path in paths if path in known), None)


def inside_of(over: Travel) -> float | None:
    """The share of the travel that is inside the tolerance; None where it is judged nowhere."""
    judged = over.layers.get("inside")
    if judged is None or not judged.count():
        return None
    return float(judged.filled(0.0).sum() / over.reached.sum())


def most_of(over: Travel, names: Names) -> tuple[str, AtWorst] | None:
    """Of some layers the one that goes farthest from nought, and where; None where none is there."""
    found = [(name, over.worst[name]) for name in over.layers if names(name) and name in over.worst]
    return max(found, key=lambda each: abs(each[1].value), default=None)
