"""A mount over its travel, as JSON, as a table and as the block that follows a drag."""

import json
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from fastapi.testclient import TestClient

from app.document.models import as_document
from app.shipped import shipped_mounts
from app.strokes.over import travel
from app.web.server import create_app

MOUNT = shipped_mounts()["3-twin-cylinders"]
DRAWN = as_document(MOUNT)
LIVE = "ws://127.0.0.1:8420/travel/live"
ASKED: dict[str, Any] = {"mount": DRAWN, "command": {"left cylinder": 20}, "steps": 5}


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient]:
    with TestClient(create_app(processes=0), base_url="http://127.0.0.1:8420") as client:
        yield client


def test_the_answer_is_the_travel_in_plain_lists(client: TestClient) -> None:
    answer = client.post("/travel", json=ASKED).json()
    over = travel(MOUNT, {"left cylinder": 20}, steps=5)
    assert answer["cylinders"] == ["left cylinder", "right cylinder"]
    assert answer["strokes"]["right cylinder"] == pytest.approx(over.strokes["right cylinder"])
    assert set(answer["layers"]) == {*over.layers, "reached"}
    for name, layer in over.layers.items():
        np.testing.assert_allclose(np.array(answer["layers"][name], dtype=float), layer.filled(np.nan))
    assert answer["worst"]["worst"]["value"] == pytest.approx(over.worst["worst"].value)


def test_where_the_mount_cannot_go_there_is_null(client: TestClient) -> None:
    drawn = json.loads(json.dumps(as_document(shipped_mounts()["1-centre-pivot"])))
    (tilt,) = [each for each in drawn["members"] if each["kind"] == "cylinder"]
    tilt["stroke"] += 400
    answer = client.post("/travel", json={"mount": drawn, "steps": 21}).json()
    (reached,), (worst,) = answer["layers"]["reached"], answer["layers"]["worst"]
    assert [each is None for each in worst] == [each == 0 for each in reached]
    assert 0 in reached
    assert answer["dead_centres"][0]["members"] == ["centre pivot", "tilt cylinder"]


def test_a_dead_centre_beyond_the_stroke_says_how_far(client: TestClient) -> None:
    drawn = as_document(shipped_mounts()["1-centre-pivot"])
    found = client.post("/travel", json={"mount": drawn, "steps": 5}).json()["beyond"]
    assert [(each["cylinder"], round(each["by"])) for each in found] == [("tilt cylinder", 34), ("tilt cylinder", 66)]


def test_the_table_has_a_row_a_pose_and_units_in_its_head(client: TestClient) -> None:
    lines = client.post("/travel/table", json=ASKED).text.removeprefix("\ufeff").splitlines()
    assert len(lines) == 1 + 25
    assert lines[0].startswith(
        '"left cylinder, longer than drawn [mm]","right cylinder, longer than drawn [mm]",left [mm]'
    )


def test_the_block_holds_the_layers_asked_for_as_32_bit_numbers(client: TestClient) -> None:
    with client.websocket_connect(LIVE) as line:
        line.send_json({**ASKED, "seq": 7, "layers": ["worst", "reached"]})
        block = line.receive_bytes()
    head, _, rest = block.partition(b"\n")
    told = json.loads(head)
    assert (len(head) + 1) % 4 == 0
    assert (told["seq"], told["layers"], told["shape"]) == (7, ["worst", "reached"], [5, 5])
    numbers = np.frombuffer(rest, "<f4").reshape(2, 5, 5)
    np.testing.assert_allclose(numbers[0], travel(MOUNT, {"left cylinder": 20}, steps=5).layers["worst"], rtol=1e-6)
    assert numbers[1].all()


def test_a_block_of_every_layer_says_what_is_so_as_drawn_and_beyond_the_strokes_when_asked(client: TestClient) -> None:
    drawn = as_document(shipped_mounts()["1-centre-pivot"])
    with client.websocket_connect(LIVE) as line:
        line.send_json({"seq": 1, "mount": drawn, "steps": 5, "beyond": True})
        told = json.loads(line.receive_bytes().partition(b"\n")[0])
    over = travel(shipped_mounts()["1-centre-pivot"], steps=5)
    assert told["layers"] == [*over.layers, "reached"]
    assert told["drawn"] == pytest.approx(over.drawn)
    assert [round(each["by"]) for each in told["beyond"]] == [34, 66]


def test_a_block_tells_the_worst_of_what_is_asked_for_and_no_other(client: TestClient) -> None:
    asked = {**ASKED, "seq": 1, "layers": ["left"], "told": ["worst", "coupling:left cylinder", "height"]}
    with client.websocket_connect(LIVE) as line:
        line.send_json(asked)
        told = json.loads(line.receive_bytes().partition(b"\n")[0])
        line.send_json({**asked, "told": "worst"})
        refused = line.receive_json()
    over = travel(MOUNT, {"left cylinder": 20}, steps=5)
    names = ("left", "coupling:left cylinder", "worst")
    assert told["layers"] == ["left"]
    assert told["worst"] == {
        name: {"value": over.worst[name].value, "command": over.worst[name].command} for name in names
    }
    assert refused["error"]["message"].startswith("told: is no list of names")


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"cylinders": ["boom"]}, "cylinders[0]: there is no cylinder of that name"),
        ({"cylinders": "boom"}, "cylinders: is no list of names"),
        ({"steps": "many"}, "steps: is no whole number from 2 to"),
        ({"stepz": 4}, "stepz: is no key of a question"),
    ],
    ids=str,
)
def test_a_bad_question_is_refused_with_its_place(client: TestClient, wrong: dict[str, Any], said: str) -> None:
    refused = client.post("/travel", json={**ASKED, **wrong})
    assert refused.status_code == 422
    assert refused.json()["error"]["message"].startswith(said)


def test_the_line_goes_on_after_a_bad_question(client: TestClient) -> None:
    with client.websocket_connect(LIVE) as line:
        line.send_json({**ASKED, "seq": 1, "layers": ["height"]})
        assert line.receive_json()["error"]["faults"][0]["place"] == "layers"
        line.send_json({**ASKED, "seq": 2, "layers": ["left"]})
        assert json.loads(line.receive_bytes().partition(b"\n")[0])["seq"] == 2


def test_other_assemblies_are_answered_with_where_every_body_stands(client: TestClient) -> None:
    answer = client.post("/assemblies", json={"mount": DRAWN, "command": {"left cylinder": 20}}).json()
    assert answer["count"] == 4
    assert set(answer["others"][0]["bodies"]) == {"blade"}
    assert [each["carried"] for each in answer["others"]] == [False] * 3
