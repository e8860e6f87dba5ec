"""The error budget: what each source adds to the height of each end of the blade.

Each source gives a range [low, high] in mm about where the end should be. Clearance acts in its worst direction; oil
and stretch act under the load alone, from none to full, since the weight is always there and is graded out.
"""

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from app.document.models import Cylinder, Rod, Slide, drawn_length, joints
from app.document.units import MM3_PER_ML
from app.results.forces import CylinderForce, carrying_area, rod_pulls
from app.results.play import HELD, Sides, dot, lying, play_of
from app.solve.assembly import Assembly
from app.solve.pose import Pose
from app.solve.sensitivity import BLADE_BODY, Sensitivities

ENDS = ("left", "right")
_STILL = 1e-9
"""A source that moves an end by less than this share of what it does at the other does not move it."""

OTHER = {"left": "right", "right": "left"}


class Source(NamedTuple):
    """One source of error and what it does to both ends at once.

    ``reach`` maps an end of the blade to the height, mm, that the source at its full size adds there: for a pin one
    value per axis of the offset, else a single value. ``one_sided`` sources are either not there or fully there (oil,
    stretch); the others may take either sign. ``circle`` is true where the offset lies in a clearance circle. ``play``
    says of a clearance whether the loads hold it: 'held', 'turns over' or 'unknown'; ``sides`` to which sides they
    push it, None without a load.
    """

    id: str
    member: str | None
    kind: str
    reach: Mapping[str, tuple[float, ...]]
    one_sided: bool = False
    circle: bool = False
    play: str | None = None
    sides: Sides | None = None

    def range(self, end: str) -> tuple[float, float]:
        """Lowest and highest it puts an end, mm."""
        if self.one_sided:
            return min(self.reach[end][0], 0.0), max(self.reach[end][0], 0.0)
        own = self.reach[end]
        size = abs(own[0]) if len(own) == 1 else math.hypot(*own)
        return -size, size

    def other_end(self, end: str) -> tuple[float, float]:
        """Where the other end is while this source holds ``end`` lowest and highest, mm."""
        own, other = self.reach[end], self.reach[OTHER[end]]
        if math.hypot(*own) <= _STILL * math.hypot(*other):
            return 0.0, 0.0  # Rounding must not choose the side.
        if self.one_sided:
            return (other[0], 0.0) if own[0] < 0 else (0.0, other[0])
        follow = dot(own, other) / math.hypot(*own)
        return -follow, follow


def sources(assembly: Assembly, pose: Pose, found: Sensitivities, carried: dict[str, CylinderForce]) -> list[Source]:
    """Every source of error of a mount at one pose."""
    return [
        *_clearances(assembly, found),
        *_oil(assembly, pose, found, carried),
        *_stretch(assembly, found),
        *_steps(assembly, found),
        *_allowances(assembly, pose),
    ]


def budget(listed: list[Source], tolerance: float | None) -> dict[str, Any]:
    """Add the sources up for both ends: see ``app.results.answer.Budget`` for every field."""
    answer: dict[str, Any] = {end: _of_end(listed, end) for end in ENDS}
    answer["tolerance"] = tolerance
    worst = max(answer[end]["worst"] for end in ENDS)
    answer["inside"] = None if tolerance is None else worst <= tolerance
    return answer


def worst_of(listed: list[Source]) -> dict[str, float]:
    """The worst error of each end alone, mm: all sources at their worst the same way."""
    found = {}
    for end in ENDS:
        low, high = _added([source.range(end) for source in listed])
        found[end] = max(-low, high)
    return found


def worse_end(totals: dict[str, Any]) -> str:
    """The end with the larger worst error, right when equal."""
    return "left" if totals["left"]["worst"] > totals["right"]["worst"] else "right"


def _of_end(listed: list[Source], end: str) -> dict[str, Any]:
    ranges = [source.range(end) for source in listed]
    follow = [source.other_end(end) for source in listed]
    low, high = _added(ranges)
    worst = max(-low, high)
    side = 1 if high >= -low else 0
    entries = [
        {
            "id": source.id,
            "member": source.member,
            "kind": source.kind,
            "low": each[0],
            "high": each[1],
            "play": source.play,
            "share": abs(each[side]) / worst if worst else 0.0,
        }
        for source, each in zip(listed, ranges, strict=True)
    ]
    loose = _added([each for source, each in zip(listed, ranges, strict=True) if source.play != HELD])
    other = _added(follow)
    return {
        "low": low,
        "high": high,
        "worst": worst,
        "worst_held": max(-loose[0], loose[1]),
        "band": high - low,
        "rss": statistical(ranges),
        "blade_at_low": {end: low, OTHER[end]: other[0]},
        "blade_at_high": {end: high, OTHER[end]: other[1]},
        "sources": sorted(entries, key=lambda entry: (-entry["share"], entry["low"] - entry["high"])),
    }


def _added(ranges: list[tuple[float, float]]) -> tuple[float, float]:
    return sum([low for low, _ in ranges]), sum([high for _, high in ranges])


def statistical(ranges: list[tuple[float, float]]) -> float:
    """Middle of the sum of ranges plus the root sum of squares of their half widths, mm."""
    middle = sum([low + high for low, high in ranges]) / 2
    return abs(middle) + math.sqrt(sum([(high - low) ** 2 for low, high in ranges])) / 2


def _clearances(assembly: Assembly, found: Sensitivities) -> list[Source]:
    left, right = found.of_error("left").tolist(), found.of_error("right").tolist()
    listed, errors_of, lies = [], assembly.joint_errors, lying(assembly, found)
    for name, member, part in joints(assembly.mount):
        if part.clearance:
            errors, radius = errors_of[name], part.clearance / 2
            reach = {
                "left": tuple(radius * gain for gain in left[errors]),
                "right": tuple(radius * gain for gain in right[errors]),
            }
            circle = not isinstance(part, Slide)
            sides = lies.get(name)
            play = play_of(sides, found)
            listed.append(Source(name, member, "clearance", reach, circle=circle, play=play, sides=sides))
    return listed


def oil_squeeze(cylinder: Cylinder, force: float, length: float, bulk_modulus: float) -> float:
    """How much the trapped oil lets a cylinder give way under a force, mm, - when it gets shorter.

    The pressure p = F/A squeezes the trapped volume V by p V / K, and the piston follows by that over A. V is the oil
    column of the side that carries the force, and its hose. ``force`` in N, + pushed; ``length`` pin to pin in mm;
    ``bulk_modulus`` in MPa. Source: definition of the bulk modulus, K = -V dp/dV.
    """
    area = carrying_area(cylinder, force)
    extension = min(max(length - cylinder.retracted, 0.0), cylinder.stroke)
    column = extension if force >= 0 else cylinder.stroke - extension
    volume = area * column + cylinder.hose_volume * MM3_PER_ML
    return -force / area * volume / (bulk_modulus * area)


def rod_stretch(rod: Rod, pull: float) -> float:
    """How much a rod gets longer under a pull in N: F L / (E A), mm. 0 for a rod without section and modulus."""
    if rod.section_area is None or rod.elastic_modulus is None:
        return 0.0
    return pull * drawn_length(rod) / (rod.elastic_modulus * rod.section_area)


def _oil(assembly: Assembly, pose: Pose, found: Sensitivities, carried: dict[str, CylinderForce]) -> list[Source]:
    oil = assembly.mount.oil
    if oil is None or not carried:
        return []
    listed = []
    for number, cylinder in enumerate(assembly.mount.cylinders):
        change = oil_squeeze(cylinder, carried[cylinder.id].force, pose.lengths[number], oil.bulk_modulus)
        reach = {end: (float(found.of_length(end)[number]) * change,) for end in ENDS}
        listed.append(Source(cylinder.id, cylinder.id, "oil", reach, one_sided=True))
    return listed


def _steps(assembly: Assembly, found: Sensitivities) -> list[Source]:
    """Half the smallest step of every cylinder, either way: a pulse over the area that makes it largest."""
    valve = assembly.mount.valve
    if valve is None:
        return []
    listed = []
    for number, cylinder in enumerate(assembly.mount.cylinders):
        half = valve.smallest_pulse * MM3_PER_ML / cylinder.annulus_area / 2
        reach = {end: (float(found.of_length(end)[number]) * half,) for end in ENDS}
        listed.append(Source(cylinder.id, cylinder.id, "step", reach))
    return listed


def _stretch(assembly: Assembly, found: Sensitivities) -> list[Source]:
    pulls = rod_pulls(assembly, found)
    listed = []
    for number, member in enumerate(assembly.mount.members):
        if not isinstance(member, Rod) or member.id not in pulls or not rod_stretch(member, 1.0):
            continue
        change = rod_stretch(member, pulls[member.id])
        place = assembly.equations.error_of[number].start
        reach = {end: (float(found.of_error(end)[place]) * change,) for end in ENDS}
        listed.append(Source(member.id, member.id, "stretch", reach, one_sided=True))
    return listed


def _allowances(assembly: Assembly, pose: Pose) -> list[Source]:
    listed = []
    for allowance in assembly.mount.allowances:
        size = allowance.plus_minus
        if allowance.at == "ends":
            parts = {end: {each: float(each == end) for each in ENDS} for end in ENDS}
        else:
            parts = sensor_carry(assembly, pose)
        for part, carry in parts.items():
            reach = {end: (size * carry[end],) for end in ENDS}
            listed.append(Source(f"{allowance.label} / {part}", None, "allowance", reach))
    return listed


def sensor_carry(assembly: Assembly, pose: Pose) -> dict[str, dict[str, float]]:
    """How far each end of the blade is out per mm at each sensor alone, along the straight blade.

    Empty without sensors, or where they stand one above the other.
    """
    mount = assembly.mount
    if mount.sensors is None:
        return {}
    near, far, *ends = (
        pose.point(BLADE_BODY, assembly.local(BLADE_BODY, at))[0]
        for at in (mount.sensors.left, mount.sensors.right, mount.blade.left, mount.blade.right)
    )
    if far == near:
        return {}
    places = dict(zip(ENDS, ends, strict=True))
    return {
        "left": {end: (far - x) / (far - near) for end, x in places.items()},
        "right": {end: (x - near) / (far - near) for end, x in places.items()},
    }
