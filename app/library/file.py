"""The SQLite file the mounts are kept in: how it is made, opened, checked and brought up to date.

It keeps a rollback journal, not a log written ahead: all of it is in one file, so a copy put in its place is noticed by
every connection (SQLite's file change counter), and no log is ever laid over a file it was not written for.
"""

import hashlib
import json
import sqlite3
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from app.document.errors import Fault, NoLibrary

FILE = "shelf.sqlite3"
SCHEMA = 2
FOLDER_VARIABLE = "BLADE_MOUNT_DATA"

WAIT_S = 5.0
"""How long a second server on the same folder waits for the first one's transaction."""

TABLES = (
    """
    CREATE TABLE mounts (
        number INTEGER PRIMARY KEY,
        id TEXT NOT NULL UNIQUE,
        key TEXT UNIQUE,
        origin TEXT,
        revision INTEGER NOT NULL,
        changed TEXT NOT NULL,
        deleted TEXT,
        picture TEXT
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
        digest TEXT,
        PRIMARY KEY (mount, revision),
        UNIQUE (mount, key)
    )
    """,
)

_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


def opened(path: Path, before_upgrade: Callable[[sqlite3.Connection, int], None] | None = None) -> sqlite3.Connection:
    """A connection to the library at a path, which is made if there is none. Raises NoLibrary and sqlite3.Error."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise unusable(path, error.strerror or str(error)) from None
    db = connected(path)
    try:
        db.execute("PRAGMA foreign_keys = ON")
        db.execute("PRAGMA synchronous = FULL")
        _make_tables(db, path, before_upgrade)  # first of all, so that what is no library stays as it is
        db.execute("PRAGMA journal_mode = TRUNCATE")
    except BaseException:
        db.close()
        raise
    return db


def connected(path: Path, reading: bool = False) -> sqlite3.Connection:
    """A fresh connection whose rows are dictionaries; one for reading makes no file. Raises sqlite3.Error."""
    named = f"{path.absolute().as_uri()}?mode=ro" if reading else path
    db = sqlite3.connect(named, timeout=WAIT_S, isolation_level=None, check_same_thread=False, uri=reading)
    db.row_factory = _as_dict
    return db


def is_damaged(error: sqlite3.Error) -> bool:
    """Whether an error says that the file itself is damaged."""
    return (getattr(error, "sqlite_errorcode", 0) & 0xFF) in _DAMAGED


def check(db: sqlite3.Connection) -> None:
    """SQLite's own check of the whole file. Raises sqlite3.DatabaseError with what it finds."""
    found = [row["quick_check"] for row in db.execute("PRAGMA quick_check(1)")]
    if found != ["ok"]:
        error = sqlite3.DatabaseError(str(found[0]))
        error.sqlite_errorcode = sqlite3.SQLITE_CORRUPT
        raise error


def schema_of(db: sqlite3.Connection) -> int:
    """The schema a file says it has; 0 for none. Raises sqlite3.Error."""
    schema: int = db.execute("PRAGMA user_version").fetchone()["user_version"]
    return schema


def _make_tables(
    db: sqlite3.Connection, path: Path, before_upgrade: Callable[[sqlite3.Connection, int], None] | None
) -> None:
    """Make the tables in a new file, bring an older one up to date. Raises NoLibrary for what is no library of ours."""
    schema = schema_of(db)
    if 0 < schema < SCHEMA and before_upgrade:
        before_upgrade(db, schema)
    db.execute("BEGIN IMMEDIATE")
    try:
        schema = schema_of(db)
        if schema > SCHEMA:
            found = f"was written by a newer version of this tool (schema {schema}; this one knows {SCHEMA})"
            raise NoLibrary([Fault(str(path), f"{found}; update the tool, or give another folder with --data")])
        if schema == 0:
            if db.execute("SELECT 1 FROM sqlite_master").fetchone():
                raise unusable(path, "it is the database of something else")
            for table in TABLES:
                db.execute(table)
        elif schema < SCHEMA:
            _second_schema(db)
        if schema < SCHEMA:
            db.execute(f"PRAGMA user_version = {SCHEMA}")
        db.execute("COMMIT")
    finally:
        if db.in_transaction:
            db.execute("ROLLBACK")


def _second_schema(db: sqlite3.Connection) -> None:
    """Pictures for the list, and digests that tell a text from a damaged one."""
    db.execute("ALTER TABLE mounts ADD COLUMN picture TEXT")
    db.execute("ALTER TABLE versions ADD COLUMN digest TEXT")
    for row in db.execute("SELECT rowid, document, command FROM versions").fetchall():
        digest = digest_of(row["document"], row["command"])
        db.execute("UPDATE versions SET digest = ? WHERE rowid = ?", (digest, row["rowid"]))
    newest = (
        "SELECT m.number, v.document FROM mounts m JOIN versions v ON v.mount = m.number AND v.revision = m.revision"
    )
    for row in db.execute(newest).fetchall():
        picture = picture_of(json.loads(row["document"]))
        db.execute("UPDATE mounts SET picture = ? WHERE number = ?", (picture, row["number"]))


def digest_of(document: str, command: str) -> str:
    """What tells the two texts of a version from damaged ones."""
    return hashlib.blake2b(f"{document}\n{command}".encode("utf-8", "surrogatepass"), digest_size=8).hexdigest()


def picture_of(document: Mapping[str, Any]) -> str:
    """What a small picture of a mount is drawn from, as JSON: whole mm, ``edge`` [x, y, x, y] from left to right,
    ``members`` [kind, x, y] or [kind, x, y, x, y], ``bodies`` [x, y, x, y ...], the joints of each body but the blade
    that has no outline, ``outlines`` those drawn by hand, each with its ``body`` and flat ``points``.
    """
    edge = [round(value) for end in ("left", "right") for value in document["blade"][end]]
    members = []
    bodies: dict[str, list[int]] = {}
    for member in document["members"]:
        places = [end["at"] for end in member["ends"]] if "ends" in member else [member["at"]]
        members.append([member["kind"], *(round(value) for place in places for value in place)])
        ends = [(end["on"], end["at"]) for end in member.get("ends", ())]
        for body, place in ends or [(body, member["at"]) for body in member["joins"]]:
            bodies.setdefault(body, []).extend(round(value) for value in place)
    outlines = [
        {"body": outline["body"], "points": [round(value) for place in outline["points"] for value in place]}
        for outline in document.get("outlines", ())
    ]
    drawn = {"frame", "blade", *(outline["body"] for outline in outlines)}
    joined = [places for body, places in bodies.items() if body not in drawn]
    picture = {"edge": edge, "members": members, "bodies": joined, "outlines": outlines}
    return json.dumps(picture, ensure_ascii=False, separators=(",", ":"))


def unusable(path: Path, reason: str) -> NoLibrary:
    """Why mounts cannot be kept at a path, and what to do."""
    advice = f"give another folder with --data or {FOLDER_VARIABLE}, or make this one usable"
    return NoLibrary([Fault(str(path), f"your mounts cannot be kept here ({reason}); {advice}")])


def _as_dict(cursor: sqlite3.Cursor, row: tuple[Any, ...]) -> dict[str, Any]:
    return {column[0]: value for column, value in zip(cursor.description, row, strict=True)}
