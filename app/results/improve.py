"""What to change first: how much the worst edge error falls for a small change of each number a designer can change.

Exact derivatives. Moving a pivot changes the rows, so the adjoint is differentiated once more:
d lambda = Phi_q^-T (d h_q - (d Phi_q)^T lambda), with d Phi_q along the way the pose itself moves. The rest
(clearances, bores, oil, rods) enters the budget in closed form.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from app.document.models import Cylinder, End, Mount, Pin, Point, Rod, Slide, joined, joints
from app.document.units import MM3_PER_ML
from app.results.budget import ENDS, Source, oil_squeeze, rod_stretch
from app.results.forces import carrying_area
from app.solve.assembly import Assembly, points_of
from app.solve.equations import NUMBERS, Array
from app.solve.pose import Pose
from app.solve.sensitivity import BLADE_BODY, Sensitivities, cases_of

STEPS = {
    "clearance": 0.05,
    "pivot x": 10.0,
    "pivot y": 10.0,
    "spacing": 10.0,
    "bore": 5.0,
    "bulk modulus": 100.0,
    "hose volume": 50.0,
    "section area": 100.0,
}
"""Small changes a designer would try, in document units; ``spacing`` is how far each of a pair goes outward."""

_MIRRORED_MM = 1.0
_STILL = 1e-9
"""A movement per mm below this is none, and has no side."""


@dataclass(frozen=True)
class Slope:
    """How the worst error of both ends changes per unit of one number: mm per document unit."""

    what: str
    id: str
    value: float
    per_unit: dict[str, float]


def changes(assembly: Assembly, pose: Pose, found: Sensitivities, listed: list[Source]) -> dict[str, Any]:
    """Every number a designer can change, ranked by what its small change gains at the worse end."""
    sides = {end: _side(listed, end) for end in ENDS}
    worst = {end: abs(sum(source.range(end)[sides[end]] for source in listed)) for end in ENDS}
    end = "left" if worst["left"] > worst["right"] else "right"
    pivots = _pivot_slopes(assembly, pose, found, listed, sides)
    slopes = [*_own_slopes(assembly, pose, found, listed, sides), *_spacing(assembly.mount, pivots)]
    for joint, (along_x, along_y) in pivots.items():
        at = next(_place(part) for name, _, part in joints(assembly.mount) if name == joint)
        slopes.append(Slope("pivot x", joint, at[0], along_x))
        slopes.append(Slope("pivot y", joint, at[1], along_y))
    entries = [entry for slope in slopes if (entry := _entry(slope, end)) is not None]
    entries.sort(key=lambda entry: -entry["fall"][end])
    return {
        "end": end,
        "changes": entries,
        "pivots": {
            joint: {side: [along_x[side], along_y[side]] for side in ENDS}
            for joint, (along_x, along_y) in pivots.items()
        },
    }


def _side(listed: list[Source], end: str) -> int:
    """Index of the worse side of an end: 0 low, 1 high."""
    low, high = (math.fsum(source.range(end)[side] for source in listed) for side in (0, 1))
    return 1 if high >= -low else 0


def _entry(slope: Slope, end: str) -> dict[str, Any] | None:
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
    return {
        "what": slope.what,
        "id": slope.id,
        "value": slope.value,
        "change": change,
        "fall": {side: -slope.per_unit[side] * change for side in ENDS},
        "per_unit": slope.per_unit,
    }


def _place(part: Pin | Slide | End) -> Point:
    return part.at


# Numbers that enter the budget directly


def _own_slopes(
    assembly: Assembly, pose: Pose, found: Sensitivities, listed: list[Source], sides: dict[str, int]
) -> Iterator[Slope]:
    mount = assembly.mount
    errors = assembly.joint_errors
    for name, _, part in joints(mount):
        half = {end: math.hypot(*found.of_error(end)[errors[name]].tolist()) / 2 for end in ENDS}
        if part.clearance:
            yield Slope("clearance", name, part.clearance, half)
    counted = {(source.id, source.kind): _counted(source, sides) for source in listed if source.one_sided}
    if mount.oil and mount.load:
        oil = {end: sum(each[end] for (_, kind), each in counted.items() if kind == "oil") for end in ENDS}
        modulus = mount.oil.bulk_modulus
        yield Slope("bulk modulus", "oil", modulus, {end: -oil[end] / modulus for end in ENDS})
    for number, cylinder in enumerate(mount.cylinders):
        yield from _cylinder_slopes(mount, cylinder, number, pose, found, sides)
    for member in mount.members:
        if isinstance(member, Rod) and member.section_area and (member.id, "stretch") in counted:
            stretch = counted[member.id, "stretch"]
            per_unit = {end: -stretch[end] / member.section_area for end in ENDS}
            yield Slope("section area", member.id, member.section_area, per_unit)


def _counted(source: Source, sides: dict[str, int]) -> dict[str, float]:
    """A source's part of the worst of each end, mm."""
    return {end: abs(source.range(end)[sides[end]]) for end in ENDS}


def _cylinder_slopes(
    mount: Mount, cylinder: Cylinder, number: int, pose: Pose, found: Sensitivities, sides: dict[str, int]
) -> Iterator[Slope]:
    gain = {end: float(found.of_length(end)[number]) for end in ENDS}
    by_bore = dict.fromkeys(ENDS, 0.0)
    widening = math.pi / 2 * cylinder.bore
    if mount.valve:
        area = cylinder.annulus_area
        half = mount.valve.smallest_pulse * MM3_PER_ML / area / 2
        by_bore = {end: -abs(gain[end]) * half / area * widening for end in ENDS}
    if mount.oil and mount.load:
        force = -float(found.of_length("load")[number])
        length, modulus = pose.lengths[number], mount.oil.bulk_modulus
        area = carrying_area(cylinder, force)
        squeeze = oil_squeeze(cylinder, force, length, modulus)
        hose = -force / (modulus * area**2) * cylinder.hose_volume * MM3_PER_ML
        by_area = -(squeeze + hose) / area
        per_ml = -force / (modulus * area**2) * MM3_PER_ML
        push = {end: _pushes(gain[end] * squeeze, sides[end]) for end in ENDS}
        by_bore = {end: by_bore[end] + push[end] * gain[end] * by_area * widening for end in ENDS}
        per_unit = {end: push[end] * gain[end] * per_ml for end in ENDS}
        yield Slope("hose volume", cylinder.id, cylinder.hose_volume, per_unit)
    yield Slope("bore", cylinder.id, cylinder.bore, by_bore)


def _pushes(height: float, side: int) -> float:
    """The sign with which a one-sided height counts toward the worse side, 0 when it lies on the other."""
    sign = 1.0 if side else -1.0
    return sign if height * sign > 0 else 0.0


def _spacing(mount: Mount, pivots: dict[str, tuple[dict[str, float], dict[str, float]]]) -> Iterator[Slope]:
    """Pairs of cylinders that mirror one another about the middle of the edge, moved outward together."""
    middle = _middle(mount)
    for first, second in pairs_of(mount):
        out = math.copysign(1.0, first.ends[1].at[0] - middle)
        per_unit = dict.fromkeys(ENDS, 0.0)
        for cylinder, way in ((first, out), (second, -out)):
            for number in (1, 2):
                along_x = pivots[f"{cylinder.id} / {number}"][0]
                per_unit = {end: per_unit[end] + way * along_x[end] for end in ENDS}
        apart = abs(second.ends[1].at[0] - first.ends[1].at[0])
        yield Slope("spacing", f"{first.id} and {second.id}", apart, per_unit)


def _middle(mount: Mount) -> float:
    return (mount.blade.left[0] + mount.blade.right[0]) / 2


def pairs_of(mount: Mount) -> Iterator[tuple[Cylinder, Cylinder]]:
    """Cylinders that mirror one another about the middle of the edge as drawn."""
    cylinders, middle = mount.cylinders, _middle(mount)
    for number, first in enumerate(cylinders):
        for second in cylinders[number + 1 :]:
            mirrored = [(2 * middle - end.at[0], end.at[1]) for end in first.ends]
            near = all(math.dist(a, end.at) < _MIRRORED_MM for a, end in zip(mirrored, second.ends, strict=True))
            if near and joined(first) == joined(second) and abs(first.ends[1].at[0] - middle) > _MIRRORED_MM:
                yield first, second


# Pivots


@dataclass(frozen=True, eq=False)
class _Ways:
    """Directions in which single coordinates move: one row a coordinate, two rows a joint."""

    numbers: Array
    lengths: Array
    rods: dict[str, Array]


def _pivot_slopes(
    assembly: Assembly, pose: Pose, found: Sensitivities, listed: list[Source], sides: dict[str, int]
) -> dict[str, tuple[dict[str, float], dict[str, float]]]:
    """For every joint, how the worst of each end changes per mm of its x and of its y as drawn."""
    names = [name for name, _, _ in joints(assembly.mount)]
    ways = _ways(assembly, len(names))
    q, numbers, lengths = pose.q, np.array(assembly.numbers), np.array(pose.lengths)
    still = np.zeros((len(ways.numbers), len(q)))
    opened, _ = assembly.equations.along((q, still), (numbers, ways.numbers), (lengths, ways.lengths))
    moved = -opened @ pose.inverse.T
    _, bent = assembly.equations.along((q, moved), (numbers, ways.numbers), (lengths, ways.lengths))
    driven = _turned_cases(assembly, pose, moved[:, 3 * BLADE_BODY + 2])
    bent_multipliers = np.einsum("prn,rc->pnc", bent, found.multipliers)
    # Phi_q^T d lambda = d h - (d Phi_q)^T lambda
    multipliers = pose.inverse.T @ (driven - bent_multipliers)
    by_length = -np.einsum("ru,prc->puc", assembly.equations.by_length, multipliers)
    by_error = -np.einsum("re,prc->pec", assembly.equations.by_error, multipliers)
    per_mm = {
        end: _worst_slope(assembly, pose, found, listed, end, sides[end], ways, by_length, by_error, moved)
        for end in ENDS
    }
    return {
        name: ({end: float(per_mm[end][2 * i]) for end in ENDS}, {end: float(per_mm[end][2 * i + 1]) for end in ENDS})
        for i, name in enumerate(names)
    }


def _ways(assembly: Assembly, count: int) -> _Ways:
    numbers = np.zeros((2 * count, len(assembly.numbers)))
    lengths = np.zeros((2 * count, len(assembly.lengths)))
    rods: dict[str, Array] = {}
    row = place = cylinder = 0
    for member in assembly.mount.members:
        if isinstance(member, Pin | Slide):
            second = 2 if isinstance(member, Pin) else 4
            for axis in (0, 1):
                numbers[row + axis, [place + axis, place + second + axis]] = 1.0
            row += 2
        else:
            first, last = points_of(member)
            size = math.dist(first, last)
            unit = np.array([(last[0] - first[0]) / size, (last[1] - first[1]) / size])
            longer = np.zeros(2 * count)
            longer[row : row + 4] = [*-unit, *unit]
            for step in range(4):
                numbers[row + step, place + step] = 1.0
            if isinstance(member, Rod):
                numbers[:, place + 4] = longer
                rods[member.id] = longer
            else:
                lengths[:, cylinder] = longer
                cylinder += 1
            row += 4
        place += NUMBERS[member.kind]
    return _Ways(numbers, lengths, rods)


def _turned_cases(assembly: Assembly, pose: Pose, turns: Array) -> Array:
    """How the generalised force of every case changes as the blade turns, shape (ways, unknowns, cases)."""
    cases = cases_of(assembly.mount)
    driven = np.zeros((len(turns), len(pose.q), len(cases)))
    for column, (at, force) in enumerate(cases.values()):
        x, y = pose.point(BLADE_BODY, assembly.local(BLADE_BODY, at))
        arm = x - pose.q[0], y - pose.q[1]
        driven[:, 2, column] = -turns * (arm[1] * force[1] + arm[0] * force[0])
    return driven


def _worst_slope(
    assembly: Assembly,
    pose: Pose,
    found: Sensitivities,
    listed: list[Source],
    end: str,
    side: int,
    ways: _Ways,
    by_length: Array,
    by_error: Array,
    moved: Array,
) -> Array:
    """How the worst of one end changes along every way, mm per mm."""
    mount, column = assembly.mount, found.cases[end]
    total = np.zeros(len(ways.numbers))
    errors = assembly.joint_errors
    for name, _, part in joints(mount):
        own = found.of_error(end)[errors[name]]
        size = math.hypot(*own.tolist())
        if part.clearance and size > 1e-12:
            total += part.clearance / 2 * (by_error[:, errors[name], column] @ own) / size
    for number, cylinder in enumerate(mount.cylinders):
        gain, gain_slope = float(found.of_length(end)[number]), by_length[:, number, column]
        if mount.valve:
            half = mount.valve.smallest_pulse * MM3_PER_ML / cylinder.annulus_area / 2
            if abs(gain) > _STILL:
                total += half * math.copysign(1.0, gain) * gain_slope
        if not (mount.oil and mount.load):
            continue
        force = -float(found.of_length("load")[number])
        force_slope = -by_length[:, number, found.cases["load"]]
        modulus, length = mount.oil.bulk_modulus, pose.lengths[number]
        squeeze = oil_squeeze(cylinder, force, length, modulus)
        per_newton = oil_squeeze(cylinder, math.copysign(1.0, force), length, modulus) * math.copysign(1.0, force)
        column_slope = math.copysign(1.0, force) * -force / (carrying_area(cylinder, force) * modulus)
        change = per_newton * force_slope + column_slope * ways.lengths[:, number]
        total += _pushes(gain * squeeze, side) * (gain_slope * squeeze + gain * change)
    for number, member in enumerate(mount.members):
        if not isinstance(member, Rod) or not mount.load or not rod_stretch(member, 1.0):
            continue
        row, place = assembly.equations.row_of[number].start, assembly.equations.error_of[number].start
        pull = float(found.force("load")[row])
        # A rod's pull is minus what its length error gains: both come from the same multiplier.
        pull_slope = by_error[:, place, found.cases["load"]]
        gain, gain_slope = float(found.of_error(end)[place]), by_error[:, place, column]
        stretch = rod_stretch(member, pull)
        own_length = math.dist(*points_of(member))
        change = rod_stretch(member, 1.0) * pull_slope + stretch / own_length * ways.rods[member.id]
        total += _pushes(gain * stretch, side) * (gain_slope * stretch + gain * change)
    return total + _sensor_slope(assembly, pose, end, moved[:, 3 * BLADE_BODY + 2])


def _sensor_slope(assembly: Assembly, pose: Pose, end: str, turns: Array) -> Array:
    """How what allowances at the sensors do at an end changes as the blade turns, mm per mm."""
    mount = assembly.mount
    size = sum(allowance.plus_minus for allowance in mount.allowances if allowance.at == "sensors")
    if mount.sensors is None or not size:
        return np.zeros(len(turns))
    at = {"left": mount.sensors.left, "right": mount.sensors.right, "end": getattr(mount.blade, end)}
    places = {name: pose.point(BLADE_BODY, assembly.local(BLADE_BODY, point)) for name, point in at.items()}
    far, near, own = places["right"], places["left"], places["end"]
    base = far[0] - near[0]
    if not base:
        return np.zeros(len(turns))
    base_slope = -(far[1] - near[1])
    total = 0.0
    for top, top_slope in (((far[0] - own[0]), -(far[1] - own[1])), ((own[0] - near[0]), -(own[1] - near[1]))):
        share = top / base
        total += math.copysign(1.0, share) * (top_slope - share * base_slope) / base
    return size * total * turns
