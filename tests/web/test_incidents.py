"""What nobody foresaw: an answer in the one shape with a reference number, and the log that has the same number."""

import json
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from app import cli
from app.document.models import Mount, as_document
from app.incidents import EARLIER_KEPT, LARGEST_BYTES, LOG, Incidents
from app.library.store import Library
from app.results.readout import Readout, readout
from app.shipped import folder as shipped_folder
from app.shipped import shipped_mounts
from app.web.answers import as_json
from app.web.server import create_app
from tests.web.client import LIVE, assert_refused

TWIN = as_document(shipped_mounts()["3-twin-cylinders"])


def spoilt(mount: Mount, strokes: dict[str, object]) -> Readout:
    """A readout that has a fault nobody foresaw, depending on the stroke asked for."""
    if strokes.get("left cylinder") == 1:
        raise ZeroDivisionError("the drawing of Jane Doe")
    found = readout(mount, strokes)
    if strokes.get("left cylinder") == 2 and found.coupling and found.coupling.moves:
        found.coupling.moves["left"]["left cylinder"] = math.inf
    return found


@pytest.fixture
def tab(tmp_path: Path) -> Iterator[TestClient]:
    app = create_app(answerer=spoilt, library=Library(tmp_path))
    with TestClient(app, base_url="http://127.0.0.1:8420") as opened:
        yield opened


def asked(stroke: float) -> dict[str, Any]:
    return {"mount": TWIN, "command": {"left cylinder": stroke}}


def reference_of(error: dict[str, Any]) -> str:
    return str(error["faults"][0]["values"]["reference"][0])


@pytest.mark.parametrize(("stroke", "cause"), [(1, "ZeroDivisionError"), (2, "Infinity is in the answer")])
def test_a_fault_in_the_program_is_answered_under_its_number_and_the_socket_goes_on(
    tab: TestClient, tmp_path: Path, stroke: int, cause: str
) -> None:
    with tab.websocket_connect(LIVE) as socket:
        socket.send_json({"seq": 41, **asked(stroke)})
        answer = socket.receive_json()
        assert (answer["seq"], answer["error"]["code"]) == (41, "unforeseen")
        socket.send_json({"seq": 42, **asked(0)})
        assert socket.receive_json()["readout"]["coupling"]
    log = (tmp_path / LOG).read_text()
    assert f"reference {reference_of(answer['error'])}, " in log
    assert cause in log


@pytest.mark.parametrize("stroke", [1, 2])
def test_a_fault_in_the_program_is_a_500_in_the_one_shape_with_the_log_named(
    tab: TestClient, tmp_path: Path, stroke: int
) -> None:
    answer = tab.post("/readout", json=asked(stroke))
    [fault] = assert_refused(answer, 500, "unforeseen")
    assert fault["values"]["log"] == [str(tmp_path / LOG), "word"]
    assert reference_of(answer.json()["error"]) in (tmp_path / LOG).read_text()
    assert "content-security-policy" in answer.headers
    assert tab.post("/readout", json=asked(0)).status_code == 200


def test_a_watcher_is_told_what_went_wrong_and_goes_on_watching(
    tab: TestClient, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.web.watchers.LOOK_AGAIN_S", 0.01)
    id = tab.post("/library", json={"mount": TWIN}).json()["id"]
    whole = Library.standing
    monkeypatch.setattr(Library, "standing", lambda library, id: 1 / 0)
    with tab.websocket_connect(f"ws://127.0.0.1:8420/library/{id}/watch") as socket:
        assert socket.receive_json()["error"]["code"] == "unforeseen"
        monkeypatch.setattr(Library, "standing", whole)
        while "error" in (told := socket.receive_json()):
            pass
        assert told == {"revision": 1, "key": None, "deleted": False}


def test_nothing_is_logged_and_no_folder_made_while_all_is_well(tmp_path: Path) -> None:
    with TestClient(create_app(library=Library(tmp_path / "data")), base_url="http://127.0.0.1:8420") as tab:
        assert tab.post("/readout", json={"mount": {}}).status_code == 422
    assert not (tmp_path / "data").exists()


def test_the_log_keeps_the_newest_and_stays_small(tmp_path: Path) -> None:
    incidents = Incidents(tmp_path)
    first = incidents.keep(ValueError("x" * LARGEST_BYTES), "first")
    for number in range(2 * (EARLIER_KEPT + 1) * LARGEST_BYTES // 15_000):
        last = incidents.keep(ValueError("x" * 15_000), f"number {number}")
    files = sorted((tmp_path / LOG.parent).iterdir())
    assert len(files) == EARLIER_KEPT + 1
    assert all(file.stat().st_size <= LARGEST_BYTES for file in files)
    everything = "".join(file.read_text() for file in files)
    assert str(last.faults[0].values["reference"][0]) in everything
    assert str(first.faults[0].values["reference"][0]) not in everything


def test_where_the_log_cannot_be_written_the_terminal_gets_the_entry(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / LOG.parent).write_text("a file where the folder should be")
    error = Incidents(tmp_path).keep(ValueError("cause"), "a test")
    reference = str(error.faults[0].values["reference"][0])
    assert "cannot be written, so what is known stands where the server was started" in str(error)
    said = capsys.readouterr().err
    assert reference in said
    assert "ValueError: cause" in said


def test_the_command_line_ends_with_70_and_one_line_with_the_reference(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(cli, "read_file", lambda path: 1 / 0)
    file = str(shipped_folder("scenarios") / "3-twin-cylinders.json")
    assert cli.main(["--data", str(tmp_path), "readout", file]) == cli.UNFORESEEN == 70
    said = capsys.readouterr()
    assert (said.out, len(said.err.splitlines())) == ("", 1)
    reference = said.err.split("(reference ")[1].split(")")[0]
    assert f"reference {reference}, 'readout'" in (tmp_path / LOG).read_text()


@pytest.mark.parametrize("content", [{"a": math.inf}, [math.nan], {"b": [-math.inf], "half": "\ud800"}])
def test_nothing_that_is_not_finite_leaves(content: object) -> None:
    with pytest.raises(ValueError, match=r"in the answer|not JSON compliant"):
        as_json(content)


def test_words_for_what_is_not_finite_are_words() -> None:
    assert json.loads(as_json({"title": "NaN and Infinity, -Infinity"})) == {"title": "NaN and Infinity, -Infinity"}
