"""Changing one number of a mount: what scripts, suggestions and searches do to a document.

Each kind of change is one line in ``CHANGES``: its name, and what it does to the plain document.
"""

import math
from collections.abc import Callable, Iterator
from typing import Any

from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.members import Cylinder

_MIRRORED_MM = 1.0

Document = dict[str, Any]


def with_change(mount: Mount, what: str, name: str, by: float) -> Mount:
    """The mount with one number a designer can change changed by ``by``, in its document unit.

    ``what`` is a key of ``CHANGES``; ``name`` the joint, member or pair. Raises BadDocument where the document does not
    allow it, KeyError for a change that is not there.
    """
    document = as_document(mount)
    CHANGES[what](mount, document, name, by)
    return read_mount(document)


def pairs_of(mount: Mount) -> Iterator[tuple[Cylinder, Cylinder]]:
    """Cylinders that mirror one another about the middle of the edge as drawn."""
    cylinders, middle = mount.cylinders, middle_of(mount)
    for number, first in enumerate(cylinders):
        for second in cylinders[number + 1 :]:
            mirrored = [(2 * middle - end.at[0], end.at[1]) for end in first.ends]
            near = all(math.dist(a, end.at) < _MIRRORED_MM for a, end in zip(mirrored, second.ends, strict=True))
            if near and first.joined == second.joined and abs(first.ends[1].at[0] - middle) > _MIRRORED_MM:
                yield first, second


def middle_of(mount: Mount) -> float:
    """The middle of the edge as drawn, x in mm."""
    return (mount.blade.left[0] + mount.blade.right[0]) / 2


def _bulk_modulus(mount: Mount, document: Document, name: str, by: float) -> None:
    document["oil"]["bulk_modulus"] += by


def _spacing(mount: Mount, document: Document, name: str, by: float) -> None:
    """Both cylinders of a pair that far outward."""
    pair = next(pair for pair in pairs_of(mount) if f"{pair[0].id} and {pair[1].id}" == name)
    for cylinder in pair:
        for end in _member(document, cylinder.id)["ends"]:
            end["at"][0] += by if end["at"][0] > middle_of(mount) else -by


def _clearance(mount: Mount, document: Document, name: str, by: float) -> None:
    joint = _joint(mount, document, name)
    joint["clearance"] = max(0.0, joint.get("clearance", 0.0) + by)


def _pivot(axis: int) -> Callable[[Mount, Document, str, float], None]:
    def move(mount: Mount, document: Document, name: str, by: float) -> None:
        _joint(mount, document, name)["at"][axis] += by

    return move


def _field(key: str) -> Callable[[Mount, Document, str, float], None]:
    def change(mount: Mount, document: Document, name: str, by: float) -> None:
        member = _member(document, name)
        member[key] = max(0.0, member.get(key, 0.0) + by)

    return change


def _lug_stiffness(mount: Mount, document: Document, name: str, by: float) -> None:
    _joint(mount, document, name)["stiffness"] += by


def _tyre_stiffness(mount: Mount, document: Document, name: str, by: float) -> None:
    document["tyres"]["stiffness"] += by


def _member(document: Document, name: str) -> Document:
    found: Document = next(each for each in document["members"] if each["id"] == name)
    return found


def _joint(mount: Mount, document: Document, name: str) -> Document:
    joint = next(each for each in mount.joints if each.name == name)
    member = _member(document, joint.member.id)
    number = [each for each, _, _ in joint.member.joints].index(name)
    end: Document = member["ends"][number] if "ends" in member else member
    return end


CHANGES: dict[str, Callable[[Mount, Document, str, float], None]] = {
    "clearance": _clearance,
    "pivot x": _pivot(0),
    "pivot y": _pivot(1),
    "spacing": _spacing,
    "bore": _field("bore"),
    "bulk modulus": _bulk_modulus,
    "hose volume": _field("hose_volume"),
    "section area": _field("section_area"),
    "lug stiffness": _lug_stiffness,
    "tyre stiffness": _tyre_stiffness,
}
"""Every number a designer can change, by its name in answers."""
