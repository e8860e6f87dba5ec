"""Held dimensions: what lies between two joints stays as it is drawn while other things are moved.

A dimension names its joints and keeps no number of its own: what it holds is what is drawn, so the two cannot disagree.
Whoever moves a joint by hand moves those held to it; a script moves the joint it names and no other.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field, StringConstraints

from app.document.errors import Fault
from app.document.messages import Value, word
from app.document.parts import COINCIDENT_MM, Part, Point
from app.document.words import NAME

MOST_DIMENSIONS = 60
BLADE_ENDS = {"left": "blade / left", "right": "blade / right"}
"""What a dimension calls the ends of the cutting edge."""

JointName = Annotated[str, StringConstraints(strict=True, strip_whitespace=True, min_length=1, max_length=64), NAME]
Way: TypeAlias = Literal["along", "level", "upright"]
_WORDS: dict[Way, str] = {"along": "distance", "level": "level distance", "upright": "upright distance"}
_DEPENDENT = 1e-9


class Dimension(Part):
    """A held dimension: what lies between two joints stays as it is drawn while other things are moved."""

    between: Annotated[tuple[JointName, JointName], Field(strict=False)] = Field(
        description="its two joints: 'left rod / 1', a pin or slide by its own name, or 'blade / left' for an edge end"
    )
    way: Way = Field(description="what is held: the distance along the line through both, or its level or upright part")


def faults_of_dimensions(dimensions: Sequence[tuple[int, Dimension]], joints: Mapping[str, Point]) -> Iterator[Fault]:
    """What held dimensions mean that cannot be; ``dimensions`` with their places, ``joints`` as drawn, mm."""
    rows: list[tuple[int, Dimension, dict[str, float]]] = []
    for number, dimension in dimensions:
        place = f"dimensions[{number}]"
        faults = list(_faults_of_one(place, dimension, joints))
        yield from faults
        if faults:
            continue
        row = _row(dimension, joints)
        if found := _combined(row, [each for _, _, each in rows]):
            held = " and ".join(_said(rows[each][1]) for each in found[:3])
            text = "{what} is settled already by {held}; take one of them out"
            yield Fault(place, text, {"what": word(_said(dimension)), "held": word(held)}, "held-already")
        else:
            rows.append((number, dimension, row))


def renamed(dimension: dict[str, Any], before: str, after: str) -> dict[str, Any]:
    """A plain dimension after a member's name was changed."""

    def name(joint: str) -> str:
        own = joint == before or (joint.startswith(f"{before} / ") and joint not in BLADE_ENDS.values())
        return after + joint[len(before) :] if own else joint

    return {**dimension, "between": [name(each) for each in dimension["between"]]}


def first_broken(
    dimensions: Sequence[Dimension], before: Mapping[str, Point], after: Mapping[str, Point]
) -> str | None:
    """The first held dimension that a change of joints does not keep, in words; None where it keeps all."""
    for each in dimensions:
        if abs(_size(each, after) - _size(each, before)) > _KEPT_MM:
            return _said(each)
    return None


def _size(dimension: Dimension, joints: Mapping[str, Point]) -> float:
    (ax, ay), (bx, by) = (joints[name] for name in dimension.between)
    sizes: dict[Way, float] = {"level": bx - ax, "upright": by - ay, "along": math.hypot(bx - ax, by - ay)}
    return sizes[dimension.way]


_KEPT_MM = 1e-5


def _faults_of_one(place: str, dimension: Dimension, joints: Mapping[str, Point]) -> Iterator[Fault]:
    first, second = dimension.between
    for index, name in enumerate(dimension.between):
        if name not in joints:
            known = ", ".join([*joints][:20])
            text = "there is no joint '{joint}'; use one of {known}"
            yield Fault(f"{place}.between[{index}]", text, {"joint": word(name), "known": word(known)}, "no-such-joint")
            return
    if first == second:
        yield Fault(
            f"{place}.between[1]",
            "'{joint}' stands twice; give two different joints",
            {"joint": word(first)},
            "same-joint",
        )
    elif dimension.way == "along" and (apart := math.dist(joints[first], joints[second])) < COINCIDENT_MM:
        values: dict[str, Value] = {"first": word(first), "second": word(second), "apart": (apart, "fine")}
        text = "'{first}' and '{second}' lie {apart} apart, which has no direction; hold them level and upright"
        yield Fault(place, text, values, "no-direction")


def _said(dimension: Dimension) -> str:
    first, second = dimension.between
    return f"the {_WORDS[dimension.way]} of '{first}' and '{second}'"


def _row(dimension: Dimension, joints: Mapping[str, Point]) -> dict[str, float]:
    """How what is held changes with each coordinate of its joints."""
    first, second = dimension.between
    (ax, ay), (bx, by) = joints[first], joints[second]
    apart = math.dist((ax, ay), (bx, by))
    x, y = {"level": (1.0, 0.0), "upright": (0.0, 1.0)}.get(dimension.way) or ((bx - ax) / apart, (by - ay) / apart)
    whole = {f"{first} x": -x, f"{first} y": -y, f"{second} x": x, f"{second} y": y}
    return {key: value for key, value in whole.items() if value}


def _combined(row: dict[str, float], rows: Sequence[dict[str, float]]) -> list[int]:
    """Which rows add up to this one; none where they do not. The rows themselves are independent."""
    reduced: list[tuple[str, dict[str, float], dict[int, float]]] = []
    for number, each in enumerate(rows):
        left, parts = _reduced(each, {number: 1.0}, reduced)
        pivot = max(left, key=lambda key: abs(left[key]))
        reduced.append((pivot, left, parts))
    left, parts = _reduced(row, {}, reduced)
    if any(abs(value) > _DEPENDENT for value in left.values()):
        return []
    return [number for number, share in sorted(parts.items()) if abs(share) > _DEPENDENT]


def _reduced(
    row: dict[str, float], parts: dict[int, float], reduced: Sequence[tuple[str, dict[str, float], dict[int, float]]]
) -> tuple[dict[str, float], dict[int, float]]:
    """A row without what others say of it, and what of each row went into it."""
    left, shares = dict(row), dict(parts)
    for pivot, other, made in reduced:
        share = left.get(pivot, 0.0) / other[pivot]
        if not share:
            continue
        for key, value in other.items():
            left[key] = left.get(key, 0.0) - share * value
        for number, part in made.items():
            shares[number] = shares.get(number, 0.0) - share * part
        left[pivot] = 0.0
    return left, shares
