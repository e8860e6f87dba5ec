"""The constraint rows of a topology: right at rest, right in slope, and written once only."""

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
import sympy as sp
from hypothesis import given
from hypothesis import strategies as st

from app.document.reading import read_mount
from app.members import KINDS, Rod
from app.solve.assembly import assemble, topology_of
from app.solve.equations import FIXED, Array, Equations, Link, Topology, derive, is_derived, write
from tests.mounts import (
    ONE_BODY,
    THREE_BODIES,
    TWO_BODIES,
    Document,
    crank_and_drop_rod,
    extras,
    law,
    located_mounts,
    twin,
)

STEP = 1e-4
"""Step of a central difference, mm or radians: its error is near 1e-7 of a row that bends over hundreds of mm."""

ROD = Topology(1, (Link("rod", FIXED, 0),))
CYLINDER = Topology(1, (Link("cylinder", FIXED, 0),))
PIN = Topology(1, (Link("pin", FIXED, 0),))
SLIDE = Topology(1, (Link("slide", FIXED, 0),))
GUIDE_ON_BODY = Topology(1, (Link("slide", 0, FIXED),))
BETWEEN_BODIES = Topology(2, (Link("pin", 0, 1),))


class Slack(Rod):
    """Made up: a member that holds nothing."""

    ROWS = 0
    NUMBERS = 0

    @staticmethod
    def constraint(*_: object) -> list[sp.Expr]:
        return []


def test_a_member_that_holds_nothing_adds_no_row(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(KINDS, "slack", Slack)
    equations = write(Topology(1, (*PIN.links, Link("slack", FIXED, 0))))
    assert equations.row_of == (slice(0, 2), slice(2, 2))
    assert equations.by_error.shape == (2, 4)


def residual(
    topology: Topology, q: Sequence[float], numbers: Sequence[float], lengths: Sequence[float] = ()
) -> list[float]:
    equations = derive(topology)
    values, _ = equations.at(q, numbers, lengths, [0.0] * equations.by_error.shape[1])
    return [float(value) for value in values]


# One row of each kind, against numbers worked out by hand


def test_a_rod_row_is_how_much_longer_the_ends_stand_apart_than_the_rod_is() -> None:
    assert residual(ROD, q=(30, 40, 0), numbers=(0, 0, 0, 0, 45)) == pytest.approx([5])


def test_a_cylinder_row_measures_from_its_commanded_length() -> None:
    assert residual(CYLINDER, q=(30, 40, 0), numbers=(0, 0, 0, 0), lengths=[48]) == pytest.approx([2])


def test_a_pin_has_two_rows_the_gap_across_and_the_gap_up() -> None:
    assert residual(PIN, q=(7, -3, 0), numbers=(5, 1, 0, 0)) == pytest.approx([2, -4])


def test_a_body_that_turns_carries_its_points_around() -> None:
    quarter = math.pi / 2
    assert residual(PIN, q=(100, 0, quarter), numbers=(0, 0, 10, 0)) == pytest.approx([100, 10])


def test_a_slide_row_is_the_distance_from_the_guide_whatever_the_travel() -> None:
    plumb_guide = (50, 0, -1, 0)
    assert residual(SLIDE, q=(47, 300, 0), numbers=(*plumb_guide, 0, 0)) == pytest.approx([3])
    assert residual(SLIDE, q=(47, -90, 0), numbers=(*plumb_guide, 0, 0)) == pytest.approx([3])


def test_a_guide_on_a_body_turns_with_it() -> None:
    turned = (0, 0, math.pi / 2)
    assert residual(GUIDE_ON_BODY, q=turned, numbers=(0, 0, -1, 0, 12, 5)) == pytest.approx([-5])


def test_a_pin_between_two_moving_bodies_sees_both_move() -> None:
    assert residual(BETWEEN_BODIES, q=(1, 2, 0, 10, 20, 0), numbers=(0, 0, 0, 0)) == pytest.approx([9, 18])


def test_ends_that_meet_have_no_direction() -> None:
    with pytest.raises(ZeroDivisionError):
        residual(ROD, q=(0, 0, 0), numbers=(0, 0, 0, 0, 45))


# Slopes against differences


def worked(drawn: Document, turns: Sequence[float]) -> tuple[Equations, list[float], tuple[float, ...], list[float]]:
    """A mount's equations away from its drawn pose, where no term happens to be zero."""
    assembly = assemble(read_mount(drawn))
    q = (assembly.drawn + np.resize(turns, assembly.drawn.size)).tolist()
    return assembly.equations, q, assembly.numbers, list(assembly.lengths)


def central(at: Sequence[float], place: int, rows: "RowsOf") -> Array:
    ahead, behind = list(at), list(at)
    ahead[place] += STEP
    behind[place] -= STEP
    difference: Array = (rows(ahead) - rows(behind)) / (2 * STEP)
    return difference


class RowsOf:
    """The residual as a function of one of its arguments, the others held."""

    def __init__(self, equations: Equations, q: list[float], numbers: tuple[float, ...], lengths: list[float]) -> None:
        self.equations, self.held = equations, {"q": q, "numbers": list(numbers), "lengths": lengths}
        self.held["errors"] = [0.0] * equations.by_error.shape[1]
        self.varied = "q"

    def __call__(self, values: list[float]) -> Array:
        given = self.held | {self.varied: values}
        return self.equations.at(given["q"], given["numbers"], given["lengths"], given["errors"])[0]


@law
@given(located_mounts, st.lists(st.floats(-0.4, 0.4), min_size=5, max_size=5))
def test_every_slope_agrees_with_a_difference_of_the_rows(drawn: Document, turns: list[float]) -> None:
    equations, q, numbers, lengths = worked(drawn, turns)
    rows = RowsOf(equations, q, numbers, lengths)
    _, jacobian = equations.at(q, numbers, lengths, rows.held["errors"])
    for varied, slopes in (("q", jacobian), ("lengths", equations.by_length), ("errors", equations.by_error)):
        rows.varied = varied
        differences = [central(rows.held[varied], place, rows) for place in range(slopes.shape[1])]
        np.testing.assert_allclose(slopes, np.reshape(differences, slopes.T.shape).T, rtol=1e-6, atol=1e-3)


@pytest.mark.parametrize("plain", [*ONE_BODY, *TWO_BODIES, *THREE_BODIES])
def test_a_drawing_always_assembles(plain: object) -> None:
    assert callable(plain)
    assembly = assemble(read_mount(plain()))
    errors = [0.0] * assembly.equations.by_error.shape[1]
    rows, _ = assembly.equations.at(assembly.drawn.tolist(), assembly.numbers, assembly.lengths, errors)
    assert np.abs(rows).max() < 1e-10


# Layout


def test_rows_errors_and_lengths_are_laid_out_in_the_order_of_the_members() -> None:
    equations = derive(topology_of(read_mount(crank_and_drop_rod())))
    assert equations.row_of == (slice(0, 2), slice(2, 3), slice(3, 4), slice(4, 5), slice(5, 6))
    assert equations.error_of == (slice(0, 2), slice(2, 4), slice(4, 6), slice(6, 8), slice(8, 10))
    assert equations.length_of == {1: 0, 3: 1}
    assert (equations.rows, equations.unknowns) == (6, 6)


def test_lengths_and_errors_enter_every_row_with_a_minus_one() -> None:
    equations = derive(topology_of(read_mount(twin())))
    assert equations.by_length.tolist() == [[-1, 0], [0, -1], [0, 0]]
    assert equations.by_error.tolist() == [[-1, -1, 0, 0, 0, 0], [0, 0, -1, -1, 0, 0], [0, 0, 0, 0, -1, -1]]


def test_a_lateral_offset_of_a_guide_is_taken_from_the_distance_of_its_block() -> None:
    assert derive(SLIDE).by_error.tolist() == [[-1]]


# Written once


def test_moving_a_pivot_never_derives_again(monkeypatch: pytest.MonkeyPatch) -> None:
    moved = twin(**extras())
    moved["members"][0]["ends"][0]["at"] = [-650, 1010]
    first = assemble(read_mount(twin())).equations
    monkeypatch.setattr("app.solve.equations.write", lambda _: pytest.fail("derived again"))
    assert assemble(read_mount(moved)).equations is first


def test_a_topology_is_known_once_it_is_derived() -> None:
    chain = Topology(1, (*(Link("pin", FIXED, 0) for _ in range(3)), Link("rod", FIXED, 0)))
    assert not is_derived(chain)
    derive(chain)
    assert is_derived(chain)


def test_many_threads_that_meet_a_new_topology_at_once_get_the_same_equations() -> None:
    chain = Topology(1, (*(Link("pin", FIXED, 0) for _ in range(4)), Link("rod", FIXED, 0)))
    with ThreadPoolExecutor(4) as threads:
        found = list(threads.map(derive, [chain] * 4))
    assert all(each is found[0] for each in found)


def test_one_more_member_is_another_topology() -> None:
    more = twin()
    more["members"].append({"kind": "pin", "id": "lock", "joins": ["frame", "blade"], "at": [0, 0]})
    assert topology_of(read_mount(more)) != topology_of(read_mount(twin()))


def test_a_topology_without_members_has_no_rows() -> None:
    equations = derive(Topology(1, ()))
    rows, jacobian = equations.at([0.0, 0.0, 0.0], [], [], [])
    assert (rows.shape, jacobian.shape) == ((0,), (0, 3))
