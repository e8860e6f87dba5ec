"""The list of the mounts: each is read by itself, so that one that cannot be read costs itself only."""

import sqlite3
from collections.abc import Mapping
from contextlib import suppress
from typing import Any

from pydantic_core import from_json

from app.library.families import family_of
from app.library.file import picture_of
from app.library.kept import Entry
from app.library.rows import is_sound, revisions, version_row


def entries(db: sqlite3.Connection, deleted: bool) -> list[Entry]:
    """The mounts, or the deleted ones, newest change first."""
    asked = "SELECT * FROM mounts WHERE (deleted IS NOT NULL) = ? ORDER BY changed DESC, number DESC"
    newest = (
        "SELECT v.mount, v.title, v.document, v.command, v.digest FROM mounts m "
        "JOIN versions v ON v.mount = m.number AND v.revision = m.revision"
    )
    sound: dict[int, dict[str, Any]] = {}
    with suppress(sqlite3.OperationalError):  # a text that is no UTF-8 any more: each is looked at by itself
        sound = {row["mount"]: row for row in db.execute(newest) if is_sound(row)}
    known = db.execute("SELECT number, id, origin FROM mounts").fetchall()
    origins = {row["id"]: row["origin"] for row in known}
    titles = {row["id"]: sound[row["number"]]["title"] for row in known if row["number"] in sound}
    mounts = db.execute(asked, (deleted,)).fetchall()
    return [_entry(db, mount, sound.get(mount["number"]), origins, titles) for mount in mounts]


def _entry(
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
        version, unreadable = _newest_readable(db, mount)
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


def _newest_readable(db: sqlite3.Connection, mount: dict[str, Any]) -> tuple[dict[str, Any] | None, tuple[int, ...]]:
    """The newest version of a mount that can be read, None for none, and those after it that cannot."""
    unreadable: list[int] = []
    for revision in revisions(db, mount):
        version = version_row(db, mount["number"], revision)
        if is_sound(version):
            return version, tuple(unreadable)
        unreadable.append(revision)
    return None, tuple(unreadable) or (mount["revision"],)
