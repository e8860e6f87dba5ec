"""What answers are made of: plain objects whose fields say their meaning, unit and sign below their names.

The types of the answer are what the results return; /openapi.json and the page's types are made from them. A number
that cannot be computed is None, and ``absent`` says why, by its path.
"""

from dataclasses import dataclass, is_dataclass
from typing import Any, TypeVar, dataclass_transform

from pydantic import ConfigDict, TypeAdapter
from pydantic_core import to_jsonable_python

_Answer = TypeVar("_Answer")


@dataclass_transform()
def answer(kind: type[_Answer]) -> type[_Answer]:
    """A class of fields: quick to make, and described to whoever reads the schema by the lines below its fields.

    An answer has all of its fields, those with a default too.
    """
    config = ConfigDict(
        use_attribute_docstrings=True,
        json_schema_extra=_describe_what_is_inherited,
        json_schema_serialization_defaults_required=True,
    )
    kind.__pydantic_config__ = config  # type: ignore[attr-defined]
    return dataclass(slots=True)(kind)


def _describe_what_is_inherited(schema: dict[str, Any], kind: type) -> None:
    """Give inherited fields the descriptions of the class they come from: only a class's own lines are read."""
    for base in kind.__bases__:
        inherited = TypeAdapter(base).json_schema()["properties"] if is_dataclass(base) else {}
        for name, field in inherited.items():
            if "description" in field:
                schema["properties"][name].setdefault("description", field["description"])


def as_plain(made: object) -> Any:  # noqa: ANN401 - any JSON value
    """An answer as plain dictionaries, lists, numbers and words."""
    return to_jsonable_python(made)


@answer
class Heights:
    """A value for each end of the blade."""

    left: float
    """At the left end, + upward."""
    right: float
    """At the right end, + upward."""
