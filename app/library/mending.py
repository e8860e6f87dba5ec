"""A damaged file set aside, and all that can be read of it in a new one."""

import json
import secrets
import shutil
from contextlib import closing, suppress
from datetime import datetime
from pathlib import Path

from app.library.backups import backups
from app.library.file import SCHEMA, TABLES, connected, digest_of, picture_of, unusable
from app.library.salvage import Salvaged, salvaged

RESTORE = "bring it back with `blade-mount library restore FILE` if you miss anything."


def mend(path: Path, reason: str, now: datetime) -> str:
    """Set a damaged file aside and bring over what can be read of it: what to tell its owner.

    Raises sqlite3.Error, OSError and, where it is no library at all, NoLibrary with the reason.
    """
    found = salvaged(path)
    if not (found.mounts or found.versions or found.is_library):
        raise unusable(path, reason)
    aside = path.with_name(f"damaged-{now:%Y-%m-%d-%H%M%S}-{secrets.token_hex(2)}.sqlite3")
    fresh = path.with_name(f".{secrets.token_hex(8)}.part")
    try:
        mounts = _bring_over(found, fresh)
        shutil.copy2(path, aside)
        for left in ("-journal", "-wal", "-shm"):
            beside = Path(f"{path}{left}")
            if beside.exists():
                beside.replace(f"{aside}{left}")
        fresh.replace(path)
    finally:
        fresh.unlink(missing_ok=True)
    copies = backups(path.parent)
    return (
        f"The file of your mounts was damaged ({reason}). What can be read of it, {mounts} mounts in "
        f"{len(found.versions)} versions, was brought over to {path}; the damaged file is {aside}. "
        f"{found.unread} versions were found that cannot be read. "
        + (f"The newest backup is {copies[-1]}: {RESTORE}" if copies else "There is no backup yet.")
    )


def _bring_over(found: Salvaged, file: Path) -> int:
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
