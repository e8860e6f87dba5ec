"""What is free in a search: pivots within boxes, bores from the usual sizes, clearances by fit; all else is locked."""

import math
from collections.abc import Mapping
from typing import Any

from app.document.dimensions import first_broken
from app.document.edit import middle_of
from app.document.errors import BadCommand, Fault, SketcherError
from app.document.models import Mount
from app.document.parts import Point
from app.document.places import joint_named, steps_to
from app.search.family import Free

MOST_FREE = 12
AXES = {"x": 0, "y": 1}


def read_free(mount: Mount, given: object) -> tuple[Free, ...]:
    """What is free, as it comes: a list of boxes and choices.

    ``{"joint": "left rod / 1", "x": [low, high], "y": [low, high], "with": ["left rod / 2"], "alike": true}``: a pivot
    within a box, mm as drawn, one axis or both; those it goes ``with`` take the same steps; ``alike``: the joints that
    mirror them about the middle of the edge take the mirrored steps.
    ``{"place": "left cylinder.bore", "choices": [50, 63, 80], "alike": "right cylinder.bore"}``: a value that is one of
    several. Raises BadCommand with every fault.
    """
    if not isinstance(given, list) or not given:
        raise BadCommand([Fault("free", "is no list; give what is free, such as a joint with the box it may stand in")])
    faults: list[Fault] = []
    found: list[Free] = []
    for number, each in enumerate(given):
        place = f"free[{number}]"
        try:
            found += (
                _box(mount, each, place)
                if isinstance(each, Mapping) and "joint" in each
                else _choice(mount, each, place)
            )
        except SketcherError as error:
            faults += [
                Fault(place, f"{fault}") if not fault.place.startswith(place) else fault for fault in error.faults
            ]
    if not faults and len(found) > MOST_FREE:
        faults.append(Fault("free", f"holds {len(found)} numbers, more than {MOST_FREE}; lock some of them"))
    if not faults and (held := _broken(mount, found)):
        text = f"moves a joint that is held: {held}; free both with the same steps, or take the dimension out"
        faults.append(Fault("free", text))
    if faults:
        raise BadCommand(faults)
    return tuple(found)


def _broken(mount: Mount, free: list[Free]) -> str | None:
    """A held dimension that some step of a free pivot would not keep, in words."""
    before = mount.held_places
    for each in free:
        after = dict(before)
        for place, _, per_unit in each.places:
            name, _, axis = place.rpartition(".at")
            if name in after:
                x, y = after[name]
                after[name] = (x + per_unit, y) if axis == "[0]" else (x, y + per_unit)
        if broken := first_broken(mount.dimensions, before, after):
            return broken
    return None


def _box(mount: Mount, given: Mapping[str, Any], place: str) -> list[Free]:
    if unknown := set(given) - {"joint", "x", "y", "with", "alike"}:
        text = "is no part of a box; known are joint, x, y, with, alike"
        raise BadCommand([Fault(f"{place}.{min(map(str, unknown))}", text)])
    others = given.get("with") or []
    if not isinstance(others, list) or not isinstance(given.get("alike", False), bool):
        raise BadCommand(
            [Fault(place, "has 'with' that is no list of joints, or 'alike' that is neither true nor false")]
        )
    names = [joint_named(mount, str(name)) for name in (given["joint"], *others)]
    found = [
        Free(
            f"{names[0]}, {letter}",
            _places(mount, names, axis, bool(given.get("alike"))),
            _at(mount, names[0])[axis],
            low,
            high,
        )
        for letter, axis in AXES.items()
        if given.get(letter) is not None
        for low, high in [_range(given[letter], f"{place}.{letter}")]
    ]
    if not found:
        raise BadCommand([Fault(place, "has neither x nor y; give the range of one or both, [low, high]")])
    return found


def _places(mount: Mount, names: list[str], axis: int, alike: bool) -> tuple[tuple[str, float, float], ...]:
    """The coordinates of joints that take the same step, and of those that mirror them. Raises BadCommand."""
    places = [(name, 1.0) for name in names]
    for name in names if alike else ():
        image = mirror_of(mount, name)
        if image is None:
            raise BadCommand([Fault(name, "has no joint on the other side that mirrors it; leave 'alike' out")])
        if image not in names:
            places.append((image, 1.0 if axis else -1.0))
    return tuple((f"{name}.at[{axis}]", _at(mount, name)[axis], per_unit) for name, per_unit in places)


def _at(mount: Mount, name: str) -> Point:
    return next(each.at for each in mount.joints if each.name == name)


def _range(given: object, place: str) -> tuple[float, float]:
    pair = given if isinstance(given, list | tuple) else ()
    good = len(pair) == 2 and all(
        isinstance(each, int | float) and not isinstance(each, bool) and math.isfinite(each) for each in pair
    )
    if not good or pair[0] >= pair[1]:
        raise BadCommand([Fault(place, "is no range; give [low, high] in mm, the lower first")])
    return float(pair[0]), float(pair[1])


def _choice(mount: Mount, given: object, place: str) -> list[Free]:
    named = given if isinstance(given, Mapping) else {}
    if unknown := set(named) - {"place", "choices", "alike"}:
        text = "is no part of a choice; known are place, choices, alike"
        raise BadCommand([Fault(f"{place}.{min(map(str, unknown))}", text)])
    name, choices = named.get("place"), named.get("choices")
    several = choices if isinstance(choices, list) else []
    good = len(several) > 1 and all(
        isinstance(each, int | float) and not isinstance(each, bool) and 0 <= each < math.inf for each in several
    )
    if not isinstance(name, str) or not good:
        raise BadCommand([Fault(place, "is neither a joint with a box nor a place with two choices or more")])
    listed = tuple(sorted({float(each) for each in several}))
    places = [(name, value_at(mount, name), 1.0)]
    if (twin := named.get("alike")) is not None:
        places.append((str(twin), places[0][1], 1.0))
        value_at(mount, str(twin))
    return [Free(name, tuple(places), places[0][1], listed[0], listed[-1], listed)]


def value_at(mount: Mount, place: str) -> float:
    """The number at a place. Raises NoSuchName, BadCommand where it is none."""
    steps, _ = steps_to(mount, place)
    value: Any = mount
    for step in steps:
        value = value[step] if isinstance(step, int) else getattr(value, step, None)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise BadCommand([Fault(place, "is no number that can be changed")])
    return float(value)


def mirror_of(mount: Mount, name: str) -> str | None:
    """The joint that mirrors another about the middle of the edge; None where there is none."""
    own = next(each for each in mount.joints if each.name == name)
    middle = middle_of(mount)
    if abs(own.at[0] - middle) < _MIRRORED_MM:
        return None
    image = (2 * middle - own.at[0], own.at[1])
    return next(
        (
            each.name
            for each in mount.joints
            if each.member.kind == own.member.kind and each.name != name and math.dist(each.at, image) < _MIRRORED_MM
        ),
        None,
    )


_MIRRORED_MM = 1.0
