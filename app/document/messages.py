"""Messages: one sentence with places for its values, which whoever shows it fills in with the reader's units.

No finished sentence is ever searched for numbers to convert: a value carries what it measures to the last step.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Literal, TypeAlias

from pydantic import ConfigDict

from app.document.units import Measure, System, amount, in_trade

Word: TypeAlias = Literal["joint", "word"]
"""What is no number: the name of a joint, which the page shows in its own words, and any other word, shown as it is."""

Value: TypeAlias = tuple[float | str, Measure | Word]
"""A number in document units with what it measures, or a word."""

_PLACE = re.compile(r"\{(\w+)\}")


@dataclass(slots=True)
class Message:
    """A warning, reason or note."""

    __pydantic_config__: ClassVar = ConfigDict(
        use_attribute_docstrings=True, json_schema_serialization_defaults_required=True
    )

    code: str
    """Stable name of the kind of message."""
    text: str
    """One sentence with ``{name}`` where a value stands."""
    members: list[str] = field(default_factory=list)
    """The members concerned, by id."""
    values: dict[str, Value] = field(default_factory=dict)
    """What stands at each place: [number, quantity], or [words, 'joint' or 'word']."""

    def filled(self, system: System = "metric") -> str:
        """The whole sentence in the units of a system."""
        return filled(self.text, self.values, system)


def filled(text: str, values: Mapping[str, Value], system: System = "metric") -> str:
    """A sentence with its values put in; what stands in braces and is no value stays as it is."""

    def put_in(found: re.Match[str]) -> str:
        if found[1] not in values:
            return found[0]
        value, what = values[found[1]]
        if isinstance(value, str) or what in ("joint", "word"):
            return str(value)
        return amount(value, what, system)  # type: ignore[arg-type]  # words are done with above

    return _PLACE.sub(put_in, in_trade(text, system))


def word(text: str) -> Value:
    """A word of the user's, such as a member's name, as a value."""
    return text, "word"
