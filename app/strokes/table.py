"""A mount over its travel as a table for a spreadsheet: one row a pose, one column a number."""

import csv
import io
from typing import Any

import numpy as np

from app.document.units import System
from app.export.csv import MM, MPA, safe, shortened, shown_in
from app.strokes.over import Travel

NONE = ""
UNITS = {"pressure": MPA, **dict.fromkeys(("load_ratio", "residual", "condition", "inside", "use", "relief"), NONE)}
"""The unit of a layer; mm where none stands here, and none for a coupling."""


def table(over: Travel, system: System = "metric") -> str:
    """Strokes and every layer, after RFC 4180, in the units of a system; empty where there is no number.

    Columns are headed ``name [unit]``. With a byte order mark, so that UTF-8 is recognised.
    """
    text = io.StringIO()
    out = csv.writer(text, lineterminator="\r\n")
    columns = [(f"{name}, longer than drawn", MM) for name in over.cylinders]
    columns += [(name, NONE if name.startswith("coupling") else UNITS.get(name, MM)) for name in over.layers]
    units = [shown_in(unit, system) for _, unit in columns]
    heads = zip(columns, units, strict=True)
    out.writerow([safe(f"{name} [{unit}]" if unit else name) for (name, _), (unit, _) in heads])
    for cell in np.ndindex(over.reached.shape):
        if over.reached[cell]:
            along = zip(over.cylinders, reversed(cell), strict=True)
            values: list[Any] = [over.strokes[name][at] for name, at in along]
            values += [layer[cell] for layer in over.layers.values()]
            factors = [factor for _, factor in units]
            out.writerow([_cell(value, factor) for value, factor in zip(values, factors, strict=True)])
    return "\ufeff" + text.getvalue()


def _cell(value: Any, factor: float) -> float | str:  # noqa: ANN401 - a number, or NumPy's sign for none
    return "" if value is np.ma.masked else shortened(float(value) / factor)
