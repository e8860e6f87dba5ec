"""The live socket."""

import asyncio
import itertools
import json
import threading
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.incidents import Incidents
from app.shipped import shipped_mounts
from app.solve.assembly import topology_of
from app.solve.equations import is_derived
from app.web.live import converse
from app.web.server import create_app
from tests.answers import readout
from tests.web.client import LIVE, aside, client, client_alone

TWIN = as_document(shipped_mounts()["3-twin-cylinders"])


def test_each_message_is_answered_under_its_number() -> None:
    with client().websocket_connect(LIVE) as socket:
        for seq, stroke in ((1, 0.0), (2, 10.0)):
            socket.send_json({"seq": seq, "mount": TWIN, "command": {"left cylinder": stroke}})
            answer = socket.receive_json()
            assert answer["seq"] == seq
            assert answer["readout"]["pose"]["command"]["left cylinder"] == stroke


@pytest.mark.parametrize(
    ("message", "code", "place"),
    [
        ("nonsense", "unreadable", "line 1, column 1"),
        (json.dumps({"mount": TWIN}), "bad-document", "seq"),
        (json.dumps({"seq": True, "mount": TWIN}), "bad-document", "seq"),
        (json.dumps({"seq": 1}), "bad-document", "mount"),
        (json.dumps({"seq": 1, "mount": {**TWIN, "tolerance": 0}}), "bad-document", "mount.tolerance"),
        (json.dumps({"seq": 1, "mount": TWIN, "command": {"nobody": 1}}), "bad-command", 'command["nobody"]'),
        (json.dumps({"seq": 1, "mount": TWIN, "extra": 1}), "bad-document", "extra"),
    ],
)
def test_a_bad_message_gets_a_reason_and_the_next_one_an_answer(message: str, code: str, place: str) -> None:
    with client().websocket_connect(LIVE) as socket:
        socket.send_text(message)
        refused = socket.receive_json()["error"]
        assert refused["code"] == code
        assert refused["faults"][0]["place"] == place
        socket.send_json({"seq": 7, "mount": TWIN})
        assert socket.receive_json()["seq"] == 7


@pytest.mark.parametrize("ends", [7, {"left": 1}, {"left": 1, "right": True}, {"left": 1, "right": 2, "middle": 3}])
def test_heights_of_the_ends_that_are_none_are_refused_with_what_to_give(ends: object) -> None:
    with client().websocket_connect(LIVE) as socket:
        socket.send_json({"seq": 1, "mount": TWIN, "ends": ends})
        [fault] = socket.receive_json()["error"]["faults"]
        assert (fault["place"], fault["text"][:31]) == ("ends", 'is not {"left": mm, "right": mm')


def test_heights_asked_of_the_ends_are_answered_with_the_strokes_that_bring_them_there() -> None:
    with client().websocket_connect(LIVE) as socket:
        socket.send_json({"seq": 1, "mount": TWIN, "ends": {"left": 0, "right": 12}})
        answer = socket.receive_json()
    assert answer["reach"] == {"served": ["left", "right"], "met": True}
    assert answer["readout"]["pose"]["ends"]["right"][1] - TWIN["blade"]["right"][1] == pytest.approx(12, abs=0.001)
    assert answer["readout"] == json.loads(json.dumps(readout(read_mount(TWIN), answer["readout"]["pose"]["command"])))


def test_a_mount_that_hangs_loose_is_answered_but_brings_no_end_anywhere() -> None:
    loose = {**TWIN, "members": TWIN["members"][:1]}
    with client().websocket_connect(LIVE) as socket:
        socket.send_json({"seq": 1, "mount": loose, "ends": {"left": 0, "right": 12}})
        answer = socket.receive_json()
    assert (answer["readout"]["pose"], answer["reach"]) == (None, None)


def test_another_sites_page_gets_no_socket() -> None:
    for headers in ({"origin": "https://evil.example"}, {"host": "evil.example"}):
        with pytest.raises(WebSocketDisconnect), client().websocket_connect(LIVE, headers=headers):
            pass


class Wire:
    """A socket as the server sees it, with messages put in by hand."""

    def __init__(self) -> None:
        self.coming: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
        self.sent: asyncio.Queue[dict[str, Any]] = asyncio.Queue()

    async def accept(self) -> None:
        return

    async def receive(self) -> dict[str, Any]:
        return await self.coming.get()

    async def send_text(self, text: str) -> None:
        await self.sent.put(json.loads(text))

    def say(self, seq: int) -> None:
        self.coming.put_nowait({"type": "websocket.receive", "text": json.dumps({"seq": seq, "mount": TWIN})})


def test_overtaken_messages_are_not_computed(tmp_path: Path) -> None:
    aside(_fifty_messages_at_once(tmp_path))


async def _fifty_messages_at_once(tmp_path: Path) -> None:
    asked: list[Mount] = []

    def counting(mount: Mount, command: dict[str, object]) -> dict[str, Any]:
        asked.append(mount)
        return {}

    wire = Wire()
    talking = asyncio.create_task(converse(wire, counting, Incidents(tmp_path)))  # type: ignore[arg-type]
    for seq in range(1, 51):
        wire.say(seq)
    seqs: list[int] = []
    while not seqs or seqs[-1] != 50:
        seqs.append((await asyncio.wait_for(wire.sent.get(), 5))["seq"])
    talking.cancel()
    assert len(asked) == len(seqs) < 5
    assert seqs == sorted(seqs)


def test_a_new_topology_does_not_hold_up_another_client() -> None:
    """While one client's mount of many bodies is derived, another's known mount is answered."""
    bodies = [f"link {number}" for number in range(9)]
    chain = ["frame", *bodies, "blade"]
    members = [
        {"kind": "pin", "id": f"pin {number}", "joins": [a, b], "at": [100 * number, 500 + 7 * number]}
        for number, (a, b) in enumerate(itertools.pairwise(chain))
    ] + [
        {
            "kind": "rod",
            "id": f"rod {number}",
            "ends": [{"on": "frame", "at": [100 * number, 900]}, {"on": b, "at": [100 * number + 50, 550]}],
        }
        for number, b in enumerate(chain[1:])
    ]
    slow = {"format": 1, "title": "many links", "blade": TWIN["blade"], "bodies": bodies, "members": members}
    assert not is_derived(topology_of(read_mount(slow)))
    readout(shipped_mounts()["3-twin-cylinders"])
    finished: list[str] = []
    with TestClient(create_app(), base_url="http://127.0.0.1:8420") as both:

        def ask(name: str, mount: dict[str, Any]) -> None:
            with both.websocket_connect(LIVE) as socket:
                socket.send_json({"seq": 1, "mount": mount})
                socket.receive_json()
            finished.append(name)

        first = threading.Thread(target=ask, args=("new", slow))
        first.start()
        ask("known", TWIN)
        first.join()
    assert finished == ["known", "new"]


def test_a_step_is_kept_while_a_class_waits_for_new_topologies(monkeypatch: pytest.MonkeyPatch) -> None:
    go_on = threading.Event()

    def slowly(_: object) -> None:
        if not go_on.wait(30):
            raise TimeoutError

    monkeypatch.setattr("app.web.ask.is_derived", lambda _: False)
    monkeypatch.setattr("app.web.ask.derive", slowly)
    with client_alone() as tab, ExitStack() as lines:
        waiting = [lines.enter_context(tab.websocket_connect(LIVE)) for _ in range(40)]
        for line in waiting:
            line.send_json({"seq": 1, "mount": TWIN})
        assert tab.post("/library", json={"mount": TWIN}).status_code == 201
        go_on.set()
        assert all("readout" in line.receive_json() for line in waiting)
