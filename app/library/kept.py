"""What the library answers: mounts, their versions, and how far each has come. Times are ISO 8601 in UTC."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

Document = dict[str, Any]
Command = Mapping[str, object]


@dataclass(frozen=True)
class Kept:
    """A mount at its newest revision; ``changed`` and ``deleted`` are ISO 8601 in UTC, the latter None if it is not.

    ``unreadable`` are newer versions, newest first, that cannot be read: the document is that of their predecessor.
    """

    id: str
    revision: int
    mount: Document
    command: dict[str, float]
    origin: str | None
    changed: str
    deleted: str | None
    unreadable: tuple[int, ...] = ()


@dataclass(frozen=True)
class Entry:
    """A mount as the list shows it: no document, what a small picture is drawn from (None where it cannot be read).

    ``parent`` is the title of the kept mount it was copied from, ``family`` the kept mount that it and its variants all
    come from, ``shipped`` the shipped mount that one was copied from.
    """

    id: str
    title: str
    note: str
    origin: str | None
    parent: str | None
    family: str
    shipped: str | None
    changed: str
    deleted: str | None
    revision: int
    picture: dict[str, Any] | None
    unreadable: tuple[int, ...]


@dataclass(frozen=True)
class Version:
    """One version of a mount, without its document."""

    revision: int
    changed: str
    title: str
    readable: bool


@dataclass(frozen=True)
class Earlier:
    """One version of a mount in full."""

    revision: int
    changed: str
    mount: Document
    command: dict[str, float]


@dataclass(frozen=True)
class Standing:
    """How far a mount has come: its newest revision, the key that step came under, and whether it is deleted."""

    revision: int
    key: str | None
    deleted: bool


@dataclass(frozen=True)
class Marked:
    """A mount deleted or restored: its id, newest revision, and when it was deleted."""

    id: str
    revision: int
    deleted: str | None
