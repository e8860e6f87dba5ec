"""What to change first: exact slopes of the worst error against documents changed a little and asked again."""

import copy
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.document.models import as_document
from app.document.reading import read_mount
from app.results.improve import STEPS, Change
from app.shipped import shipped_mounts
from tests.answers import has_shape
from tests.loaded import ENDS, answer_of, few, full, improve_of, with_play, without, worst_of
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
    member_of,
    twin,
    worked_mounts,
)

STEP = 1e-3
"""Step of a central difference, mm, MPa, mL or mm2: small enough that only a kink sets ahead and behind apart."""

REL, ABS = 1e-5, 1e-8
"""Of a slope against differences; mm per mm, or per unit of a size."""

KINK = 1e-4
"""Slopes ahead and behind farther apart than this, in the same units, are those of a kink and not of a curve."""


def slopes_of(drawn: Document, command: Command | None = None) -> dict[tuple[str, str], Document]:
    """Every change that was named, by what and where."""
    return {(entry["what"], entry["id"]): entry for entry in improve_of(drawn, command)["changes"]}


def joint_of(drawn: Document, name: str) -> Document:
    """The part of the document that holds a joint, to be changed in place."""
    return next(part for member in drawn["members"] for each, part in joints_of(member) if each == name)


def changed(drawn: Document, what: str, name: str, by: float) -> Document:
    """The document with one number a designer can change changed by some of its unit."""
    other = copy.deepcopy(drawn)
    match what:
        case "clearance":
            joint_of(other, name)["clearance"] += by
        case "pivot x" | "pivot y":
            joint_of(other, name)["at"][what == "pivot y"] += by
        case "spacing":
            middle = sum(drawn["blade"][end][0] for end in ENDS) / 2
            for member in name.split(" and "):
                for joint in member_of(other, member)["ends"]:
                    joint["at"][0] += by if joint["at"][0] > middle else -by
        case "bulk modulus":
            other["oil"]["bulk_modulus"] += by
        case _:
            member_of(other, name)[what.replace(" ", "_")] += by
    return other


@dataclass(frozen=True)
class Measured:
    """Slopes of the worst error of both ends by one number, found by changing it: behind and ahead of where it is.

    They are one but for rounding and a little curvature, unless the worse side, or the sign of a gain, switches there.
    """

    behind: dict[str, float]
    ahead: dict[str, float]

    def allows(self, slope: dict[str, float]) -> bool:
        """Whether slopes lie between those behind and ahead, which at a kink is all that can be said."""
        for end in ENDS:
            low, high = sorted((self.behind[end], self.ahead[end]))
            slack = ABS + REL * max(abs(low), abs(high))
            if not low - slack <= slope[end] <= high + slack:
                return False
        return True

    @property
    def smooth(self) -> bool:
        return all(abs(self.ahead[end] - self.behind[end]) < KINK for end in ENDS)

    @property
    def middle(self) -> dict[str, float]:
        """Central differences."""
        return {end: (self.ahead[end] + self.behind[end]) / 2 for end in ENDS}


def measured(drawn: Document, command: Command | None, what: str, name: str) -> Measured:
    behind, here, ahead = (
        worst_of(drawn if not by else changed(drawn, what, name, by), command) for by in (-STEP, 0, STEP)
    )
    return Measured(
        behind={end: (here[end] - behind[end]) / STEP for end in ENDS},
        ahead={end: (ahead[end] - here[end]) / STEP for end in ENDS},
    )


# Slopes


@few
@given(worked_mounts())
def test_the_gradient_by_every_pivot_is_that_of_documents_with_the_pivot_moved(case: tuple[Document, Command]) -> None:
    drawn, command = case
    for name, gradient in improve_of(drawn, command)["pivots"].items():
        for axis, what in enumerate(("pivot x", "pivot y")):
            assert measured(drawn, command, what, name).allows({end: gradient[end][axis] for end in ENDS})


@few
@given(worked_mounts())
def test_the_slope_by_every_size_is_that_of_documents_with_it_changed(case: tuple[Document, Command]) -> None:
    drawn, command = case
    for (what, name), entry in slopes_of(drawn, command).items():
        if not what.startswith("pivot"):
            assert measured(drawn, command, what, name).allows(entry["per_unit"])


def off_the_grid(plain: Callable[..., Document]) -> Document:
    """A plain mount with everything in it, every joint drawn aside a little so that no gain is nought."""
    drawn = full(plain)
    for number, (_, joint) in enumerate(pair for member in drawn["members"] for pair in joints_of(member)):
        joint["at"] = [joint["at"][0] + 13 - 5 * number, joint["at"][1] + 7 * number]
    for member in drawn["members"]:
        if member["kind"] == "slide":
            member["direction"] = [0.05, 1]
        if member["kind"] == "rod":
            member |= {"section_area": 620, "elastic_modulus": 205000}
        if member["kind"] == "cylinder":
            member["hose_volume"] = 150
    return drawn


@pytest.mark.parametrize("plain", [*ONE_BODY, *TWO_BODIES, *THREE_BODIES])
@pytest.mark.parametrize("load", [(1000, 4500), (-700, -4500)], ids=["lifting the right", "pressing the left down"])
def test_every_slope_of_a_mount_worked_off_its_drawn_pose_is_measured_and_none_is_at_a_kink(
    plain: Callable[..., Document], load: tuple[float, float]
) -> None:
    drawn = off_the_grid(plain)
    drawn["load"] = {"at": [load[0], 30], "force": [350, load[1]]}
    command = {member["id"]: 23.0 for member in drawn["members"] if member["kind"] == "cylinder"}
    entries = slopes_of(drawn, command)
    for (what, name), entry in entries.items():
        found = measured(drawn, command, what, name)
        assert found.smooth
        assert entry["per_unit"] == pytest.approx(found.middle, rel=REL, abs=ABS)
    seen = {what for what, _ in entries}
    assert seen >= {"clearance", "pivot x", "pivot y", "bore", "bulk modulus", "hose volume"}


def test_a_thicker_rod_helps_by_what_it_stretches_less() -> None:
    # The load at the right end pulls the drop rod, 1500 mm left of the cylinder; it stretches by F L / (E A).
    drawn = guide_on_blade(load={"at": [1000, 0], "force": [0, 4500]})
    member_of(drawn, "drop rod").update(section_area=620, elastic_modulus=205000)
    drop = 4500 * 300 / 1500 * 800 / (205000 * 620) * 1700 / 1500
    assert worst_of(drawn)["left"] == pytest.approx(drop)
    entry = slopes_of(drawn)["section area", "drop rod"]
    assert entry["per_unit"]["left"] == pytest.approx(-drop / 620)
    assert (entry["value"], entry["change"]) == (620, 100)
    assert entry["fall"]["left"] == pytest.approx(drop * 100 / 620)


@pytest.mark.parametrize("part", ["oil", "load", "valve", "allowances", "sensors"])
@pytest.mark.parametrize("plain", [centre_pivot, guide_on_blade])
def test_slopes_hold_without_any_one_of_the_optional_parts(plain: Callable[..., Document], part: str) -> None:
    drawn = without(full(plain), part)
    command = {member["id"]: -17.0 for member in drawn["members"] if member["kind"] == "cylinder"}
    entries = slopes_of(drawn, command)
    assert len(entries) > 5
    for (what, name), entry in entries.items():
        assert measured(drawn, command, what, name).allows(entry["per_unit"])


def test_a_sideways_shift_of_a_hinge_counts_by_the_lever_it_changes() -> None:
    # Play of 0.3 in the cylinder 1800 mm from the hinge, 2000 mm to the end: worst = 0.15 * 2000 / 1800.
    drawn = hinge()
    member_of(drawn, "lift")["ends"][1]["clearance"] = 0.3
    gradient = improve_of(drawn)["pivots"]
    by_hinge = 0.15 * (2000 - 1800) / 1800**2
    assert gradient["hinge"]["right"] == pytest.approx([by_hinge, 0], abs=1e-12)
    # Either end of the cylinder tilts it and moves the line it acts on: at the blade by the whole shift.
    assert gradient["lift / 2"]["right"][0] == pytest.approx(-0.15 * 2000 / 1800**2)
    assert gradient["lift / 1"]["right"] == pytest.approx([0, 0], abs=1e-12)


def test_less_play_helps_by_half_of_what_the_joint_moves_the_end() -> None:
    drawn = hinge()
    member_of(drawn, "lift")["ends"][1]["clearance"] = 0.3
    entry = slopes_of(drawn)["clearance", "lift / 2"]
    assert entry["per_unit"] == pytest.approx({"left": 0, "right": 2000 / 1800 / 2})
    assert (entry["value"], entry["change"]) == (0.3, -0.05)
    assert entry["fall"]["right"] == pytest.approx(0.05 * 2000 / 1800 / 2)


# Spacing


def test_mirrored_cylinders_moved_outward_together_are_one_change() -> None:
    drawn = full(twin)
    entry = slopes_of(drawn)["spacing", "left and right"]
    assert entry["value"] == 1600
    assert entry["change"] == 10
    assert measured(drawn, None, "spacing", "left and right").allows(entry["per_unit"])
    moved = worst_of(changed(drawn, "spacing", "left and right", 10))
    before = worst_of(drawn)
    # A whole centimetre: the slope itself changes by about a hundredth on the way.
    assert entry["fall"] == pytest.approx({end: before[end] - moved[end] for end in ENDS}, rel=0.03)


@pytest.mark.parametrize("shift", [1.5, -300])
def test_cylinders_that_do_not_mirror_one_another_have_no_spacing(shift: float) -> None:
    drawn = full(twin)
    for joint in member_of(drawn, "right")["ends"]:
        joint["at"][0] += shift
    assert "spacing" not in {entry["what"] for entry in improve_of(drawn)["changes"]}


def test_the_middle_is_that_of_the_edge_and_not_of_the_sheet() -> None:
    drawn = full(twin)
    for joint in (part for member in drawn["members"] for _, part in joints_of(member)):
        joint["at"][0] += 250
    for end in ENDS:
        drawn["blade"][end][0] += 250
    assert slopes_of(drawn)["spacing", "left and right"]["value"] == 1600


# Ranking and words


@few
@given(worked_mounts())
def test_changes_are_ranked_by_what_they_gain_at_the_worse_end_and_every_one_helps_it(
    case: tuple[Document, Command],
) -> None:
    found, worst = improve_of(*case), worst_of(*case)
    assert found["end"] == ("left" if worst["left"] > worst["right"] else "right")
    falls = [entry["fall"][found["end"]] for entry in found["changes"]]
    assert falls == sorted(falls, reverse=True)
    assert min(falls) > 0


@few
@given(worked_mounts())
def test_a_change_is_a_step_a_designer_would_try_and_its_fall_is_the_slope_times_the_step(
    case: tuple[Document, Command],
) -> None:
    found = improve_of(*case)
    for entry in found["changes"]:
        assert has_shape(entry, Change)
        assert abs(entry["change"]) == min(STEPS[entry["what"]], entry["value"]) or entry["what"] != "clearance"
        assert abs(entry["change"]) <= STEPS[entry["what"]]
        assert entry["fall"] == pytest.approx({end: -entry["per_unit"][end] * entry["change"] for end in ENDS})


@few
@given(worked_mounts())
def test_a_change_of_size_leaves_a_document_that_can_be_read(case: tuple[Document, Command]) -> None:
    drawn, command = case
    for (what, name), entry in slopes_of(drawn, command).items():
        if not what.startswith("pivot"):
            read_mount(changed(drawn, what, name, entry["change"]))


@few
@given(worked_mounts(), st.floats(0.1, 1))
def test_less_clearance_lowers_the_worst_by_exactly_what_was_said(case: tuple[Document, Command], part: float) -> None:
    # The budget is linear in clearance, so the whole step gains what the slope says, if the worse side stays.
    drawn, command = case
    budget = answer_of(drawn, command)["budget"]
    for (what, name), entry in slopes_of(drawn, command).items():
        if what == "clearance":
            after = answer_of(changed(drawn, what, name, part * entry["change"]), command)["budget"]
            for end in ENDS:
                assert budget[end]["worst"] - after[end]["worst"] == pytest.approx(part * entry["fall"][end], abs=1e-9)


def test_the_gradient_names_every_joint_and_the_changes_of_its_place_are_the_same_numbers() -> None:
    drawn = full(guide_on_blade)
    found = improve_of(drawn)
    names = [name for member in drawn["members"] for name, _ in joints_of(member)]
    assert list(found["pivots"]) == names
    for entry in found["changes"]:
        if entry["what"].startswith("pivot"):
            axis = entry["what"] == "pivot y"
            assert entry["value"] == joint_of(drawn, entry["id"])["at"][axis]
            assert entry["per_unit"] == {end: found["pivots"][entry["id"]][end][axis] for end in ENDS}


def test_a_step_against_the_gradient_of_a_pivot_lowers_the_worst_error() -> None:
    drawn = full(centre_pivot)
    gradient = improve_of(drawn)["pivots"]["tilt / 2"]["right"]
    step = -5 * np.array(gradient) / np.hypot(*gradient)
    before = worst_of(drawn)["right"]
    for what, by in (("pivot x", step[0]), ("pivot y", step[1])):
        drawn = changed(drawn, what, "tilt / 2", float(by))
    assert worst_of(drawn)["right"] < before - 0.9 * 5 * np.hypot(*gradient) + 0.01


def test_a_tight_stiff_mount_has_nothing_to_gain() -> None:
    found = improve_of(with_play(twin(), 0))
    assert found["changes"] == []
    assert set(found["pivots"]) == {"left / 1", "left / 2", "right / 1", "right / 2", "stay / 1", "stay / 2"}


def test_a_clearance_smaller_than_the_step_can_fall_to_nought_and_no_farther() -> None:
    entry = slopes_of(with_play(hinge(), 0.02))["clearance", "lift / 1"]
    assert (entry["value"], entry["change"]) == (0.02, -0.02)


def test_less_oil_in_a_short_hose_is_a_change_too() -> None:
    drawn = without(full(hinge), "valve")
    member_of(drawn, "lift")["hose_volume"] = 20
    entry = slopes_of(drawn)["hose volume", "lift"]
    assert (entry["value"], entry["change"]) == (20, -20)


@pytest.mark.parametrize("name", shipped_mounts())
def test_the_first_change_of_a_shipped_mount_does_lower_its_worst_error(name: str) -> None:
    drawn = as_document(shipped_mounts()[name])
    found = improve_of(drawn)
    first = found["changes"][0]
    after = worst_of(changed(drawn, first["what"], first["id"], first["change"]))
    assert after[found["end"]] < worst_of(drawn)[found["end"]]
