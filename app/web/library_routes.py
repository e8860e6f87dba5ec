"""The routes of the user's own mounts.

Every call to the store runs in a thread, so that a slow disk holds nobody up.
"""

import asyncio
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import asdict
from functools import partial

from fastapi import APIRouter, FastAPI, Query, Request, WebSocket
from fastapi.responses import Response

from app.document.errors import BadDocument, ChangedElsewhere, Fault, NotInLibrary
from app.incidents import Incidents
from app.library.store import Library
from app.web.answers import BODY, ErrorAnswer, Json, body_of, refusals
from app.web.ask import read_body, takes
from app.web.library_answers import (
    Added,
    ChangedAnswer,
    EarlierMount,
    KeptMount,
    LibraryEntry,
    Marked,
    Stepped,
    VersionEntry,
)
from app.web.library_messages import known, read_new, read_step
from app.web.watchers import Watchers

HOUR_S = 3600.0

_REVISION = re.compile(r"[0-9]{1,15}")


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
        new = read_new(await read_body(request))
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
        return Json(asdict(await asyncio.to_thread(library.kept, known(id))))

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
        made = read_step(await read_body(request))
        try:
            revision = await asyncio.to_thread(
                library.step, known(id), made.revision, made.mount, made.command, made.key
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
        return Json([asdict(version) for version in await asyncio.to_thread(library.versions, known(id))])

    @router.get(
        "/library/{id}/versions/{revision}",
        summary="One version of a mount",
        responses={200: {"model": EarlierMount}, **refusals(404, 409)},
    )
    async def version(id: str, revision: str) -> Response:
        if not _REVISION.fullmatch(revision):
            raise NotInLibrary([Fault("revision", "is no whole number; GET /library/{id}/versions lists them")])
        return Json(asdict(await asyncio.to_thread(library.version, known(id), int(revision))))

    @router.delete(
        "/library/{id}",
        summary="Put a mount among the deleted ones",
        responses={200: {"model": Marked}, **refusals(404)},
    )
    async def delete(id: str) -> Response:
        marked = await asyncio.to_thread(library.delete, known(id))
        watchers.tell(id)
        return Json(asdict(marked))

    @router.post(
        "/library/{id}/restore",
        summary="Bring a deleted mount back",
        responses={200: {"model": Marked}, **refusals(404)},
    )
    async def restore(id: str) -> Response:
        marked = await asyncio.to_thread(library.restore, known(id))
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
