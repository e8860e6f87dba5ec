"""The rows of the versions: written with their digest, and read only where that still matches."""

import json
import sqlite3
from collections.abc import Mapping
from typing import Any

from app.document.errors import BadDocument, Fault, KeyUsed
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.library.file import digest_of
from app.library.kept import Command, Document


def revisions(db: sqlite3.Connection, mount: dict[str, Any]) -> list[int]:
    """The revisions kept of a mount, newest first: from the index, so that a damaged page of texts hides none."""
    rows = db.execute("SELECT revision FROM versions WHERE mount = ? ORDER BY revision DESC", (mount["number"],))
    return [row["revision"] for row in rows]


def version_row(db: sqlite3.Connection, number: int, revision: int) -> dict[str, Any] | None:
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


def is_sound(version: Mapping[str, Any] | None) -> bool:
    """Whether the texts of a version are those that were written."""
    if version is None or not isinstance(version["document"], str) or not isinstance(version["command"], str):
        return False
    return bool(version["digest"] == digest_of(version["document"], version["command"]))


def content_of(version: Mapping[str, Any] | None) -> tuple[Document, dict[str, float]] | None:
    """Document and command of a version; None where it cannot be read."""
    if version is None or not is_sound(version):
        return None
    try:
        document, command = json.loads(version["document"]), json.loads(version["command"])
        read_mount(document)
    except (ValueError, BadDocument):
        return None
    return document, command


def texts_of(mount: Mount, command: Command) -> tuple[str, str]:
    """Document and command as they are stored: equal ones give equal texts."""
    return (
        json.dumps(as_document(mount), ensure_ascii=False, allow_nan=False, separators=(",", ":")),
        json.dumps(dict(command), ensure_ascii=False, allow_nan=False, separators=(",", ":"), sort_keys=True),
    )


def kept_under(db: sqlite3.Connection, mount: int, key: str | None, texts: tuple[str, str]) -> int | None:
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


def insert(
    db: sqlite3.Connection,
    mount: int,
    revision: int,
    key: str | None,
    changed: str,
    title: str,
    texts: tuple[str, str],
) -> None:
    """Write one version, with the digest of its texts."""
    db.execute(
        "INSERT INTO versions (mount, revision, key, changed, title, document, command, digest) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (mount, revision, key, changed, title, *texts, digest_of(*texts)),
    )
