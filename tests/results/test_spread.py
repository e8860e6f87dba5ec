"""How the edge error spreads when every source takes its value by chance."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given

from app.document.parts import ENDS
from app.results.spread import BLOCK, SEED, standard_deviation
from app.sources import sources
from app.sources.source import Source
from tests.answers import reasons, spread
from tests.loaded import answer_of, detail_of, few, full, with_play, without
from tests.mounts import Command, Document, analysed, crank_on_carriage, hinge, twin, worked_mounts

SIX_SIGMA = 6 / math.sqrt(2 * BLOCK)
"""Relative, of a standard deviation found from the draws: six of its own, for a sum that is near normal."""

SIX_SIGMA_OF_A_MEAN = 6 / math.sqrt(BLOCK)
"""Of a mean found from the draws, as a share of the standard deviation."""

SIX_SIGMA_OF_A_SHARE = 6 * math.sqrt(0.25 / BLOCK)
"""Of a share of the draws, at its widest, one half."""

SINGLE = 1e-5
"""Relative: draws are single precision, summed over some tens of sources."""


def sources_of(drawn: Document, command: Command | None = None) -> list[Source]:
    return sources(analysed(drawn, command))


def play(name: str, *reach: float) -> Source:
    """A clearance circle that moves the left end by this much per axis at its rim, and the right end not at all."""
    return Source(name, name, "clearance", {"left": reach, "right": tuple(0.0 for _ in reach)}, chance="disc")


def allowance(name: str, left: float, right: float = 0.0) -> Source:
    return Source(name, None, "allowance", {"left": (left,), "right": (right,)})


def oil(name: str, left: float, right: float = 0.0) -> Source:
    return Source(name, name, "oil", {"left": (left,), "right": (right,)}, chance="load")


# Closed forms


@pytest.mark.parametrize(
    ("source", "deviation"),
    [
        pytest.param(play("pin", 0.6, 0.8), 1 / 2, id="a pin's circle: r / 2 on any axis"),
        pytest.param(play("rod / 1", 1.0), 1 / 2, id="the axial part of a circle: r / 2"),
        pytest.param(allowance("wear", 1.0), 1 / math.sqrt(3), id="a rectangle: a / sqrt 3"),
        pytest.param(allowance("wear", -1.0), 1 / math.sqrt(3), id="the same the other way"),
        pytest.param(oil("lift", -1.0), 1 / math.sqrt(12), id="from none to full: b / sqrt 12"),
    ],
)
def test_one_source_alone_spreads_by_its_closed_form(source: Source, deviation: float) -> None:
    found = spread([source])
    assert standard_deviation(source, "left") == pytest.approx(deviation)
    assert found["left"]["deviation"] == pytest.approx(deviation, rel=SIX_SIGMA)
    assert found["right"]["deviation"] == 0


def test_a_slide_is_a_rectangle_and_not_a_circle() -> None:
    drawn = with_play(without(full(crank_on_carriage), "oil", "valve", "allowances"), 0.4)
    circles = {source.id: source.chance == "disc" for source in sources_of(drawn)}
    assert circles == {
        "upper guide": False,
        "lower guide": False,
        **dict.fromkeys(("lift / 1", "lift / 2", "pivot", "crank pivot", "tilt / 1", "tilt / 2"), True),
        **dict.fromkeys(("drop rod / 1", "drop rod / 2"), True),
    }


def test_the_load_is_one_chance_for_all_it_squeezes_and_stretches() -> None:
    # Were they drawn apart the deviations would add as 3 and 4 do to 5; together they add to 7, or leave 1.
    along, against = spread([oil("a", 3), oil("b", 4)]), spread([oil("a", 3), oil("b", -4)])
    assert along["left"]["deviation"] == pytest.approx(7 / math.sqrt(12), rel=SIX_SIGMA)
    assert against["left"]["deviation"] == pytest.approx(1 / math.sqrt(12), rel=SIX_SIGMA)
    assert along["left"]["mean"] == pytest.approx(3.5, rel=SIX_SIGMA_OF_A_MEAN)


def test_two_sources_of_one_kind_take_their_chances_apart() -> None:
    for make in (play, allowance):
        found = spread([make("a", 3.0), make("b", 4.0)])["left"]["deviation"]
        assert found == pytest.approx(5 * standard_deviation(make("", 1.0), "left"), rel=SIX_SIGMA)


def test_one_offset_moves_both_ends_at_once() -> None:
    # Both ends out by more than half of a see-saw's reach is the same draws; of independent ends it would be more.
    see_saw = allowance("step", 1.0, -1.0)
    assert spread([see_saw], 0.5)["outside"] == pytest.approx(0.5, abs=SIX_SIGMA_OF_A_SHARE)
    apart = [allowance("left", 1.0, 0.0), allowance("right", 0.0, 1.0)]
    assert spread(apart, 0.5)["outside"] == pytest.approx(1 - 0.5**2, abs=SIX_SIGMA_OF_A_SHARE)


@pytest.mark.parametrize(("share", "inner", "outer"), [("interval_95", 0.95, 0.95), ("interval_99_7", 0.997, 0.997)])
def test_the_intervals_of_a_rectangle_are_its_middle_95_and_99_7_percent(
    share: str, inner: float, outer: float
) -> None:
    low, high = spread([allowance("wear", 2.0)])["left"][share]
    assert (low, high) == pytest.approx((-2 * inner, 2 * outer), abs=4 * SIX_SIGMA_OF_A_SHARE)


@few
@given(worked_mounts())
def test_independent_sources_spread_by_the_root_sum_of_squares_and_the_load_by_its_sum(
    case: tuple[Document, Command],
) -> None:
    listed = sources_of(*case)
    found = spread(listed)
    for end in ENDS:
        loaded = sum(source.reach[end][0] for source in listed if source.by_load)
        if any(len(source.shares) > 2 for source in listed):
            return  # Oil whose pressed side changes under the load does not give way in proportion to it.
        apart = [standard_deviation(source, end) for source in listed if not source.by_load]
        expected = math.hypot(loaded / math.sqrt(12), *apart)
        assert found[end]["deviation"] == pytest.approx(expected, rel=SIX_SIGMA)
        assert found[end]["mean"] == pytest.approx(loaded / 2, abs=SIX_SIGMA_OF_A_MEAN * expected)


# Limits


@few
@given(worked_mounts())
def test_no_draw_passes_the_worst_case(case: tuple[Document, Command]) -> None:
    budget, found = answer_of(*case)["budget"], detail_of(*case)["spread"]
    for end in ENDS:
        slack = SINGLE * budget[end]["band"]
        drawn = found[end]["histogram"]
        assert budget[end]["low"] - slack <= drawn["least"]
        assert drawn["most"] <= budget[end]["high"] + slack


@few
@given(worked_mounts())
def test_intervals_lie_in_one_another_and_hold_their_share_of_the_histogram(case: tuple[Document, Command]) -> None:
    found = detail_of(*case)["spread"]
    for end in ENDS:
        inner, outer, drawn = (found[end][key] for key in ("interval_95", "interval_99_7", "histogram"))
        assert drawn["least"] <= outer[0] <= inner[0] <= inner[1] <= outer[1] <= drawn["most"]
        assert sum(drawn["counts"]) == found["draws"]
        edges = np.linspace(drawn["least"], drawn["most"], len(drawn["counts"]) + 1)
        below = np.interp(inner, edges, np.cumsum([0, *drawn["counts"]])) / found["draws"]
        # Straight lines between the edges of the bins are off by a part of one bin.
        assert below.tolist() == pytest.approx([0.025, 0.975], abs=max(drawn["counts"]) / found["draws"] / 4)


@pytest.mark.parametrize("plain", [hinge, twin, crank_on_carriage])
def test_a_tolerance_of_the_worst_case_is_never_passed_and_a_hair_is_nearly_always(
    plain: Callable[..., Document],
) -> None:
    drawn = full(plain)
    worst = max(answer_of(drawn)["budget"][end]["worst"] for end in ENDS)
    assert detail_of(drawn | {"tolerance": worst})["spread"]["outside"] == 0
    assert detail_of(drawn | {"tolerance": worst / 1000})["spread"]["outside"] > 0.98


def test_a_wider_tolerance_is_passed_less_often() -> None:
    shares = [detail_of(full(twin) | {"tolerance": width})["spread"]["outside"] for width in (0.5, 1, 2, 3)]
    assert shares == sorted(shares, reverse=True)
    assert len(set(shares)) == 4


def test_without_tolerance_no_share_is_given_and_the_reason_is_said() -> None:
    found = detail_of(without(full(twin), "tolerance"))
    assert found["spread"]["outside"] is None
    assert reasons(found)["spread.outside"] == "needs a tolerance"


def test_a_mount_without_errors_does_not_spread() -> None:
    found = spread([], 1.0)
    assert found["outside"] == 0
    for end in ENDS:
        assert (found[end]["mean"], found[end]["deviation"], found[end]["interval_95"]) == (0, 0, [0, 0])


# Chances


def test_the_same_mount_twice_spreads_the_same_to_the_last_digit() -> None:
    first = detail_of(full(twin))["spread"]
    detail_of(full(crank_on_carriage))
    assert detail_of(full(twin))["spread"] == first
    assert first["seed"] == SEED
    assert first["draws"] % BLOCK == 0


def test_a_little_more_play_is_seen_although_it_is_less_than_chance_would_hide() -> None:
    # The draws stay the same, so a change of a thousandth shows, far below the noise of 100 000 new ones.
    before = detail_of(full(hinge, clearance=0.2))["spread"]["right"]["deviation"]
    after = detail_of(full(hinge, clearance=0.2002))["spread"]["right"]["deviation"]
    assert 0 < after / before - 1 < SIX_SIGMA / 6


def test_errors_of_any_size_are_drawn_without_overflow() -> None:
    huge = Source("joint", "joint", "clearance", {"left": (3e38,), "right": (-7e39,)}, chance="disc")
    found = spread([huge], 3.0)
    assert found["left"]["deviation"] == pytest.approx(1.5e38, rel=0.02)
    assert found["right"]["deviation"] == pytest.approx(3.5e39, rel=0.02)
    assert sum(found["right"]["histogram"]["counts"]) == found["draws"]
