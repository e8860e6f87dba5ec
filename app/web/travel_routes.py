"""A mount over its travel: as JSON for anyone, as a block of numbers for the page that follows a drag.

The line ``/travel/live`` takes ``{"seq": n, "mount": {...}, "command": {...}, "cylinders": [...], "steps": n,
"layers": [...], "told": [...], "beyond": false}`` and answers the newest of them with a block (``app.strokes.answer``)
whose head has ``seq``, or with ``{"seq": n, "error": {...}}``. All of it is worked out in a process beside the server.
"""

from functools import partial
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field
from starlette.websockets import WebSocket, WebSocketDisconnect

from app.document.errors import BadCommand, Fault, SketcherError
from app.document.models import Mount, as_text
from app.document.reading import decode, read_mount
from app.incidents import Incidents
from app.strokes.answer import Travelled, block, travelled
from app.strokes.assemblies import Assemblies, assemblies
from app.strokes.over import STEPS, Travel, travel
from app.strokes.table import table
from app.web.answers import BODY, Json, as_json, body_of, refusals
from app.web.aside import Aside
from app.web.ask import Question, read_body, read_question, takes
from app.web.newest import Newest, attend, number_of

EXTRA = ("cylinders", "steps")


class TravelQuestion(Question):
    """What ``POST /travel`` takes."""

    cylinders: list[str] | None = Field(
        default=None, description="the one or two cylinders to be worked, by id; null: the first two"
    )
    steps: int = Field(default=STEPS, description="how many strokes of each, evenly from closed to fully out")


class TravelLiveQuestion(TravelQuestion):
    """What the line ``/travel/live`` takes."""

    seq: int = Field(description="its number: 1, 2, 3 ...")
    layers: list[str] | None = Field(default=None, description="the layers wanted, by name; null: all")
    told: list[str] | None = Field(
        default=None,
        description="of which others the drawn and the worst value are told, of those the mount has; null: of all",
    )
    beyond: bool = Field(default=False, description="whether dead centres beyond the strokes are looked for too")


ASKED: tuple[type[BaseModel], ...] = (TravelQuestion, TravelLiveQuestion)
"""The bodies these routes take."""


def routes(incidents: Incidents, aside: Aside) -> APIRouter:
    """The routes and the line."""
    router = APIRouter(responses=refusals(*BODY))

    @router.post(
        "/travel",
        summary="A mount over the strokes of one or two of its cylinders: numbers, the worst of each, dead centres",
        responses={200: {"model": Travelled}},
        openapi_extra={"requestBody": takes("TravelQuestion")},
    )
    async def ask_travel(request: Request) -> Response:
        asked = _asked(await read_body(request), EXTRA)
        return Json(await aside.ask(_answer, asked))

    @router.post(
        "/travel/table",
        summary="The same as a table for a spreadsheet, one row a pose",
        response_class=Response,
        responses={200: {"description": "CSV", "content": {"text/csv": {"schema": {"type": "string"}}}}},
        openapi_extra={"requestBody": takes("TravelQuestion")},
    )
    async def ask_table(request: Request) -> Response:
        asked = _asked(await read_body(request), EXTRA)
        return Response(await aside.ask(_table, asked), media_type="text/csv")

    @router.post(
        "/assemblies",
        summary="Other ways to put the same lengths together, and whether play could carry the mount across",
        responses={200: {"model": Assemblies}},
        openapi_extra={"requestBody": takes("Question")},
    )
    async def ask_assemblies(request: Request) -> Response:
        mount, strokes = read_question(await read_body(request))
        return Json(await aside.ask(_assemblies, as_text(mount), strokes))

    @router.websocket("/travel/live")
    async def follow(socket: WebSocket) -> None:
        await socket.accept()
        # Loading takes it a second or two: better while the page opens than when the first travel is asked for.
        aside.begin()
        await attend(socket, partial(_answer_newest, socket, aside, incidents))

    return router


Asked = tuple[str, dict[str, object], list[str] | None, int]
"""A question as it goes to the other process: the mount as text, the strokes, the cylinders, the steps."""


def _asked(message: Any, extra: tuple[str, ...]) -> Asked:  # noqa: ANN401 - decoded JSON
    """What is asked. Raises BadDocument and BadCommand."""
    mount, strokes, cylinders, steps = _read(message, extra)
    return as_text(mount), strokes, cylinders, steps


def _read(
    message: Any,  # noqa: ANN401 - decoded JSON
    extra: tuple[str, ...],
) -> tuple[Mount, dict[str, object], list[str] | None, int]:
    mount, strokes = read_question(message, extra)
    cylinders, steps = message.get("cylinders"), message.get("steps", STEPS)
    if cylinders is not None and not (isinstance(cylinders, list) and all(isinstance(each, str) for each in cylinders)):
        raise BadCommand([Fault("cylinders", "is no list of names; give the one or two cylinders to be worked")])
    return mount, strokes, cylinders, steps


def _travel(asked: Asked) -> Travel:
    mount, strokes, cylinders, steps = asked
    return travel(read_mount(decode(mount)), strokes, cylinders, steps)


def _assemblies(mount: str, strokes: dict[str, object]) -> Assemblies:
    return assemblies(read_mount(decode(mount)), strokes)


def _answer(asked: Asked) -> Travelled:
    return travelled(_travel(asked))


def _table(asked: Asked) -> str:
    over = _travel(asked)
    return table(over, over.mount.display or "metric")


def _block(text: str) -> bytes:
    """The block of a message of the line: it is read here, where it holds nobody up."""
    message = decode(text)
    seq = number_of(message)
    layers, told, beyond = message.get("layers"), message.get("told"), message.get("beyond", False)
    for place, names in (("layers", layers), ("told", told)):
        if names is not None and not (isinstance(names, list) and all(isinstance(each, str) for each in names)):
            raise BadCommand([Fault(place, "is no list of names; give the layers that are wanted, or null for all")])
    if not isinstance(beyond, bool):
        raise BadCommand([Fault("beyond", "is not true or false; say whether to look beyond the strokes")])
    mount, strokes, cylinders, steps = _read(message, (*EXTRA, "seq", "layers", "told", "beyond"))
    worked_out = None if layers is None or told is None else {*layers, *told}
    return block(travel(mount, strokes, cylinders, steps, worked_out), layers, {"seq": seq}, beyond)


async def _answer_newest(socket: WebSocket, aside: Aside, incidents: Incidents, newest: Newest) -> None:
    try:
        while True:
            answered = await _reply(await newest.take(), aside, incidents)
            await (socket.send_bytes(answered) if isinstance(answered, bytes) else socket.send_text(answered))
    except (WebSocketDisconnect, RuntimeError):
        return


async def _reply(text: str, aside: Aside, incidents: Incidents) -> bytes | str:
    """What the line says to a message, whatever becomes of it."""
    try:
        return await aside.ask(_block, text)
    except SketcherError as error:
        return as_json({"seq": _seq_of(text), **body_of(error)})
    except Exception as error:
        return as_json({"seq": _seq_of(text), **body_of(incidents.keep(error, "travel"))})


def _seq_of(text: str) -> int | None:
    """The number of a message; None where it has none."""
    try:
        return number_of(decode(text))
    except SketcherError:
        return None
