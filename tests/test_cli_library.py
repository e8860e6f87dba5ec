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


def test_variants_stay_variants_when_the_library_is_written_out_and_read_in(tmp_path: Path) -> None:
    here, out, there = tmp_path / "here", tmp_path / "out", tmp_path / "there"
    opened = Library(here)
    first, _ = opened.add(TWIN, origin="3-twin-cylinders")
    gone, _ = opened.add(TWIN.model_copy(update={"title": "B"}), origin=first)
    opened.add(TWIN.model_copy(update={"title": "A of B, deleted"}), origin=gone)
    opened.delete(gone)
    opened.close()
    assert library(here, "export", out) == 0
    assert library(there, "import", out) == 0
    assert library(there, "import", out) == 0
    read_in = Library(there)
    entries = {entry.title: entry for entry in read_in.listed()}
    read_in.close()
    parent, variant = entries[TWIN.title], entries["A of B, deleted"]
    assert (variant.origin, variant.parent) == (parent.id, TWIN.title)
    assert (variant.family, variant.shipped) == (parent.id, "3-twin-cylinders")


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("", "its first line is '', not 'file,copied from'"),
        ("file,copied from\nA.json\n", "line 2 has 1 columns, not 2"),
    ],
)
def test_a_spoilt_table_of_origins_is_said_and_the_mounts_are_brought_in(
    data: Path, tmp_path: Path, table: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out, there = tmp_path / "out", tmp_path / "there"
    library(data, "export", out)
    (out / "origins.csv").write_text(table)
    assert library(there, "import", out) == 2
    assert titles(there) == sorted([HINGE.title, TWIN.title])
    assert said in capsys.readouterr().err


def test_mounts_that_name_one_another_as_origin_are_brought_in_all_the_same(data: Path, tmp_path: Path) -> None:
    out, there = tmp_path / "out", tmp_path / "there"
    library(data, "export", out)
    one, other = sorted(path.name for path in out.glob("*.json"))
    (out / "origins.csv").write_text(f"file,copied from\n{one},{other}\n{other},{one}\n")
    assert library(there, "import", out) == 0
    assert titles(there) == sorted([HINGE.title, TWIN.title])


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
