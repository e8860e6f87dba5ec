"""What there is to know of many poses of a mount, a number for each: the layers of its travel."""

import math
from collections.abc import Callable, Collection, Iterator

import numpy as np

from app.document.models import Mount
from app.document.parts import ENDS
from app.results.coupling import HARDLY, STILL, relative_gains
from app.results.forces import uses_over
from app.results.relief import over_relief, pressures_over, relief_shares
from app.solve.equations import Array
from app.solve.poses import Poses
from app.sources import KINDS

Layer = np.ma.MaskedArray[tuple[int, ...], np.dtype[np.float64]]


def layers_of(poses: Poses, wanted: Collection[str] | None = None) -> dict[str, Layer]:
    """The ``wanted`` layers by name, all where None; shape (poses,), masked where there is no such number.

    ``left right sensor_left sensor_right``: height above where drawn, mm; ``coupling:ID`` of every cylinder;
    ``residual``: what a round of correcting the ends in turn leaves; ``worst_left worst_right worst``: the linear worst
    error, mm; ``worst_under_load_left worst_under_load_right``: of that what the load moves; ``load_ratio pressure``:
    of the hardest cylinder under the load alone, -, MPa; ``relief``: the most of the relief setting that weight and
    load use; ``use``: the largest share of a joint's rating; ``condition``; ``inside``: 1 where the worst of both ends
    is within the tolerance, 0 where it is not, masked where it is not judged. All as the readout has them at one pose.
    """
    found: dict[str, Layer] = {}
    for names, family in FAMILIES:
        if wanted is None or any(name in wanted for name in names(poses.mount)):
            found.update(family(poses))
    return {name: layer for name, layer in found.items() if wanted is None or name in wanted}


def _heights(poses: Poses) -> Iterator[tuple[str, Layer]]:
    mount = poses.mount
    places = {"left": mount.blade.left, "right": mount.blade.right}
    if mount.sensors:
        places |= {"sensor_left": mount.sensors.left, "sensor_right": mount.sensors.right}
    for name, at in places.items():
        yield name, np.ma.array(poses.on_blade(at)[1] - at[1])


def _couplings(poses: Poses) -> Iterator[tuple[str, Layer]]:
    left, right = (poses.of_length(end) for end in ENDS)
    for number, cylinder in enumerate(poses.mount.cylinders):
        yield f"coupling:{cylinder.id}", couplings(left[:, number], right[:, number])


def couplings(left: Array, right: Array) -> Layer:
    """The coupling of a cylinder over many poses, from how far it moves either end; masked where it hardly does."""
    left_leads = np.abs(left) > np.abs(right) * (1 + STILL)
    most, other = np.where(left_leads, left, right), np.where(left_leads, right, left)
    hardly = np.abs(most) < HARDLY
    return np.ma.array(np.divide(other, most, out=np.zeros_like(most), where=~hardly), mask=hardly)


def _residuals(poses: Poses) -> Iterator[tuple[str, Layer]]:
    """As ``coupling`` has it: masked where no move corrects one end alone."""
    if len(poses.mount.cylinders) != 2:
        return
    ends = np.stack([poses.of_length(end) for end in ENDS], axis=1)
    sensors = [poses.of_length(f"sensor {end}") for end in ENDS] if poses.mount.sensors else None
    seen = np.stack(sensors, axis=1) if sensors else ends
    hardly = np.maximum(np.abs(ends).max(axis=1), np.abs(seen).max(axis=1)).min(axis=1) < HARDLY
    gain, singular = relative_gains(seen)
    _, alike = relative_gains(ends)
    none = hardly | singular | alike
    undo = np.linalg.inv(np.where(none[:, None, None], np.eye(2), ends))
    strokes = np.array([each.stroke for each in poses.mount.cylinders])
    none |= (np.abs(undo).max(axis=2) > strokes).any(axis=1)
    better = np.maximum(gain, 1.0 - gain)
    yield "residual", np.ma.array(1.0 - 1.0 / better, mask=none)


def _errors(poses: Poses) -> Iterator[tuple[str, Layer]]:
    ranges = [kind.over(poses) for kind in KINDS.values()]
    low, high, moved_low, moved_high = (sum(each) for each in zip(*ranges, strict=True))
    worst = np.maximum(-low, high)
    for number, end in enumerate(ENDS):
        yield f"worst_{end}", np.ma.array(worst[number])
    both = worst.max(axis=0)
    yield "worst", np.ma.array(both)
    if poses.mount.load:
        moved = np.maximum(-moved_low, moved_high)
        for number, end in enumerate(ENDS):
            yield f"worst_under_load_{end}", np.ma.array(moved[number])
    if poses.mount.tolerance is not None:
        yield "inside", np.ma.array((both <= poses.mount.tolerance).astype(float), mask=over_relief(poses))


def _shares(poses: Poses) -> Iterator[tuple[str, Layer]]:
    if _has_use(poses.mount):
        yield "use", np.ma.array(uses_over(poses))
    shares = relief_shares(poses)
    if shares is not None:
        yield "relief", np.ma.array(shares)


def _loads(poses: Poses) -> Iterator[tuple[str, Layer]]:
    load = poses.mount.load
    if load is None or not poses.mount.cylinders:
        return
    forces = poses.forces("load")
    if size := math.hypot(*load.force):
        yield "load_ratio", np.ma.array(np.abs(forces).max(axis=1) / size)
    yield "pressure", np.ma.array(pressures_over(poses, forces).max(axis=1))


def _conditions(poses: Poses) -> Iterator[tuple[str, Layer]]:
    yield "condition", np.ma.array(poses.condition)


def _has_use(mount: Mount) -> bool:
    return any(part.rating for _, _, part, _ in mount.joints) and bool(mount.load or mount.weights)


def _height_names(mount: Mount) -> list[str]:
    return ["left", "right", *(["sensor_left", "sensor_right"] if mount.sensors else [])]


def _error_names(mount: Mount) -> list[str]:
    found = ["worst_left", "worst_right", "worst"]
    found += ["worst_under_load_left", "worst_under_load_right"] if mount.load else []
    return found + (["inside"] if mount.tolerance is not None else [])


def _share_names(mount: Mount) -> list[str]:
    has_relief = mount.oil is not None and mount.oil.relief_pressure is not None and mount.cylinders
    found = ["use"] if _has_use(mount) else []
    return found + (["relief"] if has_relief and (mount.load or mount.weights) else [])


def _load_names(mount: Mount) -> list[str]:
    if not (mount.load and mount.cylinders):
        return []
    return [*(["load_ratio"] if any(mount.load.force) else []), "pressure"]


FAMILIES: list[tuple[Callable[[Mount], list[str]], Callable[[Poses], Iterator[tuple[str, Layer]]]]] = [
    (_height_names, _heights),
    (lambda mount: [f"coupling:{each.id}" for each in mount.cylinders], _couplings),
    (lambda mount: ["residual"] if len(mount.cylinders) == 2 else [], _residuals),
    (_error_names, _errors),
    (_share_names, _shares),
    (_load_names, _loads),
    (lambda _: ["condition"], _conditions),
]
"""What is worked out together: the names of a mount's layers, and the layers."""


def names_of(mount: Mount) -> list[str]:
    """The layers a mount has, by name, without working them out."""
    return [name for names, _ in FAMILIES for name in names(mount)]
