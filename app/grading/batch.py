"""What a batch of runs is made of, and what comes of it."""

from dataclasses import dataclass, field

from app.grading.channels import Channels
from app.grading.plant import Plant
from app.grading.settings import Way
from app.grading.valves import Valves
from app.solve.equations import Array
from app.solve.poses import Marks


@dataclass(frozen=True, eq=False)
class Batch:
    """Runs that advance together.

    ``step`` s between the points of the grid, ``every`` steps from reading to reading, 0 where receivers read all the
    time; ``late`` s of a reading, per run. ``start`` lengths, mm, shape (runs, cylinders); ``lost`` widths of lost
    motion, the same shape. ``frame``: heights over the left and right track, mm, shape (runs, 2, steps + 1); ``share``
    of the load, (runs, steps + 1); ``noise``, mm, (runs, readings, 2). ``handed_over``: how near to grade an operator
    brings one end before turning to the other, mm, per run.
    """

    plant: Plant
    channels: Channels
    valves: Valves
    way: Way
    step: float
    every: int
    late: Array
    start: Array
    lost: Array
    frame: Array
    share: Array
    noise: Array
    handed_over: Array

    @property
    def runs(self) -> int:
        """How many there are."""
        return len(self.start)

    @property
    def steps(self) -> int:
        """Steps of the grid."""
        return int(self.share.shape[1]) - 1


@dataclass(eq=False)
class Trace:
    """What came of a batch, on the grid of steps.

    ``lengths`` of the cylinders, mm, shape (runs, steps + 1, cylinders), ``followed`` what the mount sees of them;
    ``heights`` of ends and readings, mm off grade, (runs, steps + 1, 4). Over every step: ``flows``, mean share of the
    full flow with its sign, ``used`` without, ``starts`` how often a valve began to let oil through, (runs, steps,
    cylinders). ``ended``: when each cylinder first came to an end of its stroke, s, ``stopped`` when the mount could be
    followed no further; infinite where never.
    """

    times: Array
    lengths: Array
    followed: Array
    heights: Array
    flows: Array
    used: Array
    starts: Array
    ended: Array
    stopped: Array
    turns: list[tuple[float, Marks]] = field(default_factory=list)
    """When an operator turned to the other end, and in which runs."""
    stood: list[tuple[int, Array]] = field(default_factory=list)
    """Where the first run stands at the steps whose poses a reading needed: the step, and q."""
