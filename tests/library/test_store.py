"""The store of the user's own mounts, used as Python."""

import sqlite3
import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from app.document.errors import ChangedElsewhere, Deleted, KeyUsed, NoLibrary, NotInLibrary
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.library.store import FILE, SCHEMA, VERSIONS_KEPT, Library, data_folder
from tests.mounts import document, hinge, twin

NOBODY = "0" * 32


def mount(title: str = "Test mount", drawn: Callable[..., dict[str, Any]] = twin) -> Mount:
    return read_mount(drawn(title=title))


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    """A library whose clock moves on by a second at every look."""
    seconds = iter(range(10_000))
    start = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)
    opened = Library(tmp_path / "data", now=lambda: start + timedelta(seconds=next(seconds)))
    yield opened
    opened.close()


def test_what_is_kept_comes_back_equal(library: Library) -> None:
    id, revision = library.add(mount(), {"left": 12.5, "right": 0.1 + 0.2}, origin="3-twin-cylinders")
    kept = library.kept(id)
    assert (kept.revision, revision) == (1, 1)
    assert read_mount(kept.mount) == mount()
    assert kept.command == {"left": 12.5, "right": 0.1 + 0.2}
    assert kept.origin == "3-twin-cylinders"
    assert kept.changed == "2026-03-01T12:00:00.000Z"
    assert kept.deleted is None


def test_what_is_kept_is_there_for_the_next_server(library: Library) -> None:
    id, _ = library.add(mount("first"))
    library.step(id, 1, mount("second"))
    library.close()
    next_one = Library(library.path.parent)
    assert next_one.kept(id).mount["title"] == "second"
    next_one.close()


def test_a_drawing_in_progress_is_kept(library: Library) -> None:
    bare = read_mount(document([]))
    id, _ = library.add(bare)
    assert library.kept(id).mount == as_document(bare)


def test_the_library_lists_the_newest_change_first(library: Library) -> None:
    first, _ = library.add(mount("first"))
    second, _ = library.add(mount("second"))
    library.step(first, 1, mount("first, changed"))
    assert [kept.id for kept in library.listed()] == [first, second]
    assert [kept.title for kept in library.listed()] == ["first, changed", "second"]


def test_a_step_from_an_old_revision_is_refused_with_the_newest(library: Library) -> None:
    id, _ = library.add(mount("drawn"))
    library.step(id, 1, mount("by the first tab"), {"left": 5.0})
    with pytest.raises(ChangedElsewhere, match="made from revision 1, but revision 2 is the newest") as refused:
        library.step(id, 1, mount("by the second tab"))
    assert (refused.value.revision, refused.value.command) == (2, {"left": 5.0})
    assert refused.value.mount["title"] == "by the first tab"
    assert [version.title for version in library.versions(id)] == ["by the first tab", "drawn"]


def test_a_step_from_a_revision_that_never_was_is_refused(library: Library) -> None:
    id, _ = library.add(mount())
    with pytest.raises(ChangedElsewhere):
        library.step(id, 7, mount())


def test_a_step_sent_again_is_acknowledged_and_kept_once(library: Library) -> None:
    id, _ = library.add(mount("drawn"))
    assert library.step(id, 1, mount("moved"), key="a") == 2
    assert library.step(id, 2, mount("moved on"), key="b") == 3
    assert library.step(id, 1, mount("moved"), key="a") == 2
    assert [version.revision for version in library.versions(id)] == [3, 2, 1]


def test_a_new_mount_sent_again_is_kept_once(library: Library) -> None:
    kept = library.add(mount(), key="new")
    assert library.add(mount(), key="new") == kept
    assert len(library.listed()) == 1


@pytest.mark.parametrize(("title", "command"), [("something else", {"left": 1.0}), ("moved", {"left": 2.0})])
def test_another_step_under_a_used_key_is_refused(library: Library, title: str, command: dict[str, float]) -> None:
    id, _ = library.add(mount("drawn"))
    library.step(id, 1, mount("moved"), {"left": 1.0}, key="a")
    with pytest.raises(KeyUsed):
        library.step(id, 2, mount(title), command, key="a")
    assert library.kept(id).revision == 2


def test_the_same_key_serves_two_mounts(library: Library) -> None:
    first, _ = library.add(mount())
    second, _ = library.add(mount())
    assert library.step(first, 1, mount("first"), key="a") == 2
    assert library.step(second, 1, mount("second"), key="a") == 2


def test_every_version_can_be_looked_at_and_brought_back(library: Library) -> None:
    id, _ = library.add(mount("one"), {"left": 3.5})
    library.step(id, 1, mount("two", hinge))
    earlier = library.version(id, 1)
    assert (read_mount(earlier.mount), earlier.command) == (mount("one"), {"left": 3.5})
    assert library.step(id, 2, read_mount(earlier.mount), earlier.command) == 3
    assert (library.kept(id).mount, library.kept(id).command) == (earlier.mount, earlier.command)
    assert [(version.revision, version.title) for version in library.versions(id)] == [
        (3, "one"),
        (2, "two"),
        (1, "one"),
    ]
    assert library.versions(id)[0].changed == "2026-03-01T12:00:02.000Z"


def test_the_newest_thousand_versions_stay(library: Library) -> None:
    id, _ = library.add(mount())
    for revision in range(1, VERSIONS_KEPT + 2):
        library.step(id, revision, mount(f"step {revision + 1}"))
    kept = [version.revision for version in library.versions(id)]
    assert kept == list(range(VERSIONS_KEPT + 2, 2, -1))
    assert len(kept) == VERSIONS_KEPT == 1000
    with pytest.raises(NotInLibrary, match="no version 2 of this mount is kept"):
        library.version(id, 2)


def test_pruning_one_mount_leaves_the_others_alone(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.library.store.VERSIONS_KEPT", 2)
    other, _ = library.add(mount("other"))
    id, _ = library.add(mount())
    library.step(id, 1, mount())
    library.step(id, 2, mount())
    assert [version.revision for version in library.versions(id)] == [3, 2]
    assert [version.revision for version in library.versions(other)] == [1]


def test_a_deleted_mount_takes_no_steps_until_it_is_restored(library: Library) -> None:
    id, _ = library.add(mount("kept"))
    library.delete(id)
    assert library.listed() == []
    assert [kept.id for kept in library.listed(deleted=True)] == [id]
    with pytest.raises(Deleted, match="restore it to go on"):
        library.step(id, 1, mount("changed"))
    library.restore(id)
    assert [kept.title for kept in library.listed()] == ["kept"]
    assert library.listed(deleted=True) == []
    assert library.step(id, 1, mount("changed")) == 2


def test_deleting_twice_changes_nothing_more(library: Library) -> None:
    id, _ = library.add(mount())
    assert library.delete(id) == library.delete(id)


def test_a_step_acknowledged_before_the_deletion_is_acknowledged_after_it(library: Library) -> None:
    id, _ = library.add(mount())
    library.step(id, 1, mount("moved"), key="a")
    library.delete(id)
    assert library.step(id, 1, mount("moved"), key="a") == 2


@pytest.mark.parametrize(
    "asking",
    [
        lambda library: library.kept(NOBODY),
        lambda library: library.standing(NOBODY),
        lambda library: library.step(NOBODY, 1, mount()),
        lambda library: library.versions(NOBODY),
        lambda library: library.version(NOBODY, 1),
        lambda library: library.delete(NOBODY),
        lambda library: library.restore(NOBODY),
    ],
)
def test_a_mount_that_is_not_kept_is_named_as_missing(library: Library, asking: Callable[[Library], object]) -> None:
    with pytest.raises(NotInLibrary, match="no mount of this id is kept"):
        asking(library)


def test_a_step_that_fails_half_way_leaves_nothing(library: Library) -> None:
    """A trigger of the test's stops the second statement of the step's transaction."""
    id, _ = library.add(mount("drawn"))
    with sqlite3.connect(library.path) as other:
        other.execute("CREATE TRIGGER stop BEFORE UPDATE ON mounts BEGIN SELECT RAISE(ABORT, 'stopped'); END")
    other.close()
    with pytest.raises(NoLibrary, match="stopped"):
        library.step(id, 1, mount("half kept"))
    assert [version.title for version in library.versions(id)] == ["drawn"]


def test_of_many_steps_from_one_revision_exactly_one_is_kept(library: Library) -> None:
    id, _ = library.add(mount())
    second_server = Library(library.path.parent)
    outcomes: list[int | str] = []

    def change(store: Library, title: str) -> None:
        try:
            outcomes.append(store.step(id, 1, mount(title)))
        except ChangedElsewhere as error:
            outcomes.append(error.code)

    threads = [
        threading.Thread(target=change, args=(store, f"tab {number}"))
        for number in range(8)
        for store in (library, second_server)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    second_server.close()
    assert sorted(outcomes, key=str) == [2, *["changed-elsewhere"] * 15]
    assert library.kept(id).revision == 2


def test_the_file_is_made_when_it_is_first_needed_in_one_piece(tmp_path: Path) -> None:
    library = Library(tmp_path / "not" / "there")
    assert not library.path.parent.exists()
    library.add(mount())
    with sqlite3.connect(library.path) as look:
        assert look.execute("PRAGMA journal_mode").fetchone() == ("delete",)  # no log beside it
        assert look.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
    look.close()
    library.close()


def test_every_commit_reaches_the_disk_before_it_is_acknowledged(library: Library) -> None:
    """SQLite's documentation of PRAGMA synchronous: FULL is 2, and syncs before each commit is over."""
    with library._transaction() as db:
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
def test_a_file_that_is_no_library_is_refused_and_left_as_it_is(
    tmp_path: Path, spoil: Callable[[Path], None], reason: str
) -> None:
    path = tmp_path / FILE
    spoil(path)
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(NoLibrary, match=reason) as refused:
        Library(tmp_path).open()
    assert refused.value.faults[0].place == str(path)
    assert "--data" in refused.value.faults[0].filled()
    assert before is None or path.read_bytes() == before


def test_a_file_in_the_folders_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file")
    with pytest.raises(NoLibrary, match="File exists"):
        Library(tmp_path / "data").open()


def test_the_folder_is_the_one_chosen_else_the_variables_else_the_systems(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BLADE_MOUNT_DATA", "/of/the/variable")
    assert data_folder(Path("/chosen")) == Path("/chosen")
    assert data_folder() == Path("/of/the/variable")
    monkeypatch.delenv("BLADE_MOUNT_DATA")
    assert data_folder().name == "blade-mount-sketcher"
