"""The user's own mounts: one SQLite file in their data folder. No web in it.

Every edit step is one transaction that adds a version. It is acknowledged when it has been read back through a fresh
opening of that path: what has been acknowledged is in that file on that disk, and survives the end of the process at
any moment. No file is trusted: a version that cannot be read costs itself only, and a damaged file is set aside and
what can be read of it brought over. Calls block and may come from any thread: one connection, one at a time.
"""

import os
import secrets
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

from platformdirs import user_data_dir

from app.document.errors import (
    ChangedElsewhere,
    Deleted,
    Fault,
    LibraryGone,
    NoLibrary,
    NotInLibrary,
    VersionUnreadable,
)
from app.document.models import Mount, as_document
from app.library.backups import back_up, back_up_daily, backups
from app.library.file import FILE as FILE
from app.library.file import (
    FOLDER_VARIABLE,
    check,
    connected,
    is_damaged,
    opened,
    picture_of,
    unusable,
)
from app.library.file import SCHEMA as SCHEMA
from app.library.kept import Command as Command
from app.library.kept import Earlier, Entry, Kept, Marked, Standing, Version
from app.library.listing import entries
from app.library.mending import RESTORE, mend
from app.library.rows import content_of, insert, is_sound, kept_under, revisions, texts_of, version_row

VERSIONS_KEPT = 1000
"""The newest versions kept of every mount."""

_Asked = ParamSpec("_Asked")
_Answer = TypeVar("_Answer")


def data_folder(chosen: Path | None = None) -> Path:
    """The folder the mounts are kept in: the one chosen, the variable's, or the system's place for user data."""
    named = os.environ.get(FOLDER_VARIABLE)
    return chosen or Path(named or user_data_dir("blade-mount-sketcher", appauthor=False))


def _now() -> datetime:
    return datetime.now(UTC)


class _Damaged(NoLibrary):
    """The file turned out to be damaged; opening it again mends it."""


def _mending(method: Callable[_Asked, _Answer]) -> Callable[_Asked, _Answer]:
    """Ask once more where the file turned out to be damaged: nothing of the first time was kept."""

    @wraps(method)
    def asked(*arguments: _Asked.args, **named: _Asked.kwargs) -> _Answer:
        try:
            return method(*arguments, **named)
        except _Damaged:
            return method(*arguments, **named)

    return asked


class Library:
    """The mounts kept in one folder. The file is made, and opened, when it is first needed.

    ``said`` collects what happened to the file that its owner should know: sentences for the terminal and the page.
    """

    def __init__(self, folder: Path, now: Callable[[], datetime] = _now) -> None:
        self.path = folder / FILE
        self.said: list[str] = []
        self._now = now
        self._lock = threading.RLock()
        self._opened: sqlite3.Connection | None = None
        self._place: tuple[int, int] | None = None
        self._known = False
        """Whether a file was there: from then on a missing one has been taken away, and none is made unasked."""

    def open(self) -> None:
        """Open the file, making it if there was none yet; a damaged one is mended. Raises NoLibrary with the reason."""
        with self._lock:
            if self._opened is not None:
                return
            if self._known and not self.path.exists():
                raise self._gone()
            try:
                self._opened = self._sound()
                self._place = _place_of(self.path)
                self._known = True
            except (sqlite3.Error, OSError) as error:
                raise unusable(self.path, str(error)) from None

    def renew(self) -> None:
        """Make a new library where the file was taken away; one that is there is left. Raises NoLibrary."""
        with self._lock:
            self.close()
            self._known = False
            self.open()

    def close(self) -> None:
        """Close the file; the next call opens it again."""
        with self._lock:
            if self._opened is not None:
                self._opened.close()
                self._opened = None

    def back_up_daily(self) -> None:
        """Copy the file into the folder of backups, once a day; what hinders it is said. Never raises for that."""
        try:
            back_up_daily(self.path, self._now())
        except (sqlite3.Error, OSError) as error:
            self._say(f"Today's backup of your mounts could not be made in {self.path.parent}: {error}.")

    @_mending
    def listed(self, deleted: bool = False) -> list[Entry]:
        """The mounts, or the deleted ones, newest change first; each is read by itself."""
        with self._transaction() as db:
            return entries(db, deleted)

    @_mending
    def origins(self) -> dict[str, str | None]:
        """What every mount, deleted or not, was copied from, by id: a shipped mount's name, a kept id, or None."""
        with self._transaction() as db:
            return {row["id"]: row["origin"] for row in db.execute("SELECT id, origin FROM mounts")}

    @_mending
    def kept(self, id: str) -> Kept:
        """One mount, deleted or not. Raises NotInLibrary, VersionUnreadable where no version can be read."""
        with self._transaction() as db:
            return self._kept(db, self._row(db, id))

    def _kept(self, db: sqlite3.Connection, mount: dict[str, Any]) -> Kept:
        unreadable: list[int] = []
        for revision in revisions(db, mount):
            version = version_row(db, mount["number"], revision)
            if (read := content_of(version)) is not None:
                return Kept(
                    id=mount["id"],
                    revision=mount["revision"],
                    mount=read[0],
                    command=read[1],
                    origin=mount["origin"],
                    changed=mount["changed"],
                    deleted=mount["deleted"],
                    unreadable=tuple(unreadable),
                )
            unreadable.append(revision)
        raise VersionUnreadable([Fault("", "no version of this mount can be read any more; look into the backups")])

    @_mending
    def standing(self, id: str) -> Standing:
        """How far a mount has come. Raises NotInLibrary."""
        with self._transaction() as db:
            row = self._row(db, id)
            version = version_row(db, row["number"], row["revision"])
            return Standing(row["revision"], version["key"] if version else None, row["deleted"] is not None)

    @_mending
    def add(
        self, mount: Mount, command: Command | None = None, origin: str | None = None, key: str | None = None
    ) -> tuple[str, int]:
        """Keep a new mount: its id and revision. Sent again under the same key, it is kept once."""
        text = texts_of(mount, command or {})
        with self._lock:
            with self._transaction(writing=True) as db:
                known = db.execute("SELECT number, id FROM mounts WHERE key = ?", (key,)).fetchone() if key else None
                if known:
                    id, revision = known["id"], kept_under(db, known["number"], key, text) or 1
                else:
                    id, revision, changed = secrets.token_hex(16), 1, self._stamp()
                    added = db.execute(
                        "INSERT INTO mounts (id, key, origin, revision, changed, picture) VALUES (?, ?, ?, 1, ?, ?)",
                        (id, key, origin, changed, picture_of(as_document(mount))),
                    )
                    insert(db, added.lastrowid or 0, 1, key, changed, mount.title, text)
            if not known:
                self._read_back(id, revision, text)
        return id, revision

    @_mending
    def step(self, id: str, revision: int, mount: Mount, command: Command | None = None, key: str | None = None) -> int:
        """Keep one edit step made from ``revision``: the new revision.

        A step sent again under the same key is acknowledged and not kept twice. Raises NotInLibrary, Deleted, KeyUsed,
        and ChangedElsewhere with the newest revision when ``revision`` is not that.
        """
        text = texts_of(mount, command or {})
        with self._lock:
            with self._transaction(writing=True) as db:
                row = self._row(db, id)
                kept = kept_under(db, row["number"], key, text) if key else None
                if not kept:
                    self._is_next(db, row, revision)
                    kept, changed = row["revision"] + 1, self._stamp()
                    insert(db, row["number"], kept, key, changed, mount.title, text)
                    db.execute(
                        "UPDATE mounts SET revision = ?, changed = ?, picture = ? WHERE number = ?",
                        (kept, changed, picture_of(as_document(mount)), row["number"]),
                    )
                    db.execute(
                        "DELETE FROM versions WHERE mount = ? AND revision <= ?", (row["number"], kept - VERSIONS_KEPT)
                    )
            self._read_back(id, kept, text)
        return kept

    def _is_next(self, db: sqlite3.Connection, row: dict[str, Any], revision: int) -> None:
        """Whether a step from ``revision`` is the next of a mount. Raises Deleted, ChangedElsewhere."""
        if row["deleted"]:
            raise Deleted([Fault("", "this mount has been deleted; restore it to go on with it")])
        if revision != row["revision"]:
            newest = self._kept(db, row)
            raise ChangedElsewhere(revision, newest.revision, newest.mount, newest.command)

    def _read_back(self, id: str, revision: int, texts: tuple[str, str]) -> None:
        """Whether what has just been kept stands in the file of that path. Raises NoLibrary, LibraryGone."""
        found, reason = None, "it is not in the file"
        if not self.path.exists():
            self.close()
            raise self._gone()
        try:
            with closing(connected(self.path, reading=True)) as fresh:
                found = fresh.execute(
                    "SELECT v.document, v.command FROM mounts m JOIN versions v ON v.mount = m.number "
                    "WHERE m.id = ? AND v.revision = ?",
                    (id, revision),
                ).fetchone()
        except sqlite3.Error as error:
            reason = str(error)
        if found is None or (found["document"], found["command"]) != texts:
            self.close()
            text = f"the step was written, but could not be read back ({reason}): it is not kept; send it again"
            raise NoLibrary([Fault(str(self.path), text)])

    @_mending
    def versions(self, id: str) -> list[Version]:
        """The versions kept of a mount, newest first. Raises NotInLibrary."""
        with self._transaction() as db:
            mount = self._row(db, id)
            found = []
            for revision in revisions(db, mount):
                version = version_row(db, mount["number"], revision)
                title, changed = (version["title"], version["changed"]) if version else ("", mount["changed"])
                found.append(Version(revision, str(changed), str(title), is_sound(version)))
            return found

    @_mending
    def version(self, id: str, revision: int) -> Earlier:
        """One version in full. Raises NotInLibrary, VersionUnreadable."""
        with self._transaction() as db:
            mount = self._row(db, id)
            known = revision in revisions(db, mount)
            version = version_row(db, mount["number"], revision) if known else None
        if not known:
            raise NotInLibrary([Fault("revision", f"no version {revision} of this mount is kept")])
        read = content_of(version)
        if version is None or read is None:
            text = "this version cannot be read any more; take the one before it"
            raise VersionUnreadable([Fault("revision", text)])
        return Earlier(revision, version["changed"], *read)

    @_mending
    def delete(self, id: str) -> Marked:
        """Put a mount among the deleted ones, if it is not there yet. Raises NotInLibrary."""
        return self._mark(id, self._stamp())

    @_mending
    def restore(self, id: str) -> Marked:
        """Bring a deleted mount back as it was. Raises NotInLibrary."""
        return self._mark(id, None)

    def _mark(self, id: str, deleted: str | None) -> Marked:
        with self._transaction(writing=True) as db:
            row = self._row(db, id)
            if (row["deleted"] is None) != (deleted is None):
                db.execute("UPDATE mounts SET deleted = ? WHERE number = ?", (deleted, row["number"]))
            row = self._row(db, id)
        if not self.path.exists():
            self.close()
            raise self._gone()
        return Marked(row["id"], row["revision"], row["deleted"])

    def _row(self, db: sqlite3.Connection, id: str) -> dict[str, Any]:
        row: dict[str, Any] | None = db.execute("SELECT * FROM mounts WHERE id = ?", (id,)).fetchone()
        if row is None:
            raise NotInLibrary([Fault("", "no mount of this id is kept")])
        return row

    def _stamp(self) -> str:
        return self._now().astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")

    @contextmanager
    def _transaction(self, writing: bool = False) -> Iterator[sqlite3.Connection]:
        """The connection inside one transaction: all of it is kept once this returns, or none of it."""
        with self._lock:
            if self._opened is not None and self._place != _place_of(self.path):
                self.close()  # another file stands at this path by now, or none
            self.open()
            db = self._opened
            if db is None:  # pragma: no cover - open() has just opened it
                raise unusable(self.path, "it is not open")
            try:
                db.execute("BEGIN IMMEDIATE" if writing else "BEGIN")
                yield db
                db.execute("COMMIT")
            except sqlite3.Error as error:
                if is_damaged(error):
                    self.close()  # the next opening checks the whole file and mends it
                    raise _Damaged(unusable(self.path, str(error)).faults) from None
                raise unusable(self.path, str(error)) from None
            finally:
                with suppress(sqlite3.Error):
                    if db.in_transaction:
                        db.execute("ROLLBACK")

    # Opening

    def _sound(self) -> sqlite3.Connection:
        """A connection to a file that SQLite finds whole, mended if it must be. Raises NoLibrary and sqlite3.Error."""
        empty = self.path.is_file() and self.path.stat().st_size == 0
        try:
            db = opened(self.path, self._before_upgrade)
            try:
                check(db)
            except BaseException:
                db.close()
                raise
        except sqlite3.Error as error:
            if not (is_damaged(error) and self.path.is_file()):
                raise
            self._say(mend(self.path, str(error), self._now()))
            return opened(self.path)
        if empty and (copies := backups(self.path.parent)):
            self._say(f"The file of your mounts, {self.path}, was empty. The newest backup is {copies[-1]}: {RESTORE}")
        return db

    def _before_upgrade(self, db: sqlite3.Connection, schema: int) -> None:
        try:
            back_up(self.path, self._now(), f"before-upgrade-of-schema-{schema}")
        except OSError as error:
            raise unusable(self.path, f"no backup could be made before its upgrade: {error}") from None

    def _gone(self) -> LibraryGone:
        text = "the file of your mounts has been taken away; put it back, or have a new one made to keep your mounts in"
        return LibraryGone([Fault(str(self.path), text)])

    def _say(self, sentence: str) -> None:
        self.said.append(sentence)


def _place_of(path: Path) -> tuple[int, int] | None:
    """What tells the file at a path from every other; None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
