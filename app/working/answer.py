"""The working's fields, each with its meaning: what ``app.working`` answers and /openapi.json shows.

Values are in mm, N and MPa as everywhere; ``shown`` and the numbers in MathML are in the system that was asked for.
"""

from typing import Literal

from app.document.messages import Message
from app.document.parts import EndName, Point
from app.document.units import FormulaQuantity, System
from app.results.answer import answer


@answer
class WorkingPlace:
    """What on the sheet a symbol measures."""

    kind: Literal["length", "line", "point"]
    """Between two points, along a line, or at a point."""
    points: list[Point]
    """Where it stands, [x, y], mm."""


@answer
class WorkingResult:
    """A number with its unit."""

    value: float
    """The number, in `unit`."""
    unit: str
    """Unit of the value; empty for a ratio."""
    quantity: FormulaQuantity
    """What kind of number it is."""
    shown: str
    """The number in the system asked for, rounded, with its unit."""


@answer
class WorkingSymbol(WorkingResult):
    """A symbol of a formula."""

    name: str
    """Its name in plain letters."""
    symbol: str
    """Its name as MathML."""
    meaning: str
    """What it is."""
    place: WorkingPlace | None
    """What on the sheet it measures."""


@answer
class WorkingLine:
    """One formula with its numbers."""

    formula: str
    """MathML in symbols."""
    substituted: str | None
    """MathML with rounded numbers put in; null where the result stands alone or a sum is in its table."""
    symbol: str
    """Name of the symbol it gives."""
    meaning: str
    """What that is."""
    result: WorkingResult
    """What comes out."""
    path: list[str | int] | None
    """Where the readout holds the same number; null where it does not."""


@answer
class WorkingColumn:
    """A column of a table."""

    title: str
    """Heading."""
    symbol: str | None
    """Its symbol as MathML."""
    unit: str
    """Unit of what is shown."""


@answer
class WorkingCell:
    """A number of a table."""

    value: float
    """The number, in mm, N or MPa."""
    shown: str
    """The number in the system asked for, rounded, without its unit."""


@answer
class WorkingRow:
    """A row of a table."""

    label: str
    """What it is about: a joint, member or allowance."""
    cells: list[WorkingCell]
    """Its numbers, by column."""
    path: list[str | int] | None
    """Where the readout holds its last number."""
    place: WorkingPlace | None
    """Where on the sheet it is."""


@answer
class WorkingTable:
    """A sum, or a solution, as a table."""

    columns: list[WorkingColumn]
    """Its columns."""
    rows: list[WorkingRow]
    """Its rows, largest last number first."""


@answer
class WorkingStep:
    """One step of the working."""

    key: str
    """Stable name of the step."""
    title: str
    """What it is about."""
    words: str
    """The same in a line of plain words."""
    exact: bool
    """Closed formulas all the way; false where a table of equations was solved."""
    reason: Message | None
    """Why there is no formula; null where there is."""
    lines: list[WorkingLine]
    """The formulas in order; the last gives the result of the step."""
    result: WorkingResult | None
    """Result of the last line."""
    path: list[str | int] | None
    """Where the readout holds it; null where it does not."""
    symbols: list[WorkingSymbol]
    """Every symbol of its formulas."""
    table: WorkingTable | None
    """The numbers of a sum or a solution."""
    matrix: str | None
    """MathML of the table of equations: Jacobian transposed, solution, right-hand side; null where it is not needed, or
    too large to print."""


@answer
class Working:
    """The sum behind every number of one cylinder and one end."""

    cylinder: str
    """The chosen cylinder, by id."""
    end: EndName
    """The chosen end of the blade."""
    system: System
    """Units of what is shown."""
    reason: Message | None
    """Why there are no steps; null where there are."""
    steps: list[WorkingStep]
    """The steps, each building on those before."""
