"""The one door: the whole answer has its documented shape, tells why a number is absent, and never guesses."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given

from app.document.reading import read_mount
from app.results.readout import Readout
from tests.answers import has_shape, readout, reasons
from tests.mounts import (
    ONE_BODY,
    THREE_BODIES,
    TWO_BODIES,
    Command,
    Document,
    crank_and_drop_rod,
    extras,
    hinge,
    law,
    pin,
    rod,
    twin,
    worked_mounts,
)


def loose() -> Document:
    document = twin(**extras())
    document["members"].pop()
    return document


def bound() -> Document:
    document = twin(**extras())
    document["members"].append(pin("lock", "frame", "blade", (0, 300)))
    return document


def without_cylinders() -> Document:
    return {**twin(), "members": [rod(member["id"], *member["ends"]) for member in twin()["members"]]}


@pytest.mark.parametrize("plain", [*ONE_BODY, *TWO_BODIES, *THREE_BODIES])
@pytest.mark.parametrize("more", [{}, extras()], ids=["bare", "full"])
def test_every_answer_has_its_documented_shape(plain: Callable[..., Document], more: Document) -> None:
    assert has_shape(readout(read_mount(plain(**more))), Readout)


@pytest.mark.parametrize("document", [loose(), bound(), without_cylinders()], ids=["loose", "bound", "no cylinder"])
def test_mounts_that_lack_something_answer_in_the_documented_shape_too(document: Document) -> None:
    assert has_shape(readout(read_mount(document)), Readout)


@law
@given(worked_mounts())
def test_an_answer_is_plain_json_and_the_same_every_time(case: tuple[Document, Command]) -> None:
    drawn, command = case
    text = json.dumps(readout(read_mount(drawn), command), allow_nan=False)
    assert json.dumps(readout(read_mount(drawn), command), allow_nan=False) == text


@pytest.mark.parametrize(
    ("document", "state", "reason"),
    [
        (loose(), "loose", "the mount hangs loose: hold it first"),
        (bound(), "bound", "the mount is bound: free it first"),
    ],
    ids=["loose", "bound"],
)
def test_a_mount_that_is_not_located_answers_with_its_mobility_and_no_numbers(
    document: Document, state: str, reason: str
) -> None:
    answer = readout(read_mount(document))
    assert answer["mobility"]["state"] == state
    numbers = answer.keys() - {"mobility", "warnings", "absent"}
    assert numbers >= {"pose", "actuators", "coupling", "forces", "budget"}
    assert [answer[part] for part in numbers] == [None] * len(numbers)
    assert reasons(answer) == dict.fromkeys(numbers, reason)
    assert answer["warnings"] == []


def test_a_bound_mount_shows_no_motion() -> None:
    assert readout(read_mount(bound()))["mobility"]["motion"] == []


def test_the_answer_speaks_of_every_member_body_and_joint_by_its_name() -> None:
    mount = read_mount(crank_and_drop_rod(**extras()))
    answer = readout(mount)
    assert list(answer["pose"]["members"]) == [member.id for member in mount.members]
    assert list(answer["pose"]["bodies"]) == ["blade", "crank"]
    assert list(answer["actuators"]) == ["crank cylinder", "right"]
    assert list(answer["forces"]) == [joint.name for joint in mount.joints]


def test_a_full_document_on_two_cylinders_lacks_only_what_it_does_not_give() -> None:
    document = twin(**extras())
    absent = reasons(readout(read_mount(document)))
    assert "forces.weight" in absent
    assert set(absent.values()) == {"needs a mass and its centre"}
    document["blade"] |= {"mass": 290, "mass_centre": [0, 190]}
    assert reasons(readout(read_mount(document))) == {
        "budget.reverses_at": "no push whose side the weight decides reverses, however large the load is that way"
    }


def test_a_bare_document_says_of_each_missing_number_what_it_needs() -> None:
    assert (
        reasons(readout(read_mount(twin()))).items()
        >= {
            "actuators.force": "needs a load",
            "actuators.pressure": "needs a load",
            "actuators.load_ratio": "needs a load",
            "forces.load": "needs a load",
            "budget.oil": "needs a load",
            "budget.stretch": "needs a load",
            "forces.weight": "needs a mass and its centre",
            "budget.inside": "needs a tolerance",
        }.items()
    )


def test_a_mount_without_cylinders_is_a_fixed_blade_with_no_coupling() -> None:
    answer = readout(read_mount(without_cylinders()))
    assert answer["mobility"]["state"] == "located"
    assert answer["actuators"] == {}
    assert answer["coupling"] == {
        "worst": None,
        "interaction": None,
        "residual": None,
        "rounds": None,
        "at": "ends",
        "moves": None,
    }
    assert reasons(answer)["coupling.worst"] == "this mount has no cylinder"


def test_a_cylinder_that_moves_neither_end_leaves_the_worst_coupling_open() -> None:
    document = without_cylinders()
    flap = twin()["members"][0]
    flap["ends"][1] = {"on": "flap", "at": [-800, 200]}
    hung = [pin("flap pin", "frame", "flap", (-300, 200)), {**flap, "id": "flap cylinder"}]
    answer = readout(read_mount({**document, "bodies": ["flap"], "members": [*document["members"], *hung]}))
    assert answer["coupling"]["worst"] is None
    assert reasons(answer)["coupling.worst"] == "no cylinder moves either end"


def test_no_command_an_empty_one_and_a_command_of_nought_are_the_same() -> None:
    mount = read_mount(hinge(**extras()))
    assert readout(mount) == readout(mount, {}) == readout(mount, {"lift": 0})


def test_asking_changes_nothing_about_the_mount_or_the_next_answer() -> None:
    mount = read_mount(hinge(**extras()))
    command: dict[str, Any] = {"lift": 50}
    before = readout(mount)
    readout(mount, command)
    assert readout(mount) == before
    assert command == {"lift": 50}
