"""What a run comes to: how soon each end is at grade, how near it stays, and what oil that takes."""

import math
from collections.abc import Sequence

import numpy as np

from app.document.parts import EndName
from app.grading.batch import Trace
from app.grading.hunting import hunting
from app.results.answer import answer
from app.solve.equations import Array

STAYS_S = 5.0
"""An end is at grade once it stays inside the tolerance to the end of the run, and at least so long."""


@answer
class HuntingFound:
    """A steady oscillation."""

    amplitude: float
    """Half the height from trough to crest, mm."""
    period: float
    """From one rise through the middle to the next, s."""


@answer
class EndSummary:
    """What a run comes to at one end."""

    rms: float
    """Root mean square error after settling, mm."""
    p95: float
    """Error that is not passed for 95 % of the time after settling, mm."""
    worst: float
    """Largest error after settling, mm."""
    inside: float | None
    """Share of the way inside the tolerance; null without a tolerance."""
    time_to_grade: float | None
    """From the start until the end is inside the tolerance to stay, s; null where it never is, or without one."""
    overshoot: float | None
    """How far it goes past grade to the other side of where it started, mm; null where it starts on grade."""
    disturbed: float | None
    """Largest movement from where it was before the other end's correction began, mm; null where none began."""
    hunting: HuntingFound | None
    """Steady oscillation on level ground; null where there is none."""


@answer
class CylinderSummary:
    """What a run asks of one cylinder."""

    switchings: float
    """How often a minute its valve begins to let oil through, or turns the other way."""
    flow: float
    """Oil it takes, L a minute."""


@answer
class RunSummary:
    """What a run comes to."""

    left: EndSummary
    """At the left end."""
    right: EndSummary
    """At the right end."""
    cylinders: dict[str, CylinderSummary]
    """Of each worked cylinder, by id."""

    def of(self, end: EndName) -> EndSummary:
        """At one end."""
        return self.left if end == "left" else self.right


def summary(
    trace: Trace,
    run: int,
    *,
    tolerance: float | None,
    start: Sequence[float],
    level: bool,
    corrects: Sequence[Sequence[int]],
    names: Sequence[str],
    flow: float,
) -> RunSummary:
    """What one run of a batch comes to.

    ``start``: how far the ends were set off grade, mm; ``level``: whether the ground is; ``corrects``: for each end the
    cylinders that correct it; ``flow`` the full flow to a cylinder, L/min.
    """
    errors = trace.heights[run, :, :2]
    times = trace.times
    reached = [None if tolerance is None else time_to_grade(errors[:, end], times, tolerance) for end in range(2)]
    known = [each for each in reached if each is not None]
    settled = max(known) if len(known) == 2 else times[-1] / 2
    after = times >= settled - 1e-9
    ends = []
    for end in range(2):
        size, own = np.abs(errors[after, end]), errors[:, end]
        found = hunting(own, float(times[1])) if level else None
        ends.append(
            EndSummary(
                rms=float(np.sqrt(np.mean(size**2))),
                p95=float(np.percentile(size, 95)),
                worst=float(size.max()),
                inside=None if tolerance is None else float(np.mean(np.abs(own) <= tolerance)),
                time_to_grade=reached[end],
                overshoot=max(0.0, float((-math.copysign(1.0, start[end]) * own).max())) if start[end] else None,
                disturbed=_disturbed(trace, run, end, corrects[1 - end]),
                hunting=HuntingFound(*found) if found else None,
            )
        )
    minutes = float(times[-1]) / 60
    cylinders = {
        name: CylinderSummary(
            switchings=float(trace.starts[run, :, number].sum()) / minutes,
            flow=float(trace.used[run, :, number].mean()) * flow,
        )
        for number, name in enumerate(names)
    }
    return RunSummary(ends[0], ends[1], cylinders)


def time_to_grade(errors: Array, times: Array, tolerance: float) -> float | None:
    """From the start until an end is inside the tolerance to stay, s, shape of both (times,); None where it never is.

    Straight between the points; inside at least ``STAYS_S`` or all of a shorter run.
    """
    outside = np.flatnonzero(np.abs(errors) > tolerance)
    if not len(outside):
        return 0.0
    last = int(outside[-1])
    if last == len(times) - 1:
        return None
    before, after = abs(float(errors[last])), abs(float(errors[last + 1]))
    if errors[last] * errors[last + 1] < 0:
        after = -after
    found = float(times[last] + (times[last + 1] - times[last]) * (before - tolerance) / (before - after))
    return found if times[-1] - found >= STAYS_S else None


def _disturbed(trace: Trace, run: int, end: int, others: Sequence[int]) -> float | None:
    begun = np.flatnonzero(trace.used[run][:, list(others)].any(axis=1))
    if not len(begun):
        return None
    errors = trace.heights[run, begun[0] :, end]
    return float(np.abs(errors - errors[0]).max())
