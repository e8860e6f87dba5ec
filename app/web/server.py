"""The application: the page, its files, the shipped mounts, the readout, the live socket, keeping and exchange."""

import asyncio
import math
import re
from collections.abc import AsyncIterator, Awaitable, Callable, Iterable
from contextlib import asynccontextmanager
from dataclasses import asdict
from typing import Any

from fastapi import FastAPI, Request, WebSocket
from fastapi.openapi.utils import get_openapi
from fastapi.responses import Response
from fastapi.templating import Jinja2Templates
from pydantic import BaseModel
from pydantic.json_schema import JsonSchemaMode
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware

from app import __version__
from app.document.errors import SketcherError
from app.document.models import Mount, as_document
from app.document.units import CUSTOMS, Trade
from app.export import EXPORTS
from app.export.papers import FITS, PAPERS, USUAL
from app.incidents import Incidents
from app.library.comparisons import comparisons
from app.library.lessons import lessons
from app.library.store import Library, data_folder
from app.results.detail import Detail, Judged, detail, judged
from app.results.readout import Readout, readout
from app.shipped import folder, shipped_mounts
from app.standards.fits import fits
from app.standards.gradings import GRADINGS
from app.standards.sizes import SERIES, Series
from app.vocabulary import Vocabulary, vocabulary, vocabulary_json
from app.web import (
    compare_routes,
    comparison_routes,
    export_routes,
    lesson_routes,
    library_answers,
    library_routes,
    live,
    page_routes,
    run_routes,
    search_routes,
    travel_routes,
    watch,
    working_routes,
)
from app.web.answers import BODY, Json, refusals, refuse, refused
from app.web.aside import Aside
from app.web.ask import (
    BODY_LIMIT,
    PATIENCE_S,
    Answerer,
    FitAnswer,
    GradingAnswer,
    Question,
    ShippedMount,
    answer,
    read_body,
    read_question,
    takes,
)
from app.web.files import PageFiles
from app.web.guard import Guard, LastResort, is_loopback
from app.web.keys import Gate, Keys, own_names
from app.web.methods import Head, methods_at

_PLAIN_NUMBER = re.compile(r"\d{1,6}(\.\d{1,6})?")
_ASKED: list[type[BaseModel]] = [Question]
_ASKED += [
    *library_answers.ASKED,
    *export_routes.ASKED,
    *working_routes.ASKED,
    *travel_routes.ASKED,
    *run_routes.ASKED,
    *search_routes.ASKED,
]
_ASKED += [*live.ASKED, *compare_routes.ASKED, *comparison_routes.ASKED, *lesson_routes.ASKED]
_TOLD = (*live.TOLD, *library_answers.TOLD, *run_routes.TOLD)
"""The bodies that are read by hand and what the sockets say: the routes do not describe them by themselves."""

_PHRASES = {
    404: ("not-found", "there is nothing at this address"),
    405: ("not-allowed", "this address does not take that"),
}


def create_app(
    host: str = "127.0.0.1",
    answerer: Answerer = readout,
    library: Library | None = None,
    keys: Keys | None = None,
    patience_s: float = PATIENCE_S,
    processes: int = 1,
) -> FastAPI:
    """The application for a server on ``host``; ``answerer`` computes the readouts, ``library`` keeps their mounts.

    Beyond loopback ``keys`` say who may do what; without them whoever reaches it may do everything. A request that is
    not there whole after ``patience_s`` seconds is refused. Long work is done in ``processes`` beside the server; with
    none, by a thread of its own.
    """
    kept = library or Library(data_folder())
    incidents = Incidents(kept.path.parent)
    asides = aside, further, trying = Aside(processes), Aside(processes), Aside(processes)

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        kept.close()
        for each in asides:
            await asyncio.to_thread(each.close)

    app = FastAPI(
        title="Blade Mount Sketcher",
        version=__version__,
        summary="Coupling, edge error and loads of a blade mount. Units: mm, N, MPa, kg, degrees, mL.",
        docs_url=None,
        redoc_url=None,
        lifespan=lifespan,
        middleware=[
            Middleware(Head),
            Middleware(LastResort, incidents=incidents),
            Middleware(Guard, names={host} if is_loopback(host) else {host} | own_names(), limit=BODY_LIMIT),
            Middleware(Gate, keys=keys),
        ],
    )
    app.state.incidents = incidents
    app.state.patience_s = patience_s
    files = PageFiles(folder("static"))
    app.mount("/static", files, name="static")
    pages = Jinja2Templates(directory=folder("templates"))
    pages.env.globals |= {"vocabulary": vocabulary_json, "files_state": files.state, "systems": CUSTOMS}
    pages.env.globals |= {"papers": PAPERS, "usual_papers": USUAL, "exports": EXPORTS, "fits": FITS}

    @app.get("/", include_in_schema=False)
    async def page(request: Request) -> Response:
        shown = request.scope.get("role") == "change"
        return pages.TemplateResponse(request, "sketch.html", {"version": __version__, "shown": shown})

    @app.get("/scenarios", summary="The shipped mounts", responses=refusals())
    async def scenarios() -> list[ShippedMount]:
        return [
            ShippedMount(name=name, title=mount.title, note=mount.note or "")
            for name, mount in shipped_mounts().items()
        ]

    @app.get(
        "/scenarios/{name}", summary="One shipped mount document", responses={200: {"model": Mount}, **refusals(404)}
    )
    async def scenario(name: str) -> Response:
        mount = shipped_mounts().get(name)
        if mount is None:
            return refuse(404, "not-found", "no shipped mount has this name; GET /scenarios lists them", name[:60])
        return Json(as_document(mount))

    @app.post(
        "/readout",
        summary="The readout of a mount",
        responses={200: {"model": Readout}, **refusals(*BODY)},
        openapi_extra={"requestBody": takes("Question")},
    )
    async def ask(request: Request) -> Response:
        return await reply(request, lambda mount, command: answer(mount, command, answerer))

    @app.post(
        "/detail",
        summary="True worst, spread, what to change first and allowed wear of a mount",
        responses={200: {"model": Detail}, **refusals(*BODY)},
        openapi_extra={"requestBody": takes("Question")},
    )
    async def ask_detail(request: Request) -> Response:
        return await reply(request, lambda mount, command: asyncio.to_thread(detail, mount, command))

    @app.post(
        "/worst",
        summary="The true worst of a mount, the pose solved again, and whether it is within the tolerance",
        responses={200: {"model": Judged}, **refusals(*BODY)},
        openapi_extra={"requestBody": takes("Question")},
    )
    async def ask_worst(request: Request) -> Response:
        return await reply(request, lambda mount, command: asyncio.to_thread(judged, mount, command))

    async def reply(request: Request, answering: Callable[[Mount, dict[str, object]], Awaitable[object]]) -> Response:
        return Json(await answering(*read_question(await read_body(request))))

    @app.get("/presets", summary="Published grading tolerances to start from", responses=refusals())
    async def presets() -> list[GradingAnswer]:
        return [GradingAnswer(**vars(grading)) for grading in GRADINGS]

    @app.get(
        "/sizes",
        summary="Usual bores, piston rods and pins",
        responses={200: {"model": dict[Trade, Series]}, **refusals()},
    )
    async def sizes() -> Response:
        return Json({trade: asdict(series) for trade, series in SERIES.items()})

    @app.get(
        "/vocabulary",
        summary="Quantities, kinds, labels and limits",
        responses={200: {"model": Vocabulary}, **refusals()},
    )
    async def words() -> Response:
        return Json(vocabulary())

    @app.get(
        "/fits/{nominal}",
        summary="ISO 286 clearance fits at a nominal diameter in mm",
        responses={200: {"model": list[FitAnswer]}, **refusals(422)},
    )
    async def fits_at(nominal: str) -> Response:
        return Json([vars(fit) for fit in fits(float(nominal) if _PLAIN_NUMBER.fullmatch(nominal) else math.nan)])

    @app.websocket("/live")
    async def talk(socket: WebSocket) -> None:
        await live.converse(socket, answerer, incidents)

    app.include_router(library_routes.routes(kept, incidents))
    app.include_router(export_routes.routes())
    app.include_router(working_routes.routes())
    app.include_router(compare_routes.routes(aside, further))
    app.include_router(comparison_routes.routes(comparisons(kept.path.parent)))
    app.include_router(lesson_routes.routes(lessons(kept.path.parent)))
    app.include_router(travel_routes.routes(incidents, aside))
    app.include_router(search_routes.routes(incidents, aside, trying))
    app.include_router(run_routes.routes(incidents, aside, further))
    app.include_router(page_routes.routes(pages))
    app.include_router(watch.routes(pages, incidents))

    @app.exception_handler(SketcherError)
    async def mendable(request: Request, error: SketcherError) -> Response:
        return refused(error)

    @app.exception_handler(HTTPException)
    async def other(request: Request, error: HTTPException) -> Response:
        code, phrase = _PHRASES.get(error.status_code, ("refused", str(error.detail)))
        headers = dict(error.headers or {})
        if error.status_code == 405:
            headers = {"allow": ", ".join(methods_at(app.routes, request.scope))}
        return refuse(error.status_code, code, phrase, request.url.path[:200], headers)

    def openapi() -> dict[str, Any]:
        if app.openapi_schema is None:
            described = get_openapi(title=app.title, version=app.version, summary=app.summary, routes=app.routes)
            schemas = described["components"]["schemas"]
            _without_own_refusals(described, schemas)
            schemas |= _schemas(_ASKED, "validation") | _schemas(_TOLD, "serialization")
            app.openapi_schema = described
        return app.openapi_schema

    app.openapi = openapi  # type: ignore[method-assign]
    return app


def _without_own_refusals(described: dict[str, Any], schemas: dict[str, Any]) -> None:
    """Leave out how FastAPI would refuse parameters: every refusal here has the one shape."""
    for operations in described["paths"].values():
        for operation in operations.values():
            if "HTTPValidationError" in str(operation["responses"].get("422")):
                del operation["responses"]["422"]
    for name in ("HTTPValidationError", "ValidationError"):
        schemas.pop(name, None)


def _schemas(models: Iterable[type[BaseModel]], mode: JsonSchemaMode) -> dict[str, Any]:
    """The schemas of some models, by name."""
    found: dict[str, Any] = {}
    for model in models:
        schema = model.model_json_schema(ref_template="#/components/schemas/{model}", mode=mode)
        found |= {**schema.pop("$defs", {}), model.__name__: schema}
    return found
