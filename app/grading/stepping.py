"""Stepping a batch of runs through time.

Readings reach the valves late, so that all a valve does within a stretch no longer than that is known when the stretch
begins: a run goes from reading to reading, or where receivers read all the time in stretches of one delay. Within a
stretch the times at which valves open and shut cut the steps, so that cylinder lengths are exact and the play operator
sees every reversal. Poses are solved where a reading needs them, and once for all at the end of each piece of a run.
"""

import math

import numpy as np
from numpy.typing import NDArray

from app.grading.batch import Batch, Trace
from app.grading.lost_motion import follow
from app.grading.plant import LEFT_SEEN
from app.grading.valves import Openings, decide
from app.solve.equations import Array

_MORE = 3
"""Openings kept of a valve beyond those that readings can still have on their way to it."""


class Simulation:
    """A batch on its way; ``advance`` takes it on, ``trace`` holds what it has so far."""

    def __init__(self, batch: Batch) -> None:
        self.batch = batch
        runs, steps, cylinders = batch.runs, batch.steps, batch.plant.cylinders
        self.at = 0
        """The step it has come to."""
        self.trace = Trace(
            times=batch.step * np.arange(steps + 1),
            lengths=np.empty((runs, steps + 1, cylinders)),
            followed=np.empty((runs, steps + 1, cylinders)),
            heights=np.empty((runs, steps + 1, 4)),
            flows=np.zeros((runs, steps, cylinders)),
            used=np.zeros((runs, steps, cylinders)),
            starts=np.zeros((runs, steps, cylinders)),
            ended=np.full((runs, cylinders), np.inf),
            stopped=np.full(runs, np.inf),
        )
        self._always = batch.every == 0
        self._state: Array = np.zeros((runs, cylinders))
        self._was_open = np.zeros((runs, cylinders))
        self._active = np.zeros(runs, dtype=np.intp)
        self._inside_since = np.full(runs, np.nan)
        valves = batch.valves
        longest = float((batch.late + np.maximum(valves.on_delay, valves.off_delay) + valves.shortest).max())
        self._stretch = batch.every or max(1, math.floor(self._soonest / batch.step + 1e-9))
        kept = math.ceil(longest / (batch.step * (batch.every or 1))) + _MORE
        self._openings = Openings(runs, cylinders, kept)
        _, q = batch.plant.begin(runs)
        stood = batch.plant.stand(batch.start, batch.share[:, 0], q)
        self._stuck = ~stood.closed
        self._q = np.where(stood.closed[:, None], stood.q, q)
        self._stood = [(0, self._q)]
        """Steps whose poses are solved, since heights were last filled in, and q there."""
        self.trace.stopped[self._stuck] = 0.0
        self.trace.stood.append((0, self._q[0]))
        self.trace.lengths[:, 0] = self.trace.followed[:, 0] = batch.start
        self.trace.heights[:, 0] = batch.plant.heights(self._q, batch.frame[:, :, 0])
        self._needs = np.zeros((runs, steps + 1, cylinders))

    @property
    def _soonest(self) -> float:
        """How soon after a reading a valve can do anything about it, s."""
        valves, batch = self.batch.valves, self.batch
        delay = valves.on_delay if valves.kind == "proportional" else np.minimum(valves.on_delay, valves.off_delay)
        return float((batch.late + delay).min())

    def advance(self, steps: int) -> None:
        """Take it on by so many steps, to the next reading after that, or to its end; fill in what lies between."""
        until = min(self.at + steps, self.batch.steps)
        while self.at < until:
            self._one_stretch()
        self._fill_in()

    def _one_stretch(self) -> None:
        first, last = self.at, min(self.at + self._stretch, self.batch.steps)
        if self._always and self.batch.valves.kind == "proportional":
            self._flow_of_readings(first, last)
            points = None
        else:
            if not self._always:
                self._at_reading(first)
            points = self._flow_of_openings(first, last)
        self._stand_at(last)
        if self._always:
            self._look(first, last, points)
        self.at = last

    # What is read, and what valves are told

    def _need(self, heights: Array, noise: Array) -> Array:
        """Mm each cylinder has to move, + longer, from what is read; shapes (runs, ..., 4), (runs, ..., 2)."""
        needs: Array = -(heights[..., LEFT_SEEN:] + noise) @ self.batch.channels.needs.T
        return needs

    def _at_reading(self, step: int) -> None:
        """What the valves are told at a reading."""
        batch, valves = self.batch, self.batch.valves
        now = batch.step * step
        need = self._need(self.trace.heights[:, step], batch.noise[:, step // batch.every])
        idle = np.broadcast_to(self._stuck[:, None], need.shape)
        if batch.way == "one after the other" and need.shape[1] > 1:
            idle = idle | (np.arange(2) != self._turn_of(need, now)[:, None])
        need = np.where(idle, 0.0, need)
        everywhere = np.ones(need.shape, dtype=bool)
        opens = np.broadcast_to((now + batch.late + valves.on_delay)[:, None], need.shape)
        if valves.kind == "proportional":
            self._openings.shut(everywhere, opens)
            self._openings.open(everywhere, opens, valves.fraction(need))
        elif valves.kind == "pulsed":
            full = np.where(need > 0, valves.speeds[..., 0], valves.speeds[..., 1])
            period = batch.every * batch.step
            lasts = np.clip(
                valves.gain[:, None] * np.abs(need) * period / full,
                np.minimum(valves.shortest, period)[:, None],
                period,
            )
            self._openings.open(valves.outside(need), opens, np.sign(need), opens + lasts)
        else:
            self._tell(decide(valves, self._state, need), np.broadcast_to(now, need.shape))

    def _turn_of(self, need: Array, now: float) -> NDArray[np.intp]:
        """Whose turn it is where an operator corrects one end after the other: that of a cylinder, per run.

        The next one's, once the end has been near enough to grade for as long as it takes to see what became of it.
        """
        batch, valves = self.batch, self.batch.valves
        rows = np.arange(batch.runs)
        near = np.abs(need[rows, self._active]) * batch.channels.at_end[self._active] <= batch.handed_over
        self._inside_since = np.where(near, np.where(np.isnan(self._inside_since), now, self._inside_since), np.nan)
        wait = batch.late + np.maximum(valves.on_delay, valves.off_delay) + batch.step * batch.every
        turned = near & (now - self._inside_since >= wait - 1e-9)
        if turned.any():
            self._active = np.where(turned, 1 - self._active, self._active)
            self._inside_since = np.where(turned, np.nan, self._inside_since)
            self.trace.turns.append((now, turned))
        return self._active

    def _tell(self, told: Array, when: Array) -> None:
        """Tell on/off valves at times, shape (runs, cylinders): +1 lengthen, -1 shorten, 0 shut."""
        late, valves = self.batch.late[:, None], self.batch.valves
        changed = told != self._state
        shuts, opens = changed & (self._state != 0), changed & (told != 0)
        if shuts.any():
            self._openings.shut(shuts, when + late + valves.off_delay[:, None], valves.shortest[:, None])
        if opens.any():
            self._openings.open(opens, when + late + valves.on_delay[:, None], told)
        self._state = told

    # What oil does

    def _flow_of_openings(self, first: int, last: int) -> Array:
        """Move the cylinders through a stretch: the times at which it is cut, with the grid's, shape (runs, points)."""
        batch, trace = self.batch, self.trace
        grid = trace.times[first : last + 1]
        edges = self._openings.edges(grid[0], grid[-1])
        points = np.sort(np.concatenate([np.broadcast_to(grid, (batch.runs, len(grid))), edges], axis=1), axis=1)
        places = np.arange(len(grid)) + (edges[:, :, None] <= grid).sum(axis=1)
        lasts = np.diff(points, axis=1)
        flows = self._openings.flows((points[:, 1:] + points[:, :-1]) / 2)
        flows = batch.valves.given(np.where(self._stuck[:, None, None], 0.0, flows))
        moves = batch.valves.rates(flows) * lasts[:, :, None]
        lengths = self._within_strokes(trace.lengths[:, first], moves, points)
        followed = self._followed(lengths, trace.followed[:, first])
        self._lengths_at_points, self._followed_at_points = lengths, followed
        rows = np.arange(batch.runs)[:, None]
        trace.lengths[:, first : last + 1] = lengths[rows, places]
        trace.followed[:, first : last + 1] = followed[rows, places]
        self._count(flows, lasts, places, first, last)
        return points

    def _count(self, flows: Array, lasts: Array, places: NDArray[np.intp], first: int, last: int) -> None:
        """What flowed over every step, and how often a valve began to let oil through."""
        trace, runs, cylinders = self.trace, self.batch.runs, flows.shape[2]
        volume = flows * lasts[:, :, None]
        signs = np.sign(flows)
        before = np.concatenate([self._was_open[:, None], signs[:, :-1]], axis=1)
        begun = ((signs != 0) & (signs != before)).astype(float)
        self._was_open = signs[:, -1]
        rows = np.arange(runs)[:, None]
        for what, into in ((volume, trace.flows), (np.abs(volume), trace.used), (begun, trace.starts)):
            total = np.concatenate([np.zeros((runs, 1, cylinders)), np.cumsum(what, axis=1)], axis=1)
            into[:, first:last] = np.diff(total[rows, places], axis=1)
        trace.flows[:, first:last] /= self.batch.step
        trace.used[:, first:last] /= self.batch.step

    def _flow_of_readings(self, first: int, last: int) -> None:
        """The same where proportional valves follow what is read all the time: straight from step to step."""
        batch, trace, valves = self.batch, self.trace, self.batch.valves
        ago = (batch.late + valves.on_delay) / batch.step
        asked = np.arange(first, last + 1) - ago[:, None]
        low = np.clip(np.floor(asked + 1e-9).astype(int), 0, batch.steps - 1)
        part = np.clip(asked - low, 0.0, 1.0)[:, :, None]
        rows = np.arange(batch.runs)[:, None]
        needs = self._needs[rows, low] * (1 - part) + self._needs[rows, low + 1] * part
        needs = np.where(((asked < -1e-9) | self._stuck[:, None])[:, :, None], 0.0, needs)
        flows = valves.given(valves.fraction(needs.transpose(0, 2, 1)).transpose(0, 2, 1))
        rates = valves.rates(flows)
        moves = batch.step * (rates[:, 1:] + rates[:, :-1]) / 2
        times = np.broadcast_to(trace.times[first : last + 1], (batch.runs, last - first + 1))
        lengths = self._within_strokes(trace.lengths[:, first], moves, times)
        trace.lengths[:, first : last + 1] = lengths
        trace.followed[:, first : last + 1] = self._followed(lengths, trace.followed[:, first])
        mean = (flows[:, 1:] + flows[:, :-1]) / 2
        lasts = np.full((batch.runs, last - first), batch.step)
        places = np.broadcast_to(np.arange(last - first + 1), (batch.runs, last - first + 1))
        self._count(mean, lasts, places, first, last)

    def _within_strokes(self, start: Array, moves: Array, points: Array) -> Array:
        """Lengths at points of time, shape (runs, points, cylinders), stopped at the ends of the strokes."""
        plant, ended = self.batch.plant, self.trace.ended
        lengths = np.concatenate([start[:, None], start[:, None] + np.cumsum(moves, axis=1)], axis=1)
        if ((lengths >= plant.shortest - 1e-9) & (lengths <= plant.longest + 1e-9)).all():
            return lengths
        for each in range(moves.shape[1]):
            free = lengths[:, each] + moves[:, each]
            lengths[:, each + 1] = np.clip(free, plant.shortest, plant.longest)
            stopped = np.abs(lengths[:, each + 1] - free) > 1e-9
            np.copyto(ended, np.minimum(ended, points[:, each + 1, None]), where=stopped)
        return lengths

    def _followed(self, lengths: Array, before: Array) -> Array:
        if not self.batch.lost.any():
            return lengths
        return follow(lengths.transpose(1, 0, 2), before, self.batch.lost).transpose(1, 0, 2)

    # Where it stands

    def _stand_at(self, step: int) -> None:
        """Solve the poses at a step, and read the heights there."""
        batch, trace = self.batch, self.trace
        stood = batch.plant.stand(trace.followed[:, step], batch.share[:, step], self._q)
        lost = ~stood.closed & ~self._stuck
        if lost.any():
            trace.stopped[lost] = trace.times[step]
            self._stuck |= lost
        stuck = self._stuck | ~stood.closed
        self._q = np.where(stuck[:, None], self._q, stood.q)
        self._stood.append((step, self._q))
        trace.stood.append((step, self._q[0]))
        trace.heights[:, step] = batch.plant.heights(self._q, batch.frame[:, :, step])

    def _look(self, first: int, last: int, points: Array | None) -> None:
        """What receivers that read all the time see of a stretch, and what on/off valves make of it."""
        batch, trace = self.batch, self.trace
        if first == 0:
            self._needs[:, 0] = self._need(trace.heights[:, 0], batch.noise[:, 0])
        if points is None:
            inner = np.arange(first + 1, last)
            self._heights_between(inner, np.repeat(self._q[:, None], len(inner), axis=1))
            seen = slice(first + 1, last + 1)
            self._needs[:, seen] = self._need(trace.heights[:, seen], batch.noise[:, seen])
            return
        noise = self._between(batch.noise[:, first : last + 1], points, first)
        self._switch(points, self._need(self._heights_at(points, first, last), noise))

    def _between(self, values: Array, points: Array, first: int) -> Array:
        """Values on the grid from a step on, shape (runs, steps, ...), straight between: at points of time."""
        place = np.clip(points / self.batch.step - first, 0.0, values.shape[1] - 1)
        low = np.minimum(place.astype(int), values.shape[1] - 2)
        part = (place - low)[:, :, None]
        rows = np.arange(len(values))[:, None]
        found: Array = values[rows, low] * (1 - part) + values[rows, low + 1] * part
        return found

    def _heights_at(self, points: Array, first: int, last: int) -> Array:
        """Heights at the points of a stretch, shape (runs, points, 4)."""
        batch = self.batch
        runs, count = points.shape
        frame = self._between(batch.frame[:, :, first : last + 1].transpose(0, 2, 1), points, first)
        share = self._between(batch.share[:, first : last + 1, None], points, first)
        near = np.repeat(self._q, count, axis=0)
        stood = batch.plant.stand(self._followed_at_points.reshape(runs * count, -1), share.reshape(-1), near)
        q = np.where((stood.closed & ~np.repeat(self._stuck, count))[:, None], stood.q, near)
        heights: Array = batch.plant.heights(q, frame.reshape(-1, 2)).reshape(runs, count, 4)
        return heights

    def _switch(self, points: Array, needs: Array) -> None:
        """Find when on/off valves change over, one change after the other, straight lines between the points."""
        valves = self.batch.valves
        off = needs * valves.at_end
        band = np.broadcast_to(valves.dead_band[:, None], self._state.shape)
        back = band - valves.hysteresis[:, None]
        runs, cylinders = self._state.shape
        rows, columns = np.indices((runs, cylinders))
        at = np.zeros((runs, cylinders), dtype=np.intp)
        when, value = np.broadcast_to(points[:, :1], at.shape).copy(), off[:, 0].copy()
        numbers = np.arange(points.shape[1] - 1)[:, None]
        for _ in range(4 * points.shape[1]):
            state = self._state[:, None]
            ahead = off[:, 1:]
            due = np.where(state != 0, state * ahead <= back[:, None], np.abs(ahead) > band[:, None])
            due &= numbers >= at[:, None]
            at_once = np.where(self._state != 0, self._state * value <= back, np.abs(value) > band)
            changing = (due.any(axis=1) | at_once) & ~self._stuck[:, None]
            if not changing.any():
                return
            cell = np.where(at_once, at, np.argmax(due, axis=1))
            begins = cell == at
            before = np.where(begins, value, off[rows, cell, columns])
            start = np.where(begins, when, points[rows, cell])
            after, end = off[rows, cell + 1, columns], points[rows, cell + 1]
            sign = np.where(self._state != 0, self._state, np.sign(np.where(at_once, before, after)))
            level = sign * np.where(self._state != 0, back, band)
            slope = after - before
            part = np.divide(level - before, slope, out=np.zeros_like(slope), where=np.abs(slope) > 1e-300)
            part = np.where(at_once, 0.0, np.clip(part, 0.0, 1.0))
            found = start + part * (end - start)
            told = np.where(changing, np.where(self._state != 0, 0.0, sign), self._state)
            self._tell(told, np.where(changing, found, 0.0))
            when = np.where(changing, found, when)
            # A hair past the level it crossed, so that what has just been answered is not found again.
            value = np.where(changing, np.where(at_once, before, level + np.sign(slope) * 1e-12), value)
            at = np.where(changing, cell, at)

    def _heights_between(self, steps: NDArray[np.intp], near: Array) -> None:
        """Heights at steps, by poses solved from q near by, shape (runs, steps, unknowns)."""
        batch, trace, runs, count = self.batch, self.trace, self.batch.runs, len(steps)
        if not count:
            return
        near = near.reshape(runs * count, -1)
        lengths = trace.followed[:, steps].reshape(runs * count, -1)
        stood = batch.plant.stand(lengths, batch.share[:, steps].reshape(-1), near)
        still = np.repeat(self.trace.stopped, count) <= np.tile(trace.times[steps], runs)
        q = np.where((stood.closed & ~still)[:, None], stood.q, near)
        frame = batch.frame[:, :, steps].transpose(0, 2, 1).reshape(-1, 2)
        trace.heights[:, steps] = batch.plant.heights(q, frame).reshape(runs, count, 4)

    def _fill_in(self) -> None:
        """Heights between the readings of the piece just gone through."""
        known = np.array([step for step, _ in self._stood])
        if not (self._always and self.batch.valves.kind == "proportional"):
            steps = np.setdiff1d(np.arange(known[0], known[-1]), known)
            after = np.searchsorted(known, steps)
            stack = np.stack([q for _, q in self._stood], axis=1)
            self._heights_between(steps, stack[:, after])
        self._stood = self._stood[-1:]
