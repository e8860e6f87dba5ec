"""The file under a library: taken away, replaced, cut, scribbled on.

What was acknowledged is in the file of that path, or an error is said at the time.
"""

import contextlib
import json
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from app.document.errors import ChangedElsewhere, LibraryGone, NoLibrary, NotInLibrary, VersionUnreadable
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.library.backups import KEPT, back_up, backups
from app.library.file import TABLES
from app.library.store import FILE, SCHEMA, Library
from tests.mounts import document, end, rod, twin


def mount(title: str = "kept") -> Mount:
    return read_mount(twin(title=title))


def large(title: str) -> Mount:
    """A document that takes several pages of the file."""
    rods = [rod(f"rod {n} of {title}", end("frame", (n, 900)), end("blade", (n, 100))) for n in range(40)]
    return read_mount(document(rods, title=title))


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    opened = Library(tmp_path / "data")
    yield opened
    opened.close()


def folder_removed(path: Path) -> None:
    shutil.rmtree(path.parent)


def file_removed(path: Path) -> None:
    path.unlink()


def file_moved(path: Path) -> None:
    path.rename(path.with_name("elsewhere.sqlite3"))


@pytest.mark.parametrize("take_away", [folder_removed, file_removed, file_moved])
def test_a_step_after_the_file_was_taken_away_is_refused_and_no_new_file_made_unasked(
    library: Library, take_away: Callable[[Path], None]
) -> None:
    id, _ = library.add(mount())
    take_away(library.path)
    for asking in (lambda: library.step(id, 1, mount("moved")), lambda: library.add(mount()), library.listed):
        with pytest.raises(LibraryGone, match=r"has been taken away; put it back"):
            asking()
    assert not library.path.exists()
    library.renew()
    kept, _ = library.add(mount("held by the page"))
    assert [entry.id for entry in library.listed()] == [kept]


def test_a_file_that_is_put_back_goes_on_where_it_was(library: Library) -> None:
    id, _ = library.add(mount())
    file_moved(library.path)
    with pytest.raises(LibraryGone):
        library.step(id, 1, mount("moved"), key="a")
    library.path.with_name("elsewhere.sqlite3").rename(library.path)
    assert library.step(id, 1, mount("moved"), key="a") == 2


@pytest.mark.parametrize("in_place", [True, False])
def test_a_step_onto_an_older_copy_put_in_the_files_place_is_refused(library: Library, in_place: bool) -> None:
    """A copy written in place keeps inode and, with few steps between, size."""
    id, _ = library.add(mount())
    library.step(id, 1, mount("in the copy"))
    library.close()
    older = library.path.read_bytes()
    assert library.step(id, 2, mount("after it")) == 3
    later, _ = library.add(mount("later"))
    if not in_place:
        library.path.unlink()
    library.path.write_bytes(older)
    with pytest.raises(ChangedElsewhere, match="made from revision 3, but revision 2 is the newest"):
        library.step(id, 3, mount("lost?"))
    with pytest.raises(NotInLibrary):
        library.step(later, 1, mount("lost?"))
    assert library.kept(id).mount["title"] == "in the copy"


def test_a_step_that_is_not_there_when_the_file_is_opened_anew_is_not_acknowledged(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An older copy lands on the path between the commit and the look."""
    id, _ = library.add(mount())
    library.close()
    older = library.path.read_bytes()
    look = Library._read_back

    def too_late(self: Library, *asked: object) -> None:
        self.path.write_bytes(older)
        look(self, *asked)  # type: ignore[arg-type]

    monkeypatch.setattr(Library, "_read_back", too_late)
    with pytest.raises(NoLibrary, match=r"could not be read back .* it is not kept; send it again"):
        library.step(id, 1, mount("lost?"))


def test_a_full_disk_is_said_and_loses_nothing(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """SQLite's own limit on the number of pages stands for a disk with no room left."""
    id, _ = library.add(mount())
    with library._transaction() as db:
        pages = db.execute("PRAGMA page_count").fetchone()["page_count"]
    assert library._opened is not None
    library._opened.execute(f"PRAGMA max_page_count = {pages}")
    with pytest.raises(NoLibrary, match="database or disk is full"):
        library.step(id, 1, large("no room"))
    library.close()
    assert library.kept(id).mount["title"] == "kept"
    assert library.step(id, 1, large("room again")) == 2


def test_a_clock_put_back_by_a_month_loses_no_step_and_no_new_backup(tmp_path: Path) -> None:
    days = [datetime(2026, 5, 1, tzinfo=UTC)]
    library = Library(tmp_path, now=lambda: days[-1])
    id, _ = library.add(mount())
    for _ in range(KEPT + 3):
        days.append(days[-1] + timedelta(days=1))
        library.back_up_daily()
        library.back_up_daily()
    assert len(backups(tmp_path)) == KEPT
    days.append(days[-1] - timedelta(days=31))
    assert library.step(id, 1, mount("in the past")) == 2
    library.back_up_daily()
    newest = backups(tmp_path)[-1]
    assert (newest.name[6:16], len(backups(tmp_path))) == (f"{days[-1]:%Y-%m-%d}", KEPT)
    library.close()
    with sqlite3.connect(newest) as copy:
        assert copy.execute("SELECT title FROM versions ORDER BY revision").fetchall() == [("kept",), ("in the past",)]
    copy.close()


def test_a_version_that_cannot_be_read_is_listed_beside_its_readable_predecessor(library: Library) -> None:
    id, _ = library.add(mount("first"))
    library.step(id, 1, mount("second"))
    other, _ = library.add(mount("other"))
    with sqlite3.connect(library.path) as spoiling:
        spoiling.execute("UPDATE versions SET document = replace(document, '1', '2') WHERE title = 'second'")
    spoiling.close()
    listed = {entry.id: entry for entry in library.listed()}
    assert (listed[id].title, listed[id].unreadable, listed[other].unreadable) == ("first", (2,), ())
    assert listed[id].picture is not None
    assert (library.kept(id).mount["title"], library.kept(id).revision) == ("first", 2)
    assert [(each.revision, each.readable) for each in library.versions(id)] == [(2, False), (1, True)]
    with pytest.raises(VersionUnreadable, match="take the one before it"):
        library.version(id, 2)
    assert library.step(id, 2, mount("third")) == 3


def test_a_mount_with_no_readable_version_locks_no_other_away(library: Library) -> None:
    id, _ = library.add(mount("spoilt"))
    other, _ = library.add(mount("other"))
    with sqlite3.connect(library.path) as spoiling:
        spoiling.execute("UPDATE versions SET document = X'00ff', command = 7 WHERE title = 'spoilt'")
    spoiling.close()
    assert {entry.id: entry.picture is None for entry in library.listed()} == {id: True, other: False}
    with pytest.raises(VersionUnreadable, match="look into the backups"):
        library.kept(id)


def test_an_older_library_is_copied_and_brought_up_to_date(tmp_path: Path) -> None:
    path = tmp_path / FILE
    with sqlite3.connect(path) as older:
        for table in TABLES:
            older.execute(table.replace(",\n        picture TEXT", "").replace("\n        digest TEXT,", ""))
        older.execute("PRAGMA user_version = 1")
        older.execute("PRAGMA journal_mode = WAL")
    older.close()
    from app.library.rows import texts_of

    with sqlite3.connect(path) as older:
        older.execute("INSERT INTO mounts VALUES (1, ?, NULL, NULL, 1, '2026-03-01T12:00:00.000Z', NULL)", ("a" * 32,))
        row = (1, 1, None, "2026-03-01T12:00:00.000Z", "kept", *texts_of(mount(), {}))
        older.execute("INSERT INTO versions VALUES (?, ?, ?, ?, ?, ?, ?)", row)
    older.close()
    library = Library(tmp_path)
    [entry] = library.listed()
    assert (entry.title, entry.unreadable) == ("kept", ())
    assert entry.picture
    assert library.step("a" * 32, 1, mount("moved")) == 2
    library.close()
    [copy] = backups(tmp_path)
    assert "before-upgrade-of-schema-1" in copy.name
    with sqlite3.connect(path) as look, sqlite3.connect(copy) as before:
        assert look.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
        assert before.execute("PRAGMA user_version").fetchone() == (1,)
        assert look.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    look.close()
    before.close()


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, dict[str, str]]:
    """The bytes of a library of eight mounts in many steps, and the newest title of each by id."""
    folder = tmp_path_factory.mktemp("full")
    library = Library(folder)
    newest = {}
    for number in range(8):
        id, revision = library.add(large(f"mount {number}"), origin="3-twin-cylinders", key=f"k{number}")
        for step in range(3):
            revision = library.step(id, revision, large(f"mount {number}, step {step}"), key=f"s{step}")
        newest[id] = f"mount {number}, step 2"
    library.close()
    return (folder / FILE).read_bytes(), newest


def readable_versions(library: Library) -> set[tuple[str, int]]:
    """Every version that is listed as readable, read."""
    return {
        (entry.id, version.revision)
        for entry in library.listed()
        for version in library.versions(entry.id)
        if version.readable and library.version(entry.id, version.revision)
    }


def by_sqlite_alone(path: Path, content: bytes, newest: dict[str, str]) -> set[tuple[str, int]]:
    """The versions SQLite reads whole from damaged bytes, each asked for by itself; none where it opens nothing."""
    path.write_bytes(content)
    found = set()
    look = sqlite3.connect(path)
    for number, (id, title) in enumerate(newest.items(), start=1):
        for revision in range(1, 5):
            with contextlib.suppress(sqlite3.Error, ValueError):
                asked = "SELECT title, document FROM versions NOT INDEXED WHERE rowid = ?"
                kept, document = look.execute(asked, (4 * (number - 1) + revision,)).fetchone() or ("", "")
                if kept.startswith(title[:7]) and json.loads(document) == as_document(large(kept)):
                    found.add((id, revision))
    look.close()
    return found


@pytest.mark.parametrize("tenths", range(10))
def test_a_file_cut_short_still_starts_with_what_can_be_read_and_says_both_paths(
    tmp_path: Path, full: tuple[bytes, dict[str, str]], tenths: int
) -> None:
    content, newest = full
    (tmp_path / FILE).write_bytes(content)
    back_up(tmp_path / FILE, datetime(2026, 3, 1, tzinfo=UTC))
    (tmp_path / FILE).write_bytes(content[: len(content) * tenths // 10])
    library = Library(tmp_path)
    cut = content[: len(content) * tenths // 10]
    still = by_sqlite_alone(tmp_path / "look.sqlite3", cut + bytes(len(content) - len(cut)), newest)
    assert readable_versions(library) >= still
    assert bool(still) == (tenths >= 4)
    [said] = library.said
    assert str(library.path) in said
    assert str(backups(tmp_path)[-1]) in said
    if tenths:
        [aside] = tmp_path.glob("damaged-*.sqlite3")
        assert str(aside) in said
        assert aside.read_bytes() == content[: len(content) * tenths // 10]
    library.add(mount("goes on"))
    library.close()


def test_whatever_page_is_scribbled_on_all_that_sqlite_can_read_by_itself_is_readable(
    tmp_path: Path, full: tuple[bytes, dict[str, str]]
) -> None:
    content, newest = full
    size = 4096
    for page in range(len(content) // size):
        folder = tmp_path / str(page)
        folder.mkdir()
        spoilt = content[: page * size] + bytes(range(256)) * (size // 256) + content[(page + 1) * size :]
        (folder / FILE).write_bytes(spoilt)
        library = Library(folder)
        found = readable_versions(library)
        assert found >= by_sqlite_alone(folder / "look.sqlite3", spoilt, newest), page
        assert len(found) >= 32 - 9, page  # a page holds the beginnings of eight rows at most
        library.close()


def test_a_file_damaged_while_it_is_in_use_is_mended_and_the_step_kept(
    library: Library, full: tuple[bytes, dict[str, str]]
) -> None:
    content, newest = full
    library.add(mount())
    library.path.write_bytes(content[:4096] + b"\xaa" * 8192 + content[12288:])
    id = next(iter(newest))
    assert library.step(id, 4, mount("after the damage")) == 5
    assert [library.kept(id).mount["title"], len(library.said)] == ["after the damage", 1]
