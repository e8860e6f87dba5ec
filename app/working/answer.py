"""The working's fields, each with its meaning: what ``app.working`` answers and /openapi.json shows.

Values are in mm, N and MPa as everywhere; ``shown`` and the numbers in MathML are in the system that was asked for.
"""

from typing import Literal

from pydantic import Field

from app.results.answer import Answer, End, Point


class WorkingPlace(Answer):
    """What on the sheet a symbol measures."""

    kind: Literal["length", "line", "point"] = Field(description="between two points, along a line, or at a point")
    points: list[Point] = Field(description="where it stands, [x, y], mm")


class WorkingResult(Answer):
    """A number with its unit."""

    value: float = Field(description="the number, in `unit`")
    unit: str = Field(description="unit of the value; empty for a ratio")
    quantity: Literal["length", "area", "volume", "force", "moment", "pressure", "turn", "ratio"] = Field(
        description="what kind of number it is"
    )
    shown: str = Field(description="the number in the system asked for, rounded, with its unit")


class WorkingSymbol(WorkingResult):
    """A symbol of a formula."""

    name: str = Field(description="its name in plain letters")
    symbol: str = Field(description="its name as MathML")
    meaning: str = Field(description="what it is")
    place: WorkingPlace | None = Field(description="what on the sheet it measures")


class WorkingLine(Answer):
    """One formula with its numbers."""

    formula: str = Field(description="MathML in symbols")
    substituted: str | None = Field(
        description="MathML with rounded numbers put in; null where the result stands alone or a sum is in its table"
    )
    symbol: str = Field(description="name of the symbol it gives")
    meaning: str = Field(description="what that is")
    result: WorkingResult = Field(description="what comes out")
    path: list[str | int] | None = Field(description="where the readout holds the same number; null where it does not")


class WorkingColumn(Answer):
    """A column of a table."""

    title: str = Field(description="heading")
    symbol: str | None = Field(description="its symbol as MathML")
    unit: str = Field(description="unit of what is shown")


class WorkingCell(Answer):
    """A number of a table."""

    value: float = Field(description="the number, in mm, N or MPa")
    shown: str = Field(description="the number in the system asked for, rounded, without its unit")


class WorkingRow(Answer):
    """A row of a table."""

    label: str = Field(description="what it is about: a joint, member or allowance")
    cells: list[WorkingCell] = Field(description="its numbers, by column")
    path: list[str | int] | None = Field(description="where the readout holds its last number")
    place: WorkingPlace | None = Field(description="where on the sheet it is")


class WorkingTable(Answer):
    """A sum, or a solution, as a table."""

    columns: list[WorkingColumn] = Field(description="its columns")
    rows: list[WorkingRow] = Field(description="its rows, largest last number first")


class WorkingStep(Answer):
    """One step of the working."""

    key: Literal[
        "centre",
        "coupling",
        "movement",
        "together",
        "force",
        "pressure",
        "play",
        "oil",
        "stretch",
        "step",
        "allowance",
        "worst",
    ] = Field(description="stable name of the step")
    title: str = Field(description="what it is about")
    words: str = Field(description="the same in a line of plain words")
    exact: bool = Field(description="closed formulas all the way; false where a table of equations was solved")
    reason: str | None = Field(description="why there is no formula; null where there is")
    lines: list[WorkingLine] = Field(description="the formulas in order; the last gives the result of the step")
    result: WorkingResult | None = Field(description="result of the last line")
    path: list[str | int] | None = Field(description="where the readout holds it; null where it does not")
    symbols: list[WorkingSymbol] = Field(description="every symbol of its formulas")
    table: WorkingTable | None = Field(description="the numbers of a sum or a solution")
    matrix: str | None = Field(
        description="MathML of the table of equations: Jacobian transposed, solution, right-hand side; null where it "
        "is not needed, or too large to print"
    )


class Working(Answer):
    """The sum behind every number of one cylinder and one end."""

    cylinder: str = Field(description="the chosen cylinder, by id")
    end: End = Field(description="the chosen end of the blade")
    system: Literal["metric", "inch"] = Field(description="units of what is shown")
    reason: str | None = Field(description="why there are no steps; null where there are")
    steps: list[WorkingStep] = Field(description="the steps, each building on those before")
