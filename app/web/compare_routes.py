"""Two mounts compared. Worked out in a thread: the true worst of both is searched."""

import asyncio
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.comparison.compare import USUAL_RISE_MM, Comparison, compare
from app.document.errors import BadDocument, Fault
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.solve.pose import MOST_STROKE_MM
from app.web.answers import BODY, Json, refusals
from app.web.ask import Question, have_equations, read_body, read_question, takes

_KEYS = ("a", "b", "end", "rise")

Worked = tuple[Mount, dict[str, object]]
"""A mount and its strokes."""


class CompareQuestion(BaseModel):
    """What ``POST /compare`` takes."""

    a: Question = Field(description="the first mount and where its cylinders are")
    b: Question = Field(description="the second")
    end: EndName = Field(default="right", description="the end that both are asked to correct")
    rise: float = Field(default=USUAL_RISE_MM, description="how far up, mm")


ASKED: tuple[type[BaseModel], ...] = (CompareQuestion,)
"""The bodies these routes take."""


def routes() -> APIRouter:
    """The route."""
    router = APIRouter(responses=refusals(*BODY))

    @router.post(
        "/compare",
        summary="Two mounts compared: each by itself, cause by cause, and in what each is the better",
        responses={200: {"model": Comparison}},
        openapi_extra={"requestBody": takes("CompareQuestion")},
    )
    async def ask_compare(request: Request) -> Response:
        (a, strokes_a), (b, strokes_b), end, rise = _asked(await read_body(request))
        for mount in (a, b):
            await have_equations(mount)
        return Json(await asyncio.to_thread(compare, a, b, strokes_a, strokes_b, end, rise))

    return router


def _asked(message: Any) -> tuple[Worked, Worked, EndName, float]:  # noqa: ANN401 - any JSON value
    """What is asked. Raises BadDocument, its places those of the message."""
    if not isinstance(message, dict):
        raise BadDocument([Fault("", "the message is no JSON object; send {a, b, end, rise}")])
    known = ", ".join(_KEYS)
    faults = [
        Fault(str(key)[:60], f"is no key of a question; known keys are {known}") for key in message if key not in _KEYS
    ]
    found: list[Worked] = []
    for name in ("a", "b"):
        try:
            worked = read_question(message.get(name))
        except BadDocument as error:
            faults += [Fault(_within(name, each.place), each.text, each.values, each.code) for each in error.faults]
        else:
            found.append(worked)
    end, rise = message.get("end", "right"), message.get("rise", USUAL_RISE_MM)
    if end not in ENDS:
        faults.append(Fault("end", "is neither left nor right; name the end to be corrected"))
    if isinstance(rise, bool) or not isinstance(rise, int | float) or not abs(rise) <= MOST_STROKE_MM:
        faults.append(Fault("rise", f"is no number of mm within ±{MOST_STROKE_MM:g}; give how far up the end is to go"))
    if faults:
        raise BadDocument(faults)
    a, b = found
    return a, b, end, float(rise)


def _within(name: str, place: str) -> str:
    return f"{name}.{place}" if place else name
