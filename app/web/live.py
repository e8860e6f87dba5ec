"""The live socket: questions come in as the hand moves, and the newest is the one that gets an answer.

A message is ``{"seq": n, "mount": {...}, "command": {...}}``; the answer is ``{"seq": n, "readout": {...}}`` or
``{"seq": n, "error": {...}}``. With ``"ends": {"left": mm, "right": mm}`` the cylinders are worked, from where the
command brings them, until the ends stand that far above where they were drawn; the answer then says in ``"reach"``
which ends were served and whether they are there. A question that a newer one overtakes before its turn gets no answer.
"""

import asyncio
from functools import partial

from pydantic import BaseModel, Field
from starlette.websockets import WebSocket, WebSocketDisconnect

from app.analysis import Analysis
from app.document.errors import BadDocument, Fault, SketcherError
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reading import decode
from app.incidents import Incidents
from app.results.answer import Heights
from app.results.reach import Reach, reach
from app.results.readout import Readout, readout_of
from app.solve.pose import MOST_STROKE_MM
from app.web.answers import ErrorAnswer, as_json, body_of
from app.web.ask import Answerer, Question, answer, read_question
from app.web.newest import Newest, attend, number_of


class LiveQuestion(Question):
    """What the socket takes."""

    seq: int = Field(description="its number: 1, 2, 3 ...")
    ends: Heights | None = Field(
        default=None,
        description="how far the ends are to stand above where drawn, mm; null: the cylinders as they are worked",
    )


class LiveAnswer(BaseModel):
    """What the socket answers."""

    seq: int = Field(description="number of the question")
    readout: Readout = Field(description="the readout of the mount")
    reach: Reach | None = Field(default=None, description="what became of the heights asked of the ends")


class LiveRefusal(ErrorAnswer):
    """What the socket answers to a question that is refused."""

    seq: int | None = Field(description="number of the question; null where it had none")


ASKED: tuple[type[BaseModel], ...] = (LiveQuestion,)
TOLD: tuple[type[BaseModel], ...] = (LiveAnswer, LiveRefusal)
"""The messages of the socket, either way."""


async def converse(socket: WebSocket, answerer: Answerer, incidents: Incidents) -> None:
    """Talk with one page until it leaves."""
    await socket.accept()
    await attend(socket, partial(_answer_newest, socket, answerer, incidents))


async def _answer_newest(socket: WebSocket, answerer: Answerer, incidents: Incidents, newest: Newest) -> None:
    try:
        while True:
            await socket.send_text(await _reply(await newest.take(), answerer, incidents))
            await asyncio.sleep(0)
    except (WebSocketDisconnect, RuntimeError):
        return


async def _reply(text: str, answerer: Answerer, incidents: Incidents) -> str:
    """What the socket says to a message, whatever becomes of it: mute, it would leave the page waiting for good."""
    seq: int | None = None
    try:
        message = decode(text)
        seq = number_of(message)
        mount, strokes = read_question(message, ("seq", "ends"))
        if (ends := message.get("ends")) is None:
            return as_json({"seq": seq, "readout": await answer(mount, strokes, answerer)})
        found, reached = await answer(mount, strokes, partial(_at_ends, _heights(ends)))
        return as_json({"seq": seq, "readout": found, "reach": reached})
    except SketcherError as error:
        return as_json({"seq": seq, **body_of(error)})
    except Exception as error:
        return as_json({"seq": seq, **body_of(incidents.keep(error, "live"))})


def _heights(ends: object) -> dict[EndName, float]:
    """What is asked of the ends, mm. Raises BadDocument."""
    most, named = MOST_STROKE_MM, ends if isinstance(ends, dict) else {}
    good = {
        end: float(height)
        for end in ENDS
        if isinstance(height := named.get(end), int | float) and not isinstance(height, bool) and abs(height) < most
    }
    if len(good) < len(ENDS) or len(named) > len(ENDS):
        text = 'is not {"left": mm, "right": mm}; give how far each end is to stand above where it was drawn'
        raise BadDocument([Fault("ends", text)])
    return good


def _at_ends(asked: dict[EndName, float], mount: Mount, strokes: dict[str, object]) -> tuple[Readout, Reach | None]:
    """The readout with the ends brought where they are asked to be, as far as the mount goes."""
    drawn = Analysis(mount, strokes)
    if not drawn.located:
        return readout_of(drawn), None
    analysis, reached = reach(mount, strokes, asked)
    return readout_of(analysis), reached
