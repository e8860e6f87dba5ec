"""Changing one number of a mount: what scripts, suggestions and searches do to a document.

Scripts say a place (``with_value``) or a joint (``with_joint``). What a search tries are kinds of change; each
is one line in ``CHANGES``: its name, and what it does to the plain document.
"""

import math
import numbers
from collections.abc import Callable, Iterator
from typing import Any

from app.document.dimensions import renamed
from app.document.errors import BadDocument, Fault
from app.document.models import Mount, as_document
from app.document.names import no_such
from app.document.places import Step, steps_of_joint, steps_to
from app.document.reading import read_mount
from app.document.typed import read_typed
from app.document.units import Measure
from app.members import Cylinder

_MIRRORED_MM = 1.0

Document = dict[str, Any]


def with_change(mount: Mount, what: str, name: str, by: float) -> Mount:
    """The mount with one number a designer can change changed by ``by``, in its document unit.

    ``what`` is a key of ``CHANGES``; ``name`` the joint, member or pair. Raises BadDocument where the document does not
    allow it, NoSuchName for a change, joint, member or pair that is not there.
    """
    if what not in CHANGES:
        raise no_such("", "change", what, CHANGES)
    document = as_document(mount)
    CHANGES[what](mount, document, name, by)
    return read_mount(document)


def with_value(mount: Mount, place: str, value: object) -> Mount:
    """The mount with another value at a place: see ``Mount.with_value``."""
    steps, measure = steps_to(mount, place)
    document = put(as_document(mount), steps, _plain(value, measure, place))
    match steps:
        case ["members", int(number), "id"] if isinstance(value, str) and "dimensions" in document:
            named = mount.members[number].id
            document["dimensions"] = [renamed(each, named, value) for each in document["dimensions"]]
    return read_mount(document)


def with_joint(
    mount: Mount,
    name: str,
    *,
    x: float | str | None = None,
    y: float | str | None = None,
    dx: float | str = 0.0,
    dy: float | str = 0.0,
) -> Mount:
    """The mount with a joint elsewhere: see ``Mount.with_joint``."""
    document, steps = as_document(mount), steps_of_joint(mount, name)
    at = _at(document, [*steps, "at"])
    for axis, letter, to, by in ((0, "x", x, dx), (1, "y", y, dy)):
        start = at[axis] if to is None else _plain(to, "fine", f"{name}, {letter}")
        moved = _plain(by, "fine", f"{name}, d{letter}")
        for each, key in ((start, letter), (moved, f"d{letter}")):
            if isinstance(each, bool) or not isinstance(each, int | float):
                expected = "expected a number of mm, or a length with its unit such as '1/2 in'"
                raise BadDocument([Fault(f"{name}, {key}", f"found {str(each)[:60]!r}, {expected}")])
        at[axis] = start + moved
    return read_mount(document)


def put(document: Document, steps: list[Step], value: object) -> Document:
    """The document with a value put where some steps lead, or taken away where it is None."""
    part: Any = document
    for step in steps[:-1]:
        if isinstance(part, dict):
            part.setdefault(step, {})
        part = part[step]
    last = steps[-1]
    if value is None and isinstance(part, dict):
        part.pop(last, None)
    else:
        part[last] = value
    return document


def _at(document: Document, steps: list[Step]) -> Any:  # noqa: ANN401 - any JSON value
    part: Any = document
    for step in steps:
        part = part[step]
    return part


def _plain(value: object, measure: Measure | None, place: str) -> Any:  # noqa: ANN401 - any JSON value
    """A value of a script as the document has it: no NumPy, and text that says a quantity as its number."""
    if hasattr(value, "tolist"):
        value = value.tolist()
    if isinstance(value, numbers.Real) and not isinstance(value, bool | int | float):
        value = float(value)
    if isinstance(value, list | tuple):
        if measure and len(value) != 2:
            text = f"found {len(value)} numbers; give one, and go through many with sweep(lambda each: ..., many)"
            raise BadDocument([Fault(place, text)])
        return [_plain(each, measure, place) for each in value]
    if isinstance(value, str) and measure:
        number = read_typed(value, measure)
        return value if number is None else number
    return value


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
    pairs = {f"{first.id} and {second.id}": (first, second) for first, second in pairs_of(mount)}
    if name not in pairs:
        raise no_such("", "pair of cylinders", name, pairs)
    for cylinder in pairs[name]:
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
    found: Document | None = next((each for each in document["members"] if each["id"] == name), None)
    if found is None:
        raise no_such("", "member", name, [each["id"] for each in document["members"]])
    return found


def _joint(mount: Mount, document: Document, name: str) -> Document:
    joint: Document = _at(document, steps_of_joint(mount, name))
    return joint


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
