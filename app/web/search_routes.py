"""The way to a better geometry: goals, suggestions, and searches that go on beside the server."""

import asyncio
import re
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from fastapi import APIRouter, FastAPI, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.analysis import Analysis
from app.document.errors import BadCommand, Fault, NotLocated
from app.document.models import Mount, as_text
from app.document.reading import decode, read_mount
from app.document.reasons import NOT_LOCATED
from app.document.units import SYSTEMS, System
from app.incidents import Incidents
from app.search.boxes import read_free
from app.search.goals import Goal, GoalRead, Over, What, judged, read_goals
from app.search.search import FEWEST, MOST, USUAL
from app.search.suggest import Suggested, suggest
from app.solve.pose import moves_of
from app.web.answers import BODY, Json, refusals
from app.web.aside import Aside
from app.web.ask import Question, read_body, read_question, takes
from app.web.searches import Searches, SearchStanding


class GoalAsked(BaseModel):
    """A goal."""

    what: What = Field(description="what it is about")
    most: float = Field(description="at most so much, mm, MPa or a plain number")
    over: Over = Field(default="pose", description="as its cylinders are worked, or over the whole travel")


class GoalsQuestion(Question):
    """What ``POST /goals`` takes."""

    goals: list[GoalAsked] = Field(description="the goals")


class SuggestionsQuestion(GoalsQuestion):
    """What ``POST /suggestions`` takes."""

    system: System = Field(default="metric", description="units of the round steps that are tried")
    locked: list[str] = Field(default=[], description="joints and members that stay as they are, by name")


class FreeAsked(BaseModel):
    """What is free: a joint within a box, or a value that is one of several."""

    joint: str | None = Field(default=None, description="a joint, by name")
    x: tuple[float, float] | None = Field(default=None, description="from and to, mm as drawn")
    y: tuple[float, float] | None = Field(default=None, description="from and to, mm as drawn")
    others: list[str] = Field(default=[], alias="with", description="joints that take the same steps")
    alike: bool | str = Field(
        default=False, description="whether the mirrored joints take the mirrored steps; of a place: the one alike"
    )
    place: str | None = Field(default=None, description="a place of the document, such as left cylinder.bore")
    choices: list[float] | None = Field(default=None, description="the values it may take")


class SearchQuestion(GoalsQuestion):
    """What ``POST /search`` takes."""

    free: list[FreeAsked] = Field(description="what is free; all else is locked")
    budget: int = Field(default=USUAL, description=f"geometries to be tried at the most, {FEWEST} to {MOST}")
    seed: int = Field(default=1, description="the same seed gives the same front")
    id: str | None = Field(
        default=None,
        description="a name of its own, 12 to 64 of A to Z, a to z, 0 to 9, _ and -; asked again it is not begun again",
    )


_NAME = re.compile(r"[A-Za-z0-9_-]{12,64}")

ASKED: tuple[type[BaseModel], ...] = (GoalsQuestion, SuggestionsQuestion, SearchQuestion)
"""The bodies these routes take."""


def routes(incidents: Incidents, aside: Aside, trying: Aside) -> APIRouter:
    """The routes. Suggestions take a second or two and wait for one another where they are being tried."""
    searches = Searches(incidents)

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        await asyncio.to_thread(searches.close)

    router = APIRouter(responses=refusals(*BODY), lifespan=lifespan)

    @router.post(
        "/goals",
        summary="How a mount stands to goals",
        responses={200: {"model": list[GoalRead]}},
        openapi_extra={"requestBody": takes("GoalsQuestion")},
    )
    async def ask_goals(request: Request) -> Response:
        message = await read_body(request)
        mount, strokes = read_question(message, ("goals",))
        return Json(await aside.ask(_judged, as_text(mount), strokes, read_goals(message.get("goals"))))

    @router.post(
        "/suggestions",
        summary="What to change for the goal that fails worst, each change made and measured again",
        responses={200: {"model": Suggested}},
        openapi_extra={"requestBody": takes("SuggestionsQuestion")},
    )
    async def ask_suggestions(request: Request) -> Response:
        message = await read_body(request)
        mount, strokes = read_question(message, ("goals", "system", "locked"))
        system, locked = message.get("system", "metric"), message.get("locked", [])
        if system not in SYSTEMS:
            raise BadCommand([Fault("system", "is neither 'metric' nor 'inch'; give one of them")])
        if not isinstance(locked, list) or not all(isinstance(each, str) for each in locked):
            raise BadCommand([Fault("locked", "is no list of names; give the joints and members that stay")])
        goals = read_goals(message.get("goals"))
        return Json(await trying.ask(_suggested, as_text(mount), strokes, goals, system, locked))

    @router.post(
        "/search",
        summary="Start a search for better geometries within boxes",
        responses={200: {"model": SearchStanding}, **refusals(*BODY, 503)},
        openapi_extra={"requestBody": takes("SearchQuestion")},
    )
    async def start(request: Request) -> Response:
        message = await read_body(request)
        mount, strokes = read_question(message, ("goals", "free", "budget", "seed", "id"))
        name = _name(message.get("id"))
        budget, seed = _whole(message, "budget", USUAL, FEWEST, MOST), _whole(message, "seed", 1, 0, 2**31)
        _located(mount, strokes)
        read_goals(message.get("goals"))
        read_free(mount, message.get("free"))
        moves = dict(zip([each.id for each in mount.cylinders], moves_of(mount, strokes), strict=True))
        asked = (as_text(mount), moves, message["goals"], message["free"], budget, seed)
        return Json(await asyncio.to_thread(searches.start, asked, name))

    @router.get(
        "/search/{name}", summary="How a search stands", responses={200: {"model": SearchStanding}, **refusals(404)}
    )
    async def standing(name: str) -> Response:
        return Json(searches.standing(name))

    @router.delete(
        "/search/{name}",
        summary="End a search with what it has so far",
        responses={200: {"model": SearchStanding}, **refusals(404)},
    )
    async def cancel(name: str) -> Response:
        return Json(await asyncio.to_thread(searches.cancel, name))

    return router


def _whole(message: Any, key: str, usual: int, least: int, most: int) -> int:  # noqa: ANN401 - decoded JSON
    value = message.get(key, usual)
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
        raise BadCommand([Fault(key, f"is no whole number from {least} to {most}")])
    return value


def _name(given: object) -> str | None:
    if given is not None and not (isinstance(given, str) and _NAME.fullmatch(given)):
        raise BadCommand(
            [Fault("id", "is no name of 12 to 64 of A to Z, a to z, 0 to 9, _ and -; leave it out for one")]
        )
    return given


def _located(mount: Mount, strokes: dict[str, object]) -> None:
    analysis = Analysis(mount, strokes)
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state]
        raise NotLocated([Fault("mount", reason.text, reason.values, reason.code)])


def _judged(mount: str, strokes: dict[str, float], goals: list[Goal]) -> list[GoalRead]:
    read = read_mount(decode(mount))
    _located(read, dict(strokes))
    return judged(read, strokes, goals)


def _suggested(
    mount: str, strokes: dict[str, float], goals: list[Goal], system: System, locked: list[str]
) -> Suggested:
    read = read_mount(decode(mount))
    _located(read, dict(strokes))
    return suggest(read, strokes, goals, system, locked)
