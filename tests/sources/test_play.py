"""Which joints the loads hold to one side of their play, and what the budget is without that play."""

import copy
import itertools
import math

import numpy as np
import pytest
from hypothesis import given

from tests.loaded import ENDS, answer_of, few, full, with_play, without, worst_of
from tests.mounts import (
    Command,
    Document,
    centre_pivot,
    guide_on_blade,
    hinge,
    joints_of,
    law,
    member_of,
    twin,
    two_guides,
    worked_mounts,
)

WEIGHT = 300 * 9.80665
"""Of 300 kg, N."""

STEPS = np.linspace(0, 1, 21)
"""Shares of the load that come on one after the other."""

NO_PUSH = 1e-9
"""A product of two forces below this, N2, is what rounding leaves of a joint that carries nothing."""


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
        **dict.fromkeys(("stay / 1", "stay / 2"), "turns over"),
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


@pytest.mark.parametrize(("across", "play"), [(-4500, "turns over"), (4500, "turns over")])
def test_a_stay_the_weight_leaves_alone_is_not_held(across: float, play: str) -> None:
    assert play_of(heavy(twin(), load=(0, (across, 0))))["stay / 1"] == play


@pytest.mark.parametrize(
    ("degrees", "play"), [(89.5, "held"), (-89.5, "held"), (90.5, "turns over"), (-90.5, "turns over")]
)
def test_a_pin_is_held_as_long_as_its_force_turns_by_less_than_a_right_angle(degrees: float, play: str) -> None:
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
def test_without_load_or_mass_play_is_unknown_and_none_is_left_out(missing: str) -> None:
    drawn = without(full(hinge), missing)
    assert set(play_of(drawn).values()) == {"unknown"}
    budget = answer_of(drawn)["budget"]
    assert [budget[end]["worst_held"] for end in ENDS] == pytest.approx([budget[end]["worst"] for end in ENDS])


def test_sources_that_are_no_play_say_nothing_of_it() -> None:
    budget = answer_of(full(twin))["budget"]
    others = [source for end in ENDS for source in budget[end]["sources"] if source["kind"] != "clearance"]
    assert {source["kind"] for source in others} == {"oil", "step", "allowance"}
    assert {source["play"] for source in others} == {None}


# Laws


@law
@given(worked_mounts())
def test_held_play_is_pushed_within_a_right_angle_at_every_step_of_the_load_and_no_other_is(
    case: tuple[Document, Command],
) -> None:
    drawn, command = case
    forces = answer_of(drawn, command)["forces"]
    for name, play in play_of(drawn, command).items():
        weight, load = complex(*forces[name]["weight"]), complex(*forces[name]["load"])
        steps = [weight + share * load for share in STEPS]
        within = min((a * b.conjugate()).real for a, b in itertools.combinations(steps, 2))
        assert play == ("held" if within > NO_PUSH else "turns over")


@few
@given(worked_mounts())
def test_play_held_under_the_full_load_is_held_under_any_part_of_it(case: tuple[Document, Command]) -> None:
    drawn, command = case
    held = {name for name, play in play_of(drawn, command).items() if play == "held"}
    for share in (0.75, 0.5, 0.25):
        part = copy.deepcopy(drawn)
        part["load"]["force"] = [share * force for force in drawn["load"]["force"]]
        assert held <= {name for name, play in play_of(part, command).items() if play == "held"}


@law
@given(worked_mounts())
def test_worst_held_is_the_worst_of_the_mount_with_the_held_joints_made_tight(case: tuple[Document, Command]) -> None:
    drawn, command = case
    budget, play = answer_of(drawn, command)["budget"], play_of(drawn, command)
    tight = copy.deepcopy(drawn)
    for member in tight["members"]:
        for name, joint in joints_of(member):
            if play.get(name) == "held":
                joint["clearance"] = 0
    worst = worst_of(tight, command)
    for end in ENDS:
        assert budget[end]["worst_held"] == pytest.approx(worst[end], rel=1e-9, abs=1e-12)
        assert budget[end]["worst_held"] <= budget[end]["worst"] * (1 + 1e-12)


@few
@given(worked_mounts())
def test_the_sizes_of_mass_and_load_together_decide_nothing(case: tuple[Document, Command]) -> None:
    drawn, command = case
    heavier = copy.deepcopy(drawn)
    heavier["blade"]["mass"] *= 7.5
    heavier["load"]["force"] = [7.5 * force for force in drawn["load"]["force"]]
    assert play_of(heavier, command) == play_of(drawn, command)


def test_tightening_a_held_joint_does_not_lower_worst_held() -> None:
    drawn = heavy(twin(), load=(1000, (0, 4500)))
    before = answer_of(drawn)["budget"]["left"]
    member_of(drawn, "left")["ends"][0]["clearance"] = 0
    after = answer_of(drawn)["budget"]["left"]
    assert after["worst"] < before["worst"]
    assert after["worst_held"] == pytest.approx(before["worst_held"])
