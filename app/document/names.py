"""Names that are not there, said with those that are."""

from collections.abc import Iterable
from difflib import get_close_matches

from app.document.errors import Fault, NoSuchName

_MOST_LISTED = 12


def no_such(place: str, what: str, name: str, known: Iterable[str]) -> NoSuchName:
    """The error that ``place`` has no ``what`` called ``name``: with near names, and those there are."""
    names = list(dict.fromkeys(known))
    said = f"there is no {what} '{name[:60]}'"
    if not names:
        return NoSuchName([Fault(place, f"{said}, nor any other")])
    near = get_close_matches(name, names, 3, 0.6)
    meant = f"; did you mean {_quoted(near, ' or ')}? Known are " if near else "; known are "
    more = f" and {len(names) - _MOST_LISTED} more" if len(names) > _MOST_LISTED else ""
    return NoSuchName([Fault(place, f"{said}{meant}{_quoted(names[:_MOST_LISTED])}{more}")])


def no_entry(place: str, number: str, count: int) -> NoSuchName:
    """The error that a list of ``count`` has no entry of that number."""
    has = f"there are {count}, [0] to [{count - 1}]" if count else "there is none"
    return NoSuchName([Fault(place, f"there is no entry [{number[:20]}]; {has}")])


def _quoted(names: Iterable[str], between: str = ", ") -> str:
    return between.join(f"'{each}'" for each in names)
