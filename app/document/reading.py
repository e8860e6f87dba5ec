"""Reading a mount document: from a file, from text, or from a decoded JSON value."""

import json
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from app.document.errors import BadDocument, Fault, Unreadable
from app.document.models import Mount
from app.document.refusals import fault_of_shape, faults_of_meaning

_MOST_PARTS = 20_000


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
            faults = [fault_of_shape(detail) for detail in error.errors(include_url=False, include_context=True)]
        faults += faults_of_meaning(sound or document)
    except RecursionError:
        faults = [Fault("", "is nested too deeply to be a mount document; see the README for its parts")]
    if faults or sound is None:
        raise BadDocument([_clean(at, fault) for fault in faults])
    return sound


def _clean(at: str, fault: Fault) -> Fault:
    """A fault under a place, with half surrogates, which no answer can carry, replaced."""

    def whole(words: str) -> str:
        return words.encode("utf-8", "replace").decode()

    values = {
        name: (whole(each[0]) if isinstance(each[0], str) else each[0], each[1]) for name, each in fault.values.items()
    }
    return Fault(whole(_under(at, fault.place)), whole(fault.text), values, fault.code)


def read_file(path: Path | str) -> Mount:
    """Read a document file. Raises Unreadable when there is no readable JSON in it, BadDocument when it is refused."""
    return read_mount(read_json(Path(path), "a mount document"))


def read_json(path: Path, what: str = "a JSON file") -> Any:  # noqa: ANN401 - any JSON value
    """The JSON value a file holds. Raises Unreadable."""
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        raise Unreadable([Fault(str(path), f"cannot be read ({error.strerror}); give the path of {what}")]) from None
    except UnicodeDecodeError:
        raise Unreadable([Fault(str(path), "is not text in UTF-8; save the document as UTF-8 JSON")]) from None
    return decode(text, str(path))


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
