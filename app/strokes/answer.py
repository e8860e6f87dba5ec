"""A mount over its travel as it leaves: plain lists, or a block of numbers for a page that draws them at once."""

import json
from collections.abc import Sequence

import numpy as np

from app.document.errors import BadCommand, Fault
from app.document.messages import word
from app.results.answer import answer, as_plain
from app.strokes.layers import Layer, names_of
from app.strokes.over import AtWorst, Beyond, DeadCentres, Travel

REACHED = "reached"


@answer
class Travelled:
    """A mount over the strokes of one or two of its cylinders."""

    cylinders: list[str]
    """The cylinders that are worked, by id: the first along a row, the second from row to row."""
    strokes: dict[str, list[float]]
    """Strokes of each, mm longer than drawn, by id."""
    layers: dict[str, list[list[float | None]]]
    """A row for each stroke of the second cylinder (one row where there is none), a value for each of the first; null
    where the mount cannot go, or has no such number. left, right, sensor_left, sensor_right: mm above where drawn;
    coupling:ID; residual; worst_left, worst_right, worst (of both), worst_under_load_left, worst_under_load_right: mm;
    load_ratio; pressure, MPa; relief: the most of the relief setting that weight and load use; use: the largest share
    of a joint's rating; condition; inside: 1 within the tolerance, 0 not; reached: 1 where it can go, 0 not."""
    drawn: dict[str, float]
    """The value of each layer as the mount is drawn, where it has one."""
    worst: dict[str, AtWorst]
    """The value of each layer farthest from nought, and the strokes there."""
    dead_centres: list[DeadCentres]
    """Dead centres that end the travel."""
    beyond: list[Beyond]
    """The nearest dead centres beyond the strokes."""


def travelled(over: Travel) -> Travelled:
    """The answer of a travel."""
    layers = {name: _rows(layer) for name, layer in over.layers.items()}
    layers[REACHED] = _rows(np.ma.array(over.reached.astype(float)))
    strokes = {name: values.tolist() for name, values in over.strokes.items()}
    return Travelled(list(over.cylinders), strokes, layers, over.drawn, over.worst, over.dead_centres, over.beyond)


def _rows(layer: Layer) -> list[list[float | None]]:
    rows: list[list[float | None]] = np.ma.atleast_2d(layer).tolist()
    return rows


def block(over: Travel, wanted: Sequence[str] | None, head: dict[str, object], beyond: bool = False) -> bytes:
    """The travel as one block: a line of JSON, then 32-bit little-endian numbers, layer by layer, row by row.

    The line holds ``head``, ``cylinders``, ``strokes``, ``drawn``, ``worst``, ``dead_centres``, ``beyond`` where it is
    asked for, and in ``layers`` the names of those ``wanted`` (null: of all) in their order and in ``shape`` rows and
    values; padded so that the numbers begin at a multiple of four. NaN
    stands where there is no number. Raises BadCommand for layers the mount does not have.
    """
    known = {**over.layers, REACHED: np.ma.array(over.reached.astype(float))}
    names = list(known) if wanted is None else list(wanted)
    if lacking := [name for name in names if name not in known]:
        listed = ", ".join([*names_of(over.mount), REACHED])
        raise BadCommand([Fault("layers", "are not all there: {names}", {"names": word(f"{lacking[0]} of {listed}")})])
    layers = [np.ma.atleast_2d(known[name]) for name in names]
    told = {
        **head,
        "cylinders": list(over.cylinders),
        "strokes": {name: values.tolist() for name, values in over.strokes.items()},
        "drawn": over.drawn,
        "worst": as_plain(over.worst),
        "dead_centres": as_plain(over.dead_centres),
        **({"beyond": as_plain(over.beyond)} if beyond else {}),
        "layers": names,
        "shape": list(np.atleast_2d(over.reached).shape),
    }
    line = json.dumps(told, allow_nan=False).encode()
    line += b" " * (-(len(line) + 1) % 4) + b"\n"
    return line + b"".join(layer.filled(np.nan).astype("<f4").tobytes() for layer in layers)
