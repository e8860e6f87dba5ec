"""Copies of the library: one a day and one before every upgrade or restoring, the newest fourteen kept.

Made by SQLite's online backup, so a copy is whole whatever is being written meanwhile. Copies are numbered, since a
clock may be put back.
"""

import re
import secrets
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from app.document.errors import Fault, NoLibrary, Unwritable
from app.library.file import SCHEMA, check, connected, schema_of

FOLDER = "backups"
KEPT = 14
_NAME = re.compile(r"(\d{5})-(\d{4}-\d{2}-\d{2}).*\.sqlite3")


def backups(folder: Path) -> list[Path]:
    """The copies in a data folder, oldest first."""
    there = folder / FOLDER
    return sorted(path for path in there.glob("*.sqlite3") if _NAME.fullmatch(path.name)) if there.is_dir() else []


def back_up(library: Path, day: datetime, why: str = "") -> Path:
    """Copy a library into its own folder of backups, and drop the oldest. Raises sqlite3.Error, OSError."""
    known = backups(library.parent)
    number = int(known[-1].name[:5]) + 1 if known else 1
    made = library.parent / FOLDER / f"{number:05}-{day:%Y-%m-%d}{f'-{why}' if why else ''}.sqlite3"
    made.parent.mkdir(exist_ok=True)
    _copy(library, made)
    for old in known[: max(0, len(known) + 1 - KEPT)]:
        old.unlink(missing_ok=True)
    return made


def back_up_daily(library: Path, day: datetime) -> Path | None:
    """Copy a library that has something in it, unless there is a copy of this day. Raises sqlite3.Error, OSError."""
    today = f"{day:%Y-%m-%d}"
    if not library.is_file() or any(path.name[6:16] == today for path in backups(library.parent)):
        return None
    with closing(connected(library, reading=True)) as db:
        if schema_of(db) == 0 or db.execute("SELECT 1 FROM mounts").fetchone() is None:
            return None
    return back_up(library, day)


def back_up_as_it_is(library: Path) -> Path:
    """Set a library aside among the backups, sound or not. Raises Unwritable."""
    now = datetime.now(UTC)
    try:
        try:
            return back_up(library, now, "before-restoring")
        except sqlite3.Error:
            aside = library.with_name(f"damaged-{now:%Y-%m-%d-%H%M%S}-{secrets.token_hex(2)}.sqlite3")
            library.replace(aside)
            return aside
    except (sqlite3.Error, OSError) as error:
        raise Unwritable([Fault(str(library), f"could not be set aside ({error}); nothing was changed")]) from None


def copy_to(library: Path, file: Path) -> None:
    """Copy a library to a file of the user's choice; one that is there is replaced. Raises Unwritable, NoLibrary."""
    if not library.is_file():
        raise NoLibrary([Fault(str(library), "is not there; nothing has been kept in this folder yet")])
    if file.exists() and file.samefile(library):
        raise Unwritable([Fault(str(file), "is the library itself; give another file to write")])
    try:
        _copy(library, file)
    except (sqlite3.Error, OSError) as error:
        raise Unwritable([Fault(str(file), f"the copy was not made ({error}); nothing was changed")]) from None


def check_copy(file: Path) -> None:
    """Whether a file is a whole library that this version reads. Raises NoLibrary."""
    try:
        with closing(connected(file, reading=True)) as db:
            schema = schema_of(db)
            db.execute("SELECT 1 FROM mounts JOIN versions").fetchone()
            check(db)
    except sqlite3.Error as error:
        raise NoLibrary([Fault(str(file), f"is no library that can be read ({error}); give a backup of one")]) from None
    if not 0 < schema <= SCHEMA:
        raise NoLibrary([Fault(str(file), f"has schema {schema}; this tool knows those up to {SCHEMA}: update it")])


def bring_back(file: Path, library: Path) -> None:
    """Put a checked copy in the place of a library, for running servers too. Raises Unwritable."""
    try:
        library.parent.mkdir(parents=True, exist_ok=True)
        _bring_back(file, library)
    except (sqlite3.Error, OSError) as error:
        raise Unwritable([Fault(str(library), f"was not restored ({error}); nothing was changed")]) from None


def _bring_back(file: Path, library: Path) -> None:
    with closing(connected(file, reading=True)) as source, closing(connected(library)) as target:
        source.backup(target)


def _copy(library: Path, file: Path) -> None:
    """Whole or not at all. Raises sqlite3.Error, OSError."""
    aside = file.parent / f".{secrets.token_hex(8)}.part"
    try:
        with closing(connected(library, reading=True)) as source, closing(connected(aside)) as target:
            source.backup(target)
            check(target)
        aside.replace(file)
    finally:
        aside.unlink(missing_ok=True)
