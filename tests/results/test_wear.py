"""Allowed wear: how far play can grow before the worst error leaves the tolerance."""

import copy

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from app.results.answer import as_plain
from app.results.wear import wear
from app.sources.source import Source
from tests.answers import reasons
from tests.loaded import detail_of, few, full, wear_of, with_play, without, worst_of
from tests.mounts import Command, Document, analysed, hinge, joints_of, member_of, twin, worked_mounts

CLEARANCE = 0.4
"""Diametral clearance of the joints in the plain mounts here, mm."""


def larger_worst(drawn: Document, command: Command | None = None) -> float:
    return max(worst_of(drawn, command).values())


def grown(drawn: Document, factor: float) -> Document:
    """The mount with all play grown by a factor."""
    other = copy.deepcopy(drawn)
    for member in other["members"]:
        for _, joint in joints_of(member):
            joint["clearance"] *= factor
    return other


def worn(drawn: Document, name: str, clearance: float) -> Document:
    """The mount with another clearance in one joint."""
    other = copy.deepcopy(drawn)
    next(part for member in other["members"] for each, part in joints_of(member) if each == name)["clearance"] = (
        clearance
    )
    return other


# By hand


def lifted(tolerance: float, **more: object) -> Document:
    """A hinge with a cylinder 1800 mm and an end 2000 mm from it, play at one end of the cylinder."""
    drawn = hinge(tolerance=tolerance, **more)
    member_of(drawn, "lift")["ends"][1]["clearance"] = CLEARANCE
    return drawn


def test_play_alone_may_grow_by_tolerance_over_worst() -> None:
    worst = CLEARANCE / 2 * 2000 / 1800
    found = wear_of(lifted(tolerance=1.0))
    assert found["factor"] == pytest.approx(1 / worst)
    assert found["joints"] == {"lift / 2": pytest.approx(CLEARANCE / worst)}


def test_what_does_not_wear_is_taken_off_the_tolerance_first() -> None:
    worst = CLEARANCE / 2 * 2000 / 1800
    found = wear_of(lifted(1.0, allowances=[{"label": "receiver", "plus_minus": 0.3, "at": "ends"}]))
    assert found["factor"] == pytest.approx(0.7 / worst)


def test_a_joint_alone_may_grow_into_what_the_others_leave() -> None:
    drawn = lifted(1.0)
    member_of(drawn, "lift")["ends"][0]["clearance"] = 0.1
    per_clearance = 2000 / 1800 / 2
    joints = wear_of(drawn)["joints"]
    assert joints["lift / 1"] == pytest.approx((1 - CLEARANCE * per_clearance) / per_clearance)
    assert joints["lift / 2"] == pytest.approx((1 - 0.1 * per_clearance) / per_clearance)


def test_oil_that_gives_one_way_counts_on_its_own_side_only(monkeypatch: pytest.MonkeyPatch) -> None:
    # Oil pushes this end up by 0.6 at most, so upward 0.4 of the tolerance is left for play and downward all of it.
    play = Source("hinge", "hinge", "clearance", {"left": (0.2,), "right": (0.0,)})
    oil = Source("lift", "lift", "oil", {"left": (0.6,), "right": (0.0,)}, "load")
    monkeypatch.setattr("app.results.wear.sources", lambda _: [play, oil])
    drawn = hinge(tolerance=1.0)
    member_of(drawn, "hinge")["clearance"] = 0.3
    assert as_plain(wear(analysed(drawn))) == {
        "factor": pytest.approx(2),
        "joints": {"hinge": pytest.approx(0.6)},
    }


@pytest.mark.parametrize("tolerance", [0.1, 0.2])
def test_a_tolerance_that_is_lost_already_asks_for_less_play(tolerance: float) -> None:
    worst = CLEARANCE / 2 * 2000 / 1800
    assert wear_of(lifted(tolerance))["factor"] == pytest.approx(tolerance / worst)
    assert tolerance / worst < 1


def test_a_tolerance_lost_without_any_play_has_no_growth_to_give() -> None:
    found = wear_of(lifted(1.0, allowances=[{"label": "receiver", "plus_minus": 1.1, "at": "ends"}]))
    assert found == {"factor": None, "joints": {"lift / 2": None}}


def test_a_joint_whose_play_moves_neither_end_may_wear_without_limit() -> None:
    drawn = with_play(twin(tolerance=4), CLEARANCE)
    joints = wear_of(drawn)["joints"]
    assert (joints["stay / 1"], joints["stay / 2"]) == (None, None)
    assert joints["left / 1"] is not None


def test_without_play_there_is_nothing_to_grow() -> None:
    assert wear_of(with_play(full(twin), 0)) == {"factor": None, "joints": {}}


def test_without_tolerance_there_is_no_limit_and_the_reason_is_said() -> None:
    found = detail_of(without(full(twin), "tolerance"))
    assert found["wear"] is None
    assert reasons(found)["wear"] == "needs a tolerance"


# Laws

ROUNDING = 1e-9
"""Relative: of a closed form put back."""


@few
@given(worked_mounts(), st.floats(0.3, 30))
def test_all_play_grown_by_the_factor_brings_the_worst_exactly_to_the_tolerance(
    case: tuple[Document, Command], tolerance: float
) -> None:
    drawn, command = case[0] | {"tolerance": tolerance}, case[1]
    factor = wear_of(drawn, command)["factor"]
    if factor is None:
        here, tight = worst_of(drawn, command), worst_of(with_play(drawn, 0), command)
        # No factor: it is lost without any play, or play moves neither end.
        assert max(tight.values()) > tolerance or here == pytest.approx(tight)
    else:
        assert larger_worst(grown(drawn, factor), command) == pytest.approx(tolerance, rel=ROUNDING)


@few
@given(worked_mounts(), st.floats(2, 30))
def test_each_joint_at_its_own_limit_brings_the_worst_exactly_to_the_tolerance(
    case: tuple[Document, Command], tolerance: float
) -> None:
    drawn, command = case[0] | {"tolerance": tolerance}, case[1]
    for name, limit in wear_of(drawn, command)["joints"].items():
        if limit is None:
            without_it = larger_worst(worn(drawn, name, 0), command)
            # No limit: it is lost without this joint, or the joint moves neither end.
            assert without_it > tolerance or larger_worst(drawn, command) == pytest.approx(without_it)
        elif limit <= 1000:
            assert larger_worst(worn(drawn, name, limit), command) == pytest.approx(tolerance, rel=ROUNDING)


@few
@given(worked_mounts())
def test_a_mount_is_inside_its_tolerance_as_long_as_play_may_still_grow(case: tuple[Document, Command]) -> None:
    drawn, command = case
    factor = wear_of(drawn, command)["factor"]
    worst = larger_worst(drawn, command)
    assume(abs(worst - drawn["tolerance"]) > 1e-9)
    if factor is not None:
        assert (factor > 1) == (worst < drawn["tolerance"])
