"""The route for the working: its answer, its refusals, and that it comes quickly."""

import json
from typing import Any

import pytest

from app.analysis import Analysis
from app.document.models import as_document
from app.results.answer import as_plain
from app.shipped import shipped_mounts
from app.working.answer import Working
from app.working.short import short_working
from tests.answers import has_shape, sentence, working
from tests.web.client import assert_refused, client, client_alone

TWIN = as_document(shipped_mounts()["3-twin-cylinders"])
QUESTION: dict[str, Any] = {
    "mount": TWIN,
    "command": {"left cylinder": 20},
    "cylinder": "left cylinder",
    "end": "right",
}


def test_the_working_over_the_network_is_the_working() -> None:
    answer = client().post("/working", json=QUESTION)
    assert answer.status_code == 200
    expected = working(shipped_mounts()["3-twin-cylinders"], {"left cylinder": 20}, "left cylinder", "right")
    assert answer.json() == json.loads(json.dumps(expected))
    assert has_shape(answer.json(), Working)


def test_without_a_system_the_numbers_are_metric() -> None:
    plain, metric, inch = (
        client().post("/working", json=QUESTION | more).json()
        for more in ({}, {"system": "metric"}, {"system": "inch"})
    )
    assert plain == metric
    assert plain["steps"][0]["lines"][1]["result"]["shown"].endswith(" mm")
    assert inch["steps"][0]["lines"][1]["result"]["shown"].endswith(" in")


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"cylinder": "middle cylinder"}, "cylinder"),
        ({"cylinder": None}, "cylinder"),
        ({"cylinder": {"id": "left cylinder"}}, "cylinder"),
        ({"end": "top"}, "end"),
        ({"end": ["left"]}, "end"),
        ({"system": "feet"}, "system"),
        ({"command": {"middle": 1}}, 'command["middle"]'),
    ],
)
def test_what_is_not_there_is_refused_with_its_place(change: dict[str, Any], place: str) -> None:
    faults = assert_refused(client().post("/working", json=QUESTION | change), 422, "bad-command")
    assert [fault["place"] for fault in faults] == [place]


def test_a_question_without_cylinder_and_end_is_refused_for_both() -> None:
    faults = assert_refused(client().post("/working", json={"mount": TWIN}), 422, "bad-command")
    assert [fault["place"] for fault in faults] == ["cylinder", "end"]
    assert "'left cylinder', 'right cylinder'" in sentence(faults[0])


def test_a_key_that_is_none_is_refused_and_the_known_ones_are_named() -> None:
    faults = assert_refused(client().post("/working", json=QUESTION | {"side": "left"}), 422, "bad-document")
    assert [(fault["place"], sentence(fault)) for fault in faults] == [
        ("side", "is no key of a question; known keys are mount, command, cylinder, end, system")
    ]


def test_a_mount_that_is_refused_is_refused_here_too() -> None:
    faults = assert_refused(
        client().post("/working", json=QUESTION | {"mount": TWIN | {"tolerance": -1}}), 422, "bad-document"
    )
    assert [fault["place"] for fault in faults] == ["mount.tolerance"]


def test_the_open_api_description_shows_question_and_answer() -> None:
    described = client().get("/openapi.json").json()
    route = described["paths"]["/working"]["post"]
    assert route["requestBody"]["content"]["application/json"]["schema"]["$ref"].endswith("/WorkingQuestion")
    assert route["responses"]["200"]["content"]["application/json"]["schema"]["$ref"].endswith("/Working")
    assert {"WorkingQuestion", "Working", "WorkingStep"} <= set(described["components"]["schemas"])


def test_the_formulas_are_written_ahead_once_the_server_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.web.working_routes._AFTER_OPENING_S", 0.0)
    written: list[bool] = []
    monkeypatch.setattr("app.web.working_routes.write_all", lambda: written.append(True))
    with client_alone() as running:
        running.get("/scenarios")
    assert written == [True]


def test_the_working_in_short_over_the_network_is_the_working_in_short() -> None:
    answer = client().post("/working/short", json={"mount": TWIN, "command": {"left cylinder": 20}})
    assert answer.status_code == 200
    expected = short_working(Analysis(shipped_mounts()["3-twin-cylinders"], {"left cylinder": 20}))
    assert answer.json() == json.loads(json.dumps(as_plain(expected)))
