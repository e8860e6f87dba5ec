"""Is linear good enough? Sums of the budget against the pose solved again with every error at its worst."""

import copy
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.analysis import Analysis
from app.document.parts import ENDS, EndName
from app.results.linearity import WARN_AT, LinearCheck, corner, estimated, height, worst_estimated
from app.shipped import shipped_mounts
from app.solve.pose import settle
from tests.answers import readout, said
from tests.loaded import answer_of, few, full, with_play, without
from tests.mounts import Command, Document, analysed, centre_pivot, end, joints_of, member_of, pin, twin, worked_mounts

WAYS = ("low", "high")


def codes(answer: Document) -> set[str]:
    return {warning["code"] for warning in answer["warnings"]}


def solved_again(analysis: Analysis, side: EndName, up: bool) -> LinearCheck:
    """The linear worst of an end beside the pose that is really solved there."""
    errors, lengths = corner(analysis, side, up)
    q = settle(analysis.assembly, analysis.pose, lengths, errors)
    return LinearCheck(
        estimated(analysis, side, up).linear, height(analysis, q, side) - height(analysis, analysis.pose.q, side)
    )


def checks_of(analysis: Analysis) -> dict[str, dict[str, LinearCheck]]:
    return {side: {way: solved_again(analysis, side, up=way == "high") for way in WAYS} for side in ENDS}


def checks(drawn: Document, command: Command | None = None) -> dict[str, dict[str, LinearCheck]]:
    return checks_of(analysed(drawn, command))


# By hand


def test_a_see_saw_at_its_worst_stands_where_a_triangle_says() -> None:
    # The tilt cylinder alone has play: its length goes from 700 to 700 + 0.9, the lever of 200 turns about the pin.
    drawn = centre_pivot()
    for joint in member_of(drawn, "tilt")["ends"]:
        joint["clearance"] = 0.9
    # Barrel 728.01 from the pin; the angle between that and the lever by the law of cosines.
    far, lever = math.hypot(700, 200), 200

    def angle(length: float) -> float:
        return math.acos((far**2 + lever**2 - length**2) / (2 * far * lever))

    for way, longer in (("low", 0.9), ("high", -0.9)):
        turned = angle(700) - angle(700 + longer)
        # The right end stands 1000 to the right of the pin and 400 below it.
        rise = 1000 * math.sin(turned) - 400 * math.cos(turned) + 400
        found = checks(drawn)["right"][way]
        assert found.linear == pytest.approx(-5 * longer)
        assert found.resolved == pytest.approx(rise, abs=1e-8)
        assert found.share == pytest.approx(abs(rise + 5 * longer) / 4.5, abs=1e-8)


def test_oil_that_helps_the_worst_is_in_the_sum_and_oil_that_does_not_is_left_out() -> None:
    drawn = with_play(without(full(twin), "allowances", "valve"), 0.3)
    budget = answer_of(drawn)["budget"]
    for side in ENDS:
        assert budget[side]["low"] != pytest.approx(-budget[side]["high"])
        for way in WAYS:
            assert checks(drawn)[side][way].linear == pytest.approx(budget[side][way])


# Laws


@few
@given(worked_mounts())
def test_the_linear_sum_is_the_budget_without_allowances_and_steps(case: tuple[Document, Command]) -> None:
    drawn, command = without(case[0], "allowances", "valve"), case[1]
    budget, found = answer_of(drawn, command)["budget"], checks(drawn, command)
    for side in ENDS:
        for way in WAYS:
            assert found[side][way].linear == pytest.approx(budget[side][way], rel=1e-9, abs=1e-12)


def quarter_of_the_play(drawn: Document) -> Document:
    small = copy.deepcopy(drawn)
    for member in small["members"]:
        for _, joint in joints_of(member):
            joint["clearance"] /= 4
    return small


@few
@given(worked_mounts())
def test_what_is_left_of_the_linear_sum_falls_faster_than_the_play(case: tuple[Document, Command]) -> None:
    # Second order: with a quarter of the play a sixteenth is left, where a wrong sum would leave a quarter.
    drawn, command = without(case[0], "allowances", "valve", "load"), case[1]
    whole, part = checks(drawn, command), checks(quarter_of_the_play(drawn), command)
    for side in ENDS:
        for way in WAYS:
            before, after = (abs(each[side][way].resolved - each[side][way].linear) for each in (whole, part))
            assert after < before / 8 + 1e-5


def solved_and_estimated(drawn: Document, command: Command, side: EndName, up: bool) -> tuple[LinearCheck, LinearCheck]:
    analysis = analysed(drawn, command)
    return solved_again(analysis, side, up), estimated(analysis, side, up)


@few
@given(worked_mounts(), st.sampled_from(ENDS), st.booleans())
def test_the_readouts_estimate_leaves_only_third_order_out(
    case: tuple[Document, Command], side: EndName, up: bool
) -> None:
    # Third order: with a quarter of the play a 64th of what it is off by, where second order would leave a 16th.
    drawn, command = without(case[0], "load"), case[1]
    off = []
    for each in (drawn, quarter_of_the_play(drawn)):
        solved, guessed = solved_and_estimated(each, command, side, up)
        assert guessed.linear == solved.linear
        off.append(abs(guessed.resolved - solved.resolved))
    assert off[1] < off[0] / 32 + 1e-8


@pytest.mark.parametrize("side", ENDS)
@pytest.mark.parametrize("up", [False, True])
def test_the_readouts_estimate_of_a_loaded_mount_is_that_of_the_pose_solved_again(side: EndName, up: bool) -> None:
    solved, guessed = solved_and_estimated(full(centre_pivot, clearance=0.4), {"tilt": 30}, side, up)
    assert solved.share > 0.0005
    assert guessed.share == pytest.approx(solved.share, rel=0.03)


@pytest.mark.parametrize("at", [-1000, 1000])
@pytest.mark.parametrize("force", [-4500, 4500])
def test_the_readout_estimates_the_worse_end_its_worse_way(at: float, force: float) -> None:
    drawn = full(twin, clearance=0.4) | {"load": {"at": [at, 0], "force": [0, force]}}
    worst, budget = worst_estimated(analysed(drawn)), answer_of(without(drawn, "allowances", "valve"))["budget"]
    assert abs(worst.linear) == pytest.approx(max(budget[side]["worst"] for side in ENDS))
    assert (worst.linear > 0) == (force > 0)


# Warnings


SMALL_FOR_SHIPPED = 0.001
"""Shipped mounts have tenths of play on levers of hundreds: their sums hold to a thousandth."""


@pytest.mark.parametrize("name", shipped_mounts())
def test_the_sums_of_a_shipped_mount_hold_both_ways_at_both_ends(name: str) -> None:
    mount = shipped_mounts()[name]
    found = checks_of(Analysis(mount))
    assert max(found[side][way].share for side in ENDS for way in WAYS) < SMALL_FOR_SHIPPED
    assert codes(readout(mount)) & {"not-linear", "near-dead-centre"} == set()


def test_play_that_is_large_against_the_lever_is_warned_of_with_its_share() -> None:
    drawn = with_play(centre_pivot(lever=20), 3)
    share = max(checks(drawn)["right"][way].share for way in WAYS)
    assert share > WARN_AT
    warnings = [warning for warning in answer_of(drawn)["warnings"] if warning["code"] == "not-linear"]
    assert len(warnings) == 1
    assert warnings[0]["values"] == {"share": [worst_estimated(analysed(drawn)).share, "percent"]}
    assert said(warnings[0]).startswith("with every error at its linear worst the edge is about ")
    assert said(warnings[0]).endswith(" searched when the hand rests")


def test_the_warning_comes_where_the_worse_side_passes_two_percent() -> None:
    shares, warned = [], []
    for clearance in (1, 2, 4, 6, 8, 10, 12):
        drawn = short_lever(clearance)
        budget = answer_of(drawn)["budget"]
        worse = "left" if budget["left"]["worst"] > budget["right"]["worst"] else "right"
        way = "high" if budget[worse]["high"] >= -budget[worse]["low"] else "low"
        shares.append(checks(drawn)[worse][way].share)
        warned.append("not-linear" in codes(answer_of(drawn)))
    assert warned == [share > 0.02 for share in shares]
    assert set(warned) == {True, False}


def short_lever(clearance: float) -> Document:
    return with_play(centre_pivot(lever=60), clearance)


def near_dead_centre(above: float, clearance: float) -> Document:
    """A tilt cylinder whose line passes the pin by ``above`` mm only."""
    members = [
        pin("pivot", "frame", "blade", (0, 400)),
        {
            **member_of(centre_pivot(), "tilt"),
            "ends": [end("frame", (-700, 400)), end("blade", (-above / 2, 400 + above))],
        },
    ]
    drawn = centre_pivot() | {"members": members}
    return with_play(drawn, clearance)


def test_near_a_dead_centre_the_mount_is_warned_of() -> None:
    assert "near-dead-centre" in codes(answer_of(near_dead_centre(8, 0.0)))
    assert "not-linear" in codes(answer_of(near_dead_centre(8, 2.0)))


def test_play_that_reaches_past_a_dead_centre_has_no_pose_to_compare_with() -> None:
    drawn = near_dead_centre(2, 20.0)
    with pytest.raises(ArithmeticError):
        checks(drawn)
    assert "not-linear" in codes(answer_of(drawn))


def test_a_tight_and_stiff_mount_has_nothing_to_judge() -> None:
    drawn = with_play(twin(), 0)
    assert all(found == (0, 0) for each in checks(drawn).values() for found in each.values())
    assert codes(answer_of(drawn)) == set()
