"""A folder of the library with a file each of one kind of document: a damaged one costs itself only. No web in it.

A file is written whole and named by its id; one that is put away lies in a folder beside the others.
"""

import json
import re
import secrets
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Generic, TypeVar

from app.document.errors import (
    Fault,
    KeptChanged,
    NoLibrary,
    NotInLibrary,
    SketcherError,
    Unwritable,
    VersionUnreadable,
)
from app.document.reading import decode
from app.export.files import write_whole

AWAY = "put-away"
_ID = re.compile(r"[0-9a-f]{32}")

Document = TypeVar("Document")


@dataclass(frozen=True)
class Kind(Generic[Document]):
    """A kind of document: what one and several are called, how one is read, and how it is written."""

    one: str
    several: str
    read: Callable[[object], Document]
    plain: Callable[[Document], dict[str, Any]]


@dataclass(frozen=True)
class Kept(Generic[Document]):
    """A document at its newest revision; ``changed`` is ISO 8601 in UTC."""

    id: str
    revision: int
    changed: str
    document: Document


class Folder(Generic[Document]):
    """A folder of documents. Calls block and may come from any thread: one at a time."""

    def __init__(self, library: Path, kind: Kind[Document]) -> None:
        self.kind = kind
        self._folder = library / kind.several
        self._lock = threading.Lock()

    def listed(self) -> list[Kept[Document]]:
        """Those that can be read, newest change first."""
        with self._lock:
            found = list(self._readable())
        return sorted(found, key=lambda each: (each.changed, each.id), reverse=True)

    def kept(self, id: str) -> Kept[Document]:
        """One of them. Raises NotInLibrary, VersionUnreadable."""
        with self._lock:
            return self._read(self._path(id))

    def add(self, document: Document) -> Kept[Document]:
        """Keep a new one. Raises NoLibrary."""
        with self._lock:
            return self._write(secrets.token_hex(16), 1, document)

    def change(self, id: str, revision: int, document: Document) -> Kept[Document]:
        """Keep a change made from a revision. Raises NotInLibrary, KeptChanged where that is not the newest."""
        with self._lock:
            newest = self._read(self._path(id)).revision
            if revision != newest:
                raise KeptChanged(revision, newest)
            return self._write(id, newest + 1, document)

    def put_away(self, id: str) -> None:
        """Take one off the list; its file stays. Raises NotInLibrary, NoLibrary."""
        with self._lock:
            self._move(self._path(id), self._folder / AWAY / f"{id}.json")

    def bring_back(self, id: str) -> None:
        """Put one that was put away on the list again. Raises NotInLibrary, NoLibrary."""
        with self._lock:
            self._move(self._path(id, AWAY), self._folder / f"{id}.json")

    def _readable(self) -> Iterator[Kept[Document]]:
        for path in self._folder.glob("*.json") if self._folder.is_dir() else ():
            try:
                yield self._read(path)
            except SketcherError:
                continue  # another's file, or a damaged one: it stays where it is

    def _path(self, id: str, *within: str) -> Path:
        path = self._folder.joinpath(*within, f"{id}.json")
        if not _ID.fullmatch(id) or not path.is_file():
            text = f"no {self.kind.one} of this id is kept; GET /{self.kind.several} lists them"
            raise NotInLibrary([Fault("", text)])
        return path

    def _read(self, path: Path) -> Kept[Document]:
        try:
            kept = decode(path.read_text(encoding="utf-8"))
            document = self.kind.read(kept[self.kind.one])
            return Kept(path.stem, int(kept["revision"]), str(kept["changed"]), document)
        except (OSError, UnicodeDecodeError, KeyError, TypeError, ValueError, SketcherError):
            text = f"the file of this {self.kind.one} cannot be read; its folder in the data folder still has it"
            raise VersionUnreadable([Fault(path.name, text)]) from None

    def _write(self, id: str, revision: int, document: Document) -> Kept[Document]:
        changed = datetime.now(UTC).isoformat(timespec="milliseconds")
        plain = {"revision": revision, "changed": changed, self.kind.one: self.kind.plain(document)}
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            write_whole(self._folder / f"{id}.json", json.dumps(plain).encode())
        except (OSError, Unwritable) as error:
            text = f"the {self.kind.one} was not kept: {error}; see that the disk has room"
            raise NoLibrary([Fault("", text)]) from None
        return self._read(self._folder / f"{id}.json")

    def _move(self, here: Path, there: Path) -> None:
        try:
            there.parent.mkdir(parents=True, exist_ok=True)
            here.replace(there)
        except OSError as error:
            raise NoLibrary([Fault("", f"the {self.kind.one} was not moved: {error.strerror}; try again")]) from None
