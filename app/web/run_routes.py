"""The grading run: as JSON for anyone, as a table, and piece by piece for the page that draws it meanwhile.

The line ``/run/live`` takes ``{"seq": n, "mount": {...}, "run": {...}}`` and answers the newest of them with pieces
(``Live``), the last with what the run comes to, or with ``{"seq": n, "error": {...}}``; a newer question ends the one
before. Its runs are made in a thread, one piece after the other, so that the first is there at once and nobody waits on
a long one; whole runs are made in a process beside the server.
"""

import asyncio
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field
from starlette.websockets import WebSocket, WebSocketDisconnect

from app.document.errors import BadDocument, Fault, SketcherError
from app.document.models import Mount, as_text
from app.document.reading import decode, read_mount
from app.grading.answer import Live, Ran, Summed, live, ran, summed
from app.grading.best import Best, best
from app.grading.costs import Cost, costs, seeds_of
from app.grading.grade import Making, run
from app.grading.reading import read_settings
from app.grading.ready import READY, ReadyRun
from app.grading.settings import RunSettings
from app.grading.table import table
from app.incidents import Incidents
from app.web.answers import BODY, Json, as_json, body_of, refusals
from app.web.aside import Aside
from app.web.ask import have_equations, read_body, read_question, takes
from app.web.newest import Newest, attend, number_of


class RunQuestion(BaseModel):
    """What ``POST /run`` takes."""

    mount: Mount = Field(description="a mount document")
    run: RunSettings = Field(default=RunSettings(), description="the run; all defaults where nothing is given")


class RunLiveQuestion(RunQuestion):
    """What the line ``/run/live`` takes."""

    seq: int = Field(description="its number: 1, 2, 3 ...")


class RunTold(BaseModel):
    """What the line ``/run/live`` says."""

    seq: int = Field(description="the number of the question")
    live: Live = Field(description="a piece of the run")


ASKED: tuple[type[BaseModel], ...] = (RunQuestion, RunLiveQuestion)
"""The bodies these routes take."""

TOLD: tuple[type[BaseModel], ...] = (RunTold,)
"""What the line says."""

_MAKING = ThreadPoolExecutor(1, "runs")
"""One thread for the pieces of all runs that are followed."""

Asked = tuple[str, str]
"""A question as it goes to the other process: the mount and the settings as text."""


def routes(incidents: Incidents, aside: Aside, further: Aside) -> APIRouter:
    """The routes and the line; what takes many runs is worked out ``further`` away, so that no run waits for it."""
    router = APIRouter(responses=refusals(*BODY))

    @router.post(
        "/run",
        summary="Drive a mount over ground with its receivers and valves at work",
        responses={200: {"model": Ran}},
        openapi_extra={"requestBody": takes("RunQuestion")},
    )
    async def ask_run(request: Request) -> Response:
        asked = _asked(await read_body(request))
        mount, settings = _read(*asked)
        return Json(await (aside.ask(_answer, *asked) if settings.seeds > 1 else _made_here(mount, settings)))

    @router.post(
        "/run/table",
        summary="The same as a table for a spreadsheet, one row a point of time",
        response_class=Response,
        responses={200: {"description": "CSV", "content": {"text/csv": {"schema": {"type": "string"}}}}},
        openapi_extra={"requestBody": takes("RunQuestion")},
    )
    async def ask_table(request: Request) -> Response:
        return Response(await aside.ask(_table, *_asked(await read_body(request))), media_type="text/csv")

    @router.post(
        "/run/summary",
        summary="What a run comes to in numbers alone, for a table of many mounts; the worst of many seeds",
        responses={200: {"model": Summed}},
        openapi_extra={"requestBody": takes("RunQuestion")},
    )
    async def ask_summary(request: Request) -> Response:
        return Json(await further.ask(_summed, *_asked(await read_body(request))))

    @router.get("/run/ready", summary="Runs that are ready to make", responses={200: {"model": list[ReadyRun]}})
    async def ready() -> Response:
        return Json(
            [{"name": each.name, "title": each.title, "run": each.run.model_dump(by_alias=True)} for each in READY]
        )

    @router.post(
        "/run/costs",
        summary="What costs a run most: each halved in turn, and the channels decoupled",
        responses={200: {"model": list[Cost]}},
        openapi_extra={"requestBody": takes("RunQuestion")},
    )
    async def ask_costs(request: Request) -> Response:
        asked = _asked(await read_body(request))
        mount, settings = _read(*asked)
        if seeds_of(settings) > 1:
            return Json(await further.ask(_costs, *asked))
        await have_equations(mount)
        return Json(await asyncio.get_running_loop().run_in_executor(_MAKING, costs, mount, settings))

    @router.post(
        "/run/best",
        summary="The quickest settings of every way of controlling a mount, from eight starts on level ground",
        responses={200: {"model": list[Best]}},
        openapi_extra={"requestBody": takes("RunQuestion")},
    )
    async def ask_best(request: Request) -> Response:
        return Json(await further.ask(_best, *_asked(await read_body(request))))

    @router.websocket("/run/live")
    async def follow(socket: WebSocket) -> None:
        await socket.accept()
        await attend(socket, partial(_answer_newest, socket, incidents))

    return router


def _asked(message: Any, extra: tuple[str, ...] = ()) -> Asked:  # noqa: ANN401 - decoded JSON
    """What is asked. Raises BadDocument and BadSettings."""
    mount, _ = read_question(message, ("run", *extra))
    if "command" in message:
        raise BadDocument([Fault("command", "is no key of this question: a run begins with the mount as drawn")])
    settings = read_settings(message.get("run", {}))
    return as_text(mount), settings.model_dump_json(by_alias=True)


def _read(mount: str, settings: str) -> tuple[Mount, RunSettings]:
    return read_mount(decode(mount)), read_settings(decode(settings))


async def _made_here(mount: Mount, settings: RunSettings) -> Ran:
    """One run, a piece at a time between those of others."""
    await have_equations(mount)
    loop = asyncio.get_running_loop()
    making = await loop.run_in_executor(_MAKING, Making, mount, settings)
    pieces = making.go()
    while await loop.run_in_executor(_MAKING, next, pieces, None) is not None:
        pass
    return await loop.run_in_executor(_MAKING, lambda: ran(making.made()))


def _answer(*asked: str) -> Ran:
    return ran(run(*_read(*asked)))


def _summed(*asked: str) -> Summed:
    return summed(*_read(*asked))


def _table(*asked: str) -> str:
    mount, settings = _read(*asked)
    return table(run(mount, settings), mount.display or "metric")


def _costs(*asked: str) -> list[Cost]:
    return costs(*_read(*asked))


def _best(*asked: str) -> list[Best]:
    return best(*_read(*asked))


async def _answer_newest(socket: WebSocket, incidents: Incidents, newest: Newest) -> None:
    try:
        waiting: asyncio.Task[str] = asyncio.create_task(newest.take())
        while True:
            text = await waiting
            waiting = asyncio.create_task(newest.take())
            await _follow(socket, text, waiting, incidents)
    except (WebSocketDisconnect, RuntimeError):
        return


async def _follow(socket: WebSocket, text: str, newer: "asyncio.Task[str]", incidents: Incidents) -> None:
    """Send the pieces of a run until it ends, or until something newer is asked."""
    seq: int | None = None
    try:
        message = decode(text)
        seq = number_of(message)
        mount, settings = _read(*_asked(message, ("seq",)))
        await have_equations(mount)
        pieces = live(mount, settings)
        while not newer.done():
            piece = await asyncio.get_running_loop().run_in_executor(_MAKING, next, pieces, None)
            if piece is None:
                return
            await socket.send_text(as_json({"seq": seq, "live": piece}))
    except SketcherError as error:
        await socket.send_text(as_json({"seq": seq, **body_of(error)}))
    except WebSocketDisconnect:
        raise
    except Exception as error:
        await socket.send_text(as_json({"seq": seq, **body_of(incidents.keep(error, "run"))}))
