"""The library as a folder of documents: one JSON file a mount, and what each was copied from in a table beside them."""

import csv
import io
import json
from collections.abc import Mapping
from pathlib import Path

from app.document.errors import Fault, SketcherError, Unwritable
from app.document.models import Mount, as_document
from app.document.reading import read_file
from app.export.files import file_name, write_whole
from app.library.families import lineage, parent_among
from app.library.store import Library
from app.shipped import shipped_mounts

ORIGINS = "origins.csv"
"""The table of what each mount was copied from: a file of the folder, or a shipped mount's name."""

_HEAD = ["file", "copied from"]


def export_to(library: Library, folder: Path) -> tuple[list[Path], list[str]]:
    """Write every mount that is not deleted into a folder: the files, and what could not be read, in words.

    A file of that name that is there is replaced if it holds the same, else the new one is numbered. Raises Unwritable.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Unwritable([Fault(str(folder), f"cannot be made ({error.strerror}); give another place")]) from None
    unread = []
    written: dict[str, Path] = {}
    for entry in library.listed():
        try:
            kept = library.kept(entry.id)
        except SketcherError as error:
            unread.append(f"{entry.title}: {error}")
            continue
        if kept.unreadable:
            steps = ", ".join(map(str, reversed(kept.unreadable)))
            unread.append(f"{entry.title}: step {steps} cannot be read; the one before it was written")
        content = (json.dumps(kept.mount, ensure_ascii=False, indent=1) + "\n").encode()
        path = _free(folder, entry.title, content)
        write_whole(path, content)
        written[entry.id] = path
    _write_origins(folder, written, library.origins())
    return list(written.values()), unread


def import_from(library: Library, folder: Path) -> tuple[int, int, list[str]]:
    """Keep every document of a folder: how many were new, how many were kept already, and what was refused, in words.

    Variants stay variants of what they were copied from. Raises Unwritable where there is no such folder.
    """
    if not folder.is_dir():
        raise Unwritable([Fault(str(folder), "is no folder; give one with mount documents in it")])
    there = {_text(library.kept(entry.id).mount): entry.id for entry in library.listed() if entry.picture}
    found: dict[str, Mount] = {}
    refused = []
    for path in sorted(folder.glob("*.json")):
        try:
            found[path.name] = read_file(path)
        except SketcherError as error:
            refused += [line if line.startswith(str(path)) else f"{path}: {line}" for line in str(error).splitlines()]
    try:
        origins = _read_origins(folder)
    except (ValueError, OSError) as error:
        origins = {}
        refused.append(f"{folder / ORIGINS}: {error}; the mounts are brought in without what they were copied from")
    before = len(there)
    ids: dict[str, str] = {}
    # Parents first: a mount has more of the folder's files above it than any of those has.
    for name in sorted(found, key=lambda file: sum(each in found for each in lineage(file, origins))):
        parent = parent_among(name, origins, ids.keys() | shipped_mounts().keys())
        text = _text(as_document(found[name]))
        if text not in there:
            there[text], _ = library.add(found[name], origin=ids.get(parent or "", parent))
        ids[name] = there[text]
    new = len(there) - before
    return new, len(found) - new, refused


def _write_origins(folder: Path, written: Mapping[str, Path], origins: Mapping[str, str | None]) -> None:
    """Write the table of origins; what it says of other files that are still there stays. Raises Unwritable."""
    try:
        rows = {name: of for name, of in _read_origins(folder).items() if (folder / name).is_file()}
    except (ValueError, OSError):
        rows = {}
    for id, path in written.items():
        parent = parent_among(id, origins, written.keys() | shipped_mounts().keys())
        of = written[parent].name if parent and parent in written else parent
        if of and of != path.name:
            rows[path.name] = of
    if not rows:
        return
    table = io.StringIO()
    csv.writer(table, lineterminator="\n").writerows([_HEAD, *sorted(rows.items())])
    write_whole(folder / ORIGINS, table.getvalue().encode())


def _read_origins(folder: Path) -> dict[str, str]:
    """What the table of a folder says, by file; nothing where there is none. Raises ValueError, OSError."""
    path = folder / ORIGINS
    if not path.exists():
        return {}
    rows: list[list[str]] = list(csv.reader(io.StringIO(path.read_text("utf-8-sig"))))
    if rows[:1] != [_HEAD]:
        raise ValueError(f"its first line is {','.join(rows[0]) if rows else ''!r}, not {','.join(_HEAD)!r}")
    for number, row in enumerate(rows, 1):
        if len(row) != 2:
            raise ValueError(f"line {number} has {len(row)} columns, not 2")
    return {row[0]: row[1] for row in rows[1:]}


def _text(document: object) -> str:
    return json.dumps(document, sort_keys=True)


def _free(folder: Path, title: str, content: bytes) -> Path:
    """A path for a document that is not there yet, or holds the same."""
    number = 1
    while True:
        path = folder / file_name(title, ".json" if number == 1 else f"-{number}.json")
        if not path.exists() or (path.is_file() and path.read_bytes() == content):
            return path
        number += 1
