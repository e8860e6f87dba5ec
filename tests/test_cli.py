"""The command line, as a person at a terminal uses it."""

import asyncio
import json
import os
import socket
import subprocess
import sys
from pathlib import Path

import httpx2 as httpx
import pytest
import uvicorn
from ezdxf import units
from ezdxf.filemanagement import readfile
from pypdf import PdfReader

from app.analysis import Analysis
from app.cli import NOBODY_READS, PORT, _listen, main, parse_strokes
from app.document.errors import BadCommand, Unwritable
from app.document.models import as_text
from app.export import EXPORTS
from app.export.csv import csv_bytes
from app.export.files import write_whole
from app.shipped import folder, shipped_mounts
from tests.answers import readout, typed
from tests.mounts import document, end, rod
from tests.web.client import aside

TWIN = folder("scenarios") / "3-twin-cylinders.json"


def test_readout_prints_what_python_gets_from_one_call(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["readout", str(TWIN), "--command", "left cylinder=12.5", "right cylinder=-3"]) == 0
    printed = json.loads(capsys.readouterr().out)
    called = readout(shipped_mounts()[TWIN.stem], {"left cylinder": 12.5, "right cylinder": -3})
    assert printed == json.loads(json.dumps(called))


def test_a_bad_document_exits_with_2_and_every_reason(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text('{"format": 1, "title": "x", "blade": {"left": [1, 0], "right": [0, 0]}, "members": [], "load": 3}')
    assert main(["readout", str(bad)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert typed(said.err).splitlines() == [
        "load: found 3, expected an object { }: working load; without it forces are not counted",
        "blade.left: the left end at x = 1.0 mm is not to the left of the right end at x = 0.0 mm; "
        "swap them or move them apart",
    ]


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"{", "line 1, column 2: not valid JSON"),
        (b"\xff", "is not text in UTF-8"),
        (None, "cannot be read (No such file or directory)"),
    ],
)
def test_a_file_that_cannot_be_read_exits_with_2_and_says_why(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes | None, reason: str
) -> None:
    file = tmp_path / "mount.json"
    if content is not None:
        file.write_bytes(content)
    assert main(["readout", str(file)]) == 2
    assert reason in capsys.readouterr().err


@pytest.mark.parametrize(
    "text",
    ["left cylinder", "left cylinder=", "left cylinder=far", "left cylinder=nan", "left cylinder=1,200", "==", "=3"],
)
def test_a_command_that_is_no_pair_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(BadCommand, match="write for example --command 'left cylinder=25'"):
        parse_strokes([text])


@pytest.mark.parametrize(
    ("text", "mm"),
    [("lift=2in", 50.8), ("lift=-1/8 in", -3.175), ("a=b=0.5 cm", 5), ("lift = +12.5", 12.5), ("lift=1' 2\"", 355.6)],
)
def test_a_command_is_in_mm_or_in_the_unit_it_names(text: str, mm: float) -> None:
    assert parse_strokes([text]) == {text.rpartition("=")[0].strip(): pytest.approx(mm)}


def test_a_command_in_inches_gives_the_readout_of_as_many_mm(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["readout", str(TWIN), "--command", "left cylinder=1/2in"]) == 0
    printed = json.loads(capsys.readouterr().out)
    assert printed == json.loads(json.dumps(readout(shipped_mounts()[TWIN.stem], {"left cylinder": 12.7})))


@pytest.mark.parametrize("pair", ["nobody=1", "left cylinder=1e6"])
def test_a_command_the_mount_cannot_take_exits_with_2(pair: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["readout", str(TWIN), "--command", pair]) == 2
    assert capsys.readouterr().err.startswith('command["')


def test_what_is_said_of_a_bad_document_sends_the_terminal_no_codes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text(json.dumps({"format": 1, "\x1b[2J": 1, "title": 3, "note": ["\x9b2J"]}))
    assert main(["readout", str(bad)]) == 2
    said = capsys.readouterr().err
    assert "\ufffd[2J: is no key of a mount document" in said
    assert not set(said) & {"\x1b", "\x9b"}


def test_scenarios_lists_what_ships(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["scenarios"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 9
    assert lines[2].split(maxsplit=1) == ["3-twin-cylinders", "Two upright cylinders and a side stay"]


@pytest.mark.parametrize("arguments", [["--port", "0"], ["--port", "http"], ["--port", "70000"], ["fly"]])
def test_an_argument_that_is_none_exits_with_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2
    assert capsys.readouterr().err


def test_where_its_port_is_taken_it_says_so_and_serves_on_the_next() -> None:
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        holder.listen()
        taken = holder.getsockname()[1]
        command = [sys.executable, "-m", "app", "--no-open", "--port", str(taken)]
        process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[1])
        assert process.stdout is not None
        try:
            assert process.stdout.readline().startswith(f"Port {taken} is taken; using ")
            address = process.stdout.readline().split()[5]
            assert httpx.get(address).status_code == 200
        finally:
            process.terminate()
            process.communicate(timeout=10)


def test_control_c_ends_the_server_quietly_and_lets_go_of_its_port(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    listening: list[socket.socket] = []

    def interrupted(_: uvicorn.Server, sockets: list[socket.socket]) -> None:
        listening.extend(sockets)
        raise KeyboardInterrupt

    monkeypatch.setattr(uvicorn.Server, "run", interrupted)
    assert main(["--no-open"]) == 0
    assert capsys.readouterr().out.startswith("Blade Mount Sketcher is at http://127.0.0.1:")
    assert [each.fileno() for each in listening] == [-1], "closed"


def test_an_address_that_is_not_this_machines_exits_with_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--host", "203.0.113.7", "--no-open"]) == 2
    assert "cannot be served on" in capsys.readouterr().err


def test_an_answer_does_not_wait_for_the_last_one_to_be_acknowledged() -> None:
    aside(_no_delay_on_a_connection())


async def _no_delay_on_a_connection() -> None:
    """With Nagle's algorithm on, head and body of an answer come 40 ms apart.

    asyncio switches it off only where a socket names TCP as its protocol (CPython, asyncio.base_events._set_nodelay).
    """
    without_delay: asyncio.Queue[int] = asyncio.Queue()

    async def look(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        without_delay.put_nowait(writer.get_extra_info("socket").getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
        writer.close()

    listening = _listen("127.0.0.1", PORT)
    async with await asyncio.start_server(look, sock=listening):
        _, writer = await asyncio.open_connection(*listening.getsockname())
        assert await asyncio.wait_for(without_delay.get(), 5) == 1
        writer.close()
        await writer.wait_closed()


@pytest.mark.parametrize("spoilt", ["no database", "a file in the folder's place"])
def test_a_data_folder_that_cannot_be_used_exits_with_2_and_says_why(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], spoilt: str
) -> None:
    data = tmp_path / "data"
    if spoilt == "no database":
        data.mkdir()
        (data / "shelf.sqlite3").write_bytes(b"no database " * 100)
    else:
        data.write_text("a file")
    assert main(["--no-open", "--data", str(data)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    [line] = said.err.splitlines()
    assert line.startswith(f"{data / 'shelf.sqlite3'}: your mounts cannot be kept here (")
    assert "--data" in line


def test_the_csv_file_holds_the_table(tmp_path: Path) -> None:
    out = tmp_path / "table.csv"
    assert main(["export-csv", str(TWIN), str(out), "--command", "left cylinder=12.5"]) == 0
    mount = shipped_mounts()[TWIN.stem]
    assert out.read_bytes().decode() == csv_bytes(Analysis(mount, {"left cylinder": 12.5})).decode()


def test_the_pdf_file_is_on_the_paper_at_the_scale_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "mount.pdf"
    assert main(["export-pdf", str(TWIN), str(out), "--paper", "A3", "--scale", "1:10"]) == 0
    [page] = PdfReader(out).pages
    assert float(page.mediabox.width) == pytest.approx(420 * 72 / 25.4, abs=0.001)
    assert "1:10" in page.extract_text().split("\n")
    assert main(["export-pdf", str(TWIN), str(out), "--paper", "A3", "--scale", "1:5"]) == 2
    said = capsys.readouterr().err
    assert said.startswith("scale: at 1:5 the drawing with its dimensions is ")
    assert "choose 1:10, the largest that fits" in said


def test_the_csv_file_is_in_the_units_asked_for(tmp_path: Path) -> None:
    out = tmp_path / "table.csv"
    assert main(["export-csv", str(TWIN), str(out), "--units", "inch"]) == 0
    assert out.read_bytes() == csv_bytes(Analysis(shipped_mounts()[TWIN.stem]), "inch")


@pytest.mark.parametrize(("pose", "words"), [("drawn", "as drawn"), ("worked", "worked: left cylinder +12.5")])
def test_the_dxf_file_holds_the_pose_asked_for(tmp_path: Path, pose: str, words: str) -> None:
    out = tmp_path / "mount.dxf"
    assert main(["export-dxf", str(TWIN), str(out), "--pose", pose, "--command", "left cylinder=12.5"]) == 0
    assert words in out.read_text(encoding="utf-8")


def test_the_dxf_file_is_in_the_units_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "mount.dxf"
    assert main(["export-dxf", str(TWIN), str(out), "--units", "inch"]) == 0
    mount = shipped_mounts()[TWIN.stem]
    assert readfile(out).header["$INSUNITS"] == units.IN
    [edge] = readfile(out).modelspace().query('LINE[layer=="EDGE"]')
    assert (edge.dxf.end.x, edge.dxf.end.y) == pytest.approx([each / 25.4 for each in mount.blade.right])
    with pytest.raises(SystemExit):
        main(["export-dxf", str(TWIN), str(out), "--units", "feet"])
    assert "invalid choice: 'feet'" in capsys.readouterr().err


@pytest.mark.parametrize("task", [f"export-{name}" for name in EXPORTS])
def test_an_export_that_is_refused_exits_with_2_and_leaves_the_old_file(
    task: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "kept"
    out.write_text("from yesterday")
    assert main([task, str(TWIN), str(out), "--command", "nobody=1"]) == 2
    assert capsys.readouterr().err.startswith('command["nobody"]')
    assert main([task, str(tmp_path / "missing.json"), str(out)]) == 2
    assert out.read_text() == "from yesterday"
    assert os.listdir(tmp_path) == ["kept"]


@pytest.mark.parametrize("task", [f"export-{name}" for name in EXPORTS])
def test_an_export_over_the_document_itself_is_refused(
    task: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "mount.json"
    file.write_bytes(TWIN.read_bytes())
    (tmp_path / "link").symlink_to(file)
    assert main([task, str(file), str(tmp_path / "link")]) == 2
    assert "is the document itself" in capsys.readouterr().err
    assert file.read_bytes() == TWIN.read_bytes()


def test_the_worked_pose_of_a_loose_mount_exits_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    loose = tmp_path / "loose.json"
    loose.write_text(json.dumps(document([rod("stay", end("frame", (0, 500)), end("blade", (0, 100)))])))
    assert main(["export-dxf", str(loose), str(tmp_path / "out.dxf"), "--pose", "worked"]) == 2
    assert "hangs loose" in capsys.readouterr().err
    assert not (tmp_path / "out.dxf").exists()


@pytest.mark.parametrize("out", ["missing/out.csv", ".", "a" * 300])
def test_a_place_that_cannot_be_written_exits_with_2(
    out: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["export-csv", str(TWIN), out]) == 2
    assert "cannot be written (" in capsys.readouterr().err
    assert os.listdir(tmp_path) == []


def test_a_file_is_never_there_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk fails after the bytes are written and before they are safe."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    out = tmp_path / "out"
    out.write_text("from yesterday")
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Unwritable, match="No space left on device"):
        write_whole(out, b"of today")
    assert out.read_text() == "from yesterday"
    assert os.listdir(tmp_path) == ["out"]


def test_the_default_port_is_the_documented_one() -> None:
    readme = (Path(__file__).parents[1] / "README.md").read_text()
    assert f"http://127.0.0.1:{PORT}/" in readme


def test_a_reader_that_stops_after_the_first_lines_gets_no_traceback() -> None:
    file = next((Path(__file__).parents[1] / "scenarios").glob("1-*.json"))
    command = [sys.executable, "-m", "app", "readout", str(file)]
    printing = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=Path(__file__).parents[1])
    assert printing.stdout is not None
    printing.stdout.close()
    _, complaints = printing.communicate(timeout=60)
    assert complaints == b""
    assert printing.returncode == NOBODY_READS


def test_travel_prints_a_mount_over_its_strokes_and_writes_a_table(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn = tmp_path / "mount.json"
    drawn.write_text(as_text(shipped_mounts()["5-end-hinge"]))
    assert main(["travel", str(drawn), "--steps", "5"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert len(answer["layers"]["worst"][0]) == 5
    assert main(["travel", str(drawn), "--steps", "5", "--csv", str(tmp_path / "travel.csv")]) == 0
    assert len((tmp_path / "travel.csv").read_text("utf-8-sig").splitlines()) == 6
    assert main(["travel", str(drawn), "--cylinders", "boom"]) == 2
    said = capsys.readouterr().err
    assert "cylinders[0]: there is no cylinder of that name; the cylinders are 'lift cylinder'" in said


def test_run_prints_a_grading_run_and_writes_a_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    drawn, settings, out = tmp_path / "mount.json", tmp_path / "settings.json", tmp_path / "run.csv"
    drawn.write_text(as_text(shipped_mounts()["3-twin-cylinders"]))
    settings.write_text('{"seconds": 2, "start": {"right": 20}}')
    assert main(["run", str(drawn), "--run", str(settings)]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["right"][0] == pytest.approx(20)
    assert answer["summary"]["right"]["time_to_grade"] is None
    assert main(["run", str(drawn), "--run", str(settings), "--csv", str(out)]) == 0
    assert len(out.read_text("utf-8-sig").splitlines()) == 202
    settings.write_text('{"speed": "fast"}')
    assert main(["run", str(drawn), "--run", str(settings)]) == 2
    assert capsys.readouterr().err == "run.speed: found fast, expected a finite number\n"
