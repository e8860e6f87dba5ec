"""The command line, as a person at a terminal uses it."""

import json
import socket
import subprocess
import sys
from pathlib import Path

import httpx2 as httpx
import pytest

from app.cli import PORT, main, parse_command
from app.errors import BadCommand
from app.readout import readout
from app.shipped import folder, shipped_mounts

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
    assert said.err.splitlines() == [
        "load: found 3, expected an object { }: working load; without it forces are not counted",
        "blade.left: the left end at x = 1 is not to the left of the right end at x = 0; swap them or move them apart",
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


@pytest.mark.parametrize("text", ["left cylinder", "left cylinder=", "left cylinder=far", "=="])
def test_a_command_that_is_no_pair_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(BadCommand, match="write for example --command 'left cylinder=25'"):
        parse_command([text])


@pytest.mark.parametrize("pair", ["nobody=1", "left cylinder=nan", "left cylinder=inf"])
def test_a_command_the_mount_cannot_take_exits_with_2(pair: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["readout", str(TWIN), "--command", pair]) == 2
    assert capsys.readouterr().err.startswith('command["')


def test_scenarios_lists_what_ships(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["scenarios"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 7
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


def test_an_address_that_is_not_this_machines_exits_with_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--host", "203.0.113.7", "--no-open"]) == 2
    assert "cannot be served on" in capsys.readouterr().err


def test_the_default_port_is_the_documented_one() -> None:
    readme = (Path(__file__).parents[1] / "README.md").read_text()
    assert f"http://127.0.0.1:{PORT}/" in readme
