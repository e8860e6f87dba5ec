"""One of two mounts, as far as it is compared: its answers at the load entered, a tenth less and a tenth more."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reasons import NOT_LOCATED
from app.results.absent import absent
from app.results.correction import Correction, correction
from app.results.readout import Readout, readout_of
from app.results.worst import true_worst
from app.strokes.extremes import Extremes, extremes

LESS, MORE = 0.9, 1.1
"""The shares of the load at which a number is looked at again before it is compared."""


@dataclass(frozen=True)
class Wanted:
    """The correction both mounts are asked for: which end, and how far up, mm."""

    end: EndName
    rise: float


@dataclass(eq=False)
class Side:
    """A mount with its cylinders moved by ``strokes``, mm longer than drawn, and the correction that is asked of it."""

    mount: Mount
    strokes: Mapping[str, object]
    wanted: Wanted

    @cached_property
    def now(self) -> Analysis:
        """At the load entered."""
        return Analysis(self.mount, self.strokes)

    @cached_property
    def readout(self) -> Readout:
        """At the load entered."""
        return readout_of(self.now)

    @cached_property
    def around(self) -> tuple[Analysis, ...]:
        """At a tenth less and a tenth more; neither without a load."""
        mounts = [reloaded(self.mount, share) for share in (LESS, MORE)]
        return tuple([Analysis(each, self.strokes) for each in mounts if each])

    @cached_property
    def correction(self) -> Correction:
        """What the correction takes; of a located mount."""
        return correction(self.mount, self.strokes, self.wanted.end, self.wanted.rise)

    @cached_property
    def extremes(self) -> Extremes | None:
        """How far it goes; None without a cylinder. Of a located mount."""
        return extremes(self.now)

    @cached_property
    def worst(self) -> dict[EndName, float | None]:
        """The larger of linear and true worst of both ends, mm; None where it comes apart. Of a located mount."""
        budget = self.readout.budget
        found = true_worst(self.now)
        sizes = {end: found.of(end).size for end in ENDS}
        return {
            end: None if size is None or budget is None else max(size, budget.of(end).worst)
            for end, size in sizes.items()
        }

    @property
    def load(self) -> float:
        """Size of the load, N."""
        return math.hypot(*self.mount.load.force) if self.mount.load else 0.0

    def reason(self, *paths: str) -> Message | None:
        """Why a number is not there: that of the first path that has one."""
        if not self.now.located:
            return NOT_LOCATED[self.now.mobility.state]
        known = absent(self.now)
        return next((known[path] for path in paths if path in known), None)


def reloaded(mount: Mount, share: float) -> Mount | None:
    """The mount under a share of its load; None without a load."""
    load = mount.load
    if load is None:
        return None
    force = tuple([share * part for part in load.force])
    return mount.model_copy(update={"load": load.model_copy(update={"force": force})})
