"""Formulas as MathML: SymPy prints each one once with a slot for every symbol, filled with names or with numbers.

SymPy sees symbols of this code only, never a word of the user's.
"""

import html
import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property

import sympy as sp
from sympy.printing.mathml import MathMLPresentationPrinter

from app.document.units import FORMULA_UNITS, FormulaQuantity, System

_DIGITS = 5
_ZERO = 1e-9
_GROUPED = 10_000
_NEWTONS_PER_KILONEWTON = 1000.0
_SLOT = re.compile("<mi>\ue000(.*?)\ue001</mi>")
_ALONE = re.compile(
    "^(?:<mrow>)*<mi>\ue000|<mfrac><mi>\ue000|<mo>\\|</mo><mi>\ue000|<mi>\ue000(?=[^\ue001]*\ue001</mi></mfrac>)"
)
"""Slots in which a negative number needs no brackets: first of all, alone in a fraction's half, between bars."""


class _Printer(MathMLPresentationPrinter):  # type: ignore[misc]
    """SymPy's printer with slots for symbols, and sums that begin with what is added."""

    def _as_ordered_terms(self, expr: sp.Expr, order: str | None = None) -> list[sp.Expr]:
        terms: list[sp.Expr] = super()._as_ordered_terms(expr, order=order)
        return sorted(terms, key=lambda term: bool(term.could_extract_minus_sign()))

    def _print_Symbol(self, sym: sp.Symbol, style: str = "plain") -> object:
        item = self.dom.createElement("mi")
        item.appendChild(self.dom.createTextNode(f"\ue000{sym.name}\ue001"))
        return item


def _without_entities(printed: str) -> str:
    """Named entities as characters, of which XML knows only its own five; and true minus signs."""
    plain = re.sub(r"&(?!lt;|gt;|amp;|quot;|apos;)#?\w+;", lambda found: html.unescape(found[0]), printed)
    return plain.replace("<mo>-</mo>", "<mo>−</mo>")


@cache
def name_of(symbol: str) -> str:
    """A symbol's name as MathML."""
    return _without_entities(MathMLPresentationPrinter().doprint(sp.Symbol(symbol)))


@dataclass(frozen=True, eq=False)
class Law:
    """One formula: the symbol it gives and the expression it takes."""

    symbol: sp.Symbol
    expression: sp.Expr

    @property
    def name(self) -> str:
        """The name of the symbol it gives."""
        return str(self.symbol.name)

    @cached_property
    def takes(self) -> tuple[str, ...]:
        """The names of the symbols it takes, in alphabetical order; none of a sum over a list."""
        if self.expression.has(sp.Sum):
            return ()
        return tuple(sorted(symbol.name for symbol in self.expression.free_symbols))

    @cached_property
    def _slots(self) -> str:
        return _without_entities(_Printer({"mul_symbol": "dot"}).doprint(self.expression))

    @cached_property
    def formula(self) -> str:
        """MathML in symbols: symbol = expression."""
        return f"<mrow>{name_of(self.name)}<mo>=</mo>{_SLOT.sub(lambda found: name_of(found[1]), self._slots)}</mrow>"

    def with_numbers(self, numbers: Mapping[str, float]) -> str:
        """MathML of the expression with numbers put in for its symbols."""

        def fill(name: str) -> str:
            return number(numbers[name.removeprefix("!")], inside=not name.startswith("!"))

        marked = _ALONE.sub(lambda found: f"{found[0]}!", self._slots)
        return _SLOT.sub(lambda found: fill(found[1]), marked)


def outward(value: float, quantity: FormulaQuantity, system: System) -> float:
    """A value in the units of a system."""
    return value / FORMULA_UNITS[quantity][system][1]


def unit(quantity: FormulaQuantity, system: System) -> str:
    """The unit of a quantity in a system."""
    return FORMULA_UNITS[quantity][system][0]


def digits(value: float) -> str:
    """The size of a number to five digits, without idle zeros."""
    size = abs(value)
    if size < _ZERO:
        return "0"
    places = max(0, _DIGITS - 1 - math.floor(math.log10(size)))
    shown = f"{size:.{places}f}"
    if size >= _GROUPED:
        shown = f"{size:,.{places}f}".replace(",", "\u2009")
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def number(value: float, inside: bool = False) -> str:
    """A number as MathML; ``inside`` an expression a negative one stands in brackets."""
    shown = digits(value)
    plain = f"<mn>{shown}</mn>"
    if value >= 0 or shown == "0":
        return plain
    # A row of its own makes the minus a sign, which stands close to its number, and not a difference.
    negative = f"<mrow><mo>−</mo>{plain}</mrow>"
    return f"<mrow><mo>(</mo>{negative}<mo>)</mo></mrow>" if inside else negative


def text(value: float, quantity: FormulaQuantity, system: System) -> str:
    """A number with its unit as text; large forces in kN too, as the readout shows them."""
    shown, name = bare(value, quantity, system), unit(quantity, system)
    if name == "N" and abs(value) >= _NEWTONS_PER_KILONEWTON:
        return f"{shown} N = {bare(value / _NEWTONS_PER_KILONEWTON, quantity, system)} kN"
    return f"{shown} {name}" if name else shown


def bare(value: float, quantity: FormulaQuantity, system: System) -> str:
    """A number as text without its unit."""
    converted = outward(value, quantity, system)
    shown = digits(converted)
    return f"−{shown}" if converted < 0 and shown != "0" else shown


def added(numbers: Sequence[float]) -> str:
    """MathML of a sum of numbers, each 0 or more."""
    return f"<mrow>{'<mo>+</mo>'.join(number(each) for each in numbers)}</mrow>"


def matrix(rows: Iterable[Iterable[float]]) -> str:
    """MathML of a table of numbers in square brackets."""
    cells = ("".join(f"<mtd>{number(each)}</mtd>" for each in row) for row in rows)
    body = "".join(f"<mtr>{row}</mtr>" for row in cells)
    return f"<mrow><mo>[</mo><mtable>{body}</mtable><mo>]</mo></mrow>"
