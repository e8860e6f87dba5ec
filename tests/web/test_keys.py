"""A server beyond this machine: who has no key gets nothing, who has the watching key may only watch."""

import json
import re
import stat
import subprocess
import sys
from pathlib import Path

import httpx2 as httpx
import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from app.document.models import as_document
from app.library.store import Library
from app.shipped import shipped_mounts
from app.web.keys import FILE, Keys, keys_of
from app.web.server import create_app
from tests.browser.conftest import ROOT, free_port
from tests.web.client import LIVE, assert_refused

KEYS = Keys("may-change", "may-watch")
TWIN = as_document(shipped_mounts()["3-twin-cylinders"])


@pytest.fixture
def visitor(tmp_path: Path) -> TestClient:
    app = create_app(host="0.0.0.0", library=Library(tmp_path), keys=KEYS)  # noqa: S104 - meant so
    return TestClient(app, base_url="http://127.0.0.1:8420")


def test_without_a_key_nothing_is_answered(visitor: TestClient) -> None:
    for path in ("/", "/library", "/scenarios", "/static/pages/sketch.js", "/watch", "/openapi.json"):
        for query in ("", "?key=", "?key=guessed", "?key=%ff"):
            assert_refused(visitor.get(f"{path}{query}"), 401, "no-key")


def test_without_a_key_nothing_is_kept_or_deleted_and_no_line_opens(visitor: TestClient) -> None:
    assert_refused(visitor.post("/library?key=may-change", json={"mount": TWIN}), 401, "no-key")
    assert_refused(visitor.delete(f"/library/{'0' * 32}"), 401, "no-key")
    for path in (LIVE, f"{LIVE}?key=may-change", f"ws://127.0.0.1:8420/library/{'0' * 32}/watch"):
        with pytest.raises(WebSocketDisconnect), visitor.websocket_connect(path):
            pass


def test_the_printed_address_opens_everything_and_its_key_leaves_the_address(visitor: TestClient) -> None:
    opening = visitor.get("/?key=may-change&x=1", follow_redirects=False)
    assert (opening.status_code, opening.headers["location"]) == (303, "/?x=1")
    cookie = opening.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=lax" in cookie
    assert visitor.get("/").status_code == 200
    assert visitor.post("/library", json={"mount": TWIN}).status_code == 201
    with visitor.websocket_connect(LIVE) as socket:
        socket.send_json({"seq": 1, "mount": TWIN})
        assert socket.receive_json()["readout"]


def test_a_key_never_sends_a_visitor_to_another_server(visitor: TestClient) -> None:
    for path in ("//evil.example/", "/\\evil.example/"):
        location = visitor.get(f"http://127.0.0.1:8420{path}?key=may-change", follow_redirects=False).headers[
            "location"
        ]
        assert re.match(r"/[^/\\]", location)


def test_the_watching_key_changes_and_lists_nothing(visitor: TestClient) -> None:
    visitor.get("/watch?key=may-watch", follow_redirects=False)
    for path in ("/", "/library", "/scenarios", "/library/said"):
        assert_refused(visitor.get(path), 403, "watch-only")
    assert_refused(visitor.post("/library", json={"mount": TWIN}), 403, "watch-only")
    assert_refused(visitor.post("/readout", json={"mount": TWIN}), 403, "watch-only")
    with pytest.raises(WebSocketDisconnect), visitor.websocket_connect(LIVE):
        pass
    assert visitor.get("/static/pages/sketch.js").status_code == 200


def test_the_keys_of_a_folder_stay_and_are_its_owners_only(tmp_path: Path) -> None:
    keys = keys_of(tmp_path)
    assert keys_of(tmp_path) == keys
    assert keys.change != keys.watch
    if sys.platform != "win32":
        assert stat.S_IMODE((tmp_path / FILE).stat().st_mode) == 0o600
    (tmp_path / FILE).write_text("{")
    assert keys_of(tmp_path) != keys


def test_beyond_this_machine_it_prints_both_addresses_a_code_and_what_is_open(tmp_path: Path) -> None:
    port = free_port()
    command = [sys.executable, "-m", "app", "--no-open", "--host", "0.0.0.0", "--port", str(port)]  # noqa: S104
    with subprocess.Popen(
        [*command, "--data", str(tmp_path)], cwd=ROOT, stdout=subprocess.PIPE, text=True, encoding="utf-8"
    ) as running:
        said = ""
        while "you trust" not in said:
            said += (running.stdout and running.stdout.readline()) or "you trust (ended)"
        keys = json.loads((tmp_path / FILE).read_text())
        assert f":{port}/?key={keys['change']}" in said
        assert f":{port}/watch?key={keys['watch']}" in said
        assert "▄" in said
        assert "may change and delete your mounts" in said
        assert "nothing is encrypted" in said
        assert httpx.get(f"http://127.0.0.1:{port}/library").status_code == 401
        running.terminate()
