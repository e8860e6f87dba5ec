"""Two mounts compared over HTTP."""

import json
from typing import Any

import pytest

from app.comparison.compare import compare
from app.comparison.over import compare_over
from app.comparison.runs import compare_runs
from app.document.models import as_document
from app.results.answer import as_plain
from app.shipped import shipped_mounts
from tests.answers import sentence
from tests.web.client import assert_refused, client

SHIPPED = shipped_mounts()
PIVOT, TWIN = SHIPPED["1-centre-pivot"], SHIPPED["3-twin-cylinders"]
ASKED: dict[str, Any] = {
    "a": {"mount": as_document(PIVOT), "command": {"tilt cylinder": 5}},
    "b": {"mount": as_document(TWIN)},
    "end": "left",
    "rise": 15,
}


def test_the_answer_is_the_comparison() -> None:
    answer = client().post("/compare", json=ASKED)
    found = compare(PIVOT, TWIN, {"tilt cylinder": 5}, {}, "left", 15)
    assert answer.json() == json.loads(json.dumps(as_plain(found)))


@pytest.mark.parametrize(
    ("wrong", "place", "said"),
    [
        ({"end": "middle"}, "end", "is neither left nor right; name the end to be corrected"),
        ({"rise": "far"}, "rise", "is no number of mm within"),
        ({"rise": True}, "rise", "is no number of mm within"),
        ({"c": 1}, "c", "is no key of a question; known keys are a, b, end, rise"),
        ({"b": None}, "b", "the message is no JSON object; send {mount, command}"),
        ({"b": {"mount": {**as_document(TWIN), "format": 9}}}, "b.mount.format", ""),
    ],
)
def test_what_is_wrong_is_said_with_its_side(wrong: dict[str, Any], place: str, said: str) -> None:
    faults = assert_refused(client().post("/compare", json={**ASKED, **wrong}), 422, "bad-document")
    assert faults[0]["place"] == place
    assert said in sentence(faults[0])


def test_a_list_is_no_question() -> None:
    assert_refused(client().post("/compare", json=[]), 422, "bad-document")


def test_the_verdict_of_one_is_that_of_the_comparison() -> None:
    answer = client().post("/verdict", json=ASKED["a"])
    assert answer.json() == json.loads(json.dumps(as_plain(compare(PIVOT, TWIN, {"tilt cylinder": 5}).a)))


def test_the_answer_over_the_travel_is_the_comparison_over_it() -> None:
    asked = {name: ASKED[name] for name in ("a", "b")}
    answer = client().post("/compare/travel", json=asked)
    found = compare_over(PIVOT, TWIN, {"tilt cylinder": 5}, {})
    assert answer.json() == json.loads(json.dumps(as_plain(found)))


def test_the_answer_over_a_run_is_the_comparison_of_both() -> None:
    asked = {name: {"mount": ASKED[name]["mount"]} for name in ("a", "b")}
    settings = {"seconds": 6, "start": {"right": 15}}
    answer = client().post("/compare/run", json={**asked, "run": settings}).json()
    found = json.loads(json.dumps(as_plain(compare_runs(PIVOT, TWIN, settings))))
    assert answer == found
    assert client().post("/run", json={**asked["b"], "run": settings}).json() == answer["ran"][1]
    one = {"works": {"b": ["right cylinder"]}}
    worked = client().post("/compare/run", json={**asked, "run": settings, **one}).json()
    assert list(worked["ran"][1]["lengths"]) == ["right cylinder"]


def test_the_answer_with_each_at_its_own_best_is_the_comparison_of_both() -> None:
    asked = {name: {"mount": ASKED[name]["mount"]} for name in ("a", "b")}
    settings = {"seconds": 6, "start": {"right": 15}, "control": {"way": "decoupled"}}
    answer = client().post("/compare/run", json={**asked, "run": settings, "best": True}).json()
    assert answer == json.loads(json.dumps(as_plain(compare_runs(PIVOT, TWIN, settings, best=True))))
    assert [each["setting"] is None for each in answer["own_best"][0]["best"]] == [False, False]


@pytest.mark.parametrize(
    ("path", "wrong", "place", "said", "code"),
    [
        ("travel", {"end": "left"}, "end", "is no key of a question; known keys are a, b", "bad-document"),
        ("travel", {"a": 1}, "a", "the message is no JSON object; send {mount, command}", "bad-document"),
        ("run", {"a": ASKED["a"]}, "a.command", "a run begins with the mount as drawn", "bad-document"),
        ("run", {"works": {"a": "tilt cylinder"}}, "works", "is not {a: [ids], b: [ids]}", "bad-document"),
        ("run", {"best": 1}, "best", "is neither true nor false", "bad-document"),
        ("run", {"run": {"seconds": 0}}, "run.seconds", "found 0, expected 1 or more", "bad-settings"),
    ],
)
def test_what_is_wrong_with_travel_or_run_is_said(
    path: str, wrong: dict[str, Any], place: str, said: str, code: str
) -> None:
    asked = {name: {"mount": ASKED[name]["mount"]} for name in ("a", "b")}
    faults = assert_refused(client().post(f"/compare/{path}", json={**asked, **wrong}), 422, code)
    assert faults[0]["place"] == place
    assert said in sentence(faults[0])
