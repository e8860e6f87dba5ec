"""The mount document, field by field, as its models say it: nothing of it is written a second time here."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from app.document.models import Mount
from app.document.units import DOCUMENT_UNITS, MINUS
from app.members import KINDS

_OBJECT = "#/$defs/"
_SPACE = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True)
class FieldWords:
    """One field of a part.

    ``takes``: what it takes, within its limits; ``default``: what stands for it where it is left out, or that it is
    required; ``label``: what it is called on a form. Unit and label are empty where there is none.
    """

    key: str
    takes: str
    unit: str
    default: str
    label: str
    meaning: str


@dataclass(frozen=True)
class PartWords:
    """One object of the document: the model it is read into, where it stands, what it is, and its fields."""

    model: str
    place: str
    meaning: str
    fields: tuple[FieldWords, ...]

    @property
    def head(self) -> str:
        """Where it stands, in words for a heading."""
        return self.place or "the document"


def parts() -> tuple[PartWords, ...]:
    """Every object of a document, the document itself first, each before what stands in it."""
    schema = Mount.model_json_schema()
    return tuple(_parts(schema, schema["$defs"], Mount.__name__, "", set()))


def _parts(
    schema: dict[str, Any], models: dict[str, Any], name: str, place: str, told: set[str]
) -> Iterator[PartWords]:
    told.add(name)
    required = schema.get("required", ())
    fields = tuple(_field(key, field, key in required) for key, field in schema["properties"].items())
    head = f'{place}, "{name.lower()}"' if name.lower() in KINDS else place
    yield PartWords(name, head, schema["description"].replace("``", "").splitlines()[0], fields)
    for key, field in schema["properties"].items():
        inner = f"{place}.{key}" if place else key
        shape, several = _alone(field), ""
        if shape.get("type") == "array":
            several = "[ ]"
        for model in _models_in(field):
            if model not in told:
                yield from _parts(models[model], models, model, inner + several, told)


def _models_in(shape: Any) -> list[str]:  # noqa: ANN401 - any part of a schema
    """The models a field's schema names, in their order."""
    if isinstance(shape, dict):
        own = [shape["$ref"].removeprefix(_OBJECT)] if "$ref" in shape else []
        return own + [name for key, part in shape.items() if key != "discriminator" for name in _models_in(part)]
    return [name for part in shape for name in _models_in(part)] if isinstance(shape, list) else []


def _field(key: str, schema: dict[str, Any], required: bool) -> FieldWords:
    measure = schema.get("measure")
    return FieldWords(
        key,
        takes=_takes(_alone(schema)),
        unit=DOCUMENT_UNITS[measure] if measure else "",
        default="required" if required else _default(schema["default"]),
        label=schema.get("label", ""),
        meaning=schema.get("meaning") or schema["description"],
    )


def _alone(schema: dict[str, Any]) -> dict[str, Any]:
    """What a field takes besides null, which is the same as leaving it out."""
    return next((each for each in schema.get("anyOf", ()) if each.get("type") != "null"), schema)


def _takes(shape: dict[str, Any]) -> str:
    match shape:
        case {"const": value}:
            return _written(value)
        case {"enum": values}:
            return " or ".join(_written(value) for value in values)
        case {"prefixItems": [first, _]}:
            return f"[ ] of two: {_takes(first)}"
        case {"type": "array", "items": items}:
            return f"[ ] of up to {shape['maxItems']}: {_takes(items)}"
        case {"type": "number"}:
            return f"number, {_number(shape['minimum'])} to {_number(shape['maximum'])}"
        case {"type": "string"}:
            slash = ", no '/' and no control characters" if "pattern" in shape else ""
            return f"text, {shape.get('minLength', 0)} to {shape['maxLength']} characters{slash}"
        case _:
            return "object { }"


def _default(value: object) -> str:
    return "none" if value in (None, []) else _written(value)


def _written(value: object) -> str:
    """A value as it stands in a document."""
    return f'"{value}"' if isinstance(value, str) else _number(value)


def _number(value: Any) -> str:  # noqa: ANN401 - a number of the schema
    return f"{value:,.10g}".replace(",", _SPACE).replace("-", MINUS)


PARTS = parts()

_COLUMNS = ("field", "takes", "unit", "default", "on the page", "meaning")


def markdown() -> str:
    """The same as text: Markdown, a table for every part."""
    return "# The mount document\n\n" + "\n\n".join(_table(part) for part in PARTS) + "\n"


def _table(part: PartWords) -> str:
    rows = [(f"`{each.key}`", each.takes, each.unit, each.default, each.label, each.meaning) for each in part.fields]
    lines = [_row(_COLUMNS), _row(["---"] * len(_COLUMNS)), *(_row(row) for row in rows)]
    return f"## {part.head}\n\n{part.meaning}\n\n" + "\n".join(lines)


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(cell.replace(_SPACE, ' ').replace('|', chr(92) + '|') for cell in cells)} |"
