"""The user's own mounts: one SQLite file in their data folder. No web in it.

Every edit step is one transaction that adds a version; what has been acknowledged survives the end of the process at
any moment. Calls block and may come from any thread: one connection, one at a time.
"""

import json
import os
import secrets
import sqlite3
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from platformdirs import user_data_dir

from app.document.errors import ChangedElsewhere, Deleted, Fault, KeyUsed, NoLibrary, NotInLibrary
from app.document.models import Mount, as_document

FOLDER_VARIABLE = "BLADE_MOUNT_DATA"
FILE = "shelf.sqlite3"
SCHEMA = 1
VERSIONS_KEPT = 1000
"""The newest versions kept of every mount."""

_WAIT_S = 5.0
"""How long a second server on the same folder waits for the first one's transaction."""

_TABLES = (
    """
    CREATE TABLE mounts (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        key TEXT UNIQUE,
        origin TEXT,
        revision INTEGER NOT NULL,
        changed TEXT NOT NULL,
        deleted TEXT
    )
    """,
    """
    CREATE TABLE versions (
        mount INTEGER NOT NULL REFERENCES mounts (number),
        revision INTEGER NOT NULL,
        key TEXT,
        changed TEXT NOT NULL,
        title TEXT NOT NULL,
        document TEXT NOT NULL,
        command TEXT NOT NULL,
        PRIMARY KEY (mount, revision),
        UNIQUE (mount, key)
    )
    """,
)

Document = dict[str, Any]
Command = Mapping[str, object]


@dataclass(frozen=True)
class Kept:
    """A mount at its newest revision; ``changed`` and ``deleted`` are ISO 8601 in UTC, the latter None if it is not."""

    id: str
    revision: int
    mount: Document
    command: dict[str, float]
    origin: str | None
    changed: str
    deleted: str | None


@dataclass(frozen=True)
class Version:
    """One version of a mount, without its document."""

    revision: int
    changed: str
    title: str


@dataclass(frozen=True)
class Earlier:
    """One version of a mount in full."""

    revision: int
    changed: str
    mount: Document
    command: dict[str, float]


@dataclass(frozen=True)
class Standing:
    """How far a mount has come: its newest revision, the key that step came under, and whether it is deleted."""

    revision: int
    key: str | None
    deleted: bool


def data_folder(chosen: Path | None = None) -> Path:
    """The folder the mounts are kept in: the one chosen, the variable's, or the system's place for user data."""
    named = os.environ.get(FOLDER_VARIABLE)
    return chosen or Path(named or user_data_dir("blade-mount-sketcher", appauthor=False))


def _now() -> datetime:
    return datetime.now(UTC)


class Library:
    """The mounts kept in one folder. The file is made, and opened, when it is first needed."""

    def __init__(self, folder: Path, now: Callable[[], datetime] = _now) -> None:
        self.path = folder / FILE
        self._now = now
        self._lock = threading.RLock()
        self._opened: sqlite3.Connection | None = None

    def open(self) -> None:
        """Open the file, making it if there is none. Raises NoLibrary with the reason."""
        with self._lock:
            if self._opened is None:
                self._opened = _open(self.path)

    def close(self) -> None:
        """Close the file; the next call opens it again."""
        with self._lock:
            if self._opened is not None:
                self._opened.close()
                self._opened = None

    def listed(self, deleted: bool = False) -> list[Kept]:
        """The mounts, or the deleted ones, newest change first."""
        which = "NOT NULL" if deleted else "NULL"
        with self._transaction() as db:
            rows = db.execute(f"{_NEWEST} WHERE m.deleted IS {which} ORDER BY m.changed DESC, m.number DESC")
            return [_kept(row) for row in rows]

    def kept(self, id: str) -> Kept:
        """One mount, deleted or not. Raises NotInLibrary."""
        with self._transaction() as db:
            return _kept(self._row(db, id))

    def standing(self, id: str) -> Standing:
        """How far a mount has come. Raises NotInLibrary."""
        with self._transaction() as db:
            row = self._row(db, id)
            return Standing(row["revision"], row["key"], row["deleted"] is not None)

    def add(
        self, mount: Mount, command: Command | None = None, origin: str | None = None, key: str | None = None
    ) -> tuple[str, int]:
        """Keep a new mount: its id and revision. Sent again under the same key, it is kept once."""
        text = _texts(mount, command or {})
        with self._transaction(writing=True) as db:
            known = db.execute("SELECT number, id FROM mounts WHERE key = ?", (key,)).fetchone() if key else None
            if known:
                return known["id"], _kept_under(db, known["number"], key, text) or 1
            id, changed = secrets.token_hex(16), self._stamp()
            added = db.execute(
                "INSERT INTO mounts (id, key, origin, revision, changed) VALUES (?, ?, ?, 1, ?)",
                (id, key, origin, changed),
            )
            _insert(db, added.lastrowid or 0, 1, key, changed, mount.title, text)
            return id, 1

    def step(self, id: str, revision: int, mount: Mount, command: Command | None = None, key: str | None = None) -> int:
        """Keep one edit step made from ``revision``: the new revision.

        A step sent again under the same key is acknowledged and not kept twice. Raises NotInLibrary, Deleted, KeyUsed,
        and ChangedElsewhere with the newest revision when ``revision`` is not that.
        """
        text = _texts(mount, command or {})
        with self._transaction(writing=True) as db:
            row = self._row(db, id)
            if key and (before := _kept_under(db, row["number"], key, text)):
                return before
            newest = _kept(row)
            if newest.deleted:
                raise Deleted([Fault("", "this mount has been deleted; restore it to go on with it")])
            if revision != newest.revision:
                raise ChangedElsewhere(revision, newest.revision, newest.mount, newest.command)
            revision, changed = newest.revision + 1, self._stamp()
            _insert(db, row["number"], revision, key, changed, mount.title, text)
            db.execute(
                "UPDATE mounts SET revision = ?, changed = ? WHERE number = ?", (revision, changed, row["number"])
            )
            db.execute(
                "DELETE FROM versions WHERE mount = ? AND revision <= ?", (row["number"], revision - VERSIONS_KEPT)
            )
            return revision

    def versions(self, id: str) -> list[Version]:
        """The versions kept of a mount, newest first. Raises NotInLibrary."""
        with self._transaction() as db:
            rows = db.execute(
                "SELECT revision, changed, title FROM versions WHERE mount = ? ORDER BY revision DESC",
                (self._row(db, id)["number"],),
            )
            return [Version(**row) for row in rows]

    def version(self, id: str, revision: int) -> Earlier:
        """One version in full. Raises NotInLibrary."""
        with self._transaction() as db:
            row = db.execute(
                "SELECT changed, document, command FROM versions WHERE mount = ? AND revision = ?",
                (self._row(db, id)["number"], revision),
            ).fetchone()
        if row is None:
            raise NotInLibrary([Fault("revision", f"no version {revision} of this mount is kept")])
        return Earlier(revision, row["changed"], json.loads(row["document"]), json.loads(row["command"]))

    def delete(self, id: str) -> Kept:
        """Put a mount among the deleted ones, if it is not there yet. Raises NotInLibrary."""
        return self._mark(id, self._stamp())

    def restore(self, id: str) -> Kept:
        """Bring a deleted mount back as it was. Raises NotInLibrary."""
        return self._mark(id, None)

    def _mark(self, id: str, deleted: str | None) -> Kept:
        with self._transaction(writing=True) as db:
            row = self._row(db, id)
            if (row["deleted"] is None) != (deleted is None):
                db.execute("UPDATE mounts SET deleted = ? WHERE number = ?", (deleted, row["number"]))
            return _kept(self._row(db, id))

    def _row(self, db: sqlite3.Connection, id: str) -> dict[str, Any]:
        row: dict[str, Any] | None = db.execute(f"{_NEWEST} WHERE m.id = ?", (id,)).fetchone()
        if row is None:
            raise NotInLibrary([Fault("", "no mount of this id is kept")])
        return row

    def _stamp(self) -> str:
        return self._now().astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")

    @contextmanager
    def _transaction(self, writing: bool = False) -> Iterator[sqlite3.Connection]:
        """The connection inside one transaction: all of it is kept once this returns, or none of it."""
        with self._lock:
            self.open()
            db = self._opened
            if db is None:  # pragma: no cover - open() has just opened it
                raise NoLibrary([Fault(str(self.path), "is not open")])
            try:
                db.execute("BEGIN IMMEDIATE" if writing else "BEGIN")
                yield db
                db.execute("COMMIT")
            except sqlite3.Error as error:
                raise _unusable(self.path, str(error)) from None
            finally:
                with suppress(sqlite3.Error):
                    if db.in_transaction:
                        db.execute("ROLLBACK")


_NEWEST = (
    "SELECT m.number, m.id, m.origin, m.revision, m.changed, m.deleted, v.key, v.document, v.command "
    "FROM mounts m JOIN versions v ON v.mount = m.number AND v.revision = m.revision"
)


def _kept(row: Mapping[str, Any]) -> Kept:
    return Kept(
        id=row["id"],
        revision=row["revision"],
        mount=json.loads(row["document"]),
        command=json.loads(row["command"]),
        origin=row["origin"],
        changed=row["changed"],
        deleted=row["deleted"],
    )


def _texts(mount: Mount, command: Command) -> tuple[str, str]:
    """Document and command as they are stored: equal ones give equal texts."""
    return (
        json.dumps(as_document(mount), ensure_ascii=False, allow_nan=False, separators=(",", ":")),
        json.dumps(dict(command), ensure_ascii=False, allow_nan=False, separators=(",", ":"), sort_keys=True),
    )


def _kept_under(db: sqlite3.Connection, mount: int, key: str | None, texts: tuple[str, str]) -> int | None:
    """The revision a step was kept as when it came the first time. Raises KeyUsed when it was another step."""
    row = db.execute(
        "SELECT revision, document, command FROM versions WHERE mount = ? AND key = ?", (mount, key)
    ).fetchone()
    if row is None:
        return None
    if (row["document"], row["command"]) != texts:
        raise KeyUsed([Fault("key", "another step was kept under this key; give every step a key of its own")])
    revision: int = row["revision"]
    return revision


def _insert(
    db: sqlite3.Connection,
    mount: int,
    revision: int,
    key: str | None,
    changed: str,
    title: str,
    texts: tuple[str, str],
) -> None:
    db.execute(
        "INSERT INTO versions (mount, revision, key, changed, title, document, command) VALUES (?, ?, ?, ?, ?, ?, ?)",
        (mount, revision, key, changed, title, *texts),
    )


def _open(path: Path) -> sqlite3.Connection:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _unusable(path, error.strerror or str(error)) from None
    try:
        db = sqlite3.connect(path, timeout=_WAIT_S, isolation_level=None, check_same_thread=False)
    except sqlite3.Error as error:
        raise _unusable(path, str(error)) from None
    try:
        db.row_factory = _as_dict
        db.execute("PRAGMA foreign_keys = ON")
        db.execute("PRAGMA synchronous = FULL")
        _make_tables(db, path)  # first of all, so that what is no library stays as it is
        db.execute("PRAGMA journal_mode = WAL")
    except (sqlite3.Error, NoLibrary) as error:
        db.close()
        raise error if isinstance(error, NoLibrary) else _unusable(path, str(error)) from None
    return db


def _make_tables(db: sqlite3.Connection, path: Path) -> None:
    """Make the tables in a new file. Raises NoLibrary for a newer schema and for a file of something else."""
    db.execute("BEGIN IMMEDIATE")
    try:
        schema = db.execute("PRAGMA user_version").fetchone()["user_version"]
        if schema > SCHEMA:
            found = f"was written by a newer version of this tool (schema {schema}; this one knows {SCHEMA})"
            raise NoLibrary([Fault(str(path), f"{found}; update the tool, or give another folder with --data")])
        if schema == 0:
            if db.execute("SELECT 1 FROM sqlite_master").fetchone():
                raise _unusable(path, "it is the database of something else")
            for table in _TABLES:
                db.execute(table)
            db.execute(f"PRAGMA user_version = {SCHEMA}")
        db.execute("COMMIT")
    finally:
        if db.in_transaction:
            db.execute("ROLLBACK")


def _as_dict(cursor: sqlite3.Cursor, row: tuple[Any, ...]) -> dict[str, Any]:
    return {column[0]: value for column, value in zip(cursor.description, row, strict=True)}


def _unusable(path: Path, reason: str) -> NoLibrary:
    advice = f"give another folder with --data or {FOLDER_VARIABLE}, or make this one usable"
    return NoLibrary([Fault(str(path), f"your mounts cannot be kept here ({reason}); {advice}")])
