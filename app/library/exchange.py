"""The library as a folder of documents: one JSON file a mount, out and in."""

import json
from pathlib import Path

from app.document.errors import Fault, SketcherError, Unwritable
from app.document.models import as_document
from app.document.reading import read_file
from app.export.files import file_name, write_whole
from app.library.store import Library


def export_to(library: Library, folder: Path) -> tuple[list[Path], list[str]]:
    """Write every mount that is not deleted into a folder: the files, and what could not be read, in words.

    A file of that name that is there is replaced if it holds the same, else the new one is numbered. Raises Unwritable.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Unwritable([Fault(str(folder), f"cannot be made ({error.strerror}); give another place")]) from None
    written, unread = [], []
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
        written.append(path)
    return written, unread


def import_from(library: Library, folder: Path) -> tuple[int, int, list[str]]:
    """Keep every document of a folder: how many were new, how many were kept already, and what was refused, in words.

    Raises Unwritable where there is no such folder.
    """
    if not folder.is_dir():
        raise Unwritable([Fault(str(folder), "is no folder; give one with mount documents in it")])
    there = {_text(library.kept(entry.id).mount) for entry in library.listed() if entry.picture}
    new = known = 0
    refused = []
    for path in sorted(folder.glob("*.json")):
        try:
            mount = read_file(path)
        except SketcherError as error:
            refused += [line if line.startswith(str(path)) else f"{path}: {line}" for line in str(error).splitlines()]
            continue
        text = _text(as_document(mount))
        if text in there:
            known += 1
            continue
        library.add(mount)
        there.add(text)
        new += 1
    return new, known, refused


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
