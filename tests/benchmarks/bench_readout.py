"""How long a readout takes, against solving the same mount the plain way, and how long a new topology takes.

    python -m tests.benchmarks.bench_readout

The plain way: scipy.optimize.root on the same constraints written as ordinary Python, from the drawn pose, and central
differences of that solve by every cylinder length and every error for the heights of both ends and both sensors. The
targets are this project's own: a full readout within 1 ms and at most a third of the plain way's time, a topology of
three moving bodies within 0.6 s, the true worst within 25 ms. Its own plain way: as many poses as it solves, one after
the other, by the engine's own Newton's method.
"""

import cmath
import statistics
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

import numpy as np
from scipy import optimize
from sympy.core.cache import clear_cache

from app.analysis import Analysis
from app.document.models import Mount
from app.document.parts import BLADE, ENDS, FRAME, Point
from app.document.reading import read_file, read_mount
from app.members import Cylinder, Pin, Slide
from app.results.readout import readout
from app.results.worst import TrueWorsts, true_worst
from app.solve.assembly import topology_of
from app.solve.equations import Array, Topology, _rule, write
from app.solve.farthest import _Search
from app.solve.pose import settle
from app.solve.poses import Places
from app.solve.sensitivity import BLADE_BODY
from app.sources import offsets
from tests.mounts import crank_on_carriage, pivot_on_carriage, twin

SCENARIOS = Path(__file__).parent.parent.parent / "scenarios"

READOUT_TARGET_MS = 1.0
RATIO_TARGET = 3.0
DERIVE_TARGET_S = 0.6
TRUE_WORST_MS = 25.0

MOVE_MM = 20.0
STEP_MM = 1e-3


class PlainWay:
    """The mount's loops as ordinary Python for scipy; nothing of the engine's equations is used.

    Every unknown is a shift and turn of a body from where it is drawn; places are complex numbers.
    """

    def __init__(self, mount: Mount) -> None:
        self.mount = mount
        self.number = {body: place for place, body in enumerate(mount.moving)}
        self.errors = sum(1 if isinstance(member, Slide) else 2 for member in mount.members)

    def carry(self, q: Sequence[float], body: str, at: Point) -> complex:
        """Where a point of a body stands."""
        if body == FRAME:
            return complex(*at)
        x, y, turn = q[3 * self.number[body] : 3 * self.number[body] + 3]
        return complex(x, y) + cmath.rect(1, turn / 1000) * complex(*at)

    def gaps(self, q: Sequence[float], moves: Sequence[float], errors: Sequence[float]) -> list[float]:
        """How far every constraint is open, mm. A turn counts in thousandths of a radian, to be of a shift's size."""
        found: list[float] = []
        error = iter(errors)
        move = iter(moves)
        for member in self.mount.members:
            first, second = member.joined
            near, far = member.holds
            apart = self.carry(q, second, far) - self.carry(q, first, near)
            if isinstance(member, Pin):
                found += [apart.real - next(error), apart.imag - next(error)]
            elif isinstance(member, Slide):
                ahead = (near[0] + member.direction[0], near[1] + member.direction[1])
                way = self.carry(q, first, ahead) - self.carry(q, first, near)
                found.append((way.conjugate() * apart).imag / abs(way) - next(error))
            else:
                longer = next(move) if isinstance(member, Cylinder) else 0.0
                found.append(abs(apart) - member.drawn_length - longer - next(error) - next(error))
        return found

    def heights(self, moves: Sequence[float], errors: Sequence[float], start: Sequence[float]) -> list[float]:
        """Heights of both ends and both sensors, mm, of the pose solved again."""
        q = optimize.root(self.gaps, start, args=(moves, errors), tol=1e-12).x
        blade, sensors = self.mount.blade, self.mount.sensors
        places = [blade.left, blade.right, *([sensors.left, sensors.right] if sensors else [])]
        return [self.carry(q, BLADE, at).imag for at in places]

    def everything(self, moves: Sequence[float]) -> list[list[float]]:
        """The heights, and their central differences by every cylinder length and every error."""
        still = [0.0] * self.errors
        start = optimize.root(self.gaps, [0.0] * 3 * len(self.number), args=(moves, still), tol=1e-12).x
        both = np.array([*moves, *still])
        slopes = []
        for number in range(len(both)):
            step = np.zeros(len(both))
            step[number] = STEP_MM
            ahead, behind = both + step, both - step
            above = self.heights(ahead[: len(moves)].tolist(), ahead[len(moves) :].tolist(), start)
            below = self.heights(behind[: len(moves)].tolist(), behind[len(moves) :].tolist(), start)
            slopes.append([(a - b) / (2 * STEP_MM) for a, b in zip(above, below, strict=True)])
        return slopes


def median_ms(work: Callable[[], object], times: int) -> float:
    """Median time of one call, ms."""
    work()
    taken = []
    for _ in range(times):
        began = time.perf_counter()
        work()
        taken.append(time.perf_counter() - began)
    return 1000 * statistics.median(taken)


def largest_difference(mount: Mount, command: dict[str, float]) -> float:
    """How far the two ways disagree on the slopes by the cylinders: nearly nothing, or the times mean nothing."""
    plain = PlainWay(mount).everything(list(command.values()))
    actuators = readout(mount, command).actuators or {}
    differences = [
        abs(entry.of(side) - plain[number][place])
        for number, entry in enumerate(actuators.values())
        for place, side in enumerate(ENDS)
    ]
    return max(differences)


def write_anew(topology: Topology) -> None:
    """Write a topology's equations as a fresh process does: without what SymPy remembers of the last time."""
    clear_cache()
    _rule.cache_clear()
    write(topology)


def met(value: float, target: float, at_most: bool = True) -> str:
    """Whether a target is met, in words."""
    return "met" if (value <= target if at_most else value >= target) else "MISSED"


def compare_readouts() -> None:
    """Print a line for every shipped mount."""
    print(
        f"{'mount':28} {'readout':>10} {'plain way':>10} {'ratio':>7} {'differ':>9}   targets: {READOUT_TARGET_MS:g} ms"
    )
    print(f"{'':28} {'ms':>10} {'ms':>10} {'':>7} {'mm/mm':>9}            {RATIO_TARGET:g}x faster")
    for path in sorted(SCENARIOS.glob("*.json")):
        mount = read_file(path)
        command = {cylinder.id: MOVE_MM * (-1) ** number for number, cylinder in enumerate(mount.cylinders)}
        moves = list(command.values())
        ours = median_ms(partial(readout, mount, command), 200)
        theirs = median_ms(partial(PlainWay(mount).everything, moves), 5)
        differ, ratio = largest_difference(mount, command), theirs / ours
        verdict = f"{met(ours, READOUT_TARGET_MS)}, {met(ratio, RATIO_TARGET, at_most=False)}"
        print(f"{path.stem:28} {ours:10.3f} {theirs:10.2f} {ratio:6.1f}x {differ:9.1e}   {verdict}")


def poses_of_true_worst(mount: Mount) -> list[tuple[list[float], list[float]]]:
    """Lengths and errors of every pose that the search for the true worst of a mount solves."""
    solved: list[tuple[list[float], list[float]]] = []

    class Counting(_Search):
        def _solve(self, states: Places) -> Array:
            lengths = np.array(self.pose.lengths) + self.lengths[states]
            solved.extend(zip(lengths.tolist(), self.errors[states].tolist(), strict=True))
            return super()._solve(states)

    analysis = Analysis(mount)
    blade = mount.blade
    points = [analysis.assembly.local(BLADE_BODY, at) for at in (blade.left, blade.right)]
    wanted = [(point, way) for point in points for way in (-1.0, 1.0)]
    Counting(analysis.assembly, analysis.pose, wanted, offsets(analysis)).run()
    return solved


def searched_anew(mount: Mount) -> TrueWorsts:
    """The true worst of a mount, from its document on."""
    return true_worst(Analysis(mount))


def one_after_the_other(analysis: Analysis, poses: list[tuple[list[float], list[float]]]) -> None:
    """The same poses in a loop."""
    for lengths, errors in poses:
        settle(analysis.assembly, analysis.pose, lengths, errors)


def compare_true_worsts() -> None:
    """Print a line for every shipped mount."""
    print(f"\n{'true worst':28} {'search':>10} {'poses':>6} {'loop':>10} {'ratio':>7}   target: {TRUE_WORST_MS:g} ms")
    for path in sorted(SCENARIOS.glob("*.json")):
        mount = read_file(path)
        poses = poses_of_true_worst(mount)
        ours = median_ms(partial(searched_anew, mount), 20)
        loop = median_ms(partial(one_after_the_other, Analysis(mount), poses), 3)
        print(
            f"{path.stem:28} {ours:7.2f} ms {len(poses):6} {loop:7.1f} ms {loop / ours:6.1f}x   "
            f"{met(ours, TRUE_WORST_MS)}"
        )


def time_new_topologies() -> None:
    """Print how long the equations of one, two and three moving bodies take to write."""
    print(f"\n{'new topology':28} {'derive':>10}   target: {DERIVE_TARGET_S:g} s")
    for plain in (twin, pivot_on_carriage, crank_on_carriage):
        mount = read_mount(plain())
        seconds = median_ms(partial(write_anew, topology_of(mount)), 3) / 1000
        bodies = len(mount.moving)
        name = f"{bodies} moving {'body' if bodies == 1 else 'bodies'}"
        print(f"{name:28} {seconds:8.3f} s   {met(seconds, DERIVE_TARGET_S)}")


if __name__ == "__main__":
    compare_readouts()
    compare_true_worsts()
    time_new_topologies()
