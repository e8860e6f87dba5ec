"""The inputs two mounts should share to be compared, group by group, and those in which two of them differ."""

from collections.abc import Callable

from app.document.models import Mount
from app.document.parts import BLADE

GROUPS: dict[str, Callable[[Mount], object]] = {
    "blade": lambda mount: (mount.blade.left, mount.blade.right),
    "mass": lambda mount: (mount.blade.mass, mount.blade.mass_centre if mount.blade.mass is not None else None),
    "weights": lambda mount: [each for each in mount.weights if each[0] != BLADE],
    "load": lambda mount: mount.load,
    "tolerance": lambda mount: mount.tolerance,
    "oil": lambda mount: mount.oil,
    "tyres": lambda mount: mount.tyres,
    "lugs": lambda mount: {name: part.stiffness for name, _, part, _ in mount.joints if part.stiffness},
    "valve": lambda mount: mount.valve,
    "sensors": lambda mount: mount.sensors,
    "allowances": lambda mount: mount.allowances,
    "clearances": lambda mount: _clearances(mount),
}
"""What a mount has of each group; none of a group is none, however the document says so."""

WORDS = {
    "mass": "mass",
    "weights": "weights of bodies",
    "lugs": "lug stiffness",
    "clearances": "joint clearances",
}
"""What a group is called in a sentence, where that is not its name."""


def unlike(a: Mount, b: Mount) -> list[str]:
    """The groups in which two mounts differ. Clearances are compared joint by joint where both have the same joints."""
    same_joints = {name for name, *_ in a.joints} == {name for name, *_ in b.joints}
    differing = []
    for name, of in GROUPS.items():
        one, two = of(a), of(b)
        if name == "clearances" and not same_joints:
            one, two = (sorted(set(_clearances(mount).values())) for mount in (a, b))
        if one != two:
            differing.append(name)
    return differing


def _clearances(mount: Mount) -> dict[str, float]:
    return {name: part.clearance for name, _, part, _ in mount.joints}
