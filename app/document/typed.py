"""Numbers as people type them: ``29.7e6``, ``29,700,000``, ``29700 ksi``, ``8' 0 1/2``, ``1-1/4 in``, ``0,5``.

The page reads what is typed into its fields by the same rules (``static/values/units.js``); one table of examples,
``tests/typed_numbers.json``, holds for both. What could be two numbers is read as neither: ``1,200`` may be
1.2 or 1200.
"""

import math
import re

from app.document.units import MM_PER_FOOT, MM_PER_INCH, QUANTITIES, TYPED, Measure, System

_LONGEST = 60
_SIGNS = str.maketrans({"−": "-", "–": "-", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'"})
_VULGAR = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}

_FEET = re.compile(r"([0-9]+) ?(?:'|ft|feet) ?-? ?([0-9][0-9 ./-]*?) ?(?:\"|''|in|inch|inches)?", re.IGNORECASE)
_AMOUNT = re.compile(r"([0-9.,][0-9.,/ -]*(?:e[+-]?[0-9]+)?) ?([^0-9 ].*)?", re.IGNORECASE)
_MIXED = re.compile(r"(?:([0-9]+)(?: ?- ?| ))?([0-9]+(?:\.[0-9]+)?) ?/ ?([0-9]+)")
_PARTED = {
    ",": re.compile(r"[0-9]{1,3}(?:(?:,[0-9]{3}){2,}(?:\.[0-9]*)?|(?:,[0-9]{3})+\.[0-9]*)"),
    ".": re.compile(r"[0-9]{1,3}(?:(?:\.[0-9]{3}){2,}(?:,[0-9]*)?|(?:\.[0-9]{3})+,[0-9]*)"),
    " ": re.compile(r"[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]*)?"),
}
"""Thousands, parted by a sign that can be nothing else there."""
_UNSURE = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_DECIMAL = re.compile(r"(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)(?:e[+-]?[0-9]+)?", re.IGNORECASE)


def read_typed(text: str, measure: Measure, system: System = "metric") -> float | None:
    """A typed quantity in document units, or None where it is no finite number of that kind.

    A bare number is in the unit the system shows the quantity in.
    """
    plain = text.translate(_SIGNS)
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, fraction)
    plain = " ".join(plain.split())
    if len(plain) > _LONGEST:
        return None
    size = _size(plain.removeprefix("-" if plain.startswith("-") else "+").lstrip(), measure, system)
    if size is None or not math.isfinite(size):
        return None
    return -size if plain.startswith("-") else size


def _size(plain: str, measure: Measure, system: System) -> float | None:
    """A quantity without its sign, in document units."""
    units = TYPED.get(QUANTITIES[measure]["metric"].unit, {})
    if feet := _FEET.fullmatch(plain):
        inches = _figures(feet[2])
        return None if inches is None or "ft" not in units else int(feet[1]) * MM_PER_FOOT + inches * MM_PER_INCH
    amount = _AMOUNT.fullmatch(plain)
    figures = _figures(amount[1].rstrip()) if amount else None
    if amount is None or figures is None:
        return None
    factor = units.get(amount[2].lower()) if amount[2] else QUANTITIES[measure][system].factor
    return None if factor is None else figures * factor


def _figures(plain: str) -> float | None:
    """A number without sign and unit."""
    if mixed := _MIXED.fullmatch(plain):
        return int(mixed[1] or 0) + float(mixed[2]) / int(mixed[3]) if int(mixed[3]) else None
    for sign, form in _PARTED.items():
        if form.fullmatch(plain):
            return float(plain.replace(sign, "").replace(",", "."))
    if _UNSURE.fullmatch(plain) or not _DECIMAL.fullmatch(plain):
        return None
    return float(plain.replace(",", "."))
