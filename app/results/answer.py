"""What answers are made of: plain objects whose fields say their meaning, unit and sign below their names.

The types of the answer are what the results return; /openapi.json and the page's types are made from them. A number
that cannot be computed is None, and ``absent`` says why, by its path.
"""

import ast
import inspect
import textwrap
from dataclasses import dataclass, is_dataclass
from functools import cache
from itertools import pairwise
from typing import Any, TypeVar, dataclass_transform

from pydantic import ConfigDict
from pydantic_core import to_jsonable_python

_Answer = TypeVar("_Answer")


@dataclass_transform()
def answer(kind: type[_Answer]) -> type[_Answer]:
    """A class of fields: quick to make, and described to whoever reads the schema by the lines below its fields.

    An answer has all of its fields, those with a default too.
    """
    config = ConfigDict(json_schema_extra=_describe, json_schema_serialization_defaults_required=True)
    kind.__pydantic_config__ = config  # type: ignore[attr-defined]
    return dataclass(slots=True)(kind)


def _describe(schema: dict[str, Any], kind: type) -> None:
    """Give the fields their descriptions. Done only where a schema is asked for: reading sources takes its time."""
    for each in filter(is_dataclass, kind.__mro__):
        for name, words in _lines_below(each).items():
            schema["properties"][name].setdefault("description", words)


@cache
def _lines_below(kind: type) -> dict[str, str]:
    """What stands below each field of a class in its source."""
    [drawn] = ast.parse(textwrap.dedent(inspect.getsource(kind))).body
    found = {}
    for field, below in pairwise(drawn.body if isinstance(drawn, ast.ClassDef) else []):
        match field, below:
            case ast.AnnAssign(target=ast.Name(id=name)), ast.Expr(value=ast.Constant(value=str(words))):
                found[name] = inspect.cleandoc(words)
    return found


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
