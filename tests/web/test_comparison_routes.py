"""Comparisons kept over HTTP."""

from pathlib import Path

from starlette.testclient import TestClient

from app.grading.settings import RunSettings
from app.library.store import Library
from app.web.server import create_app
from tests.library.test_comparisons import plain
from tests.web.client import assert_refused


def desk(folder: Path) -> TestClient:
    return TestClient(create_app(library=Library(folder)), base_url="http://127.0.0.1:8420")


def test_a_comparison_is_kept_changed_and_listed(tmp_path: Path) -> None:
    client = desk(tmp_path)
    added = client.post("/comparisons", json={"comparison": plain()})
    assert added.status_code == 201
    id = added.json()["id"]
    changed = client.put(f"/comparisons/{id}", json={"comparison": {**plain(), "note": "Sold"}, "revision": 1})
    assert changed.json() == {"id": id, "revision": 2}
    found = client.get(f"/comparisons/{id}").json()
    assert found["comparison"] == {"format": 1, **plain(), "note": "Sold"}
    (entry,) = client.get("/comparisons").json()
    assert entry["name"] == "Arena north"
    assert entry["mounts"] == [plain()[side]["mount"]["title"] for side in ("a", "b")]


def test_how_worn_what_goes_along_and_the_run_come_back_as_they_were(tmp_path: Path) -> None:
    client = desk(tmp_path)
    chosen = {
        "carry": {"mass": "stays", "sensors": "stay", "members": "width"},
        "worn": 1.5,
        "run": RunSettings.model_validate({"ground": {"kind": "rough", "class": "B"}, "seeds": 8}).model_dump(
            mode="json", by_alias=True
        ),
    }
    id = client.post("/comparisons", json={"comparison": {**plain(), **chosen}}).json()["id"]
    found = client.get(f"/comparisons/{id}").json()["comparison"]
    assert {name: found[name] for name in chosen} == chosen
    refused = client.post("/comparisons", json={"comparison": {**plain(), "run": {"seconds": 0}}})
    assert assert_refused(refused, 422, "bad-document")[0]["place"] == "run.seconds"


def test_an_older_revision_is_refused(tmp_path: Path) -> None:
    client = desk(tmp_path)
    id = client.post("/comparisons", json={"comparison": plain()}).json()["id"]
    step = {"comparison": plain(), "revision": 1}
    assert client.put(f"/comparisons/{id}", json=step).status_code == 200
    assert_refused(client.put(f"/comparisons/{id}", json=step), 409, "changed-elsewhere")


def test_it_is_put_away_and_brought_back(tmp_path: Path) -> None:
    client = desk(tmp_path)
    id = client.post("/comparisons", json={"comparison": plain()}).json()["id"]
    assert client.delete(f"/comparisons/{id}").json() == {"id": id}
    assert_refused(client.get(f"/comparisons/{id}"), 404, "not-found")
    assert client.post(f"/comparisons/{id}/restore").json() == {"id": id}
    assert client.get(f"/comparisons/{id}").status_code == 200


def test_what_is_no_comparison_is_refused(tmp_path: Path) -> None:
    client = desk(tmp_path)
    assert_refused(client.post("/comparisons", json=[]), 422, "bad-document")
    assert_refused(client.post("/comparisons", json={"comparison": plain(), "id": 1}), 422, "bad-document")
    id = client.post("/comparisons", json={"comparison": plain()}).json()["id"]
    assert_refused(client.put(f"/comparisons/{id}", json={"comparison": plain()}), 422, "bad-document")
