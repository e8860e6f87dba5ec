"""Goals, suggestions and searches over HTTP."""

import time
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi.testclient import TestClient

from app.document.models import as_document
from app.shipped import shipped_mounts
from app.web.server import create_app

DRAWN = as_document(shipped_mounts()["3-twin-cylinders"])
GOALS = [{"what": "coupling", "most": 0.05}, {"what": "error", "most": 3}]
FREE = [{"joint": "right cylinder / 1", "with": ["right cylinder / 2"], "x": [700, 1150], "alike": True}]
ASKED: dict[str, Any] = {"mount": DRAWN, "goals": GOALS, "free": FREE, "budget": 600, "seed": 4}


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient]:
    with TestClient(create_app(processes=0), base_url="http://127.0.0.1:8420") as client:
        yield client


def ended(client: TestClient, name: str) -> dict[str, Any]:
    """The search once it is no longer going."""
    for _ in range(600):
        standing: dict[str, Any] = client.get(f"/search/{name}").json()
        if standing["state"] != "going":
            return standing
        time.sleep(0.1)
    raise AssertionError("the search does not end")


def test_goals_are_read_and_suggestions_made(client: TestClient) -> None:
    read = client.post("/goals", json={"mount": DRAWN, "goals": GOALS}).json()
    assert [each["met"] for each in read] == [False, True]
    made = client.post("/suggestions", json={"mount": DRAWN, "goals": GOALS}).json()
    assert made["goals"] == read
    assert made["suggestions"][0]["after"] < made["suggestions"][0]["before"]
    assert client.post("/readout", json={"mount": made["suggestions"][0]["mount"]}).status_code == 200


def test_a_search_goes_on_beside_the_server_and_is_asked_for_again(client: TestClient) -> None:
    started = client.post("/search", json=ASKED).json()
    assert started["state"] == "going"
    standing = ended(client, started["id"])
    assert standing["state"] == "done", standing
    front = standing["result"]["front"]
    assert front[0]["meets"]
    assert client.post("/goals", json={"mount": front[0]["mount"], "goals": GOALS}).json() == front[0]["goals"]


def test_a_search_that_is_ended_answers_with_what_it_has(client: TestClient) -> None:
    started = client.post("/search", json={**ASKED, "budget": 3900}).json()
    while client.get(f"/search/{started['id']}").json()["progress"] is None:
        time.sleep(0.05)
    standing = client.delete(f"/search/{started['id']}").json()
    assert standing["state"] == "done"
    assert standing["result"]["cancelled"]
    assert standing["result"]["front"]


def test_a_search_asked_for_twice_under_one_name_is_begun_once(client: TestClient) -> None:
    asked = {**ASKED, "budget": 3900}
    first, again = (client.post("/search", json={**asked, "id": "a-page-that-reloads"}).json() for _ in range(2))
    other = client.post("/search", json=asked)
    assert (first["id"], again["id"]) == ("a-page-that-reloads", "a-page-that-reloads")
    assert other.status_code == 200, "two may go at a time"
    for name in (first["id"], other.json()["id"]):
        client.delete(f"/search/{name}")


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"id": "short"}, "id: is no name of 12 to 64"),
        ({"budget": 3}, "budget: is no whole number from 500 to 100000"),
        ({"free": []}, "free: is no list"),
        ({"free": [{"joint": "boom / 1", "x": [0, 1]}]}, "free[0]: there is no joint 'boom / 1'"),
        ({"free": [{"joint": "side stay / 1", "x": [5, 1]}]}, "free[0].x: is no range"),
        ({"free": [{"joint": "left cylinder / 1"}]}, "free[0]: has neither x nor y"),
        ({"free": [{"place": "left cylinder.bore", "choices": [50]}]}, "free[0]: is neither a joint with a box"),
        ({"goals": [{"what": "height", "most": 1}]}, "goals[0].what: is none of"),
        ({"mount": {**DRAWN, "members": DRAWN["members"][:2]}}, "mount: the mount hangs loose: hold it first"),
    ],
    ids=lambda value: str(value)[:40],
)
def test_a_bad_search_is_refused_before_it_begins(client: TestClient, wrong: dict[str, Any], said: str) -> None:
    refused = client.post("/search", json={**ASKED, **wrong})
    assert refused.status_code == 422
    assert refused.json()["error"]["message"].startswith(said)


def test_a_search_that_is_not_there_is_said_so(client: TestClient) -> None:
    assert client.get("/search/none").status_code == 404
