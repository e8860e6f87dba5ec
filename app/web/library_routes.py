"""The routes of the user's own mounts, and the notices that tell a second tab of a change.

Every call to the store runs in a thread, so that a slow disk holds nobody up. A socket on ``/library/{id}/watch`` is
sent ``{"revision": n, "key": k, "deleted": false}`` at once and again after every change; ``key`` is the one the step
came under, so that a tab knows its own. What another server on the same folder changes is noticed within seconds.
"""

import asyncio
import re
from collections import defaultdict
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import asdict, dataclass
from functools import partial
from typing import Any

from fastapi import APIRouter, FastAPI, Query, Request, WebSocket
from fastapi.responses import Response
from pydantic import BaseModel, Field
from starlette.websockets import WebSocketDisconnect

from app.document.errors import BadDocument, ChangedElsewhere, Fault, NotInLibrary, SketcherError
from app.document.models import Mount
from app.incidents import Incidents
from app.library.store import Library
from app.shipped import shipped_mounts
from app.solve.pose import moves_of
from app.web.answers import BODY, ErrorAnswer, Json, as_json, body_of, refusals
from app.web.ask import read_body, read_question, takes

LOOK_AGAIN_S = 2.0
"""How often a watcher looks by itself for what another server on the same folder has changed."""

HOUR_S = 3600.0

ID = re.compile(r"[0-9a-f]{32}")
KEY = re.compile(r"[A-Za-z0-9_.:-]{1,64}")
_REVISION = re.compile(r"[0-9]{1,15}")

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
    command: dict[str, float] = Field(description="its command, mm by cylinder id")


class ChangedAnswer(ErrorAnswer):
    """A step refused because it was not made from the newest revision, which stands beside the error."""

    revision: int = Field(description="the newest revision")
    mount: Mount = Field(description="its document")
    command: dict[str, float] = Field(description="its command, mm by cylinder id")


class Notice(BaseModel):
    """What a tab that watches a mount is told."""

    revision: int = _REVISION_FIELD
    key: str | None = Field(description="the key the newest step came under; null when it came under none")
    deleted: bool = Field(description="whether it is deleted")


ASKED: tuple[type[BaseModel], ...] = (NewMount, Step)
"""The bodies these routes take."""

TOLD: tuple[type[BaseModel], ...] = (Notice,)
"""What the socket says."""


def routes(library: Library, incidents: Incidents) -> APIRouter:
    """The routes over one store."""
    router = APIRouter(responses=refusals(503), lifespan=partial(_copied_daily, library))
    watchers = Watchers(incidents)

    @router.get(
        "/library",
        summary="The kept mounts, newest change first",
        responses={200: {"model": list[LibraryEntry]}, **refusals(422)},
    )
    async def listed(deleted: str = Query("0", description="1 lists the deleted ones")) -> Response:
        if deleted not in ("0", "1"):
            raise BadDocument([Fault("deleted", "is neither 0 nor 1; 1 lists the deleted mounts")])
        found = await asyncio.to_thread(library.listed, deleted == "1")
        return Json(found)

    @router.post(
        "/library",
        summary="Keep a new mount",
        status_code=201,
        responses={201: {"model": Added}, **refusals(*BODY, 409)},
        openapi_extra={"requestBody": takes("NewMount")},
    )
    async def add(request: Request) -> Response:
        new = _read_new(await read_body(request))
        id, revision = await asyncio.to_thread(library.add, new.mount, new.command, new.origin, new.key)
        return Json({"id": id, "revision": revision}, status_code=201)

    @router.post(
        "/library/renew",
        summary="Make a new file for the mounts where theirs was taken away",
        responses={200: {"model": list[str]}},
    )
    async def renew() -> Response:
        await asyncio.to_thread(library.renew)
        return Json(library.said)

    @router.get(
        "/library/said",
        summary="What happened to the file of the mounts since the start: damage, copies made of it",
        responses={200: {"model": list[str]}},
    )
    async def said() -> Response:
        return Json(library.said)

    @router.get(
        "/library/{id}",
        summary="One kept mount, deleted or not",
        responses={200: {"model": KeptMount}, **refusals(404, 409)},
    )
    async def kept(id: str) -> Response:
        return Json(asdict(await asyncio.to_thread(library.kept, _known(id))))

    @router.put(
        "/library/{id}",
        summary="Keep one edit step",
        responses={
            200: {"model": Stepped},
            **refusals(*BODY, 404),
            409: {
                "model": ChangedAnswer | ErrorAnswer,
                "description": "not the newest revision: look at the one given here; or deleted, or another step's key",
            },
        },
        openapi_extra={"requestBody": takes("Step")},
    )
    async def step(id: str, request: Request) -> Response:
        made = _read_step(await read_body(request))
        try:
            revision = await asyncio.to_thread(
                library.step, _known(id), made.revision, made.mount, made.command, made.key
            )
        except ChangedElsewhere as error:
            newest = {"revision": error.revision, "mount": error.mount, "command": error.command}
            return Json({**body_of(error), **newest}, status_code=409)
        watchers.tell(id)
        return Json({"revision": revision})

    @router.get(
        "/library/{id}/versions",
        summary="The versions kept of a mount, newest first",
        responses={200: {"model": list[VersionEntry]}, **refusals(404)},
    )
    async def versions(id: str) -> Response:
        return Json([asdict(version) for version in await asyncio.to_thread(library.versions, _known(id))])

    @router.get(
        "/library/{id}/versions/{revision}",
        summary="One version of a mount",
        responses={200: {"model": EarlierMount}, **refusals(404, 409)},
    )
    async def version(id: str, revision: str) -> Response:
        if not _REVISION.fullmatch(revision):
            raise NotInLibrary([Fault("revision", "is no whole number; GET /library/{id}/versions lists them")])
        return Json(asdict(await asyncio.to_thread(library.version, _known(id), int(revision))))

    @router.delete(
        "/library/{id}",
        summary="Put a mount among the deleted ones",
        responses={200: {"model": Marked}, **refusals(404)},
    )
    async def delete(id: str) -> Response:
        marked = await asyncio.to_thread(library.delete, _known(id))
        watchers.tell(id)
        return Json(asdict(marked))

    @router.post(
        "/library/{id}/restore",
        summary="Bring a deleted mount back",
        responses={200: {"model": Marked}, **refusals(404)},
    )
    async def restore(id: str) -> Response:
        marked = await asyncio.to_thread(library.restore, _known(id))
        watchers.tell(id)
        return Json(asdict(marked))

    @router.websocket("/library/{id}/watch")
    async def watch(socket: WebSocket, id: str) -> None:
        await watchers.watch(socket, library, id)

    return router


@asynccontextmanager
async def _copied_daily(library: Library, _: FastAPI) -> AsyncIterator[None]:
    """Look at the start and every hour whether today has its backup."""

    async def copy() -> None:
        while True:
            await asyncio.to_thread(library.back_up_daily)
            await asyncio.sleep(HOUR_S)

    copying = asyncio.create_task(copy())
    yield
    copying.cancel()
    with suppress(asyncio.CancelledError):
        await copying


class Watchers:
    """The tabs that look at each mount."""

    def __init__(self, incidents: Incidents) -> None:
        self._incidents = incidents
        self._of: defaultdict[str, set[asyncio.Event]] = defaultdict(set)

    def tell(self, id: str) -> None:
        """Wake everybody who looks at a mount."""
        for changed in self._of.get(id, ()):
            changed.set()

    async def watch(self, socket: WebSocket, library: Library, id: str) -> None:
        """Send one tab where a mount stands, now and after every change, until it leaves."""
        await socket.accept()
        changed = asyncio.Event()
        self._of[id].add(changed)
        sending = asyncio.create_task(self._send_news(socket, library, id, changed))
        try:
            while (await socket.receive())["type"] != "websocket.disconnect":
                pass
        except (WebSocketDisconnect, RuntimeError):
            pass
        finally:
            sending.cancel()
            self._of[id].discard(changed)
            if not self._of[id]:
                del self._of[id]

    async def _send_news(self, socket: WebSocket, library: Library, id: str, changed: asyncio.Event) -> None:
        """The store is asked each time, so that what is sent last is the newest, whichever change was told of first.

        What cannot be read now may be readable the next time: only a mount that is not there ends it.
        """
        told: object = None
        with suppress(WebSocketDisconnect, RuntimeError):
            while True:
                changed.clear()
                news, refusal = await self._standing(library, id)
                if news != told:
                    await socket.send_text(as_json(news))
                    told = news
                if isinstance(refusal, NotInLibrary):
                    await socket.close(1008, "nothing to watch")
                    return
                with suppress(TimeoutError):
                    await asyncio.wait_for(changed.wait(), LOOK_AGAIN_S)

    async def _standing(self, library: Library, id: str) -> tuple[dict[str, Any], SketcherError | None]:
        """What to tell of a mount, and why it is nothing better."""
        try:
            return asdict(await asyncio.to_thread(library.standing, _known(id))), None
        except SketcherError as error:
            return body_of(error), error
        except Exception as error:
            unforeseen = self._incidents.keep(error, "library watch")
            return body_of(unforeseen), unforeseen


@dataclass(frozen=True)
class _Read:
    """What a message asks to be kept."""

    mount: Mount
    command: dict[str, object]
    revision: int = 0
    origin: str | None = None
    key: str | None = None


def _read_new(message: object) -> _Read:
    mount, command, faults = _read_parts(message, ("origin", "key"))
    origin = message.get("origin") if isinstance(message, dict) else None
    known = origin is None or (isinstance(origin, str) and (origin in shipped_mounts() or ID.fullmatch(origin)))
    if not known:
        faults.append(Fault("origin", "is neither a shipped mount's name nor a kept mount's id; leave it out"))
    return _checked(message, mount, command, faults, origin=origin)


def _read_step(message: object) -> _Read:
    mount, command, faults = _read_parts(message, ("revision", "key"))
    revision = message.get("revision") if isinstance(message, dict) else None
    if isinstance(message, dict) and (isinstance(revision, bool) or not isinstance(revision, int) or revision < 1):
        faults.append(Fault("revision", "is missing or no whole number from 1; give the one the step was made from"))
    return _checked(message, mount, command, faults, revision=revision)


def _read_parts(message: object, extra: tuple[str, ...]) -> tuple[Mount | None, dict[str, object], list[Fault]]:
    try:
        return *read_question(message, extra), []
    except BadDocument as error:
        return None, {}, error.faults


def _checked(message: Any, mount: Mount | None, command: dict[str, object], faults: list[Fault], **more: Any) -> _Read:  # noqa: ANN401
    """All of a message, once every part is sound. Raises BadDocument with every fault, BadCommand."""
    key = message.get("key") if isinstance(message, dict) else None
    if not (key is None or (isinstance(key, str) and KEY.fullmatch(key))):
        faults.append(Fault("key", "is no key; give 1 to 64 letters, digits and _ . : -"))
    if faults or mount is None:
        raise BadDocument(faults)
    moves_of(mount, command)
    return _Read(mount, command, key=key, **more)


def _known(id: str) -> str:
    """An id that can be one. Raises NotInLibrary."""
    if not ID.fullmatch(id):
        raise NotInLibrary([Fault("", "is no id of a kept mount; GET /library lists them")])
    return id
