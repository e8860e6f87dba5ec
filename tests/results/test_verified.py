"""The most promising changes, made and worked out again: what is said of a step against the document with that step."""

import copy
import math

import pytest
from hypothesis import given

from app.document.models import as_document
from app.results.improve import STEPS
from app.results.verified import MOST, Verified
from app.shipped import shipped_mounts
from tests.answers import has_shape
from tests.loaded import ENDS, few, full, improve_of, with_play, worst_of
from tests.mounts import Command, Document, hinge, member_of, twin, worked_mounts
from tests.results.test_improve import changed

HEIGHT = 1000
"""How far the upright cylinder of the plain hinge reaches from pin to pin, mm."""


def tried_of(drawn: Document, command: Command | None = None) -> list[Document]:
    found: list[Document] = improve_of(drawn, command)["tried"]
    return found


@few
@given(worked_mounts())
def test_what_is_said_of_a_step_is_what_the_changed_document_answers(case: tuple[Document, Command]) -> None:
    drawn, command = case
    before = worst_of(drawn, command)
    for entry in tried_of(drawn, command):
        assert has_shape(entry, Verified)
        after = worst_of(changed(drawn, entry["what"], entry["id"], entry["change"]), command)
        assert entry["fall"] == pytest.approx({end: before[end] - after[end] for end in ENDS}, abs=1e-9)


@few
@given(worked_mounts())
def test_every_step_tried_is_one_of_the_first_changes_and_really_helps_the_worse_end(
    case: tuple[Document, Command],
) -> None:
    improve = improve_of(*case)
    first = [(each["what"], each["id"], each["change"]) for each in improve["changes"][:MOST]]
    falls = [each["fall"][improve["end"]] for each in improve["tried"]]
    assert all((each["what"], each["id"], each["change"]) in first for each in improve["tried"])
    assert falls == sorted(falls, reverse=True)
    assert not falls or min(falls) > 0


def test_a_step_whose_slope_lowers_the_error_and_which_raises_it_is_left_out() -> None:
    # The worn twin, worked to where the upright cylinders' sideways gain nearly vanishes: its sign turns on the way.
    drawn = as_document(shipped_mounts()["7-worn-twin-cylinders"])
    drawn["oil"]["bulk_modulus"] = 1400  # stiff oil, so that the play comes first
    command = {"left cylinder": 60.0, "right cylinder": -75.0}
    worse = []
    improve = improve_of(drawn, command)
    for entry in improve["changes"][:MOST]:
        after = worst_of(changed(drawn, entry["what"], entry["id"], entry["change"]), command)
        if after[improve["end"]] > worst_of(drawn, command)[improve["end"]]:
            worse.append((entry["what"], entry["id"]))
    assert worse
    assert not set(worse) & {(each["what"], each["id"]) for each in improve["tried"]}


def test_a_step_that_the_closed_cylinder_does_not_allow_is_left_out() -> None:
    drawn = full(twin)
    named = {(each["what"], each["id"], each["change"] > 0) for each in tried_of(drawn)}
    shorter = ("pivot y", "right / 1", False)
    if shorter not in named:
        shorter = ("pivot y", "right / 2", True)
    assert shorter in named
    closed = copy.deepcopy(drawn)
    member_of(closed, "right")["retracted"] = 799
    assert shorter not in {(each["what"], each["id"], each["change"] > 0) for each in tried_of(closed)}


def test_a_whole_centimetre_counts_its_curve_too() -> None:
    # Play of 0.3 in the cylinder 1800 mm from the hinge: worst = 0.15 * 2000 / x, at x = 1810 in place of 1800.
    drawn = hinge()
    member_of(drawn, "lift")["ends"][1]["clearance"] = 0.3
    entry = next(each for each in tried_of(drawn) if (each["what"], each["id"]) == ("pivot x", "lift / 2"))
    assert entry["change"] == STEPS["pivot x"]
    arm = 1810 * HEIGHT / math.hypot(10, HEIGHT)
    assert entry["fall"]["right"] == pytest.approx(0.15 * 2000 * (1 / 1800 - 1 / arm), rel=1e-6)


def test_a_tight_stiff_mount_has_nothing_to_try() -> None:
    assert tried_of(with_play(twin(), 0)) == []
