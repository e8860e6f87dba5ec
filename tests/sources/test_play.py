"""What the loads do to the play of every joint: held, moves, turns over, unknown; how far, and when a push reverses.

Held against a sweep of the load in 2000 steps from the joint forces, which are checked by equilibrium elsewhere.
"""

import copy
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.solve.equations import Array
from app.sources.play import Contact
from tests.loaded import ENDS, answer_of, few, full, rows_of, with_play, without
from tests.mounts import (
    Command,
    Document,
    centre_pivot,
    guide_on_blade,
    hinge,
    joints_of,
    law,
    twin,
    two_guides,
    worked_mounts,
)

WEIGHT = 300 * 9.80665
"""Of 300 kg, N."""

STEPS = np.linspace(0, 1, 2001)
"""Shares of the load that come on one after the other."""


def heavy(drawn: Document, at: float = 0, load: tuple[float, tuple[float, float]] | None = None) -> Document:
    """The mount with 300 kg at x = ``at``, play in every joint and a load at x on the edge."""
    drawn["blade"] |= {"mass": 300, "mass_centre": [at, 190]}
    if load:
        drawn["load"] = {"at": [load[0], 0], "force": list(load[1])}
    return with_play(drawn, 0.2)


def play_of(drawn: Document, command: Command | None = None) -> dict[str, str]:
    """What the budget says of every joint's play; both ends say the same."""
    budget = answer_of(drawn, command)["budget"]
    left, right = (
        {source["id"]: source["play"] for source in budget[end]["sources"] if source["kind"] == "clearance"}
        for end in ENDS
    )
    assert left == right
    return left


# By hand


def test_a_load_that_pushes_where_the_weight_hangs_leaves_both_twin_cylinders_held() -> None:
    drawn = heavy(twin(), load=(0, (0, -4500)))
    assert play_of(drawn) == {
        **dict.fromkeys(("left / 1", "left / 2", "right / 1", "right / 2"), "held"),
        **dict.fromkeys(("stay / 1", "stay / 2"), "unknown"),
    }


def test_a_load_that_lifts_the_right_end_turns_the_right_cylinder_over_and_holds_the_left() -> None:
    play = play_of(heavy(twin(), load=(1000, (0, 4500))))
    assert (play["left / 1"], play["left / 2"]) == ("held", "held")
    assert (play["right / 1"], play["right / 2"]) == ("turns over", "turns over")


@pytest.mark.parametrize(("share", "play"), [(0.99, "held"), (1.01, "turns over")])
def test_a_cylinder_turns_over_when_the_load_lifts_more_than_the_weight_that_hangs_on_it(
    share: float, play: str
) -> None:
    # Half the weight hangs on each cylinder; 1600 mm between them, the load 200 mm outside.
    lift = share * WEIGHT / 2 * 1600 / 1800
    assert play_of(heavy(twin(), load=(1000, (0, lift))))["right / 1"] == play


@pytest.mark.parametrize("across", [-4500, 4500])
def test_a_stay_the_weight_leaves_alone_has_no_known_side(across: float) -> None:
    drawn = heavy(twin(), load=(0, (across, 0)))
    assert play_of(drawn)["stay / 1"] == "unknown"
    moved = source_of(drawn, "right", "stay / 1")["moved"]
    # The whole of its play or none of it: the stay lies 200 mm above the edge and holds the blade across only.
    assert moved[1] - moved[0] == pytest.approx(source_of(drawn, "right", "stay / 1")["high"] * 2)


@pytest.mark.parametrize(
    ("degrees", "play"), [(2, "held"), (30, "moves"), (89.5, "moves"), (-89.5, "moves"), (90.5, "turns over")]
)
def test_a_pin_turns_over_when_its_force_has_turned_by_more_than_a_right_angle(degrees: float, play: str) -> None:
    # On the centre pivot a load through the pin goes into the pin alone: it is chosen so that with the weight
    # the pin is pushed at this angle from plumb.
    drawn = heavy(centre_pivot())
    across = WEIGHT * math.sin(math.radians(degrees))
    drawn["load"] = {"at": [0, 400], "force": [across, WEIGHT - WEIGHT * math.cos(math.radians(degrees))]}
    assert play_of(drawn)["pivot"] == play


@pytest.mark.parametrize(("share", "play"), [(1, "held"), (-0.99, "held"), (-1.01, "turns over")])
def test_a_guide_is_held_until_the_load_across_takes_off_what_the_weight_presses_on_it(share: float, play: str) -> None:
    # The weight hangs 100 mm left of the cylinder, guides 700 mm apart: 1/7 of it presses the lower one to the right.
    # A force across at the edge, 200 mm below it, presses it by 9/7 of itself.
    across = share * WEIGHT / 9
    assert play_of(heavy(two_guides(), at=200, load=(0, (across, 0))))["lower guide"] == play


def test_a_drop_rod_pulled_by_the_weight_is_held_when_the_load_pulls_it_too() -> None:
    assert play_of(heavy(guide_on_blade(), load=(-1000, (0, -4500))))["drop rod / 1"] == "held"
    assert play_of(heavy(guide_on_blade(), load=(-1000, (0, 4500))))["drop rod / 1"] == "turns over"


@pytest.mark.parametrize("missing", ["load", "blade.mass", "blade.mass_centre"])
def test_without_load_or_mass_play_is_unknown(missing: str) -> None:
    drawn = without(full(hinge), missing)
    assert set(play_of(drawn).values()) == {"unknown"}
    budget = answer_of(drawn)["budget"]
    assert budget["reverses_at"] is None
    assert (budget["left"]["worst_under_load"] is None) == (missing == "load")


def test_play_that_the_load_leaves_alone_is_not_moved() -> None:
    contact = Contact([3.0], [-3.0], known=True, floor=1e-6, reversing=False)
    assert contact.after == ([0.0],)
    assert contact.moved([0.2]) == (0.0, 0.0)


def test_sources_that_are_no_play_move_by_their_range_and_say_nothing_of_play() -> None:
    budget = answer_of(full(twin))["budget"]
    others = [source for end in ENDS for source in budget[end]["sources"] if source["kind"] != "clearance"]
    assert {source["kind"] for source in others} == {"oil", "step", "allowance"}
    assert {(source["play"], source["reverses_at"]) for source in others} == {(None, None)}
    assert all(source["moved"] == [source["low"], source["high"]] for source in others)


# When the push reverses


def test_the_first_push_to_reverse_is_named_with_the_multiple_of_the_load_that_does_it() -> None:
    # Half the weight hangs on each cylinder; the load lifts the right one by 1800/1600 of itself.
    drawn = heavy(twin(), load=(1000, (0, 1000)))
    found = answer_of(drawn)["budget"]["reverses_at"]
    assert found["joint"] in ("right / 1", "right / 2")
    assert found["multiple"] == pytest.approx(WEIGHT / 2 / (1000 * 1800 / 1600))


def test_a_load_that_never_lifts_the_weight_reverses_nothing() -> None:
    drawn = heavy(twin(), load=(0, (0, -1000)))
    assert answer_of(drawn)["budget"]["reverses_at"] is None


def test_a_reversing_load_turns_over_what_the_load_the_other_way_round_would() -> None:
    drawn = heavy(twin(), load=(1000, (0, -4500)))
    assert play_of(drawn)["right / 1"] == "held"
    drawn["load"]["reversing"] = True
    assert play_of(drawn)["right / 1"] == "turns over"
    assert answer_of(drawn)["budget"]["reverses_at"]["multiple"] == pytest.approx(-WEIGHT / 2 / (4500 * 1800 / 1600))


# Laws


def source_of(drawn: Document, end: str, name: str, command: Command | None = None) -> Document:
    """What the budget of an end says of a joint's play."""
    sources = answer_of(drawn, command)["budget"][end]["sources"]
    return next(each for each in sources if (each["id"], each["kind"]) == (name, "clearance"))


def pushes(drawn: Document, command: Command, share: Array) -> dict[str, Array]:
    """Where weight and shares of the load press every joint: unit vectors, shape (shares, axes), from the forces."""
    forces, rows = answer_of(drawn, command)["forces"], rows_of(drawn, command)
    found = {}
    for name, row in rows.items():
        weight, load = (-row @ np.array(forces[name][case]) for case in ("weight", "load"))
        pressed = weight + share[:, None] * load
        size = np.linalg.norm(pressed, axis=1, keepdims=True)
        found[name] = np.divide(pressed, size, out=np.zeros_like(pressed), where=size > 1e-9)
    return found


@few
@given(worked_mounts(), st.booleans())
def test_what_the_load_moves_is_what_a_sweep_of_the_load_moves(case: tuple[Document, Command], both: bool) -> None:
    drawn, command = copy.deepcopy(case[0]), case[1]
    drawn["load"]["reversing"] = both
    sides, gains = (
        pushes(drawn, command, np.concatenate([STEPS, -STEPS]) if both else STEPS),
        per_offset(drawn, command),
    )
    for end_number, end in enumerate(ENDS):
        for member in drawn["members"]:
            for name, joint in joints_of(member):
                if not joint.get("clearance") or play_of(drawn, command)[name] == "unknown":
                    continue
                swept = (sides[name] - sides[name][0]) @ gains[name][end_number] * joint["clearance"] / 2
                found = source_of(drawn, end, name, command)["moved"]
                # A sweep steps past the farthest place of an arc: by a turn of a 2000th of a right angle at the most
                # where the push does not turn within a few steps, which a coarser bound allows for.
                room = 2e-2 * joint["clearance"] * float(np.linalg.norm(gains[name][end_number])) + 1e-9
                assert found == pytest.approx([min(swept), max(swept)], abs=room)
                assert found[0] <= min(swept) + 1e-9
                assert found[1] >= max(swept) - 1e-9


def per_offset(drawn: Document, command: Command) -> dict[str, Array]:
    """Heights of both ends per mm of each joint's offset, shape (2, offsets), by virtual work from the forces."""
    rows = rows_of(drawn, command)
    answers = [
        answer_of(drawn | {"load": {"at": drawn["blade"][end], "force": [0, 1]}}, command)["forces"] for end in ENDS
    ]
    return {name: np.array([-row @ np.array(answer[name]["load"]) for answer in answers]) for name, row in rows.items()}


@law
@given(worked_mounts())
def test_no_source_moves_farther_than_its_range_is_wide(case: tuple[Document, Command]) -> None:
    budget = answer_of(*case)["budget"]
    for source in (each for end in ENDS for each in budget[end]["sources"]):
        low, high = source["moved"]
        assert low <= 1e-12
        assert high >= -1e-12
        assert high - low <= (source["high"] - source["low"]) * (1 + 1e-9) + 1e-12


@law
@given(worked_mounts(), st.booleans())
def test_a_push_reverses_within_the_load_exactly_where_play_turns_over(
    case: tuple[Document, Command], both: bool
) -> None:
    drawn, command = copy.deepcopy(case[0]), case[1]
    drawn["load"]["reversing"] = both
    budget = answer_of(drawn, command)["budget"]
    plays = [each for each in budget["left"]["sources"] if each["kind"] == "clearance"]
    for each in plays:
        within = each["reverses_at"] is not None and abs(each["reverses_at"]) <= 1
        assert within == (each["play"] == "turns over")
    known = [abs(each["reverses_at"]) for each in plays if each["reverses_at"] is not None]
    first = budget["reverses_at"]
    assert (abs(first["multiple"]) if first else None) == (min(known) if known else None)


@few
@given(worked_mounts())
def test_a_reversing_load_never_moves_less_than_one_way(case: tuple[Document, Command]) -> None:
    drawn, command = case
    both = copy.deepcopy(drawn)
    both["load"]["reversing"] = True
    before, after = (answer_of(each, command)["budget"] for each in (drawn, both))
    for end in ENDS:
        assert after[end]["worst"] >= before[end]["worst"] * (1 - 1e-12)
        assert after[end]["worst_under_load"] >= before[end]["worst_under_load"] * (1 - 1e-12)


@few
@given(worked_mounts())
def test_the_sizes_of_mass_and_load_together_decide_nothing(case: tuple[Document, Command]) -> None:
    drawn, command = case
    heavier = copy.deepcopy(drawn)
    heavier["blade"]["mass"] *= 7.5
    heavier["load"]["force"] = [7.5 * force for force in drawn["load"]["force"]]
    assert play_of(heavier, command) == play_of(drawn, command)


@few
@given(worked_mounts())
def test_held_play_moves_a_twentieth_of_itself_at_the_most(case: tuple[Document, Command]) -> None:
    budget = answer_of(*case)["budget"]
    for source in (each for end in ENDS for each in budget[end]["sources"] if each["play"] == "held"):
        widest = max(2 * source_of(case[0], end, source["id"], case[1])["high"] for end in ENDS)
        assert source["moved"][1] - source["moved"][0] <= 0.05 * widest + 1e-12
