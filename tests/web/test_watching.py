"""What is shown goes to all who watch; what they guess comes back without names and is not kept."""

from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from app.library.store import Library
from app.web import watch
from app.web.keys import Keys
from app.web.server import create_app
from tests.web.client import client_alone

AT = "ws://127.0.0.1:8420/watch"
WATCHERS = 60


def until(socket: Any, **wanted: object) -> dict[str, Any]:  # noqa: ANN401 - a socket of the test client's
    """The next message that says this; older news may come before it."""
    while True:
        told: dict[str, Any] = socket.receive_json()
        if all(told.get(name) == value for name, value in wanted.items()):
            return told


def test_sixty_watchers_are_all_shown_the_newest() -> None:
    with client_alone() as desk, ExitStack() as lines:
        teacher = lines.enter_context(desk.websocket_connect(f"{AT}/show"))
        phones = [lines.enter_context(desk.websocket_connect(f"{AT}/live")) for _ in range(WATCHERS)]
        until(teacher, watching=WATCHERS)
        for number in range(20):
            teacher.send_json({"shown": {"mount": number, "quiz": False}})
        for phone in phones:
            until(phone, shown={"mount": 19, "quiz": False})


def test_guesses_come_back_sorted_and_end_with_their_question_or_line() -> None:
    with client_alone() as desk, desk.websocket_connect(f"{AT}/show") as teacher:
        with desk.websocket_connect(f"{AT}/live") as one, desk.websocket_connect(f"{AT}/live") as other:
            one.send_json({"guess": 9})  # nothing has been asked
            teacher.send_json({"shown": {"quiz": True}})
            until(one, shown={"quiz": True})
            one.send_json({"guess": 3})
            until(teacher, guesses=[3])
            other.send_json({"guess": 1.5})
            until(teacher, guesses=[1.5, 3])
            one.send_json({"guess": 2})
            until(teacher, guesses=[1.5, 2])
            for nonsense in ({"guess": 1e9}, {"guess": "two"}, {"guess": True}, {"guess": None}, [1]):
                one.send_json(nonsense)
            one.send_text('{"guess": 1e999}')
            one.send_text('{"guess": 4, "why": "' + "so " * 100 + '"}')  # longer than any guess
            one.send_text("{")
            assert until(one, shown=None)["error"]["code"] == "unreadable"
            teacher.send_json({"shown": {"quiz": False}})
            teacher.send_json({"shown": {"quiz": True}})
            until(teacher, watching=2, guesses=[])
        until(teacher, watching=0)


def test_a_phone_steps_the_wall_and_no_step_is_lost() -> None:
    with client_alone() as desk, ExitStack() as lines:
        teacher = lines.enter_context(desk.websocket_connect(f"{AT}/show"))
        phone = lines.enter_context(desk.websocket_connect(f"{AT}/live"))
        for way in ("next", "next", "back", "quiz", "format the disk", 7, None):
            phone.send_json({"step": way})
        until(teacher, steps=[[1, "next"], [2, "next"], [3, "back"], [4, "quiz"]])


def test_the_key_that_only_watches_steps_nothing(tmp_path: Path) -> None:
    app = create_app("0.0.0.0", library=Library(tmp_path), keys=Keys("change", "watch"))  # noqa: S104 - a class
    with TestClient(app, base_url="http://127.0.0.1:8420") as desk, ExitStack() as lines:
        change, only = ({"cookie": f"blade-mount-8420={key}"} for key in ("change", "watch"))
        teacher = lines.enter_context(desk.websocket_connect(f"{AT}/show", headers=change))
        phone = lines.enter_context(desk.websocket_connect(f"{AT}/live", headers=only))
        phone.send_json({"step": "next"})
        own = lines.enter_context(desk.websocket_connect(f"{AT}/live", headers=change))
        own.send_json({"step": "back"})
        until(teacher, steps=[[1, "back"]])
        assert "remote-next" in desk.get("/watch", headers=change).text
        assert "remote-next" not in desk.get("/watch", headers=only).text


def test_a_hall_that_is_full_takes_no_more_watchers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(watch, "MOST_WATCHERS", 2)
    with client_alone() as desk, ExitStack() as lines:
        for _ in range(2):
            lines.enter_context(desk.websocket_connect(f"{AT}/live")).receive_json()
        with pytest.raises(WebSocketDisconnect) as refused, desk.websocket_connect(f"{AT}/live") as late:
            late.receive_json()
        assert refused.value.code == 1013


def test_who_comes_late_sees_what_is_shown_now() -> None:
    with client_alone() as desk, desk.websocket_connect(f"{AT}/show") as teacher:
        until(teacher, watching=0)
        teacher.send_json({"shown": {"mount": 1}})
        until(teacher, watching=0)
        with desk.websocket_connect(f"{AT}/live") as phone:
            assert phone.receive_json() == {"shown": {"mount": 1}}


def test_the_watching_key_shows_nothing_to_others(tmp_path: Path) -> None:
    app = create_app(host="0.0.0.0", library=Library(tmp_path), keys=Keys("c", "w"))  # noqa: S104 - meant so
    with TestClient(app, base_url="http://127.0.0.1:8420") as phone:
        assert phone.get("/watch?key=w").status_code == 200
        with phone.websocket_connect(f"{AT}/live") as line:
            assert line.receive_json() == {"shown": None}
        with pytest.raises(WebSocketDisconnect), phone.websocket_connect(f"{AT}/show") as line:
            line.receive_json()
