"""The load test: what a dial gauge at each end reads when the working load comes on."""

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.solve.equations import Array
from tests.answers import reasons, said
from tests.loaded import (
    ENDS,
    answer_of,
    by_source,
    few,
    full,
    given_way,
    load_turned_round,
    oil_alike_both_ways,
    pushed_over,
    rows_of,
    two_states,
    with_play,
    without,
    worst_of,
)
from tests.mounts import (
    ONE_BODY,
    THREE_BODIES,
    TWO_BODIES,
    Command,
    Document,
    centre_pivot,
    guide_on_blade,
    hinge,
    joints_of,
    law,
    located_mounts,
    member_of,
    twin,
    worked_mounts,
)

CAP = math.pi / 4 * 63**2
ANNULUS = math.pi / 4 * (63**2 - 36**2)
COLUMN = 200
BULK = 1400
OIL = {"bulk_modulus": BULK}
UP_AT_RIGHT_END = {"at": [1000, 0], "force": [0, 4500]}
WEIGHT = 300 * 9.80665
"""Of 300 kg, N."""


def heavy(drawn: Document, at: float) -> Document:
    drawn["blade"] |= {"mass": 300, "mass_centre": [at, 190]}
    return drawn


def dial_of(drawn: Document, command: Command | None = None) -> Document:
    found: Document = answer_of(drawn, command)["dial"]
    return found


def reading(drawn: Document, command: Command | None = None) -> list[float]:
    dial = dial_of(drawn, command)
    return [dial[end] for end in ENDS]


def part_of(drawn: Document, kind: str) -> list[float]:
    """What one kind of source adds to the readings of both ends, mm."""
    return [math.fsum(source[end] for source in dial_of(drawn)["sources"] if source["kind"] == kind) for end in ENDS]


# By hand


def see_saw() -> Document:
    """Pin in the middle at 400, level cylinder on a 200 mm lever above it: 5 mm at the ends per mm of cylinder.

    The weight acts 100 mm right of the pin.
    """
    drawn = heavy(centre_pivot(load=UP_AT_RIGHT_END, oil=OIL), at=100)
    member_of(drawn, "pivot")["clearance"] = 0.2
    for end, clearance in zip(member_of(drawn, "tilt")["ends"], (0.1, 0.3), strict=True):
        end["clearance"] = clearance
    return drawn


PUSH = 4500 * 1000 / 200
"""In the see-saw's cylinder under the load, N: it stands left of the lever, so a rising right end shortens it."""

PULL = WEIGHT * 100 / 200
"""In the same under the weight, N."""


def test_see_saw_cylinder_goes_over_from_tension_to_compression_through_its_whole_play() -> None:
    sources = by_source(dial_of(see_saw())["sources"])
    # Shorter by the whole of each clearance; 5 mm of edge per mm, up at the right.
    assert [sources["tilt / 1", "clearance"][end] for end in ENDS] == pytest.approx([-5 * 0.1, 5 * 0.1])
    assert [sources["tilt / 2", "clearance"][end] for end in ENDS] == pytest.approx([-5 * 0.3, 5 * 0.3])


def test_see_saw_pin_rolls_round_in_its_play_from_the_weight_to_the_load() -> None:
    # The blade presses on the frame: left and down under the weight, right and up with the load.
    before = np.array([-PULL, -WEIGHT]) / math.hypot(PULL, WEIGHT)
    pressed = np.array([PUSH - PULL, 4500 - WEIGHT])
    across, up = 0.2 / 2 * (pressed / math.hypot(*pressed) - before)
    source = by_source(dial_of(see_saw())["sources"])["pivot", "clearance"]
    # With the lever's top held, 1 mm across turns the blade by 1/200 and so lifts the right end by 5 mm.
    assert [source[end] for end in ENDS] == pytest.approx([up - 5 * across, up + 5 * across])


def test_see_saw_oil_gives_way_on_the_rod_side_until_the_weight_is_off_it_and_then_on_the_cap_side() -> None:
    source = by_source(dial_of(see_saw())["sources"])["tilt", "oil"]
    give = PULL / ANNULUS * COLUMN / BULK + (PUSH - PULL) / CAP * COLUMN / BULK
    assert [source[end] for end in ENDS] == pytest.approx([-5 * give, 5 * give])


def test_see_saw_reads_the_sum_largest_source_first() -> None:
    dial = dial_of(see_saw())
    sizes = [max(abs(source["left"]), abs(source["right"])) for source in dial["sources"]]
    assert len(sizes) == 4
    assert sizes == sorted(sizes, reverse=True)
    for end in ENDS:
        assert dial[end] == pytest.approx(sum(source[end] for source in dial["sources"]))
    assert (dial["note"], dial["unsure"]) == (None, {"left": 0, "right": 0})


def twin_cylinders() -> Document:
    """Upright cylinders 800 mm either side of the middle, the weight between them, the load up at the right end."""
    drawn = with_play(heavy(twin(load=UP_AT_RIGHT_END, oil=OIL), at=0), 0.2)
    member_of(drawn, "left")["hose_volume"] = 150
    return drawn


RIGHT_PUSH = 4500 * 1800 / 1600
LEFT_PULL = 4500 * 200 / 1600


def test_twin_cylinders_only_the_loaded_side_turns_over() -> None:
    sources = by_source(dial_of(twin_cylinders())["sources"])
    assert RIGHT_PUSH > WEIGHT / 2
    # Lengthening the right cylinder by 1 mm lowers the right end by 1800/1600 and lifts the left by 200/1600.
    for name in ("right / 1", "right / 2"):
        assert [sources[name, "clearance"][end] for end in ENDS] == pytest.approx([-0.2 / 8, 0.2 * 9 / 8])
    for name in ("left / 1", "left / 2", "stay / 1", "stay / 2"):
        assert [sources[name, "clearance"][end] for end in ENDS] == pytest.approx([0, 0], abs=1e-12)


def test_twin_cylinders_both_give_way_each_by_the_side_that_is_pressed() -> None:
    sources = by_source(dial_of(twin_cylinders())["sources"])
    shorter = WEIGHT / 2 / ANNULUS * COLUMN / BULK + (RIGHT_PUSH - WEIGHT / 2) / CAP * COLUMN / BULK
    longer = LEFT_PULL / ANNULUS * (ANNULUS * COLUMN + 150_000) / BULK / ANNULUS
    assert [sources["right", "oil"][end] for end in ENDS] == pytest.approx([-shorter / 8, shorter * 9 / 8])
    assert [sources["left", "oil"][end] for end in ENDS] == pytest.approx([-longer * 9 / 8, longer / 8])


def test_a_load_too_small_to_lift_the_right_side_turns_no_play_over() -> None:
    drawn = twin_cylinders()
    drawn["load"]["force"] = [0, 0.99 * WEIGHT / 2 * 1600 / 1800]
    assert part_of(drawn, "clearance") == pytest.approx([0, 0], abs=1e-12)
    drawn["load"]["force"] = [0, 1.01 * WEIGHT / 2 * 1600 / 1800]
    assert part_of(drawn, "clearance") == pytest.approx([-2 * 0.2 / 8, 2 * 0.2 * 9 / 8])


def test_a_joint_the_weight_leaves_alone_may_move_by_none_or_all_of_its_play() -> None:
    drawn = heavy(centre_pivot(load=UP_AT_RIGHT_END), at=0)
    member_of(drawn, "tilt")["ends"][1]["clearance"] = 0.3
    assert reading(drawn) == pytest.approx([-5 * 0.15, 5 * 0.15])
    assert dial_of(drawn)["unsure"] == pytest.approx({"left": 5 * 0.15, "right": 5 * 0.15})


def test_a_drop_rod_that_stretches_lowers_its_own_end() -> None:
    drawn = guide_on_blade(load=UP_AT_RIGHT_END)
    member_of(drawn, "drop rod").update(section_area=620, elastic_modulus=205000)
    pull = 4500 * 300 / 1500
    drop = pull * 800 / (205000 * 620)
    assert reading(drawn) == pytest.approx([-drop * 1700 / 1500, drop * 300 / 1500])


def test_allowances_and_valve_steps_do_not_move_a_dial() -> None:
    drawn = with_play(full(twin), 0)
    assert {source["kind"] for source in dial_of(drawn)["sources"]} == {"oil"}
    assert reading(without(drawn, "allowances", "valve")) == reading(drawn)


# Without mass


def test_without_mass_every_reading_is_a_range_and_says_why() -> None:
    drawn = without(twin_cylinders(), "blade.mass")
    dial = dial_of(drawn)
    # All four upright joints are pushed by the load: half of 0.2 mm each, seen 9/8 and 1/8 times at an end.
    assert dial["unsure"] == pytest.approx(dict.fromkeys(ENDS, 2 * 0.1 * (9 + 1) / 8))
    assert said(dial["note"]).startswith("the document has no mass: the play may lie either way")


@pytest.mark.parametrize("at", [1000, 300, -800, 800])
def test_a_weight_of_a_kilogram_anywhere_lies_within_the_range_without_mass(at: float) -> None:
    drawn = without(twin_cylinders(), "blade.mass", "blade.mass_centre")
    drawn["load"]["at"] = [at, 0]
    dial = dial_of(drawn)
    for centre in (-700, 0, 700):
        a_kilogram = twin_cylinders() | {"load": drawn["load"]}
        a_kilogram["blade"] |= {"mass": 1, "mass_centre": [centre, 0]}
        for end in ENDS:
            assert abs(dial_of(a_kilogram)[end] - dial[end]) <= dial["unsure"][end] + 1e-3


def test_without_mass_a_load_of_no_size_moves_no_dial() -> None:
    drawn = without(twin_cylinders(), "blade.mass", "blade.mass_centre")
    drawn["load"]["force"] = [0, 0]
    assert reading(drawn) == pytest.approx([0, 0], abs=1e-12)


def test_without_load_there_is_no_reading_and_the_reason_is_said() -> None:
    answer = answer_of(without(see_saw(), "load"))
    assert answer["dial"] is None
    assert reasons(answer)["dial"] == "needs a load"


# Against poses solved again


SMALL = 0.02
"""Share of play and give at which poses are solved again: what is left of the second order is a thousandth of it."""


def extrapolated(moved: Callable[[float], Array]) -> list[float]:
    """The first order of a movement by scale: two scales cancel the second order between them."""
    once, half = moved(SMALL) / SMALL, moved(SMALL / 2) / (SMALL / 2)
    return [float(each) for each in 2 * half - once]


@few
@given(worked_mounts())
def test_a_dial_reads_what_poses_solved_again_in_the_two_states_are_apart(case: tuple[Document, Command]) -> None:
    drawn, command = case
    size = max(worst_of(drawn, command).values())
    assert reading(drawn, command) == pytest.approx(extrapolated(two_states(drawn, command)), abs=2e-4 * size)


@pytest.mark.parametrize("plain", [*ONE_BODY, *TWO_BODIES, *THREE_BODIES])
def test_a_dial_differs_from_poses_solved_again_by_second_order_only(plain: Callable[..., Document]) -> None:
    drawn = full(plain, clearance=0.6)
    moved, exact = two_states(drawn, {}), np.array(reading(drawn))
    off = [np.abs(moved(scale) - scale * exact).max() for scale in (1.0, 0.5)]
    # Second order falls to a quarter. Below a micrometre there is nothing left to compare.
    assert off[1] < 0.27 * off[0] or off[0] < 1e-3 * np.abs(exact).max()


# Laws


@few
@given(worked_mounts())
def test_a_reading_is_the_sum_of_its_sources(case: tuple[Document, Command]) -> None:
    dial = dial_of(*case)
    for end in ENDS:
        assert dial[end] == pytest.approx(sum(source[end] for source in dial["sources"]), abs=1e-12)


@few
@given(worked_mounts())
def test_no_source_moves_a_dial_farther_than_the_budget_gives_it(case: tuple[Document, Command]) -> None:
    answer = answer_of(*case)
    for end in ENDS:
        budget = by_source(answer["budget"][end]["sources"])
        for key, source in by_source(answer["dial"]["sources"]).items():
            assert abs(source[end]) <= (budget[key]["high"] - budget[key]["low"]) * (1 + 1e-9) + 1e-12


@few
@given(worked_mounts())
def test_without_play_and_with_stiff_oil_and_rods_a_dial_reads_nought(case: tuple[Document, Command]) -> None:
    drawn, command = without(with_play(case[0], 0), "oil"), case[1]
    for member in drawn["members"]:
        member.pop("section_area", None)
    assert reading(drawn, command) == [0, 0]
    assert dial_of(drawn, command)["sources"] == []


@law
@given(located_mounts)
def test_load_turned_round_turns_the_reading_round_without_play_and_with_oil_alike_both_ways(drawn: Document) -> None:
    # Stretch, and oil that gives way alike on both sides, know nothing of the weight.
    plain = oil_alike_both_ways(with_play(drawn, 0))
    assert reading(load_turned_round(plain)) == pytest.approx([-each for each in reading(plain)], rel=1e-9, abs=1e-12)


@few
@given(worked_mounts())
def test_load_turned_round_turns_every_stretch_round_and_every_oil_source_to_the_other_sign(
    case: tuple[Document, Command],
) -> None:
    drawn, command = case
    plain = by_source(dial_of(drawn, command)["sources"])
    turned = by_source(dial_of(load_turned_round(drawn), command)["sources"])
    for (name, kind), source in plain.items():
        for end in ENDS:
            if kind == "stretch":
                assert turned[name, kind][end] == pytest.approx(-source[end], rel=1e-9, abs=1e-12)
            if kind == "oil":
                assert turned[name, kind][end] * source[end] <= 0


@few
@given(worked_mounts())
def test_load_turned_round_without_mass_swings_every_joint_from_one_side_of_its_play_to_the_other(
    case: tuple[Document, Command],
) -> None:
    # Both readings start from the middle of the play, so their difference does not depend on where it lay.
    drawn, command = case[0], case[1]
    massless = without(drawn, "blade.mass", "blade.mass_centre")
    plain = by_source(dial_of(massless, command)["sources"])
    turned = by_source(dial_of(load_turned_round(massless), command)["sources"])
    side_to_side = {name: 2 * offset for name, offset in pushed_over(massless, command, "load").items()}
    per_offset = edge_per_offset(drawn, command)
    for (name, kind), source in plain.items():
        if kind == "clearance":
            swing = [source[end] - turned[name, kind][end] for end in ENDS]
            assert swing == pytest.approx((per_offset[name] @ side_to_side[name]).tolist(), rel=1e-6, abs=1e-9)


def edge_per_offset(drawn: Document, command: Command) -> dict[str, Array]:
    """Heights of both ends per mm of each joint's offset, shape (2, offsets): the force there under 1 N at that end.

    By virtual work: a force of 1 N up at an end does as much there as the joint's force does over the offset.
    """
    found: dict[str, Array] = {}
    rows = rows_of(drawn, command)
    answers = [
        answer_of(drawn | {"load": {"at": drawn["blade"][end], "force": [0, 1]}}, command)["forces"] for end in ENDS
    ]
    for member in drawn["members"]:
        for name, _ in joints_of(member):
            found[name] = np.array([-rows[name] @ np.array(answer[name]["load"]) for answer in answers])
    return found


@few
@given(worked_mounts())
def test_held_play_moves_a_rod_end_a_cylinder_end_and_a_slide_not_at_all(case: tuple[Document, Command]) -> None:
    answer = answer_of(*case)
    pins = {member["id"] for member in case[0]["members"] if member["kind"] == "pin"}
    held = {source["id"] for source in answer["budget"]["left"]["sources"] if source["play"] == "held"}
    for source in answer["dial"]["sources"]:
        if source["kind"] == "clearance" and source["id"] in held - pins:
            assert [source[end] for end in ENDS] == [0, 0]


@few
@given(worked_mounts(), st.floats(1.01, 20))
def test_stiffer_oil_never_makes_the_oil_part_of_a_reading_or_the_worst_error_larger(
    case: tuple[Document, Command], stiffer: float
) -> None:
    drawn, command = case
    stiff = drawn | {"oil": {"bulk_modulus": BULK * stiffer}}
    soft_dial, stiff_dial = (by_source(dial_of(each, command)["sources"]) for each in (drawn, stiff))
    for key, source in soft_dial.items():
        for end in ENDS:
            expected = source[end] / stiffer if key[1] == "oil" else source[end]
            assert stiff_dial[key][end] == pytest.approx(expected, rel=1e-9, abs=1e-12)
    soft_worst, stiff_worst = worst_of(drawn, command), worst_of(stiff, command)
    assert all(stiff_worst[end] <= soft_worst[end] * (1 + 1e-12) for end in ENDS)


@few
@given(worked_mounts())
def test_oil_and_rods_move_a_dial_by_what_the_forces_squeeze_and_stretch(case: tuple[Document, Command]) -> None:
    drawn, command = case
    answer = answer_of(drawn, command)
    sources, per_offset = by_source(answer["dial"]["sources"]), edge_per_offset(drawn, command)
    oil, rods = given_way(drawn, command)
    for name, longer in oil.items():
        expected = [longer * answer["actuators"][name][end] for end in ENDS]
        assert [sources[name, "oil"][end] for end in ENDS] == pytest.approx(expected, rel=1e-9, abs=1e-12)
    for name, longer in rods.items():
        expected = (longer * per_offset[f"{name} / 1"][:, 0]).tolist()
        assert [sources[name, "stretch"][end] for end in ENDS] == pytest.approx(expected, rel=1e-6, abs=1e-9)


def test_a_hinged_end_under_the_dial_does_not_move_but_by_its_pin() -> None:
    drawn = heavy(hinge(load=UP_AT_RIGHT_END, oil=OIL), at=0)
    assert dial_of(drawn)["left"] == pytest.approx(0, abs=1e-12)
    member_of(drawn, "hinge")["clearance"] = 0.4
    # Weight: 1000/1800 of it on the cylinder, the rest down on the pin. Load at 2000 of 1800: down on the pin too.
    assert WEIGHT * 800 / 1800 + 4500 * 200 / 1800 > 0
    assert dial_of(drawn)["left"] == pytest.approx(0, abs=1e-12)
    drawn["load"]["at"] = [-1000, 0]
    assert dial_of(drawn)["left"] == pytest.approx(0.4)


def test_a_joint_the_weight_does_not_push_is_named_with_how_much_it_leaves_open() -> None:
    # The see-saw hangs in balance: its tilt cylinder carries no weight.
    drawn = full(centre_pivot)
    drawn["blade"]["mass_centre"] = [0, 190]
    dial = answer_of(drawn)["dial"]
    # Half of 0.2 mm in each of two ends, five times as large at an end 1000 mm out on a lever of 200 mm.
    assert dial["unsure"] == pytest.approx({"left": 1, "right": 1})
    assert said(dial["note"]) == (
        "the weight does not push 'tilt / 1', 'tilt / 2': the play there may lie either way before the load comes on"
    )
    drawn["blade"]["mass_centre"] = [40, 190]
    assert answer_of(drawn)["dial"]["note"] is None


@few
@given(worked_mounts())
def test_a_reading_lies_within_what_the_budget_says_the_load_moves(case: tuple[Document, Command]) -> None:
    answer = answer_of(*case)
    for end in ENDS:
        moved = [source["moved"] for source in answer["budget"][end]["sources"]]
        low, high = sum(each[0] for each in moved), sum(each[1] for each in moved)
        assert low - 1e-9 <= answer["dial"][end] - answer["dial"]["unsure"][end]
        assert answer["dial"][end] + answer["dial"]["unsure"][end] <= high + 1e-9
