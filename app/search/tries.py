"""What a designer would try: pivots a round step aside, cylinders farther apart, the next bore, the next tighter fit.

A try is a label, the numbers it sets and where it stands: it is made of the mount by ``member_of`` and measured with
many others as one family.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from app.document.edit import middle_of
from app.document.messages import Message, Value, word
from app.document.models import Mount
from app.document.parts import FRAME, Point
from app.document.units import CUSTOMS, MM_PER_INCH, System, Trade
from app.members import Cylinder, Rod
from app.search.boxes import mirror_of
from app.standards.fits import FITS, fit_at
from app.standards.sizes import SERIES

_STEPS: dict[Trade, tuple[float, ...]] = {
    "metric": (10.0, 20.0, 40.0, 80.0, 160.0, 320.0),
    "inch": tuple(each * MM_PER_INCH for each in (0.5, 1.0, 2.0, 4.0, 6.0, 12.0)),
}
"""Round steps of a pivot, mm."""

_STILL_MM = 0.5


@dataclass(frozen=True)
class Try:
    """A change to be tried: what it is, in words, and the numbers it sets, by place of the document.

    Tries of one ``family`` differ in how far they go: the one that does best stands for all.
    """

    says: Message
    sets: tuple[tuple[str, float], ...]
    family: str
    step: float = 0.0


def tries(mount: Mount, system: System) -> list[Try]:
    """Every try at a mount, none of them looked at yet."""
    made = [*_pivots(mount, system), *_sideways(mount, system), *_over_sensors(mount), *_made_plumb(mount)]
    made += [*_bores(mount, system), *_fits(mount)]
    seen: dict[tuple[tuple[str, float], ...], Try] = {}
    for each in made:
        seen.setdefault(tuple(sorted(each.sets)), each)
    return list(seen.values())


def _joint_at(mount: Mount, name: str) -> Point:
    return next(each.at for each in mount.joints if each.name == name)


def _moved(mount: Mount, name: str, dx: float, dy: float) -> tuple[tuple[str, float], ...]:
    x, y = _joint_at(mount, name)
    return tuple((f"{name}.at[{axis}]", at + by) for axis, at, by in ((0, x, dx), (1, y, dy)) if by)


def _way(mount: Mount, name: str, dx: float, dy: float) -> str:
    """Which way a step goes, as one says it: in and out are toward and from the middle of the edge."""
    if dy:
        return "up" if dy > 0 else "down"
    side = _joint_at(mount, name)[0] - middle_of(mount)
    if abs(side) < _STILL_MM:
        return "to the right" if dx > 0 else "to the left"
    return "out" if side * dx > 0 else "in"


def _pivots(mount: Mount, system: System) -> Iterator[Try]:
    """Every joint a step aside, those that mirror one another together."""
    done: set[str] = set()
    for each in mount.joints:
        if each.name in done:
            continue
        image = mirror_of(mount, each.name)
        done |= {each.name, image or each.name}
        for step in _STEPS[CUSTOMS[system].trade]:
            for dx, dy in ((step, 0.0), (-step, 0.0), (0.0, step), (0.0, -step)):
                sets = _moved(mount, each.name, dx, dy)
                sets += _moved(mount, image, -dx, dy) if image else ()
                way = _way(mount, each.name, dx, dy)
                values: dict[str, Value] = {"joint": word(each.name), "by": (step, "fine")}
                text = f"move '{{joint}}' {{by}} {way}"
                if image:
                    text, values = (
                        f"move '{{joint}}' and '{{image}}' {{by}} {way} each",
                        values | {"image": word(image)},
                    )
                yield Try(Message("move", text, [each.member.id], values), sets, f"{each.name} {way}", step)


def _sideways(mount: Mount, system: System) -> Iterator[Try]:
    """Rods and cylinders aside as they are, those that mirror one another together."""
    done: set[str] = set()
    for member in mount.members:
        if not isinstance(member, Rod | Cylinder) or member.id in done:
            continue
        names = [name for name, _, _ in member.joints]
        images = [image for name in names if (image := mirror_of(mount, name))]
        others = {each.member.id for each in mount.joints if each.name in images} - {member.id}
        mirrored = len(images) == len(names) and len(others) == 1
        done |= {member.id} | (others if mirrored else set())
        for step in _STEPS[CUSTOMS[system].trade]:
            for dx in (step, -step):
                sets = tuple(set_ for name in names for set_ in _moved(mount, name, dx, 0.0))
                way = _way(mount, names[-1], dx, 0.0)
                values: dict[str, Value] = {"member": word(member.id), "by": (step, "fine")}
                text = f"move '{{member}}' whole {{by}} {way}"
                if mirrored:
                    sets += tuple(set_ for name in images for set_ in _moved(mount, name, -dx, 0.0))
                    text = f"move '{{member}}' and '{{other}}' whole {{by}} {way} each"
                    values |= {"other": word(min(others))}
                yield Try(Message("sideways", text, [member.id], values), sets, f"{member.id} whole {way}", step)


def _over_sensors(mount: Mount) -> Iterator[Try]:
    """A cylinder moved whole until it takes hold of the blade below the sensor of its side."""
    sensors = mount.sensors
    if sensors is None:
        return
    for cylinder in mount.cylinders:
        on_blade = [end for end in cylinder.ends if end.on == "blade"]
        if len(on_blade) != 1:
            continue
        sensor = min((sensors.left, sensors.right), key=lambda at: abs(at[0] - on_blade[0].at[0]))
        by = sensor[0] - on_blade[0].at[0]
        if abs(by) > _STILL_MM:
            sets = tuple(set_ for name, _, _ in cylinder.joints for set_ in _moved(mount, name, by, 0.0))
            values: dict[str, Value] = {"member": word(cylinder.id), "by": (abs(by), "fine")}
            text = "put '{member}' under its sensor, {by} aside"
            yield Try(Message("over-sensor", text, [cylinder.id], values), sets, f"{cylinder.id} over its sensor")


def _made_plumb(mount: Mount) -> Iterator[Try]:
    """A rod or cylinder made plumb or level, whichever it is nearer to: its end on the frame moves."""
    for member in mount.members:
        if not isinstance(member, Rod | Cylinder):
            continue
        (first_name, _, first), (second_name, _, second) = member.joints
        moving, still, name = (first, second, first_name) if member.joined[0] == FRAME else (second, first, second_name)
        dx, dy = still[0] - moving[0], still[1] - moving[1]
        by, plumb = ((dx, 0.0), True) if abs(dx) < abs(dy) else ((0.0, dy), False)
        if max(map(abs, by)) > _STILL_MM:
            what = "plumb" if plumb else "level"
            values: dict[str, Value] = {"member": word(member.id), "joint": word(name), "by": (math.hypot(*by), "fine")}
            text = f"make '{{member}}' {what}: move '{{joint}}' {{by}}"
            yield Try(Message("plumb", text, [member.id], values), _moved(mount, name, *by), f"{member.id} {what}")


def _bores(mount: Mount, system: System) -> Iterator[Try]:
    """The next bore up and down of the usual sizes, cylinders of one bore together."""
    for bore in dict.fromkeys(each.bore for each in mount.cylinders):
        alike = [each for each in mount.cylinders if each.bore == bore]
        sizes = [each.size for each in SERIES[CUSTOMS[system].trade].bores]
        larger = min((each for each in sizes if each > bore + _STILL_MM), default=None)
        smaller = max((each for each in sizes if max(own.rod for own in alike) < each < bore - _STILL_MM), default=None)
        for size in (larger, smaller):
            if size is not None:
                values: dict[str, Value] = {"bore": (size, "fine"), "now": (bore, "fine")}
                values |= {"names": word(", ".join(f"'{each.id}'" for each in alike))}
                text = "give {names} a bore of {bore} instead of {now}"
                sets = tuple((f"{each.id}.bore", size) for each in alike)
                yield Try(Message("bore", text, [each.id for each in alike], values), sets, f"bore {size}", size)


def _fits(mount: Mount) -> Iterator[Try]:
    """The next tighter fit at every joint with play, at a likely pin for the blade, and at all of them."""
    wide = math.dist(mount.blade.left, mount.blade.right)
    pin = min(SERIES["metric"].pins, key=lambda each: abs(each.blade - wide)).size
    middles = {fit: (found.least + found.greatest) / 2 for fit in FITS for found in [fit_at(pin, fit)]}
    loose = [each for each in mount.joints if each.part.clearance]
    tighter = {}
    for each in loose:
        better = [fit for fit, middle in middles.items() if middle < each.part.clearance * _NOTICED]
        if better:
            tighter[each.name] = max(better, key=lambda fit: middles[fit])
    for name, fit in tighter.items():
        yield _fitted([name], fit, middles[fit], pin)
    for fit in dict.fromkeys(tighter.values()):
        yield _fitted(list(tighter), fit, middles[fit], pin)


def _fitted(names: list[str], fit: str, clearance: float, pin: float) -> Try:
    values: dict[str, Value] = {"fit": word(fit), "pin": (pin, "fine"), "clearance": (clearance, "error")}
    if len(names) == 1:
        text, values = "fit '{joint}' {fit}", values | {"joint": word(names[0])}
    else:
        text = "fit every joint {fit}"
    text += ": a clearance of {clearance} at a pin of {pin}"
    sets = tuple((f"{name}.clearance", round(clearance, 4)) for name in names)
    return Try(Message("fit", text, [], values), sets, f"fit {' '.join(names)}", -clearance)


_NOTICED = 0.95
"""A fit is tighter where its middle is below this share of the clearance."""
