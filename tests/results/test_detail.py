"""What is asked for once the hand is still: its shape, its reasons, and the command line that prints it."""

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from hypothesis import given

from app.cli import main
from app.document.errors import BadCommand
from app.document.reading import read_mount
from app.results.detail import Detail
from app.results.readout import Readout
from app.shipped import folder, shipped_mounts
from tests.answers import detail, has_shape, reasons
from tests.loaded import ENDS, answer_of, detail_of, few, full, without
from tests.mounts import (
    ONE_BODY,
    THREE_BODIES,
    TWO_BODIES,
    Command,
    Document,
    crank_and_drop_rod,
    document,
    end,
    hinge,
    member_of,
    pin,
    rod,
    twin,
    worked_mounts,
)
from tests.samples import crossed

OPTIONAL = (
    "load",
    "blade.mass",
    "blade.mass_centre",
    "oil",
    "oil.relief_pressure",
    "valve",
    "tolerance",
    "sensors",
    "allowances",
)
NAMED = (("actuators",), ("forces",), ("pose", "members"))
"""Parts of the readout that hold one entry a name, which a path in ``absent`` leaves out."""

TWIN = folder("scenarios") / "3-twin-cylinders.json"


def missing(value: object, path: tuple[str, ...] = ()) -> Iterator[str]:
    """The path of everything that is null, with names and places in lists left out."""
    if value is None:
        before = next((len(part) for part in NAMED if path[: len(part)] == part), None)
        yield ".".join(path if before is None else path[:before] + path[before + 1 :])
    elif isinstance(value, dict):
        for key, part in value.items():
            yield from missing(part, (*path, key))
    elif isinstance(value, list):
        for part in value:
            yield from missing(part, path)


# Shape


@pytest.mark.parametrize(("plain", "part"), crossed([*ONE_BODY, *TWO_BODIES, *THREE_BODIES], OPTIONAL))
def test_answers_have_their_documented_shape_without_any_one_optional_part(
    plain: Callable[..., Document], part: str
) -> None:
    drawn = without(full(plain), part)
    assert has_shape(answer_of(drawn), Readout)
    assert has_shape(detail_of(drawn), Detail)


@pytest.mark.parametrize("plain", [*ONE_BODY, *TWO_BODIES, *THREE_BODIES])
def test_answers_have_their_documented_shape_with_nothing_optional(plain: Callable[..., Document]) -> None:
    assert has_shape(answer_of(plain()), Readout)
    assert has_shape(detail_of(plain()), Detail)


@pytest.mark.parametrize("name", shipped_mounts())
def test_shipped_mounts_have_every_detail(name: str) -> None:
    found = detail(shipped_mounts()[name])
    assert has_shape(found, Detail)
    assert None not in found.values()
    nulls = {"wear.factor": found["wear"]["factor"] is None, "wear.joints": None in found["wear"]["joints"].values()}
    assert found["absent"].keys() == {path for path, null in nulls.items() if null}


def test_a_mount_without_cylinders_has_detail_too() -> None:
    members = [pin("pivot", "frame", "blade", (0, 0), clearance=0.2)]
    members.append(rod("stay", end("frame", (500, 800)), end("blade", (500, 0), clearance=0.3)))
    found = detail_of(document(members, tolerance=3))
    assert has_shape(found, Detail)
    assert {entry["id"] for entry in found["improve"]["changes"]} <= {"pivot", "stay / 1", "stay / 2"}


@few
@given(worked_mounts())
def test_detail_is_plain_json_and_the_same_every_time(case: tuple[Document, Command]) -> None:
    text = json.dumps(detail_of(*case), allow_nan=False)
    assert json.dumps(detail_of(*case), allow_nan=False) == text


@few
@given(worked_mounts())
def test_detail_speaks_of_the_same_budget_as_the_readout(case: tuple[Document, Command]) -> None:
    budget, found = answer_of(*case)["budget"], detail_of(*case)
    clearances = {source["id"] for source in budget["left"]["sources"] if source["kind"] == "clearance"}
    assert set(found["wear"]["joints"]) == clearances
    for side in ENDS:
        # What spreads lies within the range, and nothing of it beyond.
        shape = found["spread"][side]["histogram"]
        room = 1e-6 * budget[side]["band"]
        assert budget[side]["low"] - room <= shape["least"] <= shape["most"] <= budget[side]["high"] + room + 1e-9


# Reasons


@pytest.mark.parametrize(
    ("part", "reason", "paths"),
    [
        (
            "load",
            "needs a load",
            (
                "dial",
                "actuators.force",
                "actuators.side",
                "actuators.pressure",
                "actuators.load_ratio",
                "budget.left.worst_under_load",
                "budget.right.sources.moved",
                "budget.reverses_at",
                "forces.load",
                "forces.together",
                "budget.oil",
                "budget.stretch",
            ),
        ),
        (
            "blade.mass",
            "needs a mass and its centre",
            ("forces.weight", "forces.together", "actuators.weight_force"),
        ),
        (
            "blade.mass_centre",
            "needs a mass and its centre",
            ("forces.weight", "forces.together", "actuators.weight_force"),
        ),
        ("oil", "needs the oil's bulk modulus", ("budget.oil",)),
        ("oil", "needs the relief pressure", ("actuators.relief", "actuators.relief_share", "forces.stall")),
        ("oil.relief_pressure", "needs the relief pressure", ("actuators.relief", "actuators.relief_share")),
        (
            "valve",
            "needs the valve's flow and smallest pulse",
            ("actuators.speed", "actuators.step", "budget.step"),
        ),
        ("tolerance", "needs a tolerance", ("budget.inside",)),
    ],
)
def test_what_needs_a_missing_part_is_null_and_says_so(part: str, reason: str, paths: tuple[str, ...]) -> None:
    answer = answer_of(without(full(twin), part))
    assert {path: reasons(answer).get(path) for path in paths} == dict.fromkeys(paths, reason)
    # A kind of source is not a field; it is left out of the list.
    fields = {path for path in paths if path.removeprefix("budget.") not in ("oil", "stretch", "step")}
    assert fields <= set(missing(answer))


NULL_BY_ITSELF = {
    "pose.stopped",
    "pose.members.at",
    "pose.members.ends",
    "pose.members.length",
    "pose.members.extension",
    "forces.rating",
    "forces.use",
    "budget.left.sources.member",
    "budget.right.sources.member",
    "budget.left.sources.play",
    "budget.right.sources.play",
    "budget.left.sources.reverses_at",
    "budget.right.sources.reverses_at",
    "budget.tolerance",
    "dial.note",
    "actuators.instant_centre",
    "actuators.sensors",
    "pose.yielding",
}
"""Null where there is nothing to say, or where the document leaves just this number out."""


@pytest.mark.parametrize("part", [*OPTIONAL, "nothing", "everything"])
@pytest.mark.parametrize("plain", [hinge, twin, crank_and_drop_rod])
def test_no_number_is_null_without_a_reason(plain: Callable[..., Document], part: str) -> None:
    left_out = OPTIONAL if part == "everything" else (part,)
    answer = answer_of(without(full(plain), *left_out))
    assert set(missing(answer)) - NULL_BY_ITSELF <= set(answer["absent"])


def test_a_tolerance_that_is_not_there_leaves_wear_and_the_share_outside_open() -> None:
    found = detail_of(without(full(twin), "tolerance"))
    assert reasons(found) == dict.fromkeys(("inside", "wear", "spread.outside"), "needs a tolerance")
    assert set(missing(found)) == {"inside", "wear", "spread.outside", "spread.pressed.outside"}


@pytest.mark.parametrize(
    ("broken", "reason"),
    [
        (lambda drawn: drawn["members"].pop(), "the mount hangs loose: hold it first"),
        (
            lambda drawn: drawn["members"].append(pin("lock", "frame", "blade", (0, 300))),
            "the mount is bound: free it first",
        ),
    ],
    ids=["loose", "bound"],
)
def test_a_mount_that_is_not_located_has_no_detail_and_says_why(broken: Callable[[Document], Any], reason: str) -> None:
    drawn = full(twin)
    broken(drawn)
    found = detail_of(drawn)
    assert has_shape(found, Detail)
    parts = ("worst", "inside", "spread", "improve", "wear")
    assert {part: found[part] for part in parts} == dict.fromkeys(parts)
    assert reasons(found) == dict.fromkeys(parts, reason)


# Commands


def test_detail_is_of_the_pose_the_command_brings_the_mount_to() -> None:
    drawn = full(hinge)
    assert detail_of(drawn, {"lift": 80})["improve"] != detail_of(drawn)["improve"]
    assert detail_of(drawn, {"lift": 0}) == detail_of(drawn)


def test_a_command_for_no_cylinder_is_refused() -> None:
    with pytest.raises(BadCommand, match="there is no cylinder of that name"):
        detail(read_mount(full(hinge)), {"nobody": 1})


def test_asking_for_detail_changes_nothing_about_the_mount() -> None:
    mount = read_mount(full(twin))
    before = mount.model_copy(deep=True)
    detail(mount, {"left": 20})
    assert mount == before


def test_a_command_past_the_stroke_is_judged_where_it_stops() -> None:
    drawn = full(hinge)
    stroke_left = 200.0
    assert member_of(drawn, "lift")["stroke"] == 2 * stroke_left
    at_the_end, beyond = detail_of(drawn, {"lift": stroke_left}), detail_of(drawn, {"lift": 300})
    assert beyond["wear"]["factor"] == pytest.approx(at_the_end["wear"]["factor"])


# Command line


def test_detail_prints_what_python_gets_from_one_call(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["detail", str(TWIN), "--command", "left cylinder=12.5", "right cylinder=-3"]) == 0
    printed = json.loads(capsys.readouterr().out)
    called = detail(shipped_mounts()[TWIN.stem], {"left cylinder": 12.5, "right cylinder": -3})
    assert printed == json.loads(json.dumps(called))
    assert has_shape(printed, Detail)


def test_detail_of_a_command_the_mount_cannot_take_exits_with_2_and_the_reason(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["detail", str(TWIN), "--command", "nobody=1"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith('command["nobody"]: there is no cylinder of that name')
