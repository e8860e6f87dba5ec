"""A run over HTTP: as JSON, as a table, and piece by piece over the line of the page."""

from collections.abc import Iterator
from typing import Any

import pytest
from fastapi.testclient import TestClient

from app.document.models import as_document
from app.grading.grade import run
from app.shipped import shipped_mounts
from app.web.server import create_app
from tests.web.client import assert_refused

MOUNT = shipped_mounts()["3-twin-cylinders"]
DRAWN = as_document(MOUNT)
SETTINGS: dict[str, Any] = {"seconds": 4, "start": {"right": 20}, "ground": {"kind": "rough", "class": "A"}}
ASKED = {"mount": DRAWN, "run": SETTINGS}
LIVE = "ws://127.0.0.1:8420/run/live"


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient]:
    with TestClient(create_app(processes=0), base_url="http://127.0.0.1:8420") as client:
        yield client


def test_the_answer_is_the_run_in_plain_rows(client: TestClient) -> None:
    answer = client.post("/run", json=ASKED).json()
    made = run(MOUNT, SETTINGS)
    assert len(answer["time"]) == 401
    assert answer["right"] == pytest.approx(made.errors["right"], abs=1e-4)
    assert answer["lengths"]["left cylinder"] == pytest.approx(made.lengths["left cylinder"], abs=1e-4)
    assert answer["summary"]["right"]["rms"] == pytest.approx(made.summary.right.rms)
    assert answer["used"]["paired"] == {"left cylinder": "left", "right cylinder": "right"}
    assert answer["used"]["gain"] == pytest.approx(made.rig.gain)
    assert answer["seeds"] is None


def test_several_seeds_come_with_means_and_their_intervals(client: TestClient) -> None:
    answer = client.post("/run", json={"mount": DRAWN, "run": {**SETTINGS, "seeds": 4}}).json()
    rms = answer["seeds"]["right"]["rms"]
    assert answer["seeds"]["seeds"] == rms["count"] == 4
    assert rms["low"] < rms["mean"] < rms["high"] < 50
    assert rms["mean"] <= rms["largest"]


def test_a_summary_has_the_worst_of_many_seeds_where_anything_is_drawn(client: TestClient) -> None:
    answer = client.post("/run/summary", json={"mount": DRAWN, "run": {**SETTINGS, "seeds": 8}}).json()
    whole = run(MOUNT, {**SETTINGS, "seeds": 8})
    assert answer["seeds"]["left"]["worst"]["largest"] == max(each.left.worst for each in whole.summaries)
    assert answer["seeds"]["cylinders"]["left cylinder"]["flow"]["count"] == 8
    assert answer["summary"]["right"]["rms"] == whole.summary.right.rms
    level = {"seconds": 6, "start": {"right": 20}, "seeds": 32}
    assert client.post("/run/summary", json={"mount": DRAWN, "run": level}).json()["seeds"] is None


def test_without_settings_everything_is_as_its_default_says(client: TestClient) -> None:
    described = client.get("/openapi.json").json()["components"]["schemas"]["RunSettings"]["properties"]
    assert "default 60 s" in described["seconds"]["description"]
    answer = client.post("/run", json={"mount": DRAWN}).json()
    assert answer["time"][-1] == 60
    assert answer["travel"][-1] == pytest.approx(48)


def test_the_table_has_a_row_a_point_of_time_and_units_in_its_head(client: TestClient) -> None:
    lines = client.post("/run/table", json=ASKED).text.removeprefix("\ufeff").splitlines()
    assert len(lines) == 1 + 401
    assert lines[0].startswith('time [s],travel [m],"left end, off grade [mm]","left sensor, off grade [mm]"')


@pytest.mark.parametrize(
    ("asked", "place"),
    [
        ({"mount": DRAWN, "run": {"speed": -2}}, "run.speed"),
        ({"mount": DRAWN, "run": 5}, "run"),
        ({"mount": {**DRAWN, "valve": None}}, "mount.valve"),
    ],
)
def test_bad_settings_are_refused_with_their_place(client: TestClient, asked: dict[str, Any], place: str) -> None:
    faults = assert_refused(client.post("/run", json=asked), 422, "bad-settings")
    assert faults[0]["place"] == place


def test_the_line_sends_pieces_that_make_up_the_run(client: TestClient) -> None:
    with client.websocket_connect(LIVE) as line:
        line.send_json({"seq": 7, **ASKED})
        right: list[float] = []
        while True:
            told = line.receive_json()
            assert told["seq"] == 7
            piece = told["live"]["piece"]
            assert piece["begins"] == len(right)
            right += piece["right"]
            assert len(piece["stood"]["blade"]) == len(piece["stood_at"]) == len(piece["frame"]["left"])
            if told["live"]["summary"]:
                break
    made = run(MOUNT, SETTINGS)
    assert right == pytest.approx(made.errors["right"], abs=1e-4)
    assert told["live"]["summary"]["right"]["rms"] == pytest.approx(made.summary.right.rms)


def test_the_line_refuses_as_the_route_does_and_goes_on(client: TestClient) -> None:
    with client.websocket_connect(LIVE) as line:
        line.send_json({"seq": 1, "mount": DRAWN, "run": {"speed": "fast"}})
        assert line.receive_json()["error"]["faults"][0]["place"] == "run.speed"
        line.send_text("nonsense")
        assert line.receive_json()["error"]["code"] == "unreadable"
        line.send_json({"seq": 3, "mount": DRAWN, "run": {"seconds": 1}})
        assert line.receive_json()["seq"] == 3


def test_every_ready_run_can_be_made(client: TestClient) -> None:
    ready = client.get("/run/ready").json()
    assert [each["name"] for each in ready] == ["disturb", "rut", "rough"]
    for each in ready:
        answer = client.post("/run", json={"mount": DRAWN, "run": {**each["run"], "seconds": 6}})
        assert answer.status_code == 200


def test_what_costs_most_comes_first(client: TestClient) -> None:
    found = client.post("/run/costs", json={"mount": DRAWN, "run": {"seconds": 12, "start": {"right": 20}}}).json()
    assert [each["what"] for each in found] == ["dead time", "coupled channels"]
    assert found[0]["time_to_grade"] < found[0]["time_before"]


def test_each_mount_has_its_own_best_settings(client: TestClient) -> None:
    found = client.post("/run/best", json={"mount": DRAWN}).json()
    assert [(each["valve"], each["way"]) for each in found] == [
        ("proportional", "each its own"), ("proportional", "decoupled"), ("proportional", "one after the other"),
        ("on/off", "each its own"),
    ]  # fmt: skip
    for each in found:
        times = [time for time in each["times"] if time is not None]
        assert each["time_to_grade"] == min(times)
        assert each["setting"] in each["tried"]
