"""The library at a terminal: copied, brought back, written out as documents and read in."""

import json
from pathlib import Path

import pytest

from app.cli import main
from app.document.models import as_document
from app.library.backups import backups
from app.library.store import FILE, Library
from app.shipped import folder, shipped_mounts

HINGE, TWIN = shipped_mounts()["5-end-hinge"], shipped_mounts()["3-twin-cylinders"]


def library(data: Path, *what: object) -> int:
    return main(["--data", str(data), "library", *map(str, what)])


def titles(data: Path) -> list[str]:
    opened = Library(data)
    found = sorted(entry.title for entry in opened.listed())
    opened.close()
    return found


@pytest.fixture
def data(tmp_path: Path) -> Path:
    opened = Library(tmp_path / "data")
    opened.add(HINGE)
    opened.add(TWIN)
    opened.close()
    return tmp_path / "data"


def test_a_copy_brings_back_what_was_there_when_it_was_made(data: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite3"
    assert library(data, "backup", copy) == 0
    running = Library(data)
    id, _ = running.add(HINGE)
    running.delete(id)
    assert library(data, "restore", copy) == 0
    assert sorted(entry.title for entry in running.listed()) == sorted([HINGE.title, TWIN.title])
    assert running.listed(deleted=True) == []
    running.close()
    [before] = backups(data)
    assert "before-restoring" in before.name


def test_a_copy_is_brought_back_over_a_file_that_nothing_can_be_read_of(data: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy.sqlite3"
    library(data, "backup", copy)
    (data / FILE).write_bytes(b"nothing" * 2000)
    assert library(data, "restore", copy) == 0
    assert titles(data) == sorted([HINGE.title, TWIN.title])
    assert [path.read_bytes()[:7] for path in data.glob("damaged-*")] == [b"nothing"]


def test_documents_written_out_are_read_in_once(data: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out, other = tmp_path / "out", tmp_path / "other"
    assert library(data, "export", out) == 0
    assert library(data, "export", out) == 0
    written = [json.loads(path.read_text()) for path in sorted(out.iterdir())]
    assert sorted(written, key=str) == sorted([as_document(HINGE), as_document(TWIN)], key=str)
    assert library(other, "import", out) == 0
    assert library(other, "import", out) == 0
    assert titles(other) == sorted([HINGE.title, TWIN.title])
    assert "0 mounts are new" in capsys.readouterr().out.splitlines()[-1]


def test_a_document_that_is_refused_is_named_and_the_others_are_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    there = tmp_path / "there"
    there.mkdir()
    (there / "bad.json").write_text("{")
    (there / "good.json").write_bytes((folder("scenarios") / "5-end-hinge.json").read_bytes())
    assert library(tmp_path / "data", "import", there) == 2
    assert titles(tmp_path / "data") == [HINGE.title]
    assert str(there / "bad.json") in capsys.readouterr().err


@pytest.mark.parametrize(
    ("what", "reason"),
    [
        (("backup", "data/shelf.sqlite3"), "is the library itself"),
        (("backup", "nowhere/copy.sqlite3"), "the copy was not made"),
        (("restore", "nothing.sqlite3"), "is no library that can be read"),
        (("restore", "plain.txt"), "is no library that can be read"),
        (("export", "plain.txt"), "cannot be made"),
        (("import", "nothing"), "is no folder"),
    ],
)
def test_what_cannot_be_done_is_refused_and_nothing_lost(
    data: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    what: tuple[str, str],
    reason: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "plain.txt").write_text("plain")
    assert library(data, *what) == 2
    assert reason in capsys.readouterr().err
    assert titles(data) == sorted([HINGE.title, TWIN.title])


def test_a_folder_with_nothing_kept_has_nothing_to_copy(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert library(tmp_path / "data", "backup", tmp_path / "copy.sqlite3") == 2
    assert "nothing has been kept in this folder yet" in capsys.readouterr().err
    assert not (tmp_path / "copy.sqlite3").exists()
