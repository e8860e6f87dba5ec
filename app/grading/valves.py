"""Valves: when and how far they open, and how oil becomes movement.

An opening is a stretch of time in which oil flows to one cylinder at a share of the full flow. Its beginning and end
lie anywhere between two steps, so what a valve lets through is a volume and no step is too coarse for it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from app.grading.settings import ValveKind
from app.solve.equations import Array
from app.solve.poses import Marks

_NEVER = np.inf


class Openings:
    """The last openings of every valve of a batch.

    ``begin`` and ``end`` in s, ``size`` the share of the full flow, + where the cylinder gets longer; shape (runs,
    cylinders, kept). The newest of each valve is at ``newest``; it may have no end yet.
    """

    def __init__(self, runs: int, cylinders: int, kept: int) -> None:
        self.begin = np.full((runs, cylinders, kept), -_NEVER)
        self.end = np.full((runs, cylinders, kept), -_NEVER)
        self.size = np.zeros((runs, cylinders, kept))
        self.newest = np.zeros((runs, cylinders), dtype=np.intp)
        self._run, self._cylinder = np.indices((runs, cylinders))

    def copy(self) -> "Openings":
        """The same, which goes on by itself."""
        other = Openings(*self.begin.shape)
        other.begin, other.end, other.size = self.begin.copy(), self.end.copy(), self.size.copy()
        other.newest = self.newest.copy()
        return other

    @property
    def _of_newest(self) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.intp]]:
        return self._run, self._cylinder, self.newest

    @property
    def latest_end(self) -> Array:
        """When the newest opening of each valve ends, s, shape (runs, cylinders)."""
        ends: Array = self.end[self._of_newest]
        return ends

    def open(self, which: Marks, begin: Array, size: Array, end: Array | float = _NEVER) -> None:
        """Open valves, each no sooner than its opening before this one ends; shapes (runs, cylinders)."""
        begin = np.maximum(begin, self.latest_end)
        self.newest = np.where(which, (self.newest + 1) % self.begin.shape[2], self.newest)
        place = (self._run[which], self._cylinder[which], self.newest[which])
        self.begin[place] = begin[which]
        self.end[place] = np.broadcast_to(np.maximum(end, begin), which.shape)[which]
        self.size[place] = size[which]

    def shut(self, which: Marks, at: Array, shortest: Array | float = 0.0) -> None:
        """Shut the newest openings, no sooner than they have lasted ``shortest`` s; one not yet begun never is."""
        begin = self.begin[self._of_newest]
        end = np.where(at > begin, np.maximum(at, begin + shortest), begin)
        place = (self._run[which], self._cylinder[which], self.newest[which])
        self.end[place] = end[which]

    def edges(self, start: float, end: float) -> Array:
        """When valves open or shut within a stretch of time, s, in rising order: shape (runs, edges).

        Rows with fewer than others are filled up with its end.
        """
        runs = len(self.begin)
        times = np.concatenate([self.begin.reshape(runs, -1), self.end.reshape(runs, -1)], axis=1)
        within = (times > start) & (times < end)
        most = int(within.sum(axis=1).max(initial=0))
        return np.sort(np.where(within, times, end), axis=1)[:, :most]

    def flows(self, at: Array) -> Array:
        """Share of the full flow to every cylinder at times, shape (runs, times): (runs, times, cylinders)."""
        when = at[:, :, None, None]
        open_then = (self.begin[:, None] <= when) & (when < self.end[:, None])
        flows: Array = np.where(open_then, self.size[:, None], 0.0).sum(axis=3)
        return flows


@dataclass(frozen=True, eq=False)
class Valves:
    """What the valves of a batch are set to.

    Per run, shape (runs,): ``dead_band`` and ``hysteresis``, mm at the end each cylinder is paired with; ``gain``, 1/s;
    ``on_delay`` and ``off_delay``, s; ``shortest``, s at full flow for the smallest pulse. ``speeds`` of the cylinders
    at full flow, mm/s, shape (runs, cylinders, 2): lengthening, shortening. ``at_end``: mm of that end per mm of the
    cylinder, its size, shape (cylinders,). ``together`` keeps the proportion of the cylinders where one is at its full
    speed; ``shared`` has two that move at once share the flow.
    """

    kind: ValveKind
    dead_band: Array
    hysteresis: Array
    gain: Array
    on_delay: Array
    off_delay: Array
    shortest: Array
    speeds: Array
    at_end: Array
    together: bool
    shared: bool

    def fraction(self, need: Array) -> Array:
        """Share of the full flow a proportional valve gives for a need of mm of cylinder, shape (runs, cylinders, ...).

        Nothing inside the dead band, all of it at the most.
        """
        more = (np.newaxis,) * (need.ndim - 2)
        full = np.where(need > 0, self.speeds[(..., 0, *more)], self.speeds[(..., 1, *more)])
        asked = self.gain[(slice(None), np.newaxis, *more)] * need / full
        asked = np.where(self.outside(need), asked, 0.0)
        if self.together:
            asked = asked / np.maximum(1.0, np.abs(asked).max(axis=1, keepdims=True))
        fraction: Array = np.clip(asked, -1.0, 1.0)
        return fraction

    def outside(self, need: Array) -> Marks:
        """Whether a need of mm of cylinder is past the dead band, shape (runs, cylinders, ...)."""
        more = (np.newaxis,) * (need.ndim - 2)
        at_end = self.at_end[(slice(None), *more)]
        past: Marks = np.abs(need) * at_end > self.dead_band[(slice(None), np.newaxis, *more)]
        return past

    def given(self, flows: Array) -> Array:
        """What of the flows asked for the pump gives, shape (runs, times, cylinders): all, or half each of two."""
        if not self.shared:
            return flows
        given: Array = flows / np.maximum(np.abs(flows).sum(axis=2, keepdims=True), 1.0)
        return given

    def rates(self, flows: Array) -> Array:
        """Speeds of the cylinders, mm/s, for shares of the full flow, shape (runs, times, cylinders)."""
        full: Array = np.where(flows > 0, self.speeds[:, None, :, 0], self.speeds[:, None, :, 1])
        rates: Array = flows * full
        return rates


def decide(valves: Valves, state: Array, need: Array) -> Array:
    """What an on/off valve is told at a reading: +1 lengthen, -1 shorten, 0 shut; shapes (runs, cylinders).

    It opens where the error passes the dead band and shuts once that is back past the dead band less the hysteresis.
    """
    off = need * valves.at_end
    band, back = valves.dead_band[:, None], (valves.dead_band - valves.hysteresis)[:, None]
    kept = np.where((state != 0) & (state * off > back), state, 0.0)
    told: Array = np.where((kept == 0) & (np.abs(off) > band), np.sign(off), kept)
    return told
