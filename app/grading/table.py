"""A run as a table for a spreadsheet: one row a point of time, one column a number."""

import csv
import io

from app.document.parts import ENDS
from app.document.units import System
from app.export.csv import MM, M, safe, shortened, shown_in
from app.grading.grade import Run
from app.solve.equations import Array


def table(made: Run, system: System = "metric") -> str:
    """Every row over time, after RFC 4180, in the units of a system, headed ``name [unit]``; with a byte order mark."""
    columns: list[tuple[str, str, Array]] = [("time", "s", made.times), ("travel", M, made.travel)]
    for end in ENDS:
        columns += [
            (f"{end} end, off grade", MM, made.errors[end]),
            (f"{end} sensor, off grade", MM, made.sensors[end]),
            (f"ground before, {end} track", MM, made.ground[end]),
        ]
    columns += [(f"{name}, length", MM, own) for name, own in made.lengths.items()]
    columns += [(f"{name}, share of the flow", "", own) for name, own in made.commands.items()]
    units = [shown_in(unit, system) for _, unit, _ in columns]
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\r\n")
    heads = zip(columns, units, strict=True)
    out.writerow([safe(f"{name} [{unit}]" if unit else name) for (name, _, _), (unit, _) in heads])
    rows = [own / factor for (_, _, own), (_, factor) in zip(columns, units, strict=True)]
    for values in zip(*rows, strict=True):
        out.writerow([shortened(float(value)) for value in values])
    return "\ufeff" + text.getvalue()
