"""The routes of the user's own comparisons. Every call to the folder runs in a thread."""

import asyncio
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.comparison.document import ComparisonDocument, as_comparison, read_comparison
from app.document.errors import BadDocument, Fault
from app.library.comparisons import Comparisons, KeptComparison
from app.web.answers import BODY, Json, refusals
from app.web.ask import read_body, takes

_ID = Field(description="id of the kept comparison, 32 hexadecimal digits")
_REVISION = Field(description="its newest revision: 1, 2, 3 ...")
_CHANGED = Field(description="when it was last changed, ISO 8601 in UTC")


class NewComparison(BaseModel):
    """What ``POST /comparisons`` takes."""

    comparison: ComparisonDocument = Field(description="the comparison")


class ComparisonStep(NewComparison):
    """What ``PUT /comparisons/{id}`` takes."""

    revision: int = Field(ge=1, description="the revision the change was made from")


class ComparisonKept(BaseModel):
    """A comparison that is kept."""

    id: str = _ID
    revision: int = _REVISION


class ComparisonEntry(BaseModel):
    """One comparison of the list."""

    id: str = _ID
    name: str = Field(description="its name")
    mounts: list[str] = Field(description="the titles of its two mounts")
    changed: str = _CHANGED


class ComparisonInFull(BaseModel):
    """One comparison in full."""

    id: str = _ID
    revision: int = _REVISION
    changed: str = _CHANGED
    comparison: ComparisonDocument = Field(description="the comparison")


class PutAway(BaseModel):
    """A comparison that was put away or brought back."""

    id: str = _ID


ASKED: tuple[type[BaseModel], ...] = (NewComparison, ComparisonStep)
"""The bodies these routes take."""


def routes(kept: Comparisons) -> APIRouter:
    """The routes over one folder."""
    router = APIRouter(responses=refusals(503))

    @router.get(
        "/comparisons",
        summary="The kept comparisons, newest change first",
        responses={200: {"model": list[ComparisonEntry]}},
    )
    async def listed() -> Response:
        return Json([_entry(each) for each in await asyncio.to_thread(kept.listed)])

    @router.post(
        "/comparisons",
        summary="Keep a new comparison",
        status_code=201,
        responses={201: {"model": ComparisonKept}, **refusals(*BODY)},
        openapi_extra={"requestBody": takes("NewComparison")},
    )
    async def add(request: Request) -> Response:
        found = await asyncio.to_thread(kept.add, _read(await read_body(request), ()))
        return Json({"id": found.id, "revision": found.revision}, status_code=201)

    @router.get(
        "/comparisons/{id}",
        summary="One kept comparison",
        responses={200: {"model": ComparisonInFull}, **refusals(404, 409)},
    )
    async def one(id: str) -> Response:
        found = await asyncio.to_thread(kept.kept, id)
        whole = {"id": found.id, "revision": found.revision, "changed": found.changed}
        return Json({**whole, "comparison": as_comparison(found.comparison)})

    @router.put(
        "/comparisons/{id}",
        summary="Keep a change of a comparison",
        responses={200: {"model": ComparisonKept}, **refusals(*BODY, 404, 409)},
        openapi_extra={"requestBody": takes("ComparisonStep")},
    )
    async def change(id: str, request: Request) -> Response:
        message = await read_body(request)
        comparison = _read(message, ("revision",))
        revision = message["revision"] if isinstance(message, dict) and "revision" in message else None
        if isinstance(revision, bool) or not isinstance(revision, int) or revision < 1:
            raise BadDocument([Fault("revision", "is no whole number from 1; give the revision it was made from")])
        found = await asyncio.to_thread(kept.change, id, revision, comparison)
        return Json({"id": found.id, "revision": found.revision})

    @router.delete(
        "/comparisons/{id}",
        summary="Take a comparison off the list; it can be brought back",
        responses={200: {"model": PutAway}, **refusals(404)},
    )
    async def put_away(id: str) -> Response:
        await asyncio.to_thread(kept.put_away, id)
        return Json({"id": id})

    @router.post(
        "/comparisons/{id}/restore",
        summary="Bring a comparison back that was taken off the list",
        responses={200: {"model": PutAway}, **refusals(404)},
    )
    async def restore(id: str) -> Response:
        await asyncio.to_thread(kept.bring_back, id)
        return Json({"id": id})

    return router


def _entry(each: KeptComparison) -> dict[str, object]:
    mounts = [each.comparison.a.mount.title, each.comparison.b.mount.title]
    return {"id": each.id, "name": each.comparison.name, "mounts": mounts, "changed": each.changed}


def _read(message: Any, extra: tuple[str, ...]) -> ComparisonDocument:  # noqa: ANN401 - decoded JSON
    if not isinstance(message, dict):
        raise BadDocument([Fault("", "the message is no JSON object; send {comparison}")])
    known = ("comparison", *extra)
    faults = [
        Fault(str(key)[:60], f"is no key of this message; known keys are {', '.join(known)}")
        for key in message
        if key not in known
    ]
    if faults:
        raise BadDocument(faults)
    return read_comparison(message.get("comparison"))
