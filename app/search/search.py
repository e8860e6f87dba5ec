"""The search for better geometries within boxes: differential evolution on whole batches, polished by SLSQP.

Both are SciPy's. A batch is worked out as one family of mounts (``app.search.family``), split over an executor where
one is given. Several searches share the budget, each after another mixture of the objectives; all that they try and
that may stand goes to one archive, whose unbeaten mounts are the answer. What is found is the best of what was tried
within the boxes at the poses looked at: never proved to be the best there is.
"""

import math
import time
from collections.abc import Callable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass, field

import numpy as np

from app.document.errors import BadDocument
from app.document.models import Mount, as_document
from app.results.answer import answer
from app.search.family import Family, Free, member_of
from app.search.front import Archive, spread_out
from app.search.goals import Goal, GoalRead, What, excess, judged, measured
from app.solve.equations import Array

STEPS = 5
"""Strokes a side over which a mount must stand."""

MOST_CONDITION = 1e3
"""Scaled Jacobians beyond this are too near a dead centre."""

FEWEST, USUAL, MOST = 500, 20_000, 100_000
"""How many geometries a search may try."""

_MIXTURES = ((1.0, 1.0, 1.0), (1.0, 0.05, 0.05), (0.05, 1.0, 0.05), (0.05, 0.05, 1.0))
"""How the objectives count in each of the searches: all alike, then each of them most."""

_PER_FREE = 12
"""Mounts of a generation for each free number."""

_PENALTY = 10.0
_TOLD_EVERY_S = 0.1


@dataclass(frozen=True)
class Problem:
    """What is looked for: a mount where it stands, its goals, and what is free."""

    mount: Mount
    command: Mapping[str, float]
    goals: tuple[Goal, ...]
    free: tuple[Free, ...]

    @property
    def objectives(self) -> tuple[Goal, ...]:
        """What is traded: error, coupling and load ratio, as far as the mount has them, where goals look at them."""
        mount, asked = self.mount, {goal.what: goal.over for goal in self.goals}
        whats: list[What] = ["error"]
        if mount.cylinders:
            whats.append("residual" if "residual" in asked and "coupling" not in asked else "coupling")
        if mount.load and mount.cylinders and any(mount.load.force):
            whats.append("load ratio")
        return tuple(Goal(what, 0.0, asked.get(what, "pose")) for what in whats)


@answer
class Candidate:
    """A mount of the front."""

    values: list[float]
    """The free numbers, in document units, in the order they were given."""
    goals: list[GoalRead]
    """How it stands to each goal."""
    objectives: list[float]
    """What is traded, in the order of the answer's ``objectives``."""
    meets: bool
    """Whether it meets every goal, read out again over a finer grid."""
    mount: dict[str, object]
    """The mount document."""


@answer
class Progress:
    """How far a search is."""

    tried: int
    """Geometries worked out so far."""
    budget: int
    """How many there may be."""
    meeting: int
    """How many of those kept meet every goal."""
    objectives: list[Goal]
    """What is traded: error, coupling, load ratio, and whether at the pose or over the travel."""
    best: list[float]
    """The least of each objective so far among the mounts that may stand."""
    front: list[list[float]]
    """Objectives of the unbeaten mounts so far, a few of them."""


@answer
class Searched:
    """What a search found."""

    objectives: list[Goal]
    """What is traded: error, coupling, load ratio, and whether at the pose or over the travel."""
    labels: list[str]
    """The free numbers, by name."""
    before: list[float | None]
    """The objectives of the mount one began with."""
    front: list[Candidate]
    """At most twelve mounts that no other tried beats, those that meet every goal first, by error."""
    tried: int
    """Geometries worked out."""
    cancelled: bool
    """Whether it was ended before its budget."""
    seed: int
    """The seed: the same one gives the same front."""
    steps: int
    """Strokes a side at which every mount of the front was found to stand."""


class Cancelled(Exception):
    """The search is to end with what it has."""


def search_front(
    problem: Problem,
    budget: int = USUAL,
    seed: int = 1,
    executor: Executor | None = None,
    pieces: int = 1,
    tell: Callable[[Progress], bool] | None = None,
) -> Searched:
    """Search within the boxes of a problem.

    ``budget``: how many geometries are tried at the most. ``executor``: any of ``concurrent.futures``; each batch is
    split over it into so many ``pieces``. ``tell`` is called ten times a second and says whether to go on. The same
    seed gives the same front, whatever the executor.
    """
    looking = _Looking(problem, budget, seed, executor, pieces, tell)
    cancelled = looking.run()
    return looking.answer(cancelled)


def tried(problem: Problem, values: Array) -> tuple[Array, Array, Array]:
    """Goals, objectives and faults of a batch: shapes (rows, goals), (rows, objectives), (rows,).

    A fault is nought where the mount may stand: it is located and clear of a dead centre over a grid of its strokes,
    every drawn cylinder is within its stroke, and no joint is below the cutting edge. Else it says how far from it.
    """
    family = Family(problem.mount, problem.free, values)
    faults = _faults(family)
    sound = np.flatnonzero(faults < _SOUND)
    listed = [*problem.goals, *problem.objectives]
    found = np.full((len(values), len(listed)), np.inf)
    if len(sound):
        own = family.of(sound)
        grid = own.over_travel(STEPS)
        found[sound] = measured(own, problem.command, listed, STEPS)
        faults[sound] += 1.0 - grid.reached.mean(axis=1)
    return found[:, : len(problem.goals)], found[:, len(problem.goals) :], faults


_SOUND = 1.0


def _faults(family: Family) -> Array:
    """How far each member is from one that may stand as drawn."""
    mount = family.spread
    with np.errstate(all="ignore"):
        faults = np.where(family.conditions > MOST_CONDITION, np.log10(np.minimum(family.conditions, 1e12)), 0.0)
    for number, cylinder in enumerate(mount.cylinders):
        length = np.asarray(family.assembly.lengths)[:, number]
        outside = np.maximum(cylinder.retracted - length, length - cylinder.retracted - cylinder.stroke)
        faults = faults + np.where(outside > 0, 1.0 + outside / cylinder.stroke, 0.0)
        faults = faults + np.where(np.asarray(cylinder.bore) <= cylinder.rod, 2.0, 0.0)
    ground = min(family.mount.blade.left[1], family.mount.blade.right[1])
    for _, _, _, at in mount.joints:
        below = ground - np.asarray(at[1])
        faults = faults + np.where(below > 0, 1.0 + below / 100.0, 0.0)
    return faults


@dataclass
class _Looking:
    problem: Problem
    budget: int
    seed: int
    executor: Executor | None
    pieces: int
    tell: Callable[[Progress], bool] | None
    count: int = 0
    told: float = 0.0
    archive: Archive = field(init=False)
    meeting: Archive = field(init=False)

    def __post_init__(self) -> None:
        start = np.array([[each.value for each in self.problem.free]])
        self.before = tried(self.problem, start)[1][0]
        self.unit = np.where(np.isfinite(self.before) & (self.before > _TINY), self.before, 1.0)
        self.archive, self.meeting = (Archive(len(self.problem.free), _GRAIN * self.unit) for _ in range(2))

    def run(self) -> bool:
        """Search after each mixture in turn, then polish the best of each. Returns whether it was ended early."""
        mixtures = [each[: len(self.unit)] for each in _MIXTURES[: 1 + len(self.unit)]]
        share = int(_EVOLVING * self.budget / len(mixtures))
        try:
            for number, mixture in enumerate(mixtures):
                best = self._evolve(np.array(mixture), share * (number + 1), self.seed + number)
                self._polish(np.array(mixture), best, int(self.budget * (number + 1) / len(mixtures)))
        except Cancelled:
            return True
        return False

    def _evolve(self, mixture: Array, until: int, seed: int) -> Array:
        """One differential evolution; the best free numbers it found."""
        from scipy.optimize import differential_evolution  # a third of a second that only a search needs

        free = self.problem.free
        bounds = [(0.0, len(each.choices) - 1.0) if each.choices else (each.low, each.high) for each in free]
        size = max(2, math.ceil(_PER_FREE * len(free)))
        generations = max(1, (until - self.count) // size - 1)
        start = np.array([_index(each) for each in free])
        lows, highs = np.array(bounds).T
        chance = np.random.default_rng(seed)
        first = lows + chance.random((size, len(free))) * (highs - lows)
        first[0] = np.clip(start, lows, highs)
        found = differential_evolution(
            lambda columns: self._scores(self._of_columns(columns), mixture),
            bounds,
            maxiter=generations,
            popsize=1,
            init=first,
            rng=chance,
            polish=False,
            vectorized=True,
            updating="deferred",
            integrality=[bool(each.choices) for each in free],
            tol=0.0,
            atol=_SETTLED,
        )
        best: Array = self._of_columns(found.x[:, None])[0]
        return best

    def _of_columns(self, columns: Array) -> Array:
        """Free numbers, a row a mount, from SciPy's columns: choices stand there by their place."""
        values = np.atleast_2d(columns.T).copy()
        for number, each in enumerate(self.problem.free):
            if each.choices:
                place = np.clip(np.round(values[:, number]), 0, len(each.choices) - 1).astype(int)
                values[:, number] = np.array(each.choices)[place]
        return values

    def _polish(self, mixture: Array, best: Array, until: int) -> None:
        """Go on from the best along slopes, choices kept: each slope is the difference of two mounts of one batch."""
        from scipy.optimize import minimize

        moving = [number for number, each in enumerate(self.problem.free) if not each.choices]
        if not moving:
            return
        low = np.array([self.problem.free[number].low for number in moving])
        high = np.array([self.problem.free[number].high for number in moving])
        width = high - low

        def whole(shares: Array) -> Array:
            rows = np.repeat(best[None], len(shares), axis=0)
            rows[:, moving] = low + np.clip(shares, 0.0, 1.0) * width
            return rows

        def score(share: Array) -> float:
            return float(self._scores(whole(share[None]), mixture)[0])

        def slope(share: Array) -> Array:
            step = _STEP * np.eye(len(moving))
            found = self._scores(whole(np.concatenate([share + step, share - step])), mixture)
            slopes: Array = (found[: len(moving)] - found[len(moving) :]) / (2 * _STEP)
            return slopes

        start = (best[moving] - low) / width
        rounds = max(1, (until - self.count) // (2 * len(moving) + 4))
        minimize(
            score,
            start,
            jac=slope,
            method="SLSQP",
            bounds=[(0.0, 1.0)] * len(moving),
            options={"maxiter": min(rounds, _POLISHING), "ftol": 1e-12},
        )

    def _scores(self, values: Array, mixture: Array) -> Array:
        """What is minimised: how far from standing, then from the goals, then the mixture of objectives."""
        if self.count >= self.budget + len(self.problem.free) * _PER_FREE:
            return np.full(len(values), _PENALTY**3)
        goals, objectives, faults = self._tried(values)
        self.count += len(values)
        over = excess(goals, self.problem.goals) if len(self.problem.goals) else np.zeros((len(values), 0))
        stands = (faults == 0) & np.isfinite(objectives).all(axis=1)
        meets = stands & (over == 0).all(axis=1)
        self.archive.add(values[stands], objectives[stands])
        self.meeting.add(values[meets], objectives[meets])
        self._tell()
        mixed = np.where(stands, (np.where(stands[:, None], objectives, 0.0) / self.unit) @ mixture, 0.0)
        missed = np.minimum(np.where(np.isfinite(over), over, _PENALTY), _PENALTY).sum(axis=1)
        scores: Array = np.where(stands, mixed + _PENALTY * missed, _PENALTY**2 * (1.0 + np.minimum(faults, _PENALTY)))
        return scores

    def _tried(self, values: Array) -> tuple[Array, Array, Array]:
        if self.executor is None or self.pieces < 2 or len(values) < 2 * self.pieces:
            return tried(self.problem, values)
        parts = np.array_split(values, self.pieces)
        found = list(self.executor.map(tried, [self.problem] * len(parts), parts))
        goals, objectives, faults = (np.concatenate(each) for each in zip(*found, strict=True))
        return goals, objectives, faults

    def _tell(self) -> None:
        now = time.monotonic()
        if self.tell is None or now - self.told < _TOLD_EVERY_S:
            return
        self.told = now
        if not self.tell(self._progress()):
            raise Cancelled

    def _progress(self) -> Progress:
        kept = self.meeting if len(self.meeting.values) else self.archive
        few = spread_out(kept.objectives)
        best = kept.objectives.min(axis=0).tolist() if len(kept.objectives) else []
        front: list[list[float]] = kept.objectives[few].tolist() if few else []
        traded = list(self.problem.objectives)
        return Progress(min(self.count, self.budget), self.budget, len(self.meeting.values), traded, best, front)

    def answer(self, cancelled: bool) -> Searched:
        """The front, each of its mounts made and read out again."""
        found = self._candidates(self.meeting) or self._candidates(self.archive)
        found.sort(key=lambda each: (not each.meets, each.objectives))
        return Searched(
            objectives=list(self.problem.objectives),
            labels=[each.label for each in self.problem.free],
            before=[float(each) if math.isfinite(each) else None for each in self.before],
            front=found,
            tried=min(self.count, self.budget),
            cancelled=cancelled,
            seed=self.seed,
            steps=STEPS,
        )

    def _candidates(self, archive: Archive) -> list[Candidate]:
        found = []
        for row in spread_out(archive.objectives):
            values = archive.values[row]
            try:
                mount = member_of(self.problem.mount, self.problem.free, values.tolist())
            except BadDocument:
                continue
            again = judged(mount, self.problem.command, self.problem.goals)
            meets = all(each.met for each in again)
            objectives = archive.objectives[row].tolist()
            found.append(Candidate(values.tolist(), again, objectives, meets, dict(as_document(mount))))
        return found


def _index(each: Free) -> float:
    """Where a free number begins: its place among its choices."""
    return float(np.abs(np.array(each.choices) - each.value).argmin()) if each.choices else each.value


_EVOLVING = 0.8
"""Share of the budget for differential evolution; the rest polishes."""
_POLISHING = 60
_SETTLED = 1e-10
_STEP = 1e-6
_TINY = 1e-6
_GRAIN = 1e-5
"""Share of an objective that makes no difference between two mounts."""
