"""Reads formulas as a browser gets them: MathML evaluated with numbers for its symbols, without SymPy."""

import math
import xml.etree.ElementTree as ElementTree
from collections.abc import Mapping

TOKENS = {"mi", "mn", "mo", "mtext"}
LAYOUT = {"mrow", "mfrac", "msub", "msup", "msubsup", "msqrt", "munder", "mover", "munderover", "mtable", "mtr", "mtd"}


def read(mathml: str) -> ElementTree.Element:
    return ElementTree.fromstring(f"<math>{mathml}</math>")  # noqa: S314 - the project's own output


def is_plain(mathml: str) -> bool:
    """Whether it holds formula elements only, without attributes, and text in tokens only."""
    return all(
        each.tag in TOKENS | LAYOUT and not each.attrib and (each.tag in TOKENS or not each.text)
        for each in read(mathml).iter()
        if each.tag != "math"
    )


def right_side(formula: str) -> str:
    """What stands after the first equals sign of a row."""
    row = read(formula)[0]
    texts = [each.text if each.tag == "mo" else None for each in row]
    parts = list(row)[texts.index("=") + 1 :]
    return "".join(ElementTree.tostring(each, "unicode") for each in parts)


def value_of(mathml: str, symbols: Mapping[str, float] | None = None) -> float:
    """The value of an expression; ``symbols`` gives numbers by the MathML of a symbol."""
    known = {ElementTree.tostring(read(name), "unicode"): value for name, value in (symbols or {}).items()}
    return _Reader(known).row(list(read(mathml)))


class _Reader:
    """Sums of products of items, as they stand in a row."""

    def __init__(self, known: Mapping[str, float]) -> None:
        self.known = known

    def row(self, items: list[ElementTree.Element]) -> float:
        value, rest = self.total(items)
        assert not rest, f"left over: {[each.tag for each in rest]}"
        return value

    def total(self, items: list[ElementTree.Element]) -> tuple[float, list[ElementTree.Element]]:
        sign = 1.0
        if items[0].text == "−" and items[0].tag == "mo":
            sign, items = -1.0, items[1:]
        value, items = self.product(items)
        value *= sign
        while items and items[0].text in ("+", "−"):
            sign = 1.0 if items[0].text == "+" else -1.0
            more, items = self.product(items[1:])
            value += sign * more
        return value, items

    def product(self, items: list[ElementTree.Element]) -> tuple[float, list[ElementTree.Element]]:
        value, items = self.item(items)
        while items and items[0].text == "·":
            more, items = self.item(items[1:])
            value *= more
        return value, items

    def item(self, items: list[ElementTree.Element]) -> tuple[float, list[ElementTree.Element]]:
        first, rest = items[0], items[1:]
        if first.text == "log":
            return math.log(self.element(rest[0])), rest[1:]
        if first.text == "max":
            return self.largest(list(rest[0])[1:-1]), rest[1:]
        if first.tag != "mo":
            return self.element(first), rest
        if first.text == "−":
            value, rest = self.item(rest)
            return -value, rest
        value, rest = self.total(rest)
        assert rest[0].text == {"(": ")", "|": "|", "⌈": "⌉"}[first.text or ""]
        return {"(": value, "|": abs(value), "⌈": float(math.ceil(value))}[first.text or ""], rest[1:]

    def largest(self, items: list[ElementTree.Element]) -> float:
        """The largest of what stands between commas."""
        marks = [place for place, each in enumerate(items) if each.text == ","]
        parts = zip([-1, *marks], [*marks, len(items)], strict=True)
        return max(self.row(items[start + 1 : stop]) for start, stop in parts)

    def element(self, element: ElementTree.Element) -> float:
        alone = ElementTree.Element("math")
        alone.append(element)
        name = ElementTree.tostring(alone, "unicode")
        if name in self.known:
            return self.known[name]
        if element.tag == "mn":
            return float((element.text or "").replace("\u2009", ""))
        if element.tag == "mi":
            return {"π": math.pi}[element.text or ""]
        if element.tag == "mfrac":
            return self.element(element[0]) / self.element(element[1])
        if element.tag == "msup":
            return float(self.element(element[0]) ** self.element(element[1]))
        inside = self.row(list(element))
        return {"mrow": inside, "msqrt": math.sqrt(abs(inside))}[element.tag]
