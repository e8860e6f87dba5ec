"""The constraint equations of a mount and their derivatives, written by SymPy once for a topology.

A topology says which kinds of member join which bodies; every coordinate and length is a symbol, so moving a pivot
never derives again. Unknowns ``q`` are (x, y, angle in radians) of each moving body: where its reference point stands
and how far it has turned from the drawn pose. The rows, all in mm:

====================  =======================================================================
pin (two rows)        point of the second body - point of the first - offset (2-vector)
rod                   distance of its ends - length - error of end 1 - error of end 2
cylinder              the same, its length ``u`` set by the stroke
slide                 distance of the running point from the guide line - lateral offset
====================  =======================================================================

Source: the usual constraint formulation of planar multibody kinematics (loop closure as implicit equations).
"""

from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from threading import Lock
from typing import Any, TypeAlias

import numpy as np
import sympy as sp
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.floating[Any]]

FIXED = -1
"""Body index of the frame."""

ROWS = {"pin": 2, "rod": 1, "cylinder": 1, "slide": 1}
ERRORS = {"pin": 2, "rod": 2, "cylinder": 2, "slide": 1}
NUMBERS = {"pin": 4, "rod": 5, "cylinder": 4, "slide": 6}
"""How many numbers of its own each kind's rows take: see ``_member_rows``."""


@dataclass(frozen=True)
class Link:
    """One member of a topology: its kind and the indices of the bodies it joins, ``FIXED`` for the frame."""

    kind: str
    first: int
    second: int


@dataclass(frozen=True)
class Topology:
    """How many bodies move (the blade is body 0) and what joins them."""

    bodies: int
    links: tuple[Link, ...]


@dataclass(frozen=True, eq=False)
class Equations:
    """The rows of a topology as functions of numbers.

    ``rows`` and ``unknowns`` give the shape of the Jacobian. ``by_length`` is dPhi/du, shape (rows, cylinders);
    ``by_error`` is dPhi/de, shape (rows, errors); both are constant because lengths and errors enter the rows linearly.
    ``row_of[i]`` and ``error_of[i]`` are the slices of member i, ``length_of[i]`` its place in ``u`` (cylinders only).
    """

    links: tuple[Link, ...]
    rows: int
    unknowns: int
    by_length: Array
    by_error: Array
    row_of: tuple[slice, ...]
    error_of: tuple[slice, ...]
    length_of: dict[int, int]
    _function: Callable[[Sequence[float], Sequence[float], Sequence[float], Sequence[float]], list[float]]
    _places: NDArray[np.intp]
    _written: tuple[list[list[sp.Symbol]], list[sp.Expr]]

    def at(
        self, q: Sequence[float], numbers: Sequence[float], lengths: Sequence[float], errors: Sequence[float]
    ) -> tuple[Array, Array]:
        """The residual, shape (rows,), and the Jacobian dPhi/dq, shape (rows, unknowns).

        ``q`` in mm and radians, ``numbers`` as laid out by ``Assembly``, ``lengths`` and ``errors`` in mm. Raises
        ZeroDivisionError where two ends of a member meet.
        """
        values = np.array(self._function(q, numbers, lengths, errors))
        jacobian = np.zeros(self.rows * self.unknowns)
        jacobian[self._places] = values[self.rows :]
        return values[: self.rows], jacobian.reshape(self.rows, self.unknowns)

    def along(
        self,
        q: tuple[Array, Array],
        numbers: tuple[Array, Array],
        lengths: tuple[Array, Array],
    ) -> tuple[Array, Array]:
        """Exact derivatives of the residual and the Jacobian along many directions at once.

        Each argument is a value and its directions, shapes (k,) and (directions, k). Returns shapes (directions, rows)
        and (directions, rows, unknowns). By the complex step f'(x) d = Im f(x + i h d) / h, which takes no difference
        and so is exact to rounding (Squire and Trapp, SIAM Review 40, 1998; cited from memory).
        """
        tiny = 1e-30
        moved = [list((value + 1j * tiny * way).T) for value, way in (q, numbers, lengths)]
        nothing = [0.0] * self.by_error.shape[1]
        values = self._complex_function(*moved, nothing)
        count = len(q[1])
        slopes = np.array([np.broadcast_to(np.imag(value), count) for value in values]).T / tiny
        jacobian = np.zeros((count, self.rows * self.unknowns))
        jacobian[:, self._places] = slopes[:, self.rows :]
        return slopes[:, : self.rows], jacobian.reshape(count, self.rows, self.unknowns)

    @cached_property
    def _complex_function(self) -> Callable[..., list[Any]]:
        symbols, expressions = self._written
        function: Callable[..., list[Any]] = sp.lambdify(symbols, expressions, modules="numpy", cse=True)
        return function


_X, _Y, _ANGLE, _PX, _PY = sp.symbols("x y angle p_x p_y", real=True)
POINT = sp.Matrix([_X + sp.cos(_ANGLE) * _PX - sp.sin(_ANGLE) * _PY, _Y + sp.sin(_ANGLE) * _PX + sp.cos(_ANGLE) * _PY])
"""Where a point of a body stands: body at (x, y, angle), point at (p_x, p_y) from the reference point as drawn."""


def _symbols(name: str, count: int) -> list[sp.Symbol]:
    return [sp.Symbol(f"{name}{number}", real=True) for number in range(count)]


def _carried(body: int, q: list[sp.Symbol], vector: list[sp.Symbol]) -> sp.Matrix:
    """A point given in a body's own axes, in the sheet's."""
    if body == FIXED:
        return sp.Matrix(vector)
    x, y, angle = q[3 * body : 3 * body + 3]
    return POINT.xreplace({_X: x, _Y: y, _ANGLE: angle, _PX: vector[0], _PY: vector[1]})


def _turned(body: int, q: list[sp.Symbol], vector: list[sp.Symbol]) -> sp.Matrix:
    """A direction given in a body's own axes, in the sheet's."""
    return _carried(body, q, vector) - (_carried(body, q, [sp.S.Zero, sp.S.Zero]))


def _member_rows(
    link: Link, q: list[sp.Symbol], own: list[sp.Symbol], length: sp.Symbol | None, errors: list[sp.Symbol]
) -> list[sp.Expr]:
    """The constraint rows of one member.

    ``own`` holds its numbers: point on the first body, then point on the second (x, y each); a rod's length after them;
    a slide's unit normal between them.
    """
    first, last = _carried(link.first, q, own[:2]), _carried(link.second, q, own[2:4])
    if link.kind == "pin":
        return list(last - first - sp.Matrix(errors))
    if link.kind == "slide":
        normal, runner = _turned(link.first, q, own[2:4]), _carried(link.second, q, own[4:6])
        return [normal.dot(runner - first) - errors[0]]
    between = last - first
    nominal = own[4] if length is None else length
    return [sp.sqrt(between.dot(between)) - nominal - errors[0] - errors[1]]


_MOST_KEPT = 256
_kept: OrderedDict[Topology, Equations] = OrderedDict()
_writing = Lock()


def is_derived(topology: Topology) -> bool:
    """Whether the equations of a topology are at hand."""
    return topology in _kept


def derive(topology: Topology) -> Equations:
    """The equations of a topology; written the first time it is met and kept for the next.

    Writing takes tenths of a second and may be done in a thread; meanwhile known topologies are answered at once.
    """
    known = _kept.get(topology)
    if known is None:
        with _writing:
            known = _kept.get(topology) or write(topology)
            _kept[topology] = known
            while len(_kept) > _MOST_KEPT:
                _kept.popitem(last=False)
    return known


def write(topology: Topology) -> Equations:
    """Write the rows of a topology and their derivatives, and turn them into functions."""
    q = _symbols("q", 3 * topology.bodies)
    numbers = _symbols("n", sum(NUMBERS[link.kind] for link in topology.links))
    errors = _symbols("e", sum(ERRORS[link.kind] for link in topology.links))
    lengths = _symbols("u", sum(link.kind == "cylinder" for link in topology.links))
    rows: list[sp.Expr] = []
    row_of: list[slice] = []
    error_of: list[slice] = []
    length_of: dict[int, int] = {}
    number = error = 0
    for index, link in enumerate(topology.links):
        length = None
        if link.kind == "cylinder":
            length_of[index] = len(length_of)
            length = lengths[length_of[index]]
        own = numbers[number : number + NUMBERS[link.kind]]
        number += NUMBERS[link.kind]
        error_of.append(slice(error, error + ERRORS[link.kind]))
        error += ERRORS[link.kind]
        row_of.append(slice(len(rows), len(rows) + ROWS[link.kind]))
        rows += _member_rows(link, q, own, length, errors[error_of[-1]])
    places, slopes = _nonzero_slopes(rows, q)
    # Scalars through the math module: a NumPy call on one number costs ten times the arithmetic.
    written = ([q, numbers, lengths, errors], [*rows, *slopes])
    function = sp.lambdify(*written, modules="math", cse=True)
    return Equations(
        links=topology.links,
        rows=len(rows),
        unknowns=len(q),
        by_length=_constant(rows, lengths),
        by_error=_constant(rows, errors),
        row_of=tuple(row_of),
        error_of=tuple(error_of),
        length_of=length_of,
        _function=function,
        _places=np.array(places, dtype=np.intp),
        _written=written,
    )


def _nonzero_slopes(rows: list[sp.Expr], q: list[sp.Symbol]) -> tuple[list[int], list[sp.Expr]]:
    """dPhi/dq where it is not zero by structure: places in the flattened Jacobian, and expressions."""
    places, slopes = [], []
    for number, row in enumerate(rows):
        present = row.free_symbols
        for column, unknown in enumerate(q):
            if unknown in present:
                places.append(number * len(q) + column)
                slopes.append(row.diff(unknown))
    return places, slopes


def _constant(rows: list[sp.Expr], symbols: list[sp.Symbol]) -> Array:
    """The derivative of rows by symbols that enter linearly, shape (rows, symbols)."""
    table = np.zeros((len(rows), len(symbols)))
    for number, row in enumerate(rows):
        for column, symbol in enumerate(symbols):
            if symbol in row.free_symbols:
                table[number, column] = float(row.diff(symbol))
    return table
