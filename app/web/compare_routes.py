"""Two mounts compared: where they stand, over their travel, and over the same run.

Where they stand is worked out in a thread, since the true worst of both is searched; travel and run in processes beside
the server, so that nobody waits for them.
"""

import asyncio
from collections.abc import Mapping, Sequence
from typing import Any, Literal

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.comparison.compare import USUAL_RISE_MM, Comparison, compare
from app.comparison.over import ComparisonOver, compare_over
from app.comparison.runs import RunsCompared, compare_runs
from app.comparison.side import Side, Wanted
from app.comparison.verdict import Verdict, verdict
from app.document.errors import BadDocument, Fault
from app.document.models import Mount, as_text
from app.document.parts import ENDS, EndName
from app.document.reading import decode, read_mount
from app.grading.reading import read_settings
from app.grading.settings import RunSettings
from app.solve.pose import MOST_STROKE_MM
from app.web.answers import BODY, Json, refusals
from app.web.aside import Aside
from app.web.ask import Question, have_equations, read_body, read_question, takes

_SIDES = ("a", "b")

Worked = tuple[Mount, dict[str, object]]
"""A mount and its strokes."""


class CompareQuestion(BaseModel):
    """What ``POST /compare`` takes."""

    a: Question = Field(description="the first mount and where its cylinders are")
    b: Question = Field(description="the second")
    end: EndName = Field(default="right", description="the end that both are asked to correct")
    rise: float = Field(default=USUAL_RISE_MM, description="how far up, mm")


class CompareTravelQuestion(BaseModel):
    """What ``POST /compare/travel`` takes."""

    a: Question = Field(description="the first mount and where its cylinders are")
    b: Question = Field(description="the second")


class RunMount(BaseModel):
    """A mount that is driven: it begins as drawn."""

    mount: Mount = Field(description="a mount document")


class CompareRunQuestion(BaseModel):
    """What ``POST /compare/run`` takes."""

    a: RunMount = Field(description="the first mount")
    b: RunMount = Field(description="the second")
    run: RunSettings = Field(default=RunSettings(), description="the run of both; all defaults where nothing is given")
    works: dict[Literal["a", "b"], list[str] | None] = Field(
        default={}, description="the one or two cylinders that work in either, by id; of the first two where left out"
    )
    best: bool = Field(default=False, description="whether each is driven at its own best settings too: takes longer")


ASKED: tuple[type[BaseModel], ...] = (CompareQuestion, CompareTravelQuestion, CompareRunQuestion)
"""The bodies these routes take."""


def routes(aside: Aside, further: Aside) -> APIRouter:
    """The routes; runs are made ``further`` away, so that no travel that follows a hand waits for them."""
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

    @router.post(
        "/verdict",
        summary="One mount by itself: pass or fail with every reason, and what each kind of source adds",
        responses={200: {"model": Verdict}},
        openapi_extra={"requestBody": takes("Question")},
    )
    async def ask_verdict(request: Request) -> Response:
        mount, strokes = read_question(await read_body(request))
        await have_equations(mount)
        side = Side(mount, strokes, Wanted("right", USUAL_RISE_MM))
        return Json(await asyncio.to_thread(verdict, side))

    @router.post(
        "/compare/travel",
        summary="The same over the travel of each: against its tolerance first, then the worst of each number",
        responses={200: {"model": ComparisonOver}},
        openapi_extra={"requestBody": takes("CompareTravelQuestion")},
    )
    async def ask_travel(request: Request) -> Response:
        message = _object(await read_body(request), _SIDES)
        (a, strokes_a), (b, strokes_b) = _both(message, _unknown(message, _SIDES))
        return Json(await aside.ask(_over, as_text(a), as_text(b), strokes_a, strokes_b))

    @router.post(
        "/compare/run",
        summary="Both over the same ground with the same settings, and in what either is the better",
        responses={200: {"model": RunsCompared}},
        openapi_extra={"requestBody": takes("CompareRunQuestion")},
    )
    async def ask_run(request: Request) -> Response:
        known = (*_SIDES, "run", "works", "best")
        message = _object(await read_body(request), known)
        faults = _unknown(message, known)
        for name in _SIDES:
            if isinstance(message.get(name), dict) and "command" in message[name]:
                text = "is no key of this question: a run begins with the mount as drawn"
                faults.append(Fault(f"{name}.command", text))
        works = message.get("works") or {}
        if not _is_works(works):
            text = "is not {a: [ids], b: [ids]}; give the one or two cylinders that work in either, or leave it out"
            faults.append(Fault("works", text))
        best = message.get("best", False)
        if not isinstance(best, bool):
            faults.append(Fault("best", "is neither true nor false; say whether each is driven at its own best too"))
        (a, _), (b, _) = _both(message, faults)
        settings = read_settings(message.get("run", {}))
        told = settings.model_dump_json(by_alias=True)
        return Json(await further.ask(_runs, as_text(a), as_text(b), told, works, bool(best)))

    return router


def _over(a: str, b: str, strokes_a: dict[str, object], strokes_b: dict[str, object]) -> ComparisonOver:
    one, two = (read_mount(decode(each)) for each in (a, b))
    return compare_over(one, two, strokes_a, strokes_b)


def _runs(a: str, b: str, settings: str, works: dict[str, list[str] | None], best: bool) -> RunsCompared:
    one, two = (read_mount(decode(each)) for each in (a, b))
    return compare_runs(one, two, read_settings(decode(settings)), works, best=best)


def _is_works(given: object) -> bool:
    """Whether it says which cylinders work in either mount."""
    return isinstance(given, dict) and all(
        name in _SIDES
        and (each is None or (isinstance(each, list) and len(each) in (1, 2) and all(isinstance(i, str) for i in each)))
        for name, each in given.items()
    )


def _object(message: Any, known: Sequence[str]) -> dict[str, Any]:  # noqa: ANN401 - any JSON value
    if not isinstance(message, dict):
        raise BadDocument([Fault("", f"the message is no JSON object; send {{{', '.join(known)}}}")])
    return message


def _unknown(message: Mapping[str, object], known: Sequence[str]) -> list[Fault]:
    listed = ", ".join(known)
    return [
        Fault(str(key)[:60], f"is no key of a question; known keys are {listed}") for key in message if key not in known
    ]


def _both(message: Mapping[str, object], faults: list[Fault]) -> tuple[Worked, Worked]:
    """Both mounts with their strokes. Raises BadDocument with these faults and all others."""
    found: list[Worked] = []
    for name in _SIDES:
        try:
            found.append(read_question(message.get(name)))
        except BadDocument as error:
            faults += [Fault(_within(name, each.place), each.text, each.values, each.code) for each in error.faults]
    if faults:
        raise BadDocument(faults)
    a, b = found
    return a, b


def _asked(given: Any) -> tuple[Worked, Worked, EndName, float]:  # noqa: ANN401 - any JSON value
    """What is asked of both where they stand. Raises BadDocument, its places those of the message."""
    known = (*_SIDES, "end", "rise")
    message = _object(given, known)
    faults = _unknown(message, known)
    end, rise = message.get("end", "right"), message.get("rise", USUAL_RISE_MM)
    if end not in ENDS:
        faults.append(Fault("end", "is neither left nor right; name the end to be corrected"))
    if isinstance(rise, bool) or not isinstance(rise, int | float) or not abs(rise) <= MOST_STROKE_MM:
        faults.append(Fault("rise", f"is no number of mm within ±{MOST_STROKE_MM:g}; give how far up the end is to go"))
    a, b = _both(message, faults)
    return a, b, end, float(rise)


def _within(name: str, place: str) -> str:
    return f"{name}.{place}" if place else name
