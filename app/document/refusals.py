"""Why a mount document is refused: every fault with its place and what would be right.

Faults of shape (missing keys, wrong types, numbers out of range) come from the document's models; faults of meaning
(a body that is not there, ends that coincide) are looked for in whatever parts are sound, so that one reading of a
document reports them all.
"""

import copy
import json
from collections.abc import Iterator
from typing import Annotated, Any, TypeVar, get_args

from pydantic import BaseModel, Field, TypeAdapter, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from app.document.dimensions import BLADE_ENDS, Dimension, faults_of_dimensions
from app.document.errors import Fault
from app.document.messages import Value, word
from app.document.models import NAMED, WEIGHED, Blade, Body, Mount, Oil, Sensors, Tyres
from app.document.outlines import BodyOutline, faults_of_outline
from app.document.parts import BLADE, COINCIDENT_MM, FRAME, Point
from app.members import KINDS, AnyMember

_KINDS_LISTED = ", ".join(f"'{kind}'" for kind in list(KINDS)[:-1]) + f" or '{list(KINDS)[-1]}'"
_MEMBER: TypeAdapter[AnyMember] = TypeAdapter(Annotated[AnyMember, Field(discriminator="kind")])
_BLADE = TypeAdapter(Blade)
_SENSORS = TypeAdapter(Sensors)
_BODY = TypeAdapter(Body)
_TYRES = TypeAdapter(Tyres)
_OIL = TypeAdapter(Oil)
_DIMENSION = TypeAdapter(Dimension)
_OUTLINE = TypeAdapter(BodyOutline)
_T = TypeVar("_T")


# Faults of shape


def fault_of_shape(detail: ErrorDetails) -> Fault:
    """What the models found wrong, in words."""
    steps = [step for number, step in enumerate(detail["loc"]) if not _is_tag(detail["loc"], number)]
    place = ""
    for step in steps:
        place += f"[{step}]" if isinstance(step, int) else f".{step}" if place else str(step)
    text, values = _sentence(detail)
    return Fault(place[:200], text, values, detail["type"].replace("_", "-"))


def _is_tag(steps: tuple[int | str, ...], number: int) -> bool:
    """Whether a step is a union's tag, which pydantic puts after ``members[i]`` and ``bodies[i]``."""
    if number != 2 or not isinstance(steps[1], int):
        return False
    return steps[number] in {"members": tuple(KINDS), "bodies": (NAMED, WEIGHED)}.get(str(steps[0]), ())


def _sentence(detail: ErrorDetails) -> tuple[str, dict[str, Value]]:
    """The sentence with its values: what was found, what is expected, and what the field means."""
    kind, limits, field = detail["type"], detail.get("ctx", {}), _field(detail["loc"])
    extra = field.json_schema_extra if field and isinstance(field.json_schema_extra, dict) else {}
    meaning = str(extra.get("meaning") or (field.description if field else "") or "")
    found = _value(detail["input"], extra)
    values = {"found": found, "meaning": word(meaning)}
    expected = ": {meaning}" if meaning else ""

    def with_limit(text: str, limit: str) -> tuple[str, dict[str, Value]]:
        return text + expected, values | {"limit": _value(limits[limit], extra)}

    match kind:
        case "missing":
            return f"is missing; give it{expected}", values
        case "extra_forbidden":
            known = {"known": word(_known_keys(detail["loc"]))}
            return "is no key of a mount document here; known keys are {known}", known
        case "union_tag_not_found":
            return f"has no kind; give kind: {_KINDS_LISTED}", {}
        case "union_tag_invalid":
            return f"has an unknown kind; give {_KINDS_LISTED}", {}
        case "finite_number":
            return f"found {{found}}, expected a finite number{expected}", values
        case "greater_than":
            return with_limit("found {found}, expected more than {limit}", "gt")
        case "greater_than_equal":
            return with_limit("found {found}, expected {limit} or more", "ge")
        case "less_than_equal":
            return with_limit("found {found}, expected {limit} or less", "le")
        case "string_too_short":
            return f"is empty; give at least one character{expected}", values
        case "string_pattern_mismatch":
            return f"found {{found}}; use no '/' and no control characters{expected}", values
        case "too_short":
            least: dict[str, Value] = {"least": (limits["min_length"], "count")}
            return f"has too few entries; {{least}} are the least{expected}", values | least
        case "string_too_long" | "too_long":
            what = "characters" if kind == "string_too_long" else "entries"
            most: dict[str, Value] = {"most": (limits["max_length"], "count")}
            return f"has too many {what}; {{most}} are the most{expected}", values | most
        case _:
            wanted = _PLAIN_TYPES.get(kind) or detail["msg"].removeprefix("Input should be ")
            return f"found {{found}}, expected {wanted}{expected}", values


def _value(found: object, extra: dict[str, Any]) -> Value:
    """What was found: a number with what its field measures, or else as it stands in the document."""
    number = isinstance(found, int | float) and not isinstance(found, bool) and abs(found) < 1e15
    if number and "measure" in extra:
        return float(found), extra["measure"]  # type: ignore[arg-type]  # a number, as just seen
    return word(f"{found:g}" if number else _shown(found))


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
            model = KINDS.get(step, model)
        elif model is not None:
            yield model, step
            field = model.model_fields.get(step)
            model = _model_in(field.annotation) if field else None


def _model_in(annotation: object) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = [_model_in(part) for part in get_args(annotation)]
    return next((model for model in inner if model), None)


def _field(steps: tuple[int | str, ...]) -> FieldInfo | None:
    named = list(_models_along(steps))
    return named[-1][0].model_fields.get(named[-1][1]) if named else None


def _known_keys(steps: tuple[int | str, ...]) -> str:
    model = list(_models_along(steps))[-1][0]
    return ", ".join(model.model_fields)


# Faults of meaning


def faults_of_meaning(document: object) -> list[Fault]:
    """What a document means that cannot be, in whatever parts of it are sound."""
    bodies = [_name_of(each) for _, each in _entries(document, "bodies")]
    known = {FRAME, BLADE, *(name.strip() for name in bodies if isinstance(name, str))}
    faults = [*_repeated("bodies[{}]", enumerate(bodies), "body", (FRAME, BLADE))]
    for number, raw in _entries(document, "bodies"):
        if (body := _validated(_BODY, raw)) and (body.mass is None) != (body.mass_centre is None):
            faults.append(_half_a_weight(f"bodies[{number}]", body))
    if tyres := _sound(_TYRES, document, "tyres"):
        faults += _tyres_together(tyres)
    if oil := _sound(_OIL, document, "oil"):
        faults += _air_without_pressure(oil)
    joints: dict[str, Point] = {}
    whole = True
    if blade := _sound(_BLADE, document, "blade"):
        faults += _left_of_right("blade", blade.left, blade.right)
        joints |= {BLADE_ENDS["left"]: blade.left, BLADE_ENDS["right"]: blade.right}
    if sensors := _sound(_SENSORS, document, "sensors"):
        faults += _left_of_right("sensors", sensors.left, sensors.right)
    for number, raw in _entries(document, "members"):
        if member := _validated(_MEMBER, raw):
            faults += _faults_of_member(f"members[{number}]", member, known)
            joints |= {name: at for name, _, at in member.joints}
        else:
            whole = False
    if whole and blade:
        dimensions = [(number, _validated(_DIMENSION, raw)) for number, raw in _entries(document, "dimensions")]
        faults += faults_of_dimensions([(number, each) for number, each in dimensions if each], joints)
    for number, raw in _entries(document, "outlines"):
        if outline := _validated(_OUTLINE, raw):
            faults += faults_of_outline(f"outlines[{number}]", outline, known)
    faults += _repeated("members[{}].id", _named(document, "members", "id"), "member id")
    faults += _repeated("allowances[{}].label", _named(document, "allowances", "label"), "label")
    return faults


def _name_of(body: object) -> object:
    """The name of a body that stands in the document as its name alone or as an object."""
    return (
        body if isinstance(body, str) else body.get("name") if isinstance(body, dict) else getattr(body, "name", None)
    )


def _half_a_weight(place: str, body: Body) -> Fault:
    missing, given = ("mass_centre", "mass") if body.mass_centre is None else ("mass", "mass_centre")
    text = "'{name}' has {given} without {missing}; give both, or neither"
    values = {"name": word(body.name), "given": word(given), "missing": word(missing)}
    return Fault(f"{place}.{missing}", text, values, "half-a-weight")


def _tyres_together(tyres: Tyres) -> Iterator[Fault]:
    if tyres.right - tyres.left > COINCIDENT_MM:
        return
    text = "the left one at x = {left} is not to the left of the right one at x = {right}; swap them or move them apart"
    values: dict[str, Value] = {"left": (tyres.left, "fine"), "right": (tyres.right, "fine")}
    yield Fault("tyres.left", text, values, "left-not-left")


def _air_without_pressure(oil: Oil) -> Iterator[Fault]:
    if oil.preloaded and oil.entrained_air and oil.trapped_pressure is None:
        text = (
            "is missing; give the absolute pressure of the trapped oil, or leave entrained_air out: "
            "how stiff air makes preloaded oil depends on it"
        )
        yield Fault("oil.trapped_pressure", text, {}, "air-without-pressure")


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
    text = "the left end at x = {left} is not to the left of the right end at x = {right}; swap them or move them apart"
    return [Fault(f"{place}.left", text, {"left": (left[0], "fine"), "right": (right[0], "fine")}, "left-not-left")]


def _repeated(place: str, entries: Any, what: str, taken: tuple[str, ...] = ()) -> Iterator[Fault]:  # noqa: ANN401
    seen = set(taken)
    for number, name in entries:
        if not isinstance(name, str):
            continue
        if name.strip() in seen:
            text = f"the {what} '{{name}}' is used twice; give each its own name"
            yield Fault(place.format(number), text, {"name": word(name.strip()[:60])}, "used-twice")
        seen.add(name.strip())


def _faults_of_member(place: str, member: AnyMember, known: set[str]) -> Iterator[Fault]:
    first, second = member.joined
    for body, key in zip((first, second), member.BODIES, strict=True):
        if body not in known:
            values = {"body": word(body), "known": word(", ".join(sorted(known)))}
            yield Fault(f"{place}.{key}", "there is no body '{body}'; use one of {known}", values, "no-such-body")
    if first == second:
        values = {"name": word(member.id), "body": word(first)}
        text = "'{name}' joins '{body}' to itself; give two different bodies"
        yield Fault(f"{place}.{member.BODIES[1]}", text, values, "joins-itself")
    yield from member.faults(place)
