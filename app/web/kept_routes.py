"""The routes of documents that are kept in a folder of the library. Every call to it runs in a thread."""

import asyncio
from collections.abc import Callable
from dataclasses import dataclass
from types import GenericAlias
from typing import Any, Generic

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.document.errors import BadDocument, Fault
from app.library.folder import Document, Folder, Kept
from app.web.answers import BODY, Json, refusals
from app.web.ask import read_body, takes

ID = Field(description="its id, 32 hexadecimal digits")
REVISION = Field(description="its newest revision: 1, 2, 3 ...")
CHANGED = Field(description="when it was last changed, ISO 8601 in UTC")


class KeptAt(BaseModel):
    """What is kept, and at which revision."""

    id: str = ID
    revision: int = REVISION


class PutAway(BaseModel):
    """What was put away or brought back."""

    id: str = ID


@dataclass(frozen=True)
class Spoken(Generic[Document]):
    """What is sent and answered for a kind: the bodies by name, an entry of its list, and one in full."""

    new: type[BaseModel]
    step: type[BaseModel]
    entry: type[BaseModel]
    in_full: type[BaseModel]
    entry_of: Callable[[Kept[Document]], dict[str, object]]


def routes(kept: Folder[Document], spoken: Spoken[Document]) -> APIRouter:
    """The routes over one folder."""
    kind = kept.kind
    router = APIRouter(responses=refusals(503), prefix=f"/{kind.several}")

    def read(message: Any, extra: tuple[str, ...]) -> Document:  # noqa: ANN401 - decoded JSON
        if not isinstance(message, dict):
            raise BadDocument([Fault("", f"the message is no JSON object; send {{{kind.one}}}")])
        known = (kind.one, *extra)
        faults = [
            Fault(str(key)[:60], f"is no key of this message; known keys are {', '.join(known)}")
            for key in message
            if key not in known
        ]
        if faults:
            raise BadDocument(faults)
        return kind.read(message.get(kind.one))

    @router.get(
        "",
        summary=f"The kept {kind.several}, newest change first",
        responses={200: {"model": GenericAlias(list, (spoken.entry,))}},
    )
    async def listed() -> Response:
        return Json([spoken.entry_of(each) for each in await asyncio.to_thread(kept.listed)])

    @router.post(
        "",
        summary=f"Keep a new {kind.one}",
        status_code=201,
        responses={201: {"model": KeptAt}, **refusals(*BODY)},
        openapi_extra={"requestBody": takes(spoken.new.__name__)},
    )
    async def add(request: Request) -> Response:
        found = await asyncio.to_thread(kept.add, read(await read_body(request), ()))
        return Json({"id": found.id, "revision": found.revision}, status_code=201)

    @router.get(
        "/{id}",
        summary=f"One kept {kind.one}",
        responses={200: {"model": spoken.in_full}, **refusals(404, 409)},
    )
    async def one(id: str) -> Response:
        found = await asyncio.to_thread(kept.kept, id)
        whole = {"id": found.id, "revision": found.revision, "changed": found.changed}
        return Json({**whole, kind.one: kind.plain(found.document)})

    @router.put(
        "/{id}",
        summary=f"Keep a change of a {kind.one}",
        responses={200: {"model": KeptAt}, **refusals(*BODY, 404, 409)},
        openapi_extra={"requestBody": takes(spoken.step.__name__)},
    )
    async def change(id: str, request: Request) -> Response:
        message = await read_body(request)
        document = read(message, ("revision",))
        revision = message["revision"] if isinstance(message, dict) and "revision" in message else None
        if isinstance(revision, bool) or not isinstance(revision, int) or revision < 1:
            raise BadDocument([Fault("revision", "is no whole number from 1; give the revision it was made from")])
        found = await asyncio.to_thread(kept.change, id, revision, document)
        return Json({"id": found.id, "revision": found.revision})

    @router.delete(
        "/{id}",
        summary=f"Take a {kind.one} off the list; it can be brought back",
        responses={200: {"model": PutAway}, **refusals(404)},
    )
    async def put_away(id: str) -> Response:
        await asyncio.to_thread(kept.put_away, id)
        return Json({"id": id})

    @router.post(
        "/{id}/restore",
        summary=f"Bring a {kind.one} back that was taken off the list",
        responses={200: {"model": PutAway}, **refusals(404)},
    )
    async def restore(id: str) -> Response:
        await asyncio.to_thread(kept.bring_back, id)
        return Json({"id": id})

    return router
