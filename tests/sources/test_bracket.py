"""Lugs that the load bends."""

import copy

from hypothesis import given
from hypothesis import strategies as st

from app.document.parts import ENDS
from tests.loaded import answer_of, ranges
from tests.mounts import Command, Document, document, end, hinge, joints_of, law, member_of, rod, worked_mounts

LOAD = {"at": [1000, 0], "force": [0, 4500]}


def on_lugs(drawn: Document, stiffness: float) -> Document:
    changed = copy.deepcopy(drawn)
    for member in changed["members"]:
        for _, joint in joints_of(member):
            joint["stiffness"] = stiffness
    return changed


def test_a_joint_without_stiffness_or_a_mount_without_load_bends_nothing() -> None:
    plain = hinge(load=LOAD)
    assert not [kind for _, kind in ranges(plain, "right") if kind == "bracket"]
    assert not [kind for _, kind in ranges(on_lugs(hinge(), 1000), "right") if kind == "bracket"]


def test_a_reversing_load_bends_a_lug_both_ways() -> None:
    drawn = document(
        [
            rod("left", end("frame", (-800, 900)), end("blade", (-800, 0))),
            rod("right", end("frame", (1000, 900), stiffness=500), end("blade", (1000, 0))),
            rod("stay", end("frame", (-900, 0)), end("blade", (900, 0))),
        ],
        load=LOAD | {"reversing": True},
    )
    assert ranges(drawn, "right")["right / 1", "bracket"] == (-9, 9)


@law
@given(worked_mounts(), st.sampled_from([500.0, 5000.0]), st.sampled_from([1.5, 10.0]))
def test_a_stiffer_lug_never_moves_more(case: tuple[Document, Command], stiffness: float, times: float) -> None:
    drawn, command = case[0] | {"load": LOAD}, case[1]
    soft, stiff = (answer_of(on_lugs(drawn, each), command)["budget"] for each in (stiffness, times * stiffness))
    for side in ENDS:
        widths = [
            {each["id"]: each["high"] - each["low"] for each in found[side]["sources"] if each["kind"] == "bracket"}
            for found in (soft, stiff)
        ]
        for name, width in widths[0].items():
            assert width >= widths[1][name] * times * (1 - 1e-9)


def test_a_lug_under_a_cylinder_bends_by_the_force_in_it() -> None:
    drawn = hinge(load=LOAD)
    member_of(drawn, "lift")["ends"][0]["stiffness"] = 10_000
    # 5000 N in the cylinder bend its lug by half a millimetre: 2000/1800 of that at the end.
    low, high = ranges(drawn, "right")["lift / 1", "bracket"]
    assert low == 0
    assert round(high, 9) == round(0.5 * 2000 / 1800, 9)
