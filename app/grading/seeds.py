"""Many seeds of one run: the mean of every number, and the interval in which the mean of ever more seeds would lie."""

import math
from collections.abc import Sequence

import numpy as np

from app.document.parts import ENDS, EndName
from app.grading.summary import EndSummary, RunSummary
from app.results.answer import answer

_SURE = 0.975
"""Both sides of it: an interval of 95 %."""


@answer
class Mean:
    """A number over all seeds."""

    mean: float
    """Its mean."""
    low: float
    """From where the mean lies with 95 % (Student's t)."""
    high: float
    """Up to where."""
    largest: float
    """The largest over all seeds."""
    count: int
    """In how many seeds there was such a number."""


@answer
class EndOverSeeds:
    """One end over all seeds; null where there is no such number in any."""

    rms: Mean | None
    """Root mean square error after settling, mm."""
    p95: Mean | None
    """Error not passed for 95 % of the time, mm."""
    worst: Mean | None
    """Largest error after settling, mm."""
    inside: Mean | None
    """Share of the way inside the tolerance."""
    time_to_grade: Mean | None
    """Time to grade of the seeds that come to it, s."""
    overshoot: Mean | None
    """How far it goes past grade, mm."""
    disturbed: Mean | None
    """Largest movement while the other end is corrected, mm."""


@answer
class CylinderOverSeeds:
    """What a run asks of one cylinder, over all seeds."""

    switchings: Mean
    """How often a minute its valve begins to let oil through, or turns the other way."""
    flow: Mean
    """Oil it takes, L a minute."""


@answer
class OverSeeds:
    """What many seeds come to."""

    seeds: int
    """How many."""
    left: EndOverSeeds
    """The left end."""
    right: EndOverSeeds
    """The right end."""
    cylinders: dict[str, CylinderOverSeeds]
    """Of each worked cylinder, by id."""

    def of(self, end: EndName) -> EndOverSeeds:
        """One end."""
        return self.left if end == "left" else self.right


def over_seeds(summaries: Sequence[RunSummary]) -> OverSeeds:
    """The means of several runs that differ in their seeds."""
    left, right = (_over([each.of(end) for each in summaries]) for end in ENDS)
    cylinders = {
        name: CylinderOverSeeds(
            switchings=mean_of([each.cylinders[name].switchings for each in summaries]),
            flow=mean_of([each.cylinders[name].flow for each in summaries]),
        )
        for name in summaries[0].cylinders
    }
    return OverSeeds(len(summaries), left, right, cylinders)


def _over(ends: Sequence[EndSummary]) -> EndOverSeeds:
    def mean(name: str) -> Mean | None:
        values = [value for value in (getattr(each, name) for each in ends) if value is not None]
        return mean_of(values) if values else None

    return EndOverSeeds(
        mean("rms"), mean("p95"), mean("worst"), mean("inside"), mean("time_to_grade"), mean("overshoot"),
        mean("disturbed"),
    )  # fmt: skip


def mean_of(values: Sequence[float]) -> Mean:
    """The mean of numbers with its interval."""
    from scipy.special import stdtrit

    count, middle = len(values), float(np.mean(values))
    reach = float(stdtrit(count - 1, _SURE)) * float(np.std(values, ddof=1)) / math.sqrt(count) if count > 1 else 0.0
    return Mean(middle, middle - reach, middle + reach, float(max(values)), count)
