"""The working of one cylinder and one end. Made in a thread."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from typing import Literal

from fastapi import APIRouter, FastAPI, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.analysis import Analysis
from app.document.models import Mount
from app.document.units import System
from app.web.answers import BODY, Json, refusals
from app.web.ask import read_body, read_question, takes
from app.working import working
from app.working.answer import Working
from app.working.laws import write_all
from app.working.short import ShortLine, short_working

_AFTER_OPENING_S = 2.0
"""The formulas are written a moment after the start, so that they do not keep the page from opening."""


class WorkingQuestion(BaseModel):
    """What ``POST /working`` takes."""

    mount: Mount = Field(description="a mount document")
    command: dict[str, float] = Field(default={}, description="how much longer than drawn each cylinder is, mm, by id")
    cylinder: str = Field(description="the cylinder to look at, by id")
    end: Literal["left", "right"] = Field(description="the end of the blade to look at")
    system: System = Field(default="metric", description="units of the numbers in formulas")


ASKED: tuple[type[BaseModel], ...] = (WorkingQuestion,)
"""The bodies these routes take."""


def routes() -> APIRouter:
    """The route that shows the working."""
    router = APIRouter(responses=refusals(*BODY), lifespan=_write_ahead)

    @router.post(
        "/working",
        summary="The formulas behind the readout for one cylinder and one end, with their numbers",
        responses={200: {"model": Working}},
        openapi_extra={"requestBody": takes("WorkingQuestion")},
    )
    async def ask_working(request: Request) -> Response:
        message = await read_body(request)
        mount, strokes = read_question(message, ("cylinder", "end", "system"))
        chosen = (message.get("cylinder"), message.get("end"), message.get("system", "metric"))
        return Json(await asyncio.to_thread(working, mount, strokes, *chosen))

    @router.post(
        "/working/short",
        summary="The working in short: a few plain sentences for a page to leave behind",
        responses={200: {"model": list[ShortLine]}},
        openapi_extra={"requestBody": takes("Question")},
    )
    async def ask_short(request: Request) -> Response:
        mount, strokes = read_question(await read_body(request))
        return Json(await asyncio.to_thread(lambda: short_working(Analysis(mount, strokes))))

    return router


@asynccontextmanager
async def _write_ahead(_: FastAPI) -> AsyncIterator[None]:
    async def write() -> None:
        await asyncio.sleep(_AFTER_OPENING_S)
        await asyncio.to_thread(write_all)

    ahead = asyncio.create_task(write())
    yield
    ahead.cancel()
    with suppress(asyncio.CancelledError):
        await ahead
