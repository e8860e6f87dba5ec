"""Why a mount document is refused: every fault with its place and what would be right.

Faults of shape (missing keys, wrong types, numbers out of range) come from the document's models; faults of meaning
(a body that is not there, ends that coincide) are looked for in whatever parts are sound, so that one reading of a
document reports them all.
"""

import copy
import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from app.document.errors import BadDocument, Fault, Unreadable
from app.document.models import (
    BLADE,
    COINCIDENT_MM,
    FRAME,
    Blade,
    Cylinder,
    Member,
    Mount,
    Pin,
    Rod,
    Sensors,
    Slide,
    drawn_length,
    joined,
)

KINDS: dict[str | int, type[BaseModel]] = {"pin": Pin, "rod": Rod, "cylinder": Cylinder, "slide": Slide}
_MOST_PARTS = 20_000
_STROKE_SLACK_MM = 1e-6
_MEMBER: TypeAdapter[Pin | Rod | Cylinder | Slide] = TypeAdapter(Member)
_BLADE = TypeAdapter(Blade)
_SENSORS = TypeAdapter(Sensors)
_T = TypeVar("_T")


def read_mount(document: object, at: str = "") -> Mount:
    """Read a decoded JSON document.

    ``at`` is put before every place, for a document inside a larger message. Raises BadDocument with all faults.
    """
    faults: list[Fault] = []
    sound: Mount | None = None
    try:
        try:
            sound = Mount.model_validate(document)
        except ValidationError as error:
            faults = [_fault_of_shape(detail) for detail in error.errors(include_url=False, include_context=True)]
        faults += _faults_of_meaning(sound or document)
    except RecursionError:
        faults = [Fault("", "is nested too deeply to be a mount document; see the README for its parts")]
    if faults or sound is None:
        raise BadDocument([Fault(_clean(_under(at, fault.place)), _clean(fault.message)) for fault in faults])
    return sound


def _clean(words: str) -> str:
    """Half surrogates, which no answer can carry, replaced."""
    return words.encode("utf-8", "replace").decode()


def read_file(path: Path) -> Mount:
    """Read a document file. Raises Unreadable when there is no readable JSON in it, BadDocument when it is refused."""
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        raise Unreadable(
            [Fault(str(path), f"cannot be read ({error.strerror}); give the path of a mount document")]
        ) from None
    except UnicodeDecodeError:
        raise Unreadable([Fault(str(path), "is not text in UTF-8; save the document as UTF-8 JSON")]) from None
    return read_mount(decode(text, str(path)))


def decode(text: str | bytes, name: str = "") -> Any:  # noqa: ANN401 - any JSON value
    """Decode JSON text. Raises Unreadable with the line and column of the first mistake."""
    brackets = text.count("[") + text.count("{") if isinstance(text, str) else text.count(b"[") + text.count(b"{")
    if brackets > _MOST_PARTS:
        message = f"not a document that can be read: too deeply nested, with over {_MOST_PARTS} brackets"
        raise Unreadable([Fault(name, message)])
    try:
        return json.loads(text, object_pairs_hook=_no_key_twice)
    except json.JSONDecodeError as error:
        where = (
            f"{name}, line {error.lineno}, column {error.colno}"
            if name
            else f"line {error.lineno}, column {error.colno}"
        )
        raise Unreadable([Fault(where, f"not valid JSON ({error.msg}); mend the text there")]) from None
    except (RecursionError, UnicodeDecodeError, ValueError) as error:
        reason = str(error) if isinstance(error, _KeyTwice) else "too deeply nested, not UTF-8, or a number too long"
        raise Unreadable([Fault(name, f"not a document that can be read: {reason}")]) from None


class _KeyTwice(ValueError):
    pass


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        twice = next(key for key in keys if keys.count(key) > 1)
        raise _KeyTwice(f"the key '{twice[:60]}' stands twice in one object; keep one")
    return found


def _under(at: str, place: str) -> str:
    if not at or not place:
        return at or place
    return f"{at}{place}" if place.startswith("[") else f"{at}.{place}"


# Faults of shape


def _fault_of_shape(detail: ErrorDetails) -> Fault:
    steps = [step for number, step in enumerate(detail["loc"]) if not _is_tag(detail["loc"], number)]
    place = ""
    for step in steps:
        place += f"[{step}]" if isinstance(step, int) else f".{step}" if place else str(step)
    return Fault(place[:200], _sentence(detail, _meaning(detail["loc"])))


def _is_tag(steps: tuple[int | str, ...], number: int) -> bool:
    """Whether a step is the union's tag, which pydantic puts after ``members[i]``."""
    return number == 2 and steps[0] == "members" and isinstance(steps[1], int) and steps[number] in KINDS


def _sentence(detail: ErrorDetails, meaning: str) -> str:
    kind, found, limits = detail["type"], _shown(detail["input"]), detail.get("ctx", {})
    expected = f": {meaning}" if meaning else ""
    match kind:
        case "missing":
            return f"is missing; give it{expected}"
        case "extra_forbidden":
            return f"is no key of a mount document here; known keys are {_known_keys(detail['loc'])}"
        case "union_tag_not_found":
            return "has no kind; give kind: 'pin', 'rod', 'cylinder' or 'slide'"
        case "union_tag_invalid":
            return "has an unknown kind; give 'pin', 'rod', 'cylinder' or 'slide'"
        case "finite_number":
            return f"found {found}, expected a finite number{expected}"
        case "greater_than":
            return f"found {found}, expected more than {limits['gt']:g}{expected}"
        case "greater_than_equal":
            return f"found {found}, expected {limits['ge']:g} or more{expected}"
        case "less_than_equal":
            return f"found {found}, expected {limits['le']:g} or less{expected}"
        case "string_too_short":
            return f"is empty; give at least one character{expected}"
        case "string_pattern_mismatch":
            return f"found {found}; use no '/' and no control characters{expected}"
        case "string_too_long" | "too_long":
            what = "characters" if kind == "string_too_long" else "entries"
            return f"has too many {what}; {limits['max_length']} are the most{expected}"
        case _:
            wanted = _PLAIN_TYPES.get(kind) or detail["msg"].removeprefix("Input should be ")
            return f"found {found}, expected {wanted}{expected}"


_PLAIN_TYPES = {
    "float_type": "a number",
    "int_type": "a whole number",
    "int_parsing_size": "a smaller number",
    "string_type": "text in quotes",
    "tuple_type": "a list [ ]",
    "model_type": "an object { }",
    "model_attributes_type": "an object { }",
}


def _shown(value: object) -> str:
    text = json.dumps(value, ensure_ascii=False, default=lambda _: "something else")
    return text if len(text) <= 60 else text[:57] + "..."


def _models_along(steps: tuple[int | str, ...]) -> Iterator[tuple[type[BaseModel], str]]:
    """The model each named step is looked up in."""
    model: type[BaseModel] | None = Mount
    for number, step in enumerate(steps):
        if isinstance(step, int):
            continue
        if _is_tag(steps, number):
            model = KINDS[step]
        elif model is not None:
            yield model, step
            field = model.model_fields.get(step)
            model = _model_in(field.annotation) if field else None


def _model_in(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = [_model_in(part) for part in getattr(annotation, "__args__", ())]
    return next((model for model in inner if model), None)


def _meaning(steps: tuple[int | str, ...]) -> str:
    named = list(_models_along(steps))
    if not named:
        return ""
    model, step = named[-1]
    field = model.model_fields.get(step)
    return (field.description or "") if field else ""


def _known_keys(steps: tuple[int | str, ...]) -> str:
    model = list(_models_along(steps))[-1][0]
    return ", ".join(model.model_fields)


# Faults of meaning


def _faults_of_meaning(document: object) -> list[Fault]:
    bodies = [name for _, name in _entries(document, "bodies")]
    known = {FRAME, BLADE, *(name.strip() for name in bodies if isinstance(name, str))}
    faults = [*_repeated("bodies[{}]", enumerate(bodies), "body", (FRAME, BLADE))]
    if blade := _sound(_BLADE, document, "blade"):
        faults += _left_of_right("blade", blade.left, blade.right)
    if sensors := _sound(_SENSORS, document, "sensors"):
        faults += _left_of_right("sensors", sensors.left, sensors.right)
    for number, raw in _entries(document, "members"):
        if member := _validated(_MEMBER, raw):
            faults += _faults_of_member(f"members[{number}]", member, known)
    faults += _repeated("members[{}].id", _named(document, "members", "id"), "member id")
    faults += _repeated("allowances[{}].label", _named(document, "allowances", "label"), "label")
    return faults


def _entry(document: object, key: str) -> Any:  # noqa: ANN401 - a raw JSON value or a part already read
    value = document.get(key) if isinstance(document, dict) else getattr(document, key, None)
    return None if isinstance(value, str | int | float) else value


def _validated(adapter: TypeAdapter[_T], raw: object) -> _T | None:
    """The part read, looking past keys that are unknown or optional and wrong: those are reported already."""
    try:
        return adapter.validate_python(raw)
    except ValidationError as error:
        trimmed = copy.deepcopy(raw)
        for detail in error.errors(include_url=False):
            tagged = bool(detail["loc"]) and detail["loc"][0] in KINDS
            _drop(trimmed, list(detail["loc"][1:] if tagged else detail["loc"]))
    try:
        return adapter.validate_python(trimmed)
    except ValidationError:
        return None


def _drop(value: object, steps: list[int | str]) -> None:
    for step in steps[:-1]:
        inside = step in value if isinstance(value, dict) else isinstance(value, list)
        if not inside:
            return
        value = value[step]  # type: ignore[index]
    if steps and isinstance(value, dict):
        value.pop(steps[-1], None)


def _sound(adapter: TypeAdapter[_T], document: object, key: str) -> _T | None:
    raw = _entry(document, key)
    return None if raw is None else _validated(adapter, raw)


def _entries(document: object, key: str) -> Iterator[tuple[int, Any]]:
    entries = _entry(document, key)
    yield from enumerate(entries if isinstance(entries, list | tuple) else ())


def _named(document: object, key: str, name: str) -> Iterator[tuple[int, object]]:
    for number, raw in _entries(document, key):
        yield number, raw.get(name) if isinstance(raw, dict) else getattr(raw, name, None)


def _left_of_right(place: str, left: tuple[float, float], right: tuple[float, float]) -> list[Fault]:
    if right[0] - left[0] > COINCIDENT_MM:
        return []
    found = f"the left end at x = {left[0]:g} is not to the left of the right end at x = {right[0]:g}"
    return [Fault(f"{place}.left", f"{found}; swap them or move them apart")]


def _repeated(place: str, entries: Any, what: str, taken: tuple[str, ...] = ()) -> Iterator[Fault]:  # noqa: ANN401
    seen = set(taken)
    for number, name in entries:
        if not isinstance(name, str):
            continue
        if name.strip() in seen:
            yield Fault(place.format(number), f"the {what} '{name.strip()[:60]}' is used twice; give each its own name")
        seen.add(name.strip())


def _faults_of_member(place: str, member: Pin | Rod | Cylinder | Slide, known: set[str]) -> Iterator[Fault]:
    first, second = joined(member)
    where = ("joins[0]", "joins[1]") if isinstance(member, Pin | Slide) else ("ends[0].on", "ends[1].on")
    for body, key in zip((first, second), where, strict=True):
        if body not in known:
            yield Fault(f"{place}.{key}", f"there is no body '{body}'; use one of {', '.join(sorted(known))}")
    if first == second:
        yield Fault(f"{place}.{where[1]}", f"'{member.id}' joins '{first}' to itself; give two different bodies")
    if isinstance(member, Slide) and math.hypot(*member.direction) < COINCIDENT_MM:
        yield Fault(f"{place}.direction", "has no length; give the way the guide runs, such as [0, 1] for plumb")
    if isinstance(member, Rod | Cylinder):
        yield from _faults_of_length(place, member)


def _faults_of_length(place: str, member: Rod | Cylinder) -> Iterator[Fault]:
    length = drawn_length(member)
    if length < COINCIDENT_MM:
        yield Fault(f"{place}.ends", f"the two ends of '{member.id}' coincide; move one, or join the bodies with a pin")
    if not isinstance(member, Cylinder):
        return
    if member.bore <= member.rod:
        yield Fault(
            f"{place}.bore",
            f"the bore of {member.bore:g} mm is not larger than the rod of {member.rod:g} mm; make it larger",
        )
    longest = member.retracted + member.stroke
    if length < COINCIDENT_MM or member.retracted - _STROKE_SLACK_MM <= length <= longest + _STROKE_SLACK_MM:
        return
    side = "shorter than its closed length" if length < member.retracted else "longer than its full reach"
    yield Fault(
        f"{place}.ends",
        f"'{member.id}' is drawn {length:.1f} mm long, {side}; it can be {member.retracted:g} to {longest:g} mm: "
        "move an end, or change retracted or stroke",
    )
