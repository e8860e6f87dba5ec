"""The constraint equations of a mount and their derivatives, written by SymPy once for a topology.

A topology says which kinds of member join which bodies; every coordinate and length is a symbol, so moving a pivot
never derives again. Unknowns ``q`` are (x, y, angle in radians) of each moving body: where its reference point stands
and how far it has turned from the drawn pose. The rows, all in
mm, are those that each kind of member writes for itself (``app.members``): nought where the member closes.

Source: the usual constraint formulation of planar multibody kinematics (loop closure as implicit equations).
"""

import inspect
import math
import re
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields
from functools import cache, cached_property
from threading import Lock
from typing import Any, TypeAlias

import numpy as np
import sympy as sp
from numpy.typing import NDArray

from app.members import KINDS

Array: TypeAlias = NDArray[np.floating[Any]]

FIXED = -1
"""Body index of the frame."""


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
    _written: "_Written | Sources"

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

    def stacked(
        self, q: Array, numbers: Sequence[float | Array] | Sequence[float], lengths: Array, errors: Array
    ) -> tuple[Array, Array]:
        """The residuals and Jacobians of many poses at once, of one mount or of several of this topology.

        Shapes of the arguments (poses, unknowns), (numbers,) or (numbers, poses), (poses, cylinders), (poses, errors);
        of the answer (poses, rows) and (poses, rows, unknowns).
        """
        count = len(q)
        values = self._array_function(list(q.T), numbers, list(lengths.T), list(errors.T))
        filled = np.empty((len(values), count))
        for row, value in enumerate(values):
            filled[row] = value
        jacobian = np.zeros((count, self.rows * self.unknowns))
        jacobian[:, self._places] = filled[self.rows :].T
        return filled[: self.rows].T, jacobian.reshape(count, self.rows, self.unknowns)

    def bent(self, q: Array, numbers: Sequence[float | Array] | Sequence[float], lengths: Array) -> Array:
        """How the Jacobians of many poses change with every unknown: shape (poses, rows, unknowns, unknowns).

        The last axis is the unknown that changes. Exact, by the complex step, as ``along`` is.
        """
        tiny, count = 1e-30, len(q)
        found = np.zeros((count, self.rows * self.unknowns, self.unknowns))
        nothing = [0.0] * self.by_error.shape[1]
        for unknown in range(self.unknowns):
            moved = list(q.T.astype(complex))
            moved[unknown] = moved[unknown] + 1j * tiny
            values = self._array_function(moved, numbers, list(lengths.T), nothing)
            slopes = [np.broadcast_to(np.imag(value), count) / tiny for value in values[self.rows :]]
            found[:, self._places, unknown] = np.array(slopes).T
        return found.reshape(count, self.rows, self.unknowns, self.unknowns)

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
        values = self._array_function(*moved, nothing)
        count = len(q[1])
        slopes = np.array([np.broadcast_to(np.imag(value), count) for value in values]).T / tiny
        jacobian = np.zeros((count, self.rows * self.unknowns))
        jacobian[:, self._places] = slopes[:, self.rows :]
        return slopes[:, : self.rows], jacobian.reshape(count, self.rows, self.unknowns)

    @cached_property
    def _array_function(self) -> Callable[..., list[Any]]:
        return self._written.function("numpy")


_X, _Y, _ANGLE, _PX, _PY = sp.symbols("x y angle p_x p_y", real=True)
POINT = sp.Matrix([_X + sp.cos(_ANGLE) * _PX - sp.sin(_ANGLE) * _PY, _Y + sp.sin(_ANGLE) * _PX + sp.cos(_ANGLE) * _PY])
"""Where a point of a body stands: body at (x, y, angle), point at (p_x, p_y) from the reference point as drawn."""


def _symbols(name: str, count: int) -> list[sp.Symbol]:
    return [sp.Symbol(f"{name}{number}", real=True) for number in range(count)]


@dataclass(frozen=True)
class _Body:
    """A body as its members' rows see it: moving with ``q``, or standing where ``q`` is None."""

    q: tuple[sp.Symbol, sp.Symbol, sp.Symbol] | None

    def point(self, own: Sequence[sp.Symbol]) -> sp.Matrix:
        """A point given in the body's own axes, in the sheet's."""
        if self.q is None:
            return sp.Matrix(own)
        x, y, angle = self.q
        return POINT.xreplace({_X: x, _Y: y, _ANGLE: angle, _PX: own[0], _PY: own[1]})

    def direction(self, own: Sequence[sp.Symbol]) -> sp.Matrix:
        """A direction given in the body's own axes, in the sheet's."""
        return self.point(own) - self.point([sp.S.Zero, sp.S.Zero])


def _body(number: int, q: list[sp.Symbol]) -> _Body:
    return _Body(None if number == FIXED else tuple(q[3 * number : 3 * number + 3]))


_MOST_KEPT = 256
_kept: OrderedDict[Topology, Equations] = OrderedDict()
_writing = Lock()


def is_derived(topology: Topology) -> bool:
    """Whether the equations of a topology are at hand."""
    return topology in _kept


def keep(topology: Topology, equations: Equations) -> None:
    """Keep what was written elsewhere for the next who needs it."""
    _kept[topology] = equations
    while len(_kept) > _MOST_KEPT:
        _kept.popitem(last=False)


def derive(topology: Topology) -> Equations:
    """The equations of a topology; written the first time it is met and kept for the next.

    Writing takes tenths of a second and may be done in a thread; meanwhile known topologies are answered at once.
    """
    known = _kept.get(topology)
    if known is None:
        with _writing:
            known = _kept.get(topology) or write(topology)
            keep(topology, known)
    return known


def write(topology: Topology) -> Equations:
    """Write the rows of a topology and their derivatives, and turn them into functions."""
    q = _symbols("q", 3 * topology.bodies)
    numbers = _symbols("n", sum(KINDS[link.kind].NUMBERS for link in topology.links))
    errors = _symbols("e", sum(KINDS[link.kind].OFFSETS for link in topology.links))
    lengths = _symbols("u", sum(KINDS[link.kind].DRIVEN for link in topology.links))
    count = sum(KINDS[link.kind].ROWS for link in topology.links)
    by_length, by_error = np.zeros((count, len(lengths))), np.zeros((count, len(errors)))
    row_of: list[slice] = []
    error_of: list[slice] = []
    length_of: dict[int, int] = {}
    rows: list[sp.Expr] = []
    slopes: list[sp.Expr] = []
    places: list[int] = []
    shared = _Shared()
    number = error = 0
    for index, link in enumerate(topology.links):
        rule = _rule(link.kind, link.first == FIXED, link.second == FIXED)
        row_of.append(slice(len(rows), len(rows) + KINDS[link.kind].ROWS))
        error_of.append(slice(error, error + KINDS[link.kind].OFFSETS))
        columns = [3 * body + part for body in (link.first, link.second) if body != FIXED for part in range(3)]
        names = dict(zip(rule.own, numbers[number : number + KINDS[link.kind].NUMBERS], strict=True))
        names |= dict(zip(rule.errors, errors[error_of[-1]], strict=True))
        names |= dict(zip(rule.q, (q[column] for column in columns), strict=True))
        if KINDS[link.kind].DRIVEN:
            length_of[index] = len(length_of)
            names[rule.length] = lengths[length_of[index]]
            by_length[row_of[-1], length_of[index]] = rule.by_length
        by_error[row_of[-1], error_of[-1]] = rule.by_error
        places += [(len(rows) + row) * len(q) + columns[column] for row, column in rule.places]
        own_rows, own_slopes = shared.renamed(rule, names)
        rows += own_rows
        slopes += own_slopes
        number += KINDS[link.kind].NUMBERS
        error += KINDS[link.kind].OFFSETS
    # Scalars through the math module: a NumPy call on one number costs ten times the arithmetic.
    written = _Written([q, numbers, lengths, errors], [*rows, *slopes], shared.expressions)
    return Equations(
        links=topology.links,
        rows=count,
        unknowns=len(q),
        by_length=by_length,
        by_error=by_error,
        row_of=tuple(row_of),
        error_of=tuple(error_of),
        length_of=length_of,
        _function=written.function("math"),
        _places=np.array(places, dtype=np.intp),
        _written=written,
    )


@dataclass(frozen=True)
class _Rule:
    """The rows of one kind of member between bodies that move or stand, derived once and then only renamed.

    ``parts`` are the expressions that rows and slopes share. ``places`` gives row and column of every slope.
    """

    q: list[sp.Symbol]
    own: list[sp.Symbol]
    length: sp.Symbol
    errors: list[sp.Symbol]
    parts: list[tuple[sp.Symbol, sp.Expr]]
    rows: list[sp.Expr]
    slopes: list[sp.Expr]
    places: list[tuple[int, int]]
    by_length: Array
    by_error: Array


@cache
def _rule(kind: str, first_stands: bool, second_stands: bool) -> _Rule:
    first = FIXED if first_stands else 0
    second = FIXED if second_stands else first + 1
    of_kind = KINDS[kind]
    q = _symbols("rule_q", 3 * (2 - first_stands - second_stands))
    own, errors = _symbols("rule_n", of_kind.NUMBERS), _symbols("rule_e", of_kind.OFFSETS)
    length = sp.Symbol("rule_u", real=True)
    rows = of_kind.constraint(_body(first, q), _body(second, q), own, length, errors)
    places = [(row, column) for row in range(len(rows)) for column in range(len(q)) if rows[row].has(q[column])]
    slopes = [rows[row].diff(q[column]) for row, column in places]
    parts, reduced = sp.cse([*rows, *slopes], symbols=sp.numbered_symbols("rule_x", real=True))
    return _Rule(
        q=q,
        own=own,
        length=length,
        errors=errors,
        parts=parts,
        rows=reduced[: len(rows)],
        slopes=reduced[len(rows) :],
        places=places,
        by_length=np.array([float(row.diff(length)) for row in rows]),
        by_error=np.array([float(row.diff(error)) for row in rows for error in errors]).reshape(len(rows), len(errors)),
    )


class _Shared:
    """The expressions that the rows of a whole topology share: each is written once."""

    def __init__(self) -> None:
        self.expressions: list[tuple[sp.Symbol, sp.Expr]] = []
        self._known: dict[sp.Expr, sp.Symbol] = {}

    def renamed(self, rule: _Rule, names: dict[sp.Symbol, sp.Symbol]) -> tuple[list[sp.Expr], list[sp.Expr]]:
        """Rows and slopes of one member in the symbols of the topology."""
        for symbol, expression in rule.parts:
            written = expression.xreplace(names)
            if written not in self._known:
                self._known[written] = sp.Symbol(f"x{len(self.expressions)}", real=True)
                self.expressions.append((self._known[written], written))
            names[symbol] = self._known[written]
        return [row.xreplace(names) for row in rule.rows], [slope.xreplace(names) for slope in rule.slopes]


@dataclass(frozen=True)
class _Written:
    """Arguments, results and shared expressions of a topology, ready to be turned into a function."""

    arguments: list[list[sp.Symbol]]
    results: list[sp.Expr]
    shared: list[tuple[sp.Symbol, sp.Expr]]

    def function(self, modules: str) -> Callable[..., list[Any]]:
        """A function of the arguments through the math or the numpy module."""
        function: Callable[..., list[Any]] = sp.lambdify(
            self.arguments, self.results, modules=modules, cse=lambda results: (self.shared, results)
        )
        return function


@dataclass(frozen=True)
class Sources:
    """The functions of a topology as Python text, by the module they call: what another process wrote."""

    text: dict[str, str]

    def function(self, modules: str) -> Callable[..., list[Any]]:
        """A function of the arguments through the math or the numpy module."""
        known = dict(vars(math if modules == "math" else np))
        exec(compile(self.text[modules], f"<{modules} equations>", "exec"), known)  # noqa: S102 - SymPy wrote it
        (name,) = _DEFINED.findall(self.text[modules])
        function: Callable[..., list[Any]] = known[name]
        return function


_DEFINED = re.compile(r"^def (\w+)\(", re.MULTILINE)


def as_text(topology: Topology) -> tuple[dict[str, Any], Sources]:
    """The equations of a topology in a form that can be sent to another process: their shape, and their functions."""
    equations = write(topology)
    shape = {each.name: getattr(equations, each.name) for each in fields(equations) if each.name not in _FUNCTIONS}
    texts = {modules: inspect.getsource(equations._written.function(modules)) for modules in ("math", "numpy")}
    return shape, Sources(texts)


def from_text(shape: dict[str, Any], sources: Sources) -> Equations:
    """The equations that ``as_text`` sent."""
    return Equations(**shape, _function=sources.function("math"), _written=sources)


_FUNCTIONS = ("_function", "_written")
