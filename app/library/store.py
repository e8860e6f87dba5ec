"""The user's own mounts: one SQLite file in their data folder. No web in it.

Every edit step is one transaction that adds a version. It is acknowledged when it has been read back through a fresh
opening of that path: what has been acknowledged is in that file on that disk, and survives the end of the process at
any moment. No file is trusted: a version that cannot be read costs itself only, and a damaged file is set aside and
what can be read of it brought over. Calls block and may come from any thread: one connection, one at a time.
"""

import json
import os
import secrets
import shutil
import sqlite3
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

from platformdirs import user_data_dir
from pydantic_core import from_json

from app.document.errors import (
    BadDocument,
    ChangedElsewhere,
    Deleted,
    Fault,
    KeyUsed,
    LibraryGone,
    NoLibrary,
    NotInLibrary,
    VersionUnreadable,
)
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.library.backups import back_up, back_up_daily, backups
from app.library.families import family_of
from app.library.file import FILE as FILE
from app.library.file import (
    FOLDER_VARIABLE,
    TABLES,
    check,
    connected,
    digest_of,
    is_damaged,
    opened,
    picture_of,
    unusable,
)
from app.library.file import SCHEMA as SCHEMA
from app.library.salvage import Salvaged, salvaged

VERSIONS_KEPT = 1000
"""The newest versions kept of every mount."""

_Asked = ParamSpec("_Asked")
_Answer = TypeVar("_Answer")

Document = dict[str, Any]
Command = Mapping[str, object]


@dataclass(frozen=True)
class Kept:
    """A mount at its newest revision; ``changed`` and ``deleted`` are ISO 8601 in UTC, the latter None if it is not.

    ``unreadable`` are newer versions, newest first, that cannot be read: the document is that of their predecessor.
    """

    id: str
    revision: int
    mount: Document
    command: dict[str, float]
    origin: str | None
    changed: str
    deleted: str | None
    unreadable: tuple[int, ...] = ()


@dataclass(frozen=True)
class Entry:
    """A mount as the list shows it: no document, what a small picture is drawn from (None where it cannot be read).

    ``parent`` is the title of the kept mount it was copied from, ``family`` the kept mount that it and its variants all
    come from, ``shipped`` the shipped mount that one was copied from.
    """

    id: str
    title: str
    note: str
    origin: str | None
    parent: str | None
    family: str
    shipped: str | None
    changed: str
    deleted: str | None
    revision: int
    picture: dict[str, Any] | None
    unreadable: tuple[int, ...]


@dataclass(frozen=True)
class Version:
    """One version of a mount, without its document."""

    revision: int
    changed: str
    title: str
    readable: bool


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


@dataclass(frozen=True)
class Marked:
    """A mount deleted or restored: its id, newest revision, and when it was deleted."""

    id: str
    revision: int
    deleted: str | None


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
        asked = "SELECT * FROM mounts WHERE (deleted IS NOT NULL) = ? ORDER BY changed DESC, number DESC"
        newest = (
            "SELECT v.mount, v.title, v.document, v.command, v.digest FROM mounts m "
            "JOIN versions v ON v.mount = m.number AND v.revision = m.revision"
        )
        with self._transaction() as db:
            sound: dict[int, dict[str, Any]] = {}
            with suppress(sqlite3.OperationalError):  # a text that is no UTF-8 any more: each is looked at by itself
                sound = {row["mount"]: row for row in db.execute(newest) if _is_sound(row)}
            known = db.execute("SELECT number, id, origin FROM mounts").fetchall()
            origins = {row["id"]: row["origin"] for row in known}
            titles = {row["id"]: sound[row["number"]]["title"] for row in known if row["number"] in sound}
            mounts = db.execute(asked, (deleted,)).fetchall()
            return [self._entry(db, mount, sound.get(mount["number"]), origins, titles) for mount in mounts]

    @_mending
    def origins(self) -> dict[str, str | None]:
        """What every mount, deleted or not, was copied from, by id: a shipped mount's name, a kept id, or None."""
        with self._transaction() as db:
            return {row["id"]: row["origin"] for row in db.execute("SELECT id, origin FROM mounts")}

    def _entry(
        self,
        db: sqlite3.Connection,
        mount: dict[str, Any],
        version: dict[str, Any] | None,
        origins: Mapping[str, str | None],
        titles: Mapping[str, str],
    ) -> Entry:
        """A mount of the list; ``version`` is its newest one if that is sound."""
        unreadable: tuple[int, ...] = ()
        drawn = mount["picture"]
        if version is None:
            version, unreadable = self._newest_readable(db, mount)
            drawn = None
        note, picture = "", None
        with suppress(ValueError, TypeError, KeyError):
            document = from_json(version["document"]) if version else {}
            note = str(document.get("note") or "")
            picture = from_json(drawn or "null")
            if version and "outlines" not in (picture or {}):  # one of an older tool, or of a version that is lost
                picture = from_json(picture_of(document))
        family, shipped = family_of(mount["id"], origins)
        return Entry(
            id=mount["id"],
            title=version["title"] if version else "cannot be read",
            note=note,
            origin=mount["origin"],
            parent=titles.get(mount["origin"]),
            family=family,
            shipped=shipped,
            changed=mount["changed"],
            deleted=mount["deleted"],
            revision=mount["revision"],
            picture=picture if isinstance(picture, dict) else None,
            unreadable=unreadable,
        )

    def _newest_readable(
        self, db: sqlite3.Connection, mount: dict[str, Any]
    ) -> tuple[dict[str, Any] | None, tuple[int, ...]]:
        """The newest version of a mount that can be read, None for none, and those after it that cannot."""
        unreadable: list[int] = []
        for revision in _revisions(db, mount):
            version = _version_row(db, mount["number"], revision)
            if _is_sound(version):
                return version, tuple(unreadable)
            unreadable.append(revision)
        return None, tuple(unreadable) or (mount["revision"],)

    @_mending
    def kept(self, id: str) -> Kept:
        """One mount, deleted or not. Raises NotInLibrary, VersionUnreadable where no version can be read."""
        with self._transaction() as db:
            return self._kept(db, self._row(db, id))

    def _kept(self, db: sqlite3.Connection, mount: dict[str, Any]) -> Kept:
        unreadable: list[int] = []
        for revision in _revisions(db, mount):
            version = _version_row(db, mount["number"], revision)
            if (read := _read(version)) is not None:
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
            version = _version_row(db, row["number"], row["revision"])
            return Standing(row["revision"], version["key"] if version else None, row["deleted"] is not None)

    @_mending
    def add(
        self, mount: Mount, command: Command | None = None, origin: str | None = None, key: str | None = None
    ) -> tuple[str, int]:
        """Keep a new mount: its id and revision. Sent again under the same key, it is kept once."""
        text = _texts(mount, command or {})
        with self._lock:
            with self._transaction(writing=True) as db:
                known = db.execute("SELECT number, id FROM mounts WHERE key = ?", (key,)).fetchone() if key else None
                if known:
                    id, revision = known["id"], _kept_under(db, known["number"], key, text) or 1
                else:
                    id, revision, changed = secrets.token_hex(16), 1, self._stamp()
                    added = db.execute(
                        "INSERT INTO mounts (id, key, origin, revision, changed, picture) VALUES (?, ?, ?, 1, ?, ?)",
                        (id, key, origin, changed, picture_of(as_document(mount))),
                    )
                    _insert(db, added.lastrowid or 0, 1, key, changed, mount.title, text)
            if not known:
                self._read_back(id, revision, text)
        return id, revision

    @_mending
    def step(self, id: str, revision: int, mount: Mount, command: Command | None = None, key: str | None = None) -> int:
        """Keep one edit step made from ``revision``: the new revision.

        A step sent again under the same key is acknowledged and not kept twice. Raises NotInLibrary, Deleted, KeyUsed,
        and ChangedElsewhere with the newest revision when ``revision`` is not that.
        """
        text = _texts(mount, command or {})
        with self._lock:
            with self._transaction(writing=True) as db:
                row = self._row(db, id)
                kept = _kept_under(db, row["number"], key, text) if key else None
                if not kept:
                    self._is_next(db, row, revision)
                    kept, changed = row["revision"] + 1, self._stamp()
                    _insert(db, row["number"], kept, key, changed, mount.title, text)
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
            for revision in _revisions(db, mount):
                version = _version_row(db, mount["number"], revision)
                title, changed = (version["title"], version["changed"]) if version else ("", mount["changed"])
                found.append(Version(revision, str(changed), str(title), _is_sound(version)))
            return found

    @_mending
    def version(self, id: str, revision: int) -> Earlier:
        """One version in full. Raises NotInLibrary, VersionUnreadable."""
        with self._transaction() as db:
            mount = self._row(db, id)
            known = revision in _revisions(db, mount)
            version = _version_row(db, mount["number"], revision) if known else None
        if not known:
            raise NotInLibrary([Fault("revision", f"no version {revision} of this mount is kept")])
        read = _read(version)
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
            self._mend(str(error))
            return opened(self.path)
        if empty and (copies := backups(self.path.parent)):
            self._say(f"The file of your mounts, {self.path}, was empty. The newest backup is {copies[-1]}: {_RESTORE}")
        return db

    def _before_upgrade(self, db: sqlite3.Connection, schema: int) -> None:
        try:
            back_up(self.path, self._now(), f"before-upgrade-of-schema-{schema}")
        except OSError as error:
            raise unusable(self.path, f"no backup could be made before its upgrade: {error}") from None

    def _mend(self, reason: str) -> None:
        """Set a damaged file aside and bring over what can be read of it. Raises sqlite3.Error, OSError, NoLibrary."""
        found = salvaged(self.path)
        if not (found.mounts or found.versions or found.is_library):
            raise unusable(self.path, reason)
        aside = self.path.with_name(f"damaged-{self._now():%Y-%m-%d-%H%M%S}-{secrets.token_hex(2)}.sqlite3")
        fresh = self.path.with_name(f".{secrets.token_hex(8)}.part")
        try:
            mounts = self._bring_over(found, fresh)
            shutil.copy2(self.path, aside)
            for left in ("-journal", "-wal", "-shm"):
                beside = Path(f"{self.path}{left}")
                if beside.exists():
                    beside.replace(f"{aside}{left}")
            fresh.replace(self.path)
        finally:
            fresh.unlink(missing_ok=True)
        copies = backups(self.path.parent)
        self._say(
            f"The file of your mounts was damaged ({reason}). What can be read of it, {mounts} mounts in "
            f"{len(found.versions)} versions, was brought over to {self.path}; the damaged file is {aside}. "
            f"{found.unread} versions were found that cannot be read. "
            + (f"The newest backup is {copies[-1]}: {_RESTORE}" if copies else "There is no backup yet.")
        )

    def _bring_over(self, found: Salvaged, file: Path) -> int:
        """Write what was salvaged into a new file: how many mounts it holds."""
        last = dict(sorted(found.versions))
        with closing(connected(file)) as db:
            db.execute("BEGIN")
            for table in TABLES:
                db.execute(table)
            for number in sorted(found.mounts.keys() | last.keys()):
                newest = found.versions.get((number, last.get(number, 0)))
                known = found.mounts.get(number)
                if newest is None:
                    continue  # nothing of it can be read
                id, key, origin, revision, changed, deleted = known[1:7] if known else (None, None, None, 0, None, None)
                picture = None
                with suppress(ValueError, TypeError, KeyError):
                    picture = picture_of(json.loads(str(newest[5])))
                db.execute(
                    "INSERT INTO mounts VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                    (
                        number,
                        id or found.ids.get(number) or secrets.token_hex(16),
                        key,
                        origin,
                        max(revision if isinstance(revision, int) else 0, last[number]),
                        changed or newest[3],
                        deleted,
                        picture,
                    ),
                )
            for place, row in sorted(found.versions.items()):
                values = (*place, *row[2:7], digest_of(str(row[5]), str(row[6])))
                db.execute("INSERT OR IGNORE INTO versions VALUES (?, ?, ?, ?, ?, ?, ?, ?)", values)
            db.execute(f"PRAGMA user_version = {SCHEMA}")
            db.execute("COMMIT")
        return len(last)

    def _gone(self) -> LibraryGone:
        text = "the file of your mounts has been taken away; put it back, or have a new one made to keep your mounts in"
        return LibraryGone([Fault(str(self.path), text)])

    def _say(self, sentence: str) -> None:
        self.said.append(sentence)


_RESTORE = "bring it back with `blade-mount library restore FILE` if you miss anything."


def _place_of(path: Path) -> tuple[int, int] | None:
    """What tells the file at a path from every other; None where there is none."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _revisions(db: sqlite3.Connection, mount: dict[str, Any]) -> list[int]:
    """The revisions kept of a mount, newest first: from the index, so that a damaged page of texts hides none."""
    rows = db.execute("SELECT revision FROM versions WHERE mount = ? ORDER BY revision DESC", (mount["number"],))
    return [row["revision"] for row in rows]


def _version_row(db: sqlite3.Connection, number: int, revision: int) -> dict[str, Any] | None:
    """One version as it stands in the file; None where its row cannot be read."""
    try:
        row: dict[str, Any] | None = db.execute(
            "SELECT * FROM versions WHERE mount = ? AND revision = ?", (number, revision)
        ).fetchone()
    except sqlite3.OperationalError as error:
        if "decode" not in str(error):
            raise
        return None  # its text is no UTF-8 any more
    return row


def _is_sound(version: Mapping[str, Any] | None) -> bool:
    """Whether the texts of a version are those that were written."""
    if version is None or not isinstance(version["document"], str) or not isinstance(version["command"], str):
        return False
    return bool(version["digest"] == digest_of(version["document"], version["command"]))


def _read(version: Mapping[str, Any] | None) -> tuple[Document, dict[str, float]] | None:
    """Document and command of a version; None where it cannot be read."""
    if version is None or not _is_sound(version):
        return None
    try:
        document, command = json.loads(version["document"]), json.loads(version["command"])
        read_mount(document)
    except (ValueError, BadDocument):
        return None
    return document, command


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
        "INSERT INTO versions (mount, revision, key, changed, title, document, command, digest) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (mount, revision, key, changed, title, *texts, digest_of(*texts)),
    )
