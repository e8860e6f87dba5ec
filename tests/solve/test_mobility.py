"""Mobility: what can still move and what fights, as drawn and with every cylinder held."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.document.reading import read_mount
from tests.answers import readout
from tests.mounts import (
    Document,
    analysed,
    crank_and_drop_rod,
    crank_on_carriage,
    cylinder,
    end,
    guided,
    hinge,
    law,
    located_mounts,
    pin,
    pivot_on_carriage,
    rod,
    slide,
    twin,
)


def held(document: Document) -> tuple[str, int, int, list[str]]:
    """State, freedom, redundant and the members involved."""
    found = readout(read_mount(document))["mobility"]
    return found["state"], found["freedom"], found["redundant"], found["members"]


def with_members(document: Document, *more: Document) -> Document:
    return {**document, "members": [*document["members"], *more]}


@pytest.mark.parametrize("plain", [hinge, twin, guided, pivot_on_carriage, crank_and_drop_rod, crank_on_carriage])
def test_a_mount_that_neither_moves_nor_fights_is_located(plain: Callable[[], Document]) -> None:
    assert held(plain()) == ("located", 0, 0, [])


def test_without_its_stay_a_twin_mount_swings_and_the_cylinders_are_named() -> None:
    document = twin()
    document["members"].pop()
    assert held(document) == ("loose", 1, 0, ["left", "right"])


def test_the_swing_is_shown_as_a_shift_of_about_a_millimetre() -> None:
    document = twin()
    document["members"].pop()
    (motion,) = readout(read_mount(document))["mobility"]["motion"]
    assert motion["blade"]["at"] == [0, 0]
    assert [abs(part) for part in motion["blade"]["shift"]] == pytest.approx([1, 0], abs=1e-9)
    assert motion["blade"]["turn"] == pytest.approx(0, abs=1e-9)


def test_a_blade_that_nothing_holds_has_three_free_motions() -> None:
    assert held({**twin(), "members": []}) == ("loose", 3, 0, [])


def test_a_loose_body_beside_a_located_blade_names_only_what_holds_that_body() -> None:
    document = with_members(twin(), pin("spare pin", "frame", "flap", (0, 1500)))
    assert held({**document, "bodies": ["flap"]}) == ("loose", 1, 0, ["spare pin"])


def test_a_second_rod_across_a_located_blade_fights_with_all_that_holds_it() -> None:
    document = with_members(twin(), rod("second stay", end("frame", (900, 300)), end("blade", (-900, 250))))
    assert held(document) == ("bound", 0, 1, ["left", "right", "stay", "second stay"])


def test_members_that_take_no_part_in_the_fight_are_not_named() -> None:
    doubled = slide("middle guide", "frame", "carriage", (0, 950))
    assert held(with_members(pivot_on_carriage(), doubled)) == (
        "bound",
        0,
        1,
        ["upper guide", "lower guide", "middle guide"],
    )


def test_a_mount_that_swings_and_fights_at_once_is_loose_and_counts_both() -> None:
    upright = [cylinder(f"lift {x}", end("frame", (x, 1000)), end("blade", (x, 200))) for x in (-800, 0, 800)]
    assert held({**twin(), "members": upright}) == ("loose", 1, 1, ["lift -800", "lift 0", "lift 800"])


def test_three_rods_through_one_point_hold_no_turn() -> None:
    through_origin = [
        rod(name, end("frame", (2 * x, 2 * y)), end("blade", (x, y)))
        for name, x, y in [("a", -600, 500), ("b", 0, 700), ("c", 500, 500)]
    ]
    assert held({**twin(), "members": through_origin}) == ("loose", 1, 1, ["a", "b", "c"])


@law
@given(located_mounts, st.integers(0, 6))
def test_taking_any_member_away_sets_free_as_many_motions_as_it_had_rows(drawn: Document, number: int) -> None:
    taken = drawn["members"].pop(number % len(drawn["members"]))
    found = analysed(drawn).mobility
    assert (found.freedom, found.redundant) == (2 if taken["kind"] == "pin" else 1, 0)


@law
@given(located_mounts, st.integers(0, 6))
def test_a_free_motion_opens_no_joint(drawn: Document, number: int) -> None:
    drawn["members"].pop(number % len(drawn["members"]))
    analysis = analysed(drawn)
    assembly = analysis.assembly
    errors = [0.0] * assembly.equations.by_error.shape[1]
    small = 1e-3
    for motion in analysis.mobility.motion:
        there = (assembly.drawn + small * motion).tolist()
        rows, _ = assembly.equations.at(there, assembly.numbers, assembly.lengths, errors)
        assert np.abs(rows).max() < 1e-2 * small
