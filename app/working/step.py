"""One step of the working: its formulas with what they take and give, and the step as plain values."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from app.document.messages import Message
from app.document.parts import Point
from app.document.units import FormulaQuantity, System
from app.working.answer import (
    WorkingCell,
    WorkingColumn,
    WorkingLine,
    WorkingPlace,
    WorkingResult,
    WorkingRow,
    WorkingStep,
    WorkingSymbol,
    WorkingTable,
)
from app.working.formula import Law, added, bare, name_of, outward, text, unit

Path: TypeAlias = tuple[str | int, ...]

_MOST_ADDED = 8
"""A longer sum is left to its table."""


@dataclass(frozen=True)
class Place:
    """What on the sheet a symbol measures: 'length' between two points, 'line' through two, or 'point'; mm."""

    kind: Literal["length", "line", "point"]
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Known:
    """A number a formula takes or gives: its symbol's name, what it is, its value in mm, N and MPa, and its place."""

    name: str
    meaning: str
    value: float
    quantity: FormulaQuantity = "length"
    place: Place | None = None


@dataclass(frozen=True)
class Line:
    """One formula with its numbers. ``path`` is where the readout holds the result; ``added`` the terms of a sum."""

    law: Law
    takes: Mapping[str, Known]
    gives: Known
    path: Path | None = None
    added: tuple[float, ...] = ()

    def as_answer(self, system: System) -> WorkingLine:
        """The line with its numbers put in."""
        given = self.gives
        numbers = {name: outward(each.value, each.quantity, system) for name, each in self.takes.items()}
        put_in = None
        if self.law.takes and not self.law.expression.is_Symbol:
            put_in = self.law.with_numbers(numbers)
        elif 1 < len(self.added) <= _MOST_ADDED:
            put_in = added([outward(each, given.quantity, system) for each in self.added])
        return WorkingLine(
            formula=self.law.formula,
            substituted=f"<mrow><mo>=</mo>{put_in}</mrow>" if put_in else None,
            symbol=given.name,
            meaning=given.meaning,
            result=_result(given, system),
            path=list(self.path) if self.path else None,
        )


@dataclass(frozen=True)
class Row:
    """A row of a table: what it is about, its numbers by column, where the readout holds the last, and its place."""

    label: str
    cells: tuple[float, ...]
    path: Path | None = None
    place: Place | None = None


@dataclass(frozen=True)
class Table:
    """A sum or a solution as a table. ``columns`` are (heading, symbol's name or nothing, quantity)."""

    columns: tuple[tuple[str, str, FormulaQuantity], ...]
    rows: tuple[Row, ...]

    def as_answer(self, system: System) -> WorkingTable:
        """The table as it is shown."""
        return WorkingTable(
            columns=[
                WorkingColumn(title, name_of(name) if name else None, unit(quantity, system))
                for title, name, quantity in self.columns
            ],
            rows=[
                WorkingRow(
                    label=row.label,
                    cells=[
                        WorkingCell(value, bare(value, quantity, system))
                        for value, (_, _, quantity) in zip(row.cells, self.columns, strict=True)
                    ],
                    path=list(row.path) if row.path else None,
                    place=_place(row.place),
                )
                for row in self.rows
            ],
        )


@dataclass(frozen=True)
class Step:
    """A step: ``lines`` in order, the last of them its result; ``reason`` where something it needs is missing."""

    key: str
    title: str
    words: str
    lines: tuple[Line, ...] = ()
    exact: bool = True
    table: Table | None = None
    matrix: Callable[[System], str | None] | None = None
    reason: Message | None = None
    further: tuple[Known, ...] = field(default=())

    @property
    def symbols(self) -> dict[str, Known]:
        """Every symbol of the step by name, in the order met."""
        met: dict[str, Known] = {}
        for line in self.lines:
            met |= {name: each for name, each in line.takes.items() if name not in met}
            met[line.gives.name] = line.gives
        return met | {each.name: each for each in self.further}

    def as_answer(self, system: System) -> WorkingStep:
        """The step as it is shown."""
        last = self.lines[-1] if self.lines else None
        return WorkingStep(
            key=self.key,
            title=self.title,
            words=self.words,
            exact=self.exact,
            reason=self.reason,
            lines=[line.as_answer(system) for line in self.lines],
            result=_result(last.gives, system) if last else None,
            path=list(last.path) if last and last.path else None,
            symbols=[_symbol(each, system) for each in self.symbols.values()],
            table=self.table.as_answer(system) if self.table else None,
            matrix=self.matrix(system) if self.matrix else None,
        )


def line(law: Law, known: Mapping[str, Known], gives: Known, path: Path | None = None) -> Line:
    """A line whose formula takes its numbers from ``known``, by name."""
    return Line(law, {name: known[name] for name in law.takes}, gives, path)


def by_name(known: Sequence[Known]) -> dict[str, Known]:
    """Numbers by their symbol's name."""
    return {each.name: each for each in known}


def _result(given: Known, system: System) -> WorkingResult:
    shown = text(given.value, given.quantity, system)
    return WorkingResult(given.value, unit(given.quantity, "metric"), given.quantity, shown)


def _symbol(each: Known, system: System) -> WorkingSymbol:
    result = _result(each, system)
    return WorkingSymbol(
        value=result.value,
        unit=result.unit,
        quantity=result.quantity,
        shown=result.shown,
        name=each.name,
        symbol=name_of(each.name),
        meaning=each.meaning,
        place=_place(each.place),
    )


def _place(place: Place | None) -> WorkingPlace | None:
    return WorkingPlace(place.kind, list(place.points)) if place else None
