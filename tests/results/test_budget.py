"""The error budget: how the sources add up. What each kind of source is worth is tested kind by kind."""

import math
from collections.abc import Callable

import pytest

from app.document.reading import read_mount
from app.results.budget import Budget, budget, statistical
from app.sources.source import Source
from tests.answers import readout
from tests.loaded import budget_of
from tests.mounts import analysed, extras, hinge, member_of, twin

AddUp = Callable[..., Budget]


@pytest.fixture
def add_up(monkeypatch: pytest.MonkeyPatch) -> AddUp:
    """The budget of the sources given, under a tolerance."""

    def added(*listed: Source, tolerance: float | None = None) -> Budget:
        monkeypatch.setattr("app.results.budget.sources", lambda _: list(listed))
        return budget(analysed(twin() if tolerance is None else twin(tolerance=tolerance)))

    return added


def source(
    name: str, left: tuple[float, ...], right: tuple[float, ...], *, by_load: bool = False, kind: str | None = None
) -> Source:
    return Source(name, None, kind or name, {"left": left, "right": right}, "load" if by_load else "rectangle")


def test_the_budget_of_three_sources_adds_up_as_it_is_defined(add_up: AddUp) -> None:
    left = add_up(
        source("pin", (0.3, 0.4), (0.0, -0.1)),
        source("rod", (-0.2,), (0.2,)),
        source("oil", (0.6,), (-0.1,), by_load=True),
        tolerance=1.3,
    ).left
    assert (left.low, left.high) == pytest.approx((-0.7, 1.3))
    assert left.worst == pytest.approx(1.3)
    assert left.band == pytest.approx(2.0)
    assert left.rss == pytest.approx(0.3 + math.sqrt(0.5**2 + 0.2**2 + 0.3**2))
    assert [entry.id for entry in left.sources] == ["oil", "pin", "rod"]
    assert [entry.share for entry in left.sources] == pytest.approx([0.6 / 1.3, 0.5 / 1.3, 0.2 / 1.3])


def test_the_worst_is_on_the_side_that_reaches_farther(add_up: AddUp) -> None:
    found = add_up(source("oil", (-2.0,), (0.0,), by_load=True), source("rod", (0.5,), (0.5,))).left
    assert (found.low, found.high, found.worst) == (-2.5, 0.5, 2.5)
    assert [entry.share for entry in found.sources] == pytest.approx([0.8, 0.2])


def test_while_one_end_is_lowest_the_other_stands_where_the_same_errors_put_it(add_up: AddUp) -> None:
    found = add_up(
        source("pin", (0.3, 0.4), (0.5, 0.0)),
        source("rod", (-0.2,), (0.2,)),
        source("oil", (0.6,), (-0.1,), by_load=True),
    )
    assert found.left.blade_at_low == pytest.approx({"left": -0.7, "right": -0.5 * 0.6 + 0.2})
    assert found.left.blade_at_high == pytest.approx({"left": 1.3, "right": 0.5 * 0.6 - 0.2 - 0.1})
    assert found.right.blade_at_low == pytest.approx({"right": -0.8, "left": -0.3 + 0.2 + 0.6})
    assert found.right.blade_at_high == pytest.approx({"right": 0.7, "left": 0.3 - 0.2})


def test_play_alone_brings_the_ends_only_as_far_as_the_clearances_do(add_up: AddUp) -> None:
    found = add_up(
        source("hinge", (0.3, 0.4), (0.5, 0.0), kind="clearance"), source("oil", (0.6,), (-0.1,), by_load=True)
    )
    assert found.left.play_at_low == pytest.approx({"left": -0.5, "right": -0.5 * 0.6})
    assert found.left.play_at_high == pytest.approx({"left": 0.5, "right": 0.5 * 0.6})
    assert found.left.high == pytest.approx(0.5 + 0.6)


def test_the_statistical_sum_is_the_middle_plus_the_root_of_the_squared_half_widths() -> None:
    assert statistical([(-1, 1), (0, 2)]) == pytest.approx(1 + math.sqrt(2))
    assert statistical([(-3, 0)]) == pytest.approx(3)
    assert statistical([]) == 0


@pytest.mark.parametrize(("tolerance", "inside"), [(0.7, True), (0.4999, False), (0.5, True), (None, None)])
def test_a_budget_is_inside_when_the_worst_of_both_ends_is_no_more_than_the_tolerance(
    tolerance: float | None, inside: bool | None, add_up: AddUp
) -> None:
    found = add_up(source("rod", (0.1,), (0.5,)), tolerance=tolerance)
    assert (found.tolerance, found.inside) == (tolerance, inside)


def test_a_mount_without_errors_has_a_budget_of_nought() -> None:
    found = budget_of(twin(tolerance=4))
    assert found["left"]["worst"] == found["left"]["band"] == found["left"]["rss"] == 0
    assert found["inside"] is True


def test_a_source_names_its_member_and_an_allowance_has_none() -> None:
    document = twin(**extras())
    member_of(document, "left")["ends"][0]["clearance"] = 0.4
    named = {entry["id"]: entry["member"] for entry in budget_of(document)["left"]["sources"]}
    assert named["left / 1"] == named["left"] == "left"
    assert named["receiver reading / left"] is None


def test_a_source_that_does_not_move_an_end_leaves_the_other_where_it_is_too() -> None:
    # Play of the cylinder of a hinged blade: nothing at the hinge itself, whatever rounding says of its sign.
    for shift in (0.0, 0.001, -0.001):
        drawn = hinge()
        drawn["blade"]["left"] = [-1000 + shift * 1e-9, 0]
        member_of(drawn, "lift")["ends"][1]["clearance"] = 0.3
        assert readout(read_mount(drawn))["budget"]["left"]["blade_at_low"]["right"] == 0
