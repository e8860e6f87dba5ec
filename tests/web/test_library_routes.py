"""The user's own mounts over the network, and the notices to other tabs."""

import asyncio
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx2 as httpx
import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from app.document.models import MOST_MEMBERS, Mount, as_document
from app.incidents import Incidents
from app.library.kept import Command
from app.library.store import Library
from app.shipped import shipped_mounts
from app.web.ask import BODY_LIMIT
from app.web.server import create_app
from app.web.watchers import Watchers
from tests.answers import sentence
from tests.mounts import document, end, rod
from tests.web.client import aside, assert_refused

TWIN = as_document(shipped_mounts()["3-twin-cylinders"])
NOBODY = "0" * 32


def titled(title: str) -> dict[str, Any]:
    return {**TWIN, "title": title}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "data"


@pytest.fixture
def tab(folder: Path) -> Iterator[TestClient]:
    with TestClient(create_app(library=Library(folder)), base_url="http://127.0.0.1:8420") as opened:
        yield opened


@pytest.fixture
def id(tab: TestClient) -> str:
    """A mount on the library."""
    return keep(tab, TWIN)


def keep(tab: TestClient, mount: dict[str, Any], **more: object) -> str:
    answer = tab.post("/library", json={"mount": mount, **more})
    assert answer.status_code == 201
    id: str = answer.json()["id"]
    return id


def step(tab: TestClient, id: str, made: dict[str, Any]) -> int:
    return tab.put(f"/library/{id}", json=made).status_code


def assert_changed_elsewhere(answer: httpx.Response, revision: int, mount: dict[str, Any]) -> None:
    """The one error shape, with the newest revision beside it."""
    assert answer.status_code == 409
    body = answer.json()
    assert set(body) == {"error", "revision", "mount", "command"}
    assert body["error"]["code"] == "changed-elsewhere"
    assert [fault["place"] for fault in body["error"]["faults"]] == ["revision"]
    assert (body["revision"], body["mount"]) == (revision, mount)


def test_a_mount_is_kept_changed_and_read_back(tab: TestClient) -> None:
    added = tab.post("/library", json={"mount": TWIN, "origin": "3-twin-cylinders"})
    assert added.status_code == 201
    assert set(added.json()) == {"id", "revision"}
    id = added.json()["id"]
    step = {"revision": 1, "mount": titled("moved"), "command": {"left cylinder": 12.5}}
    assert tab.put(f"/library/{id}", json=step).json() == {"revision": 2}
    kept = tab.get(f"/library/{id}").json()
    changed = kept.pop("changed")
    assert changed.endswith("Z")
    assert kept == {
        "id": id,
        "revision": 2,
        "mount": titled("moved"),
        "command": {"left cylinder": 12.5},
        "origin": "3-twin-cylinders",
        "deleted": None,
        "unreadable": [],
    }


def test_the_library_lists_what_a_thumbnail_and_its_label_need(tab: TestClient, id: str) -> None:
    [entry] = tab.get("/library").json()
    assert set(entry) == {
        *("id", "title", "note", "origin", "parent", "family", "shipped"),
        *("changed", "deleted", "revision", "picture", "unreadable"),
    }
    assert (entry["title"], entry["note"], entry["unreadable"]) == (TWIN["title"], TWIN["note"], [])
    assert entry["picture"]["edge"] == [*TWIN["blade"]["left"], *TWIN["blade"]["right"]]
    assert [len(member) for member in entry["picture"]["members"]] == [
        5 if "ends" in member else 3 for member in TWIN["members"]
    ]


def test_a_loose_drawing_is_kept(tab: TestClient) -> None:
    loose = document([rod("stay", end("frame", (0, 500)), end("blade", (0, 100)))])
    id = keep(tab, loose)
    assert tab.post("/readout", json={"mount": loose}).json()["mobility"]["state"] == "loose"
    assert tab.get(f"/library/{id}").json()["mount"]["members"] == loose["members"]


def test_the_list_says_which_mounts_are_variants_of_one(tab: TestClient) -> None:
    id = keep(tab, TWIN, origin="3-twin-cylinders")
    copy = keep(tab, TWIN, origin=id)
    copy_of_copy = keep(tab, TWIN, origin=copy)
    other = keep(tab, TWIN, origin="3-twin-cylinders")
    bare = keep(tab, TWIN)
    tab.delete(f"/library/{copy}")
    listed = {entry["id"]: (entry["family"], entry["shipped"], entry["parent"]) for entry in tab.get("/library").json()}
    assert listed == {
        id: (id, "3-twin-cylinders", None),
        copy_of_copy: (id, "3-twin-cylinders", TWIN["title"]),
        other: (other, "3-twin-cylinders", None),
        bare: (bare, None, None),
    }


def test_a_small_picture_has_the_joints_of_the_other_bodies(tab: TestClient) -> None:
    lift = tab.get("/scenarios/2-pivot-on-carriage").json()
    kept = keep(tab, lift)
    [entry] = [each for each in tab.get("/library").json() if each["id"] == kept]
    [carriage] = entry["picture"]["bodies"]
    joints = [each["at"] for member in lift["members"] for each in member.get("ends", []) if each["on"] == "carriage"]
    joints += [member["at"] for member in lift["members"] if "carriage" in member.get("joins", [])]
    assert entry["picture"]["outlines"] == []
    assert sorted(zip(carriage[::2], carriage[1::2], strict=True)) == sorted(map(tuple, joints))


def test_a_small_picture_has_outlines_drawn_by_hand_in_place_of_joints(tab: TestClient) -> None:
    lift = tab.get("/scenarios/2-pivot-on-carriage").json()
    plate = {"body": "carriage", "points": [[0, 0], [100, 0], [50, 80.4]]}
    kept = keep(tab, {**lift, "outlines": [plate]})
    [picture] = [each["picture"] for each in tab.get("/library").json() if each["id"] == kept]
    assert picture["outlines"] == [{"body": "carriage", "points": [0, 0, 100, 0, 50, 80]}]
    assert picture["bodies"] == []


def test_a_copy_of_a_kept_mount_names_where_it_comes_from(tab: TestClient, id: str) -> None:
    copy = keep(tab, TWIN, origin=id)
    assert tab.get(f"/library/{copy}").json()["origin"] == id


def test_a_second_tab_is_refused_with_what_the_first_one_kept(tab: TestClient, id: str) -> None:
    tab.put(f"/library/{id}", json={"revision": 1, "mount": titled("by the first")})
    refused = tab.put(f"/library/{id}", json={"revision": 1, "mount": titled("by the second")})
    assert_changed_elsewhere(refused, 2, titled("by the first"))
    assert tab.get(f"/library/{id}").json()["mount"]["title"] == "by the first"


def test_a_step_whose_answer_was_lost_is_sent_again_and_kept_once(tab: TestClient, id: str) -> None:
    step = {"revision": 1, "mount": titled("moved"), "key": "tab-1:17"}
    assert tab.put(f"/library/{id}", json=step).json() == {"revision": 2}
    assert tab.put(f"/library/{id}", json=step).json() == {"revision": 2}
    assert len(tab.get(f"/library/{id}/versions").json()) == 2


def test_a_new_mount_whose_answer_was_lost_is_kept_once(tab: TestClient) -> None:
    assert keep(tab, TWIN, key="tab-1:1") == keep(tab, TWIN, key="tab-1:1")
    assert len(tab.get("/library").json()) == 1


def test_a_key_of_another_step_is_refused(tab: TestClient, id: str) -> None:
    tab.put(f"/library/{id}", json={"revision": 1, "mount": titled("moved"), "key": "a"})
    again = tab.put(f"/library/{id}", json={"revision": 2, "mount": titled("else"), "key": "a"})
    assert [fault["place"] for fault in assert_refused(again, 409, "key-used")] == ["key"]


def test_earlier_versions_are_listed_and_fetched(tab: TestClient, id: str) -> None:
    tab.put(f"/library/{id}", json={"revision": 1, "mount": titled("moved")})
    listed = tab.get(f"/library/{id}/versions").json()
    assert [(each["revision"], each["title"]) for each in listed] == [(2, "moved"), (1, TWIN["title"])]
    assert set(listed[0]) == {"revision", "changed", "title", "readable"}
    earlier = tab.get(f"/library/{id}/versions/1").json()
    assert earlier == {"revision": 1, "changed": listed[1]["changed"], "mount": TWIN, "command": {}}


def test_deleting_is_undone_by_restoring(tab: TestClient, id: str) -> None:
    deleted = tab.delete(f"/library/{id}").json()
    assert deleted["deleted"].endswith("Z")
    assert tab.get("/library").json() == []
    assert [entry["id"] for entry in tab.get("/library?deleted=1").json()] == [id]
    assert tab.get(f"/library/{id}").json()["deleted"] == deleted["deleted"]
    assert_refused(tab.put(f"/library/{id}", json={"revision": 1, "mount": TWIN}), 409, "deleted")
    assert tab.post(f"/library/{id}/restore").json() == {"id": id, "revision": 1, "deleted": None}
    assert [entry["id"] for entry in tab.get("/library").json()] == [id]


LEFT = 'command["left cylinder"]'
BAD_BLADE = {**TWIN, "blade": {"left": [1, 0], "right": [0, 0]}}
BAD_TOLERANCE = {**TWIN, "tolerance": -1}


NO_STEPS: list[tuple[object, str, list[str]]] = [
    ([], "bad-document", [""]),
    ({}, "bad-document", ["mount", "revision"]),
    ({"revision": 0, "mount": TWIN}, "bad-document", ["revision"]),
    ({"revision": True, "mount": TWIN}, "bad-document", ["revision"]),
    ({"revision": "1", "mount": TWIN}, "bad-document", ["revision"]),
    ({"revision": 1, "mount": TWIN, "key": ""}, "bad-document", ["key"]),
    ({"revision": 1, "mount": TWIN, "key": "k" * 65}, "bad-document", ["key"]),
    ({"revision": 1, "mount": TWIN, "key": 5}, "bad-document", ["key"]),
    ({"revision": 1, "mount": TWIN, "key": "line\n"}, "bad-document", ["key"]),
    ({"revision": 1, "mount": TWIN, "extra": 1}, "bad-document", ["extra"]),
    ({"revision": 1.5, "mount": BAD_TOLERANCE, "key": []}, "bad-document", ["mount.tolerance", "revision", "key"]),
    ({"revision": 1, "mount": BAD_BLADE}, "bad-document", ["mount.blade.left"]),
    ({"revision": 1, "mount": TWIN, "command": {"nobody": 1}}, "bad-command", ['command["nobody"]']),
    ({"revision": 1, "mount": TWIN, "command": {"left cylinder": "far"}}, "bad-command", [LEFT]),
]
"""What is sent, the code of its refusal, the places it names."""


def test_a_step_that_is_none_is_refused_with_every_fault_and_not_kept(tab: TestClient, id: str) -> None:
    for body, code, places in NO_STEPS:
        faults = assert_refused(tab.put(f"/library/{id}", json=body), 422, code)
        assert [fault["place"] for fault in faults] == places
    assert len(tab.get(f"/library/{id}/versions").json()) == 1


@pytest.mark.parametrize("origin", ["nothing-shipped", "../3-twin-cylinders", 3, NOBODY.upper().replace("0", "G")])
def test_an_origin_that_is_none_is_refused(tab: TestClient, origin: object) -> None:
    faults = assert_refused(tab.post("/library", json={"mount": TWIN, "origin": origin}), 422, "bad-document")
    assert [fault["place"] for fault in faults] == ["origin"]
    assert tab.get("/library").json() == []


def test_a_mount_of_too_many_members_is_refused_with_the_limit_and_not_kept(tab: TestClient) -> None:
    rods = [rod(f"rod {n}", end("frame", (n, 900)), end("blade", (n, 100))) for n in range(MOST_MEMBERS + 1)]
    faults = assert_refused(tab.post("/library", json={"mount": document(rods)}), 422, "bad-document")
    assert faults[0]["place"] == "mount.members"
    assert str(MOST_MEMBERS) in sentence(faults[0])
    assert tab.get("/library").json() == []


def test_an_id_that_is_not_kept_is_not_found(tab: TestClient) -> None:
    for path in (NOBODY, "nothing", "..%2Fshelf.sqlite3", NOBODY.upper().replace("0", "A"), f"{NOBODY}0"):
        assert_refused(tab.get(f"/library/{path}"), 404, "not-found")
        assert_refused(tab.put(f"/library/{path}", json={"revision": 1, "mount": TWIN}), 404, "not-found")
        assert_refused(tab.get(f"/library/{path}/versions"), 404, "not-found")
        assert_refused(tab.get(f"/library/{path}/versions/1"), 404, "not-found")
        assert_refused(tab.delete(f"/library/{path}"), 404, "not-found")
        assert_refused(tab.post(f"/library/{path}/restore"), 404, "not-found")


def test_a_version_that_is_not_kept_is_not_found(tab: TestClient, id: str) -> None:
    for revision in ("2", "0", "-1", "one", "1.0", "9" * 15, "9" * 30, "٣"):
        assert_refused(tab.get(f"/library/{id}/versions/{revision}"), 404, "not-found")


def test_a_list_that_is_neither_kept_nor_deleted_is_refused(tab: TestClient) -> None:
    assert_refused(tab.get("/library?deleted=maybe"), 422, "bad-document")


def test_a_body_over_the_limit_is_refused_declared_or_not(tab: TestClient, id: str) -> None:
    assert_refused(tab.put(f"/library/{id}", content=b" " * (BODY_LIMIT + 1)), 413, "too-large")
    pieces = (b" " * 65536 for _ in range(BODY_LIMIT // 65536 + 2))
    assert_refused(tab.post("/library", content=pieces), 413, "too-large")


def test_half_a_surrogate_pair_in_a_name_is_refused_in_words(tab: TestClient, id: str) -> None:
    body = b'{"revision": 1, "mount": {}, "\\ud800": 1}'
    assert_refused(tab.put(f"/library/{id}", content=body), 422, "bad-document")


def test_another_sites_page_may_not_keep_change_or_delete(tab: TestClient, id: str) -> None:
    evil = {"origin": "https://evil.example"}
    assert_refused(tab.post("/library", json={"mount": TWIN}, headers=evil), 403, "other-origin")
    assert_refused(tab.put(f"/library/{id}", json={"revision": 1, "mount": TWIN}, headers=evil), 403, "other-origin")
    assert_refused(tab.delete(f"/library/{id}", headers=evil), 403, "other-origin")


def test_a_file_that_cannot_be_used_answers_503_in_words(tmp_path: Path) -> None:
    (tmp_path / "shelf.sqlite3").write_bytes(b"no database " * 100)
    with TestClient(create_app(library=Library(tmp_path)), base_url="http://127.0.0.1:8420") as tab:
        faults = assert_refused(tab.get("/library"), 503, "no-library")
    assert "file is not a database" in sentence(faults[0])


def test_nothing_is_written_before_something_is_kept(folder: Path) -> None:
    with TestClient(create_app(library=Library(folder)), base_url="http://127.0.0.1:8420") as tab:
        tab.get("/scenarios")
    assert not folder.exists()


def test_a_slow_disk_holds_up_nobody_else(folder: Path) -> None:
    """While the store waits inside a step, another tab gets its readout; the step is kept once the store goes on."""
    reached, go_on = threading.Event(), threading.Event()

    class Slow(Library):
        def step(
            self, id: str, revision: int, mount: Mount, command: Command | None = None, key: str | None = None
        ) -> int:
            reached.set()
            assert go_on.wait(10)
            return super().step(id, revision, mount, command, key)

    with TestClient(create_app(library=Slow(folder)), base_url="http://127.0.0.1:8420") as tab:
        id = keep(tab, TWIN)
        answers: list[httpx.Response] = []
        stepping = threading.Thread(
            target=lambda: answers.append(tab.put(f"/library/{id}", json={"revision": 1, "mount": TWIN}))
        )
        stepping.start()
        assert reached.wait(10)
        assert tab.post("/readout", json={"mount": TWIN}).status_code == 200
        assert answers == []
        go_on.set()
        stepping.join()
    assert answers[0].json() == {"revision": 2}


# Notices to other tabs


def test_a_second_tab_is_told_of_every_change(tab: TestClient, id: str) -> None:
    with tab.websocket_connect(f"ws://127.0.0.1:8420/library/{id}/watch") as second:
        assert second.receive_json() == {"revision": 1, "key": None, "deleted": False}
        assert step(tab, id, {"revision": 1, "mount": titled("moved"), "key": "tab-1:1"}) == 200
        assert second.receive_json() == {"revision": 2, "key": "tab-1:1", "deleted": False}
        tab.delete(f"/library/{id}")
        assert second.receive_json() == {"revision": 2, "key": "tab-1:1", "deleted": True}
        tab.post(f"/library/{id}/restore")
        assert second.receive_json() == {"revision": 2, "key": "tab-1:1", "deleted": False}


def test_a_refused_step_and_a_step_of_another_mount_are_no_news(tab: TestClient, id: str) -> None:
    other = keep(tab, TWIN)
    with tab.websocket_connect(f"ws://127.0.0.1:8420/library/{id}/watch") as second:
        assert second.receive_json()["revision"] == 1
        assert step(tab, other, {"revision": 1, "mount": titled("other")}) == 200
        assert step(tab, id, {"revision": 9, "mount": titled("refused")}) == 409
        assert step(tab, id, {"revision": 1, "mount": titled("moved"), "key": "tab-1:2"}) == 200
        assert second.receive_json() == {"revision": 2, "key": "tab-1:2", "deleted": False}


def test_what_another_server_on_the_same_folder_changes_is_noticed(
    tab: TestClient, id: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.web.watchers.LOOK_AGAIN_S", 0.01)
    with tab.websocket_connect(f"ws://127.0.0.1:8420/library/{id}/watch") as second:
        assert second.receive_json()["revision"] == 1
        other_server = Library(folder)
        other_server.step(id, 1, shipped_mounts()["5-end-hinge"])
        other_server.close()
        assert second.receive_json()["revision"] == 2


@pytest.mark.parametrize("path", [NOBODY, "nothing"])
def test_watching_what_is_not_kept_is_refused_in_words_and_closed(tab: TestClient, path: str) -> None:
    with tab.websocket_connect(f"ws://127.0.0.1:8420/library/{path}/watch") as socket:
        assert socket.receive_json()["error"]["code"] == "not-found"
        with pytest.raises(WebSocketDisconnect):
            socket.receive_json()


@pytest.mark.parametrize("headers", [{"origin": "https://evil.example"}, {"host": "evil.example"}])
def test_another_sites_page_may_not_watch(tab: TestClient, id: str, headers: dict[str, str]) -> None:
    address = f"ws://127.0.0.1:8420/library/{id}/watch"
    with pytest.raises(WebSocketDisconnect), tab.websocket_connect(address, headers=headers):
        pass


class Leaving:
    """A socket whose tab leaves as soon as it has been told once."""

    def __init__(self) -> None:
        self.told = asyncio.Event()

    async def accept(self) -> None:
        return

    async def send_text(self, text: str) -> None:
        self.told.set()

    async def receive(self) -> dict[str, str]:
        await self.told.wait()
        return {"type": "websocket.disconnect"}


def test_a_tab_that_leaves_is_forgotten(folder: Path) -> None:
    library, watchers = Library(folder), Watchers(Incidents(folder))
    id, _ = library.add(shipped_mounts()["5-end-hinge"])
    aside(watchers.watch(Leaving(), library, id))  # type: ignore[arg-type]
    assert not watchers._of
    library.close()


def test_where_the_file_was_taken_away_a_new_one_is_made_on_request_only(
    tab: TestClient, id: str, folder: Path
) -> None:
    (folder / "shelf.sqlite3").unlink()
    moved = {"revision": 1, "mount": titled("moved"), "key": "a"}
    faults = assert_refused(tab.put(f"/library/{id}", json=moved), 503, "library-gone")
    assert faults[0]["place"] == str(folder / "shelf.sqlite3")
    assert_refused(tab.get("/library"), 503, "library-gone")
    assert tab.post("/library/renew").json() == []
    kept = keep(tab, titled("moved"))
    assert [entry["id"] for entry in tab.get("/library").json()] == [kept]


def test_what_happened_to_a_damaged_file_is_told(tab: TestClient, id: str, folder: Path) -> None:
    tab.put(f"/library/{id}", json={"revision": 1, "mount": titled("moved")})
    spoilt = (folder / "shelf.sqlite3").read_bytes()
    (folder / "shelf.sqlite3").write_bytes(b"\xff" * 4096 + spoilt[4096:])
    assert [entry["title"] for entry in tab.get("/library").json()] == ["moved"]
    [words] = tab.get("/library/said").json()
    assert "was damaged" in words
    assert str(folder / "shelf.sqlite3") in words
