"""What to change first: how much the worst edge error falls for a small change of each number a designer can change.

Exact derivatives. Moving a pivot changes the rows, so the adjoint is differentiated once more:
d lambda = Phi_q^-T (d h_q - (d Phi_q)^T lambda), with d Phi_q along the way the pose itself moves. The rest
(clearances, bores, oil, rods) enters the budget in closed form: each kind of source gives its own slopes.
"""

import math
from collections.abc import Iterator

import numpy as np

from app.analysis import Analysis, worked_out_once
from app.document.edit import middle_of, pairs_of
from app.document.models import Mount
from app.document.parts import ENDS, EndName, Point
from app.results.answer import Heights, answer
from app.results.verified import Verified, verified
from app.solve.equations import Array
from app.solve.sensitivity import cases_of
from app.sources import KINDS, sources
from app.sources.source import Slope, Source, Ways

STEPS = {
    "pivot x": 10.0,
    "pivot y": 10.0,
    "spacing": 10.0,
    **{what: step for kind in KINDS.values() for what, step in kind.STEPS.items()},
}
"""Small changes a designer would try, in document units; ``spacing`` is how far each of a pair goes outward."""

_Pivots = dict[str, tuple[dict[EndName, float], dict[EndName, float]]]


@answer
class Change:
    """A small change that lowers the worst error."""

    what: str
    """Which number; spacing: each of a mirrored pair that far outward."""
    id: str
    """Joint, cylinder, rod or pair."""
    value: float
    """The number now, mm, MPa, mL or mm2."""
    change: float
    """The small change, in the same unit."""
    fall: Heights
    """How much the worst error of each end falls by the slope, mm."""
    per_unit: Heights
    """Exact derivative of each end's worst error, mm per unit."""


@answer
class Improve:
    """What to change first."""

    end: EndName
    """The worse end, for which the changes are ranked."""
    changes: list[Change]
    """By slope, largest fall first."""
    tried: list[Verified]
    """The first of the changes made and worked out again, largest fall first; without those that the document or a
    stroke does not allow and those that do not help."""
    pivots: dict[str, dict[EndName, Point]]
    """Gradient of each end's worst error by every joint's place as drawn, [per mm x, per mm y]."""


@worked_out_once
def improve(analysis: Analysis) -> Improve:
    """Every number a designer can change, ranked by what its small change gains at the worse end."""
    listed = sources(analysis)
    sides: dict[EndName, int] = {end: _side(listed, end) for end in ENDS}
    worst = {end: abs(sum(source.range(end)[sides[end]] for source in listed)) for end in ENDS}
    end: EndName = "left" if worst["left"] > worst["right"] else "right"
    pivots = _pivot_slopes(analysis, sides)
    slopes = [*_own_slopes(analysis, sides), *_spacing(analysis.mount, pivots)]
    for name, _, _, at in analysis.mount.joints:
        along_x, along_y = pivots[name]
        slopes += [Slope("pivot x", name, at[0], along_x), Slope("pivot y", name, at[1], along_y)]
    entries = [entry for slope in slopes if (entry := _entry(slope, end)) is not None]
    entries.sort(key=lambda entry: -_at(entry.fall, end))
    gradients: dict[str, dict[EndName, Point]] = {
        joint: {side: (along_x[side], along_y[side]) for side in ENDS} for joint, (along_x, along_y) in pivots.items()
    }
    proven = verified(analysis, [(each.what, each.id, each.value, each.change) for each in entries], end)
    return Improve(end, entries, proven, gradients)


def _at(heights: Heights, end: EndName) -> float:
    return heights.left if end == "left" else heights.right


def _side(listed: list[Source], end: EndName) -> int:
    """Index of the worse side of an end: 0 low, 1 high."""
    low, high = (math.fsum(source.range(end)[side] for source in listed) for side in (0, 1))
    return 1 if high >= -low else 0


def _entry(slope: Slope, end: EndName) -> Change | None:
    """The change that helps the worse end, None where none does."""
    if abs(slope.per_unit[end]) < 1e-12:
        return None
    step = STEPS[slope.what]
    if slope.what in ("clearance", "hose volume") and slope.per_unit[end] > 0:
        step = min(step, slope.value)
        if not step:
            return None
    change = -math.copysign(step, slope.per_unit[end])
    if slope.value + change <= 0 and slope.what in ("bore", "section area", "bulk modulus"):
        return None
    left, right = slope.per_unit["left"], slope.per_unit["right"]
    fall = Heights(-left * change, -right * change)
    return Change(slope.what, slope.id, slope.value, change, fall, Heights(left, right))


def _own_slopes(analysis: Analysis, sides: dict[EndName, int]) -> list[Slope]:
    """The slopes by numbers that enter the budget directly; what several kinds say of one number is added up."""
    found: dict[tuple[str, str], Slope] = {}
    for kind in KINDS.values():
        for each in kind.slopes(analysis, sides):
            before = found.get((each.what, each.id))
            if before:
                per_unit = {end: before.per_unit[end] + each.per_unit[end] for end in ENDS}
                each = Slope(each.what, each.id, each.value, per_unit)
            found[each.what, each.id] = each
    return list(found.values())


def _spacing(mount: Mount, pivots: _Pivots) -> Iterator[Slope]:
    """Pairs of cylinders that mirror one another about the middle of the edge, moved outward together."""
    middle = middle_of(mount)
    for first, second in pairs_of(mount):
        out = math.copysign(1.0, first.ends[1].at[0] - middle)
        per_unit = dict.fromkeys(ENDS, 0.0)
        for cylinder, way in ((first, out), (second, -out)):
            for name, _, _ in cylinder.joints:
                along_x = pivots[name][0]
                per_unit = {end: per_unit[end] + way * along_x[end] for end in ENDS}
        apart = abs(second.ends[1].at[0] - first.ends[1].at[0])
        yield Slope("spacing", f"{first.id} and {second.id}", apart, per_unit)


def _pivot_slopes(analysis: Analysis, sides: dict[EndName, int]) -> _Pivots:
    """For every joint, how the worst of each end changes per mm of its x and of its y as drawn."""
    names = [each.name for each in analysis.mount.joints]
    ways = _ways(analysis)
    per_mm = {
        end: sum((kind.slope_along(analysis, end, sides[end], ways) for kind in KINDS.values()), ways.zero())
        for end in ENDS
    }
    return {
        name: ({end: float(per_mm[end][2 * i]) for end in ENDS}, {end: float(per_mm[end][2 * i + 1]) for end in ENDS})
        for i, name in enumerate(names)
    }


def _ways(analysis: Analysis) -> Ways:
    """Every coordinate of every joint moved, and how the sensitivities follow."""
    assembly, pose, found = analysis.assembly, analysis.pose, analysis.sensitivities
    moved_numbers, moved_lengths, drawn_lengths = _moved(analysis)
    q, numbers, lengths = pose.q, np.array(assembly.numbers), np.array(pose.lengths)
    still = np.zeros((len(moved_numbers), len(q)))
    opened, _ = assembly.equations.along((q, still), (numbers, moved_numbers), (lengths, moved_lengths))
    moved = -opened @ pose.inverse.T
    _, bent = assembly.equations.along((q, moved), (numbers, moved_numbers), (lengths, moved_lengths))
    driven = _turned_cases(analysis, moved)
    # One column a way and case: (d Phi_q)^T lambda, rows summed.
    bent_multipliers = np.einsum("prn,rc->pnc", bent, found.multipliers)
    # Phi_q^T d lambda = d h - (d Phi_q)^T lambda
    multipliers = pose.inverse.T @ (driven - bent_multipliers)
    return Ways(
        numbers=moved_numbers,
        lengths=moved_lengths,
        drawn_lengths=drawn_lengths,
        moved=moved,
        by_length=-np.einsum("ru,prc->puc", assembly.equations.by_length, multipliers),
        by_error=-np.einsum("re,prc->pec", assembly.equations.by_error, multipliers),
    )


def _moved(analysis: Analysis) -> tuple[Array, Array, dict[str, Array]]:
    """How the numbers, the cylinder lengths and every member's drawn length change along every way."""
    mount, assembly = analysis.mount, analysis.assembly
    count = 2 * len(mount.joints)
    numbers, lengths = np.zeros((count, len(assembly.numbers))), np.zeros((count, len(assembly.lengths)))
    drawn: dict[str, Array] = {}
    row = place = cylinder = 0
    for member in mount.members:
        own = slice(row, row + 2 * len(member.joints))
        numbers[own, place : place + member.NUMBERS] = member.numbers_moved()
        drawn[member.id] = np.zeros(count)
        drawn[member.id][own] = member.length_moved()
        if member.DRIVEN:
            lengths[:, cylinder] = drawn[member.id]
            cylinder += 1
        row, place = own.stop, place + member.NUMBERS
    return numbers, lengths, drawn


def _turned_cases(analysis: Analysis, moved: Array) -> Array:
    """How the generalised force of every case changes as the bodies turn, shape (ways, unknowns, cases)."""
    cases, pose = cases_of(analysis.mount), analysis.pose
    driven = np.zeros((len(moved), len(pose.q), len(cases)))
    for column, pushes in enumerate(cases.values()):
        for body, at, force in pushes:
            x, y = pose.point(body, analysis.assembly.local(body, at))
            arm = x - pose.q[3 * body], y - pose.q[3 * body + 1]
            angle = 3 * body + 2
            driven[:, angle, column] -= moved[:, angle] * (arm[1] * force[1] + arm[0] * force[0])
    return driven
