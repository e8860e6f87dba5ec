"""The user's comparisons: a file each in a folder of the library: a damaged one costs itself only. No web in it.

A file is written whole and named by its id; one that is put away lies in a folder beside the others.
"""

import json
import re
import secrets
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from app.comparison.document import ComparisonDocument, as_comparison, read_comparison
from app.document.errors import (
    ComparisonChanged,
    Fault,
    NoLibrary,
    NotInLibrary,
    SketcherError,
    Unwritable,
    VersionUnreadable,
)
from app.document.reading import decode
from app.export.files import write_whole

FOLDER, AWAY = "comparisons", "put-away"
_ID = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True)
class KeptComparison:
    """A comparison at its newest revision; ``changed`` is ISO 8601 in UTC."""

    id: str
    revision: int
    changed: str
    comparison: ComparisonDocument


class Comparisons:
    """A folder of comparisons. Calls block and may come from any thread: one at a time."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / FOLDER
        self._lock = threading.Lock()

    def listed(self) -> list[KeptComparison]:
        """Those that can be read, newest change first."""
        with self._lock:
            found = list(self._readable())
        return sorted(found, key=lambda each: (each.changed, each.id), reverse=True)

    def kept(self, id: str) -> KeptComparison:
        """One of them. Raises NotInLibrary, VersionUnreadable."""
        with self._lock:
            return self._read(self._path(id))

    def add(self, comparison: ComparisonDocument) -> KeptComparison:
        """Keep a new one. Raises NoLibrary."""
        with self._lock:
            return self._write(secrets.token_hex(16), 1, comparison)

    def change(self, id: str, revision: int, comparison: ComparisonDocument) -> KeptComparison:
        """Keep a change made from a revision. Raises NotInLibrary, ComparisonChanged where that is not the newest."""
        with self._lock:
            newest = self._read(self._path(id)).revision
            if revision != newest:
                raise ComparisonChanged(revision, newest)
            return self._write(id, newest + 1, comparison)

    def put_away(self, id: str) -> None:
        """Take one off the list; its file stays. Raises NotInLibrary, NoLibrary."""
        with self._lock:
            self._move(self._path(id), self._folder / AWAY / f"{id}.json")

    def bring_back(self, id: str) -> None:
        """Put one that was put away on the list again. Raises NotInLibrary, NoLibrary."""
        with self._lock:
            self._move(self._path(id, AWAY), self._folder / f"{id}.json")

    def _readable(self) -> Iterator[KeptComparison]:
        for path in self._folder.glob("*.json") if self._folder.is_dir() else ():
            try:
                yield self._read(path)
            except SketcherError:
                continue  # another's file, or a damaged one: it stays where it is

    def _path(self, id: str, *within: str) -> Path:
        path = self._folder.joinpath(*within, f"{id}.json")
        if not _ID.fullmatch(id) or not path.is_file():
            raise NotInLibrary([Fault("", "no comparison of this id is kept; GET /comparisons lists them")])
        return path

    def _read(self, path: Path) -> KeptComparison:
        try:
            kept = decode(path.read_text(encoding="utf-8"))
            return KeptComparison(
                path.stem, int(kept["revision"]), str(kept["changed"]), read_comparison(kept["comparison"])
            )
        except (OSError, UnicodeDecodeError, KeyError, TypeError, ValueError, SketcherError):
            text = "the file of this comparison cannot be read; its folder in the data folder still has it"
            raise VersionUnreadable([Fault(path.name, text)]) from None

    def _write(self, id: str, revision: int, comparison: ComparisonDocument) -> KeptComparison:
        kept = KeptComparison(id, revision, datetime.now(UTC).isoformat(timespec="milliseconds"), comparison)
        plain = {"revision": revision, "changed": kept.changed, "comparison": as_comparison(comparison)}
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            write_whole(self._folder / f"{id}.json", json.dumps(plain).encode())
        except (OSError, Unwritable) as error:
            raise NoLibrary([Fault("", f"the comparison was not kept: {error}; see that the disk has room")]) from None
        return self._read(self._folder / f"{id}.json")

    def _move(self, here: Path, there: Path) -> None:
        try:
            there.parent.mkdir(parents=True, exist_ok=True)
            here.replace(there)
        except OSError as error:
            raise NoLibrary([Fault("", f"the comparison was not moved: {error.strerror}; try again")]) from None
