"""What can still be read of a damaged library: every row whose page is sound, whatever became of the pages around it.

Read page by page from the bytes, since SQLite itself needs the header, the schema and every page on the way to a row.
Source: SQLite's published "Database File Format" (sqlite.org/fileformat2.html), sections 1.3 to 1.6 and 2.1.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from app.library.file import digest_of

Value = int | float | str | bytes | None
Row = tuple[Value, ...]

_LEAF_OF_TABLE, _LEAF_OF_INDEX = 0x0D, 0x0A
_ID = re.compile(r"[0-9a-f]{32}")
_MOST_COLUMNS = 12
_SIZES = (4096, 1024, 2048, 8192, 16384, 32768, 65536, 512)


@dataclass
class Salvaged:
    """What was found: rows of ``mounts`` by number and of ``versions`` by mount and revision, both by column."""

    mounts: dict[int, Row] = field(default_factory=dict)
    ids: dict[int, str] = field(default_factory=dict)
    versions: dict[tuple[int, int], Row] = field(default_factory=dict)
    is_library: bool = False
    unread: int = 0
    """How many versions were found whose text is damaged."""


def salvaged(path: Path) -> Salvaged:
    """Every sound row in the bytes of a file. Raises OSError."""
    content = path.read_bytes()
    found = Salvaged(is_library=b"CREATE TABLE versions" in content[:65536])
    for number, row in _rows(content):
        _put(found, number, row)
    found.unread = sum(not _is_sound(row) for row in found.versions.values())
    found.versions = {key: row for key, row in found.versions.items() if _is_sound(row)}
    return found


def _put(found: Salvaged, rowid: int | None, row: Row) -> None:
    if rowid is None:
        if len(row) == 2 and _is_id(row[0]) and isinstance(row[1], int):
            found.ids[row[1]] = str(row[0])
    elif len(row) in (7, 8) and row[0] is None and _is_id(row[1]) and isinstance(row[4], int):
        known = found.mounts.get(rowid)
        if known is None or (row[4], str(row[5])) >= (known[4], str(known[5])):
            found.mounts[rowid] = row
    elif len(row) in (7, 8) and isinstance(row[0], int) and isinstance(row[1], int) and isinstance(row[5], str):
        known = found.versions.get((row[0], row[1]))
        if known is None or not _is_sound(known):
            found.versions[row[0], row[1]] = row


def _is_id(value: Value) -> bool:
    return isinstance(value, str) and _ID.fullmatch(value) is not None


def _is_sound(version: Row) -> bool:
    _, _, _, changed, title, document, command, *digest = version
    texts = isinstance(document, str) and isinstance(command, str)
    if not texts or not isinstance(changed, str) or not isinstance(title, str):
        return False
    return not digest or digest[0] is None or digest[0] == digest_of(str(document), str(command))


def _rows(content: bytes) -> Iterator[tuple[int | None, Row]]:
    """The records of all leaf pages: with their row number in a table, with None in an index."""
    named = int.from_bytes(content[16:18], "big")
    size = {1: 65536}.get(named, named)
    if size not in _SIZES or not content.startswith(b"SQLite format 3\0"):
        size = _SIZES[0]  # what SQLite makes by itself, and so what this tool has always written
    for start in range(0, len(content), size):
        page = content[start : start + size]
        head = 100 if start == 0 else 0
        if len(page) > head + 8 and page[head] in (_LEAF_OF_TABLE, _LEAF_OF_INDEX):
            yield from _cells(content, page, head, size)


def _cells(content: bytes, page: bytes, head: int, size: int) -> Iterator[tuple[int | None, Row]]:
    in_table = page[head] == _LEAF_OF_TABLE
    for number in range(int.from_bytes(page[head + 3 : head + 5], "big")):
        pointer = head + 8 + 2 * number
        at = int.from_bytes(page[pointer : pointer + 2], "big")
        try:
            length, at = _varint(page, at)
            rowid: int | None = None
            if in_table:
                rowid, at = _varint(page, at)
            yield rowid, _record(_payload(content, page, at, length, size, in_table))
        except (IndexError, ValueError):
            continue


def _payload(content: bytes, page: bytes, at: int, length: int, size: int, in_table: bool) -> bytes:
    """The whole of a record, with what overflows to other pages. Raises ValueError."""
    most = size - 35 if in_table else (size - 12) * 64 // 255 - 23
    least = (size - 12) * 32 // 255 - 23
    if length > len(content):
        raise ValueError("longer than the file")
    if length <= most:
        here = length
    else:
        here = least + (length - least) % (size - 4)
        here = here if here <= most else least
    parts = [page[at : at + here]]
    left = length - here
    following = int.from_bytes(page[at + here : at + here + 4], "big") if left else 0
    while left > 0:
        start = (following - 1) * size
        if not 0 < start <= len(content) - 4:
            raise ValueError("the rest is not there")
        part = content[start + 4 : start + 4 + min(left, size - 4)]
        if not part:
            raise ValueError("the rest is cut off")
        parts.append(part)
        left -= len(part)
        following = int.from_bytes(content[start : start + 4], "big")
    whole = b"".join(parts)
    if len(whole) < length:
        raise ValueError("cut off")
    return whole


def _record(payload: bytes) -> Row:
    """The values of a record. Raises ValueError, IndexError."""
    end, at = _varint(payload, 0)
    kinds = []
    while at < end:
        kind, at = _varint(payload, at)
        kinds.append(kind)
        if len(kinds) > _MOST_COLUMNS:
            raise ValueError("no row of ours")
    values: list[Value] = []
    for kind in kinds:
        value, at = _value(payload, at, kind)
        values.append(value)
    return tuple(values)


def _value(payload: bytes, at: int, kind: int) -> tuple[Value, int]:
    """One value by its serial type, and where the next begins. Raises ValueError."""
    if kind in (0, 8, 9):
        return {0: None, 8: 0, 9: 1}[kind], at
    width = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8, 7: 8}.get(kind, (kind - 12) // 2)
    part = payload[at : at + width]
    if kind in (10, 11) or len(part) < width:
        raise ValueError("no value")
    if kind < 7:
        return int.from_bytes(part, "big", signed=True), at + width
    if kind == 7 or kind % 2 == 0:
        return part, at + width
    return part.decode("utf-8"), at + width  # UnicodeDecodeError is a ValueError


def _varint(content: bytes, at: int) -> tuple[int, int]:
    """A number of one to nine bytes, and where the next begins. Raises IndexError."""
    value = 0
    for byte in range(8):
        value = value << 7 | content[at + byte] & 0x7F
        if content[at + byte] < 0x80:
            return value, at + byte + 1
    return value << 8 | content[at + 8], at + 9
