"""What the routes of the user's own mounts take and answer, and what their sockets say."""

from typing import Any

from pydantic import BaseModel, Field

from app.document.models import Mount
from app.web.answers import ErrorAnswer
from app.web.library_messages import KEY

_COMMAND: Any = Field(default={}, description="how much longer than drawn each cylinder is, mm, by id")
_ID = Field(description="id of the kept mount, 32 hexadecimal digits")
_REVISION_FIELD = Field(description="its newest revision: 1, 2, 3 ...")
_CHANGED = Field(description="when it was last changed, ISO 8601 in UTC")
_UNREADABLE = Field(
    description="newest revisions that cannot be read, as on a damaged disk; what is shown is the one before them"
)
PictureMember = tuple[str, int, int] | tuple[str, int, int, int, int]
_DELETED = Field(description="when it was deleted, ISO 8601 in UTC; null when it is not")
_KEY = Field(
    default=None,
    pattern=f"^{KEY.pattern}$",
    description="the sender's own name for this step: sent again under it, the step is acknowledged, not kept twice",
)


class NewMount(BaseModel):
    """What ``POST /library`` takes."""

    mount: Mount = Field(description="a mount document")
    command: dict[str, float] = _COMMAND
    origin: str | None = Field(default=None, description="what it was copied from: a shipped mount's name or a kept id")
    key: str | None = _KEY


class Step(BaseModel):
    """What ``PUT /library/{id}`` takes: one edit step."""

    revision: int = Field(ge=1, description="the revision the step was made from")
    mount: Mount = Field(description="the document after the step")
    command: dict[str, float] = _COMMAND
    key: str | None = _KEY


class Added(BaseModel):
    """A mount newly kept."""

    id: str = _ID
    revision: int = _REVISION_FIELD


class Stepped(BaseModel):
    """A step acknowledged: it is on the disk."""

    revision: int = Field(description="the revision the step was kept as")


class Marked(BaseModel):
    """A mount deleted or restored."""

    id: str = _ID
    revision: int = _REVISION_FIELD
    deleted: str | None = _DELETED


class PictureOutline(BaseModel):
    """An outline drawn by hand, in a small picture."""

    body: str = Field(description="the body that carries it")
    points: list[int] = Field(description="its corners as drawn, [x, y, x, y ...] in whole mm")


class Picture(BaseModel):
    """What a small picture of a mount is drawn from."""

    edge: tuple[int, int, int, int] = Field(description="left and right end of the cutting edge, [x, y, x, y] in mm")
    members: list[PictureMember] = Field(description="[kind, x, y] of a pin or slide, [kind, x, y, x, y], in whole mm")
    bodies: list[list[int]] = Field(
        description="[x, y, x, y ...] in whole mm: the joints of each body but the blade that has no outline"
    )
    outlines: list[PictureOutline] = Field(description="outlines drawn by hand")


class LibraryEntry(BaseModel):
    """One mount of the library; its document is asked for by its id."""

    id: str = _ID
    title: str = Field(description="its title")
    note: str = Field(description="its note")
    origin: str | None = Field(description="what it was copied from: a shipped mount's name or a kept id")
    parent: str | None = Field(description="the title of the kept mount it was copied from; null for none")
    family: str = Field(description="id of the kept mount that it and its variants all come from, it or another")
    shipped: str | None = Field(description="name of the shipped mount that one was copied from; null for none")
    changed: str = _CHANGED
    deleted: str | None = _DELETED
    revision: int = _REVISION_FIELD
    picture: Picture | None = Field(description="what a small picture is drawn from; null where none can be read")
    unreadable: list[int] = _UNREADABLE


class KeptMount(BaseModel):
    """One kept mount in full."""

    id: str = _ID
    revision: int = _REVISION_FIELD
    mount: Mount = Field(description="its document")
    command: dict[str, float] = Field(description="how much longer than drawn each cylinder is, mm, by id")
    origin: str | None = Field(description="what it was copied from: a shipped mount's name or a kept id")
    changed: str = _CHANGED
    deleted: str | None = _DELETED
    unreadable: list[int] = _UNREADABLE


class VersionEntry(BaseModel):
    """One version of a mount."""

    revision: int = Field(description="its revision")
    changed: str = Field(description="when that step was kept, ISO 8601 in UTC")
    title: str = Field(description="the title it had")
    readable: bool = Field(description="whether it can be read; false where the file is damaged there")


class EarlierMount(BaseModel):
    """One version of a mount in full: sent as a step, it is brought back."""

    revision: int = Field(description="its revision")
    changed: str = Field(description="when that step was kept, ISO 8601 in UTC")
    mount: Mount = Field(description="its document")
    command: dict[str, float] = Field(description="how far its cylinders are worked, mm by cylinder id")


class ChangedAnswer(ErrorAnswer):
    """A step refused because it was not made from the newest revision, which stands beside the error."""

    revision: int = Field(description="the newest revision")
    mount: Mount = Field(description="its document")
    command: dict[str, float] = Field(description="how far its cylinders are worked, mm by cylinder id")


class Notice(BaseModel):
    """What a tab that watches a mount is told."""

    revision: int = _REVISION_FIELD
    key: str | None = Field(description="the key the newest step came under; null when it came under none")
    deleted: bool = Field(description="whether it is deleted")


ASKED: tuple[type[BaseModel], ...] = (NewMount, Step)
"""The bodies these routes take."""

TOLD: tuple[type[BaseModel], ...] = (Notice,)
"""What the socket says."""
