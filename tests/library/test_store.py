"""The store of the user's own mounts, used as Python."""

import sqlite3
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from app.document.errors import ChangedElsewhere, Deleted, KeyUsed, NoShelf, NotOnShelf
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.library.store import FILE, SCHEMA, VERSIONS_KEPT, Shelf, data_folder
from tests.mounts import document, hinge, twin

NOBODY = "0" * 32


def mount(title: str = "Test mount", drawn: Callable[..., dict[str, Any]] = twin) -> Mount:
    return read_mount(drawn(title=title))


@pytest.fixture
def shelf(tmp_path: Path) -> Iterator[Shelf]:
    """A shelf whose clock moves on by a second at every look."""
    seconds = iter(range(10_000))
    start = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
    opened = Shelf(tmp_path / "data", now=lambda: start + timedelta(seconds=next(seconds)))
    yield opened
    opened.close()


def test_what_is_kept_comes_back_equal(shelf: Shelf) -> None:
    id, revision = shelf.add(mount(), {"left": 12.5, "right": 0.1 + 0.2}, origin="3-twin-cylinders")
    kept = shelf.kept(id)
    assert (kept.revision, revision) == (1, 1)
    assert read_mount(kept.mount) == mount()
    assert kept.command == {"left": 12.5, "right": 0.1 + 0.2}
    assert kept.origin == "3-twin-cylinders"
    assert kept.changed == "2026-03-01T12:00:00.000Z"
    assert kept.deleted is None


def test_what_is_kept_is_there_for_the_next_server(shelf: Shelf) -> None:
    id, _ = shelf.add(mount("first"))
    shelf.step(id, 1, mount("second"))
    shelf.close()
    next_one = Shelf(shelf.path.parent)
    assert next_one.kept(id).mount["title"] == "second"
    next_one.close()


def test_a_drawing_in_progress_is_kept(shelf: Shelf) -> None:
    bare = read_mount(document([]))
    id, _ = shelf.add(bare)
    assert shelf.kept(id).mount == as_document(bare)


def test_the_shelf_lists_the_newest_change_first(shelf: Shelf) -> None:
    first, _ = shelf.add(mount("first"))
    second, _ = shelf.add(mount("second"))
    shelf.step(first, 1, mount("first, changed"))
    assert [kept.id for kept in shelf.listed()] == [first, second]
    assert [kept.mount["title"] for kept in shelf.listed()] == ["first, changed", "second"]


def test_a_step_from_an_old_revision_is_refused_with_the_newest(shelf: Shelf) -> None:
    id, _ = shelf.add(mount("drawn"))
    shelf.step(id, 1, mount("by the first tab"), {"left": 5.0})
    with pytest.raises(ChangedElsewhere, match="made from revision 1, but revision 2 is the newest") as refused:
        shelf.step(id, 1, mount("by the second tab"))
    assert (refused.value.revision, refused.value.command) == (2, {"left": 5.0})
    assert refused.value.mount["title"] == "by the first tab"
    assert [version.title for version in shelf.versions(id)] == ["by the first tab", "drawn"]


def test_a_step_from_a_revision_that_never_was_is_refused(shelf: Shelf) -> None:
    id, _ = shelf.add(mount())
    with pytest.raises(ChangedElsewhere):
        shelf.step(id, 7, mount())


def test_a_step_sent_again_is_acknowledged_and_kept_once(shelf: Shelf) -> None:
    id, _ = shelf.add(mount("drawn"))
    assert shelf.step(id, 1, mount("moved"), key="a") == 2
    assert shelf.step(id, 2, mount("moved on"), key="b") == 3
    assert shelf.step(id, 1, mount("moved"), key="a") == 2
    assert [version.revision for version in shelf.versions(id)] == [3, 2, 1]


def test_a_new_mount_sent_again_is_kept_once(shelf: Shelf) -> None:
    kept = shelf.add(mount(), key="new")
    assert shelf.add(mount(), key="new") == kept
    assert len(shelf.listed()) == 1


@pytest.mark.parametrize(("title", "command"), [("something else", {"left": 1.0}), ("moved", {"left": 2.0})])
def test_another_step_under_a_used_key_is_refused(shelf: Shelf, title: str, command: dict[str, float]) -> None:
    id, _ = shelf.add(mount("drawn"))
    shelf.step(id, 1, mount("moved"), {"left": 1.0}, key="a")
    with pytest.raises(KeyUsed):
        shelf.step(id, 2, mount(title), command, key="a")
    assert shelf.kept(id).revision == 2


def test_the_same_key_serves_two_mounts(shelf: Shelf) -> None:
    first, _ = shelf.add(mount())
    second, _ = shelf.add(mount())
    assert shelf.step(first, 1, mount("first"), key="a") == 2
    assert shelf.step(second, 1, mount("second"), key="a") == 2


def test_every_version_can_be_looked_at_and_brought_back(shelf: Shelf) -> None:
    id, _ = shelf.add(mount("one"), {"left": 3.5})
    shelf.step(id, 1, mount("two", hinge))
    earlier = shelf.version(id, 1)
    assert (read_mount(earlier.mount), earlier.command) == (mount("one"), {"left": 3.5})
    assert shelf.step(id, 2, read_mount(earlier.mount), earlier.command) == 3
    assert (shelf.kept(id).mount, shelf.kept(id).command) == (earlier.mount, earlier.command)
    assert [(version.revision, version.title) for version in shelf.versions(id)] == [(3, "one"), (2, "two"), (1, "one")]
    assert shelf.versions(id)[0].changed == "2026-03-01T12:00:02.000Z"


def test_the_newest_thousand_versions_stay(shelf: Shelf) -> None:
    id, _ = shelf.add(mount())
    for revision in range(1, VERSIONS_KEPT + 2):
        shelf.step(id, revision, mount(f"step {revision + 1}"))
    kept = [version.revision for version in shelf.versions(id)]
    assert kept == list(range(VERSIONS_KEPT + 2, 2, -1))
    assert len(kept) == VERSIONS_KEPT == 1000
    with pytest.raises(NotOnShelf, match="no version 2 of this mount is kept"):
        shelf.version(id, 2)


def test_pruning_one_mount_leaves_the_others_alone(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.library.store.VERSIONS_KEPT", 2)
    other, _ = shelf.add(mount("other"))
    id, _ = shelf.add(mount())
    shelf.step(id, 1, mount())
    shelf.step(id, 2, mount())
    assert [version.revision for version in shelf.versions(id)] == [3, 2]
    assert [version.revision for version in shelf.versions(other)] == [1]


def test_a_deleted_mount_takes_no_steps_until_it_is_restored(shelf: Shelf) -> None:
    id, _ = shelf.add(mount("kept"))
    shelf.delete(id)
    assert shelf.listed() == []
    assert [kept.id for kept in shelf.listed(deleted=True)] == [id]
    with pytest.raises(Deleted, match="restore it to go on"):
        shelf.step(id, 1, mount("changed"))
    shelf.restore(id)
    assert [kept.mount["title"] for kept in shelf.listed()] == ["kept"]
    assert shelf.listed(deleted=True) == []
    assert shelf.step(id, 1, mount("changed")) == 2


def test_deleting_twice_changes_nothing_more(shelf: Shelf) -> None:
    id, _ = shelf.add(mount())
    assert shelf.delete(id) == shelf.delete(id)


def test_a_step_acknowledged_before_the_deletion_is_acknowledged_after_it(shelf: Shelf) -> None:
    id, _ = shelf.add(mount())
    shelf.step(id, 1, mount("moved"), key="a")
    shelf.delete(id)
    assert shelf.step(id, 1, mount("moved"), key="a") == 2


@pytest.mark.parametrize(
    "asking",
    [
        lambda shelf: shelf.kept(NOBODY),
        lambda shelf: shelf.standing(NOBODY),
        lambda shelf: shelf.step(NOBODY, 1, mount()),
        lambda shelf: shelf.versions(NOBODY),
        lambda shelf: shelf.version(NOBODY, 1),
        lambda shelf: shelf.delete(NOBODY),
        lambda shelf: shelf.restore(NOBODY),
    ],
)
def test_a_mount_that_is_not_kept_is_named_as_missing(shelf: Shelf, asking: Callable[[Shelf], object]) -> None:
    with pytest.raises(NotOnShelf, match="no mount of this id is kept"):
        asking(shelf)


def test_a_step_that_fails_half_way_leaves_nothing(shelf: Shelf) -> None:
    """A trigger of the test's stops the second statement of the step's transaction."""
    id, _ = shelf.add(mount("drawn"))
    with sqlite3.connect(shelf.path) as other:
        other.execute("CREATE TRIGGER stop BEFORE UPDATE ON mounts BEGIN SELECT RAISE(ABORT, 'stopped'); END")
    other.close()
    with pytest.raises(NoShelf, match="stopped"):
        shelf.step(id, 1, mount("half kept"))
    assert [version.title for version in shelf.versions(id)] == ["drawn"]


def test_of_many_steps_from_one_revision_exactly_one_is_kept(shelf: Shelf) -> None:
    id, _ = shelf.add(mount())
    second_server = Shelf(shelf.path.parent)
    outcomes: list[int | str] = []

    def change(store: Shelf, title: str) -> None:
        try:
            outcomes.append(store.step(id, 1, mount(title)))
        except ChangedElsewhere as error:
            outcomes.append(error.code)

    threads = [
        threading.Thread(target=change, args=(store, f"tab {number}"))
        for number in range(8)
        for store in (shelf, second_server)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    second_server.close()
    assert sorted(outcomes, key=str) == [2, *["changed-elsewhere"] * 15]
    assert shelf.kept(id).revision == 2


def test_the_file_is_made_when_it_is_first_needed_and_written_ahead(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "not" / "there")
    assert not shelf.path.parent.exists()
    shelf.add(mount())
    with sqlite3.connect(shelf.path) as look:
        assert look.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert look.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
    look.close()
    shelf.close()


def test_every_commit_reaches_the_disk_before_it_is_acknowledged(shelf: Shelf) -> None:
    """SQLite's documentation of PRAGMA synchronous: FULL is 2, and in WAL mode syncs at each commit."""
    with shelf._transaction() as db:
        assert db.execute("PRAGMA synchronous").fetchone() == {"synchronous": 2}
        assert db.execute("PRAGMA foreign_keys").fetchone() == {"foreign_keys": 1}


def no_database(path: Path) -> None:
    path.write_bytes(b"This is no database. " * 100)


def a_folder(path: Path) -> None:
    path.mkdir()


def of_something_else(path: Path) -> None:
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE songs (title)")
    other.close()


def newer(path: Path) -> None:
    with sqlite3.connect(path) as other:
        other.execute(f"PRAGMA user_version = {SCHEMA + 1}")
    other.close()


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (no_database, r"cannot be kept here \(file is not a database\)"),
        (a_folder, r"cannot be kept here \(unable to open database file\)"),
        (of_something_else, r"cannot be kept here \(it is the database of something else\)"),
        (newer, "written by a newer version of this tool .*update the tool"),
    ],
)
def test_a_file_that_is_no_shelf_is_refused_and_left_as_it_is(
    tmp_path: Path, spoil: Callable[[Path], None], reason: str
) -> None:
    path = tmp_path / FILE
    spoil(path)
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(NoShelf, match=reason) as refused:
        Shelf(tmp_path).open()
    assert refused.value.faults[0].place == str(path)
    assert "--data" in refused.value.faults[0].message
    assert before is None or path.read_bytes() == before


def test_a_file_in_the_folders_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file")
    with pytest.raises(NoShelf, match="File exists"):
        Shelf(tmp_path / "data").open()


def test_the_folder_is_the_one_chosen_else_the_variables_else_the_systems(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BLADE_MOUNT_DATA", "/of/the/variable")
    assert data_folder(Path("/chosen")) == Path("/chosen")
    assert data_folder() == Path("/of/the/variable")
    monkeypatch.delenv("BLADE_MOUNT_DATA")
    assert data_folder().name == "blade-mount-sketcher"
