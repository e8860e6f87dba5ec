"""What goes out for other programs: drawings and the table, as downloads. Made in a thread."""

import asyncio
import unicodedata
from collections.abc import Awaitable, Callable
from typing import Any, Literal
from urllib.parse import quote

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.analysis import Analysis
from app.document.errors import BadDocument, Fault
from app.document.models import Mount
from app.export import EXPORTS, Export
from app.export.files import file_name
from app.web.answers import BODY, refusals
from app.web.ask import Question, read_body, read_question, takes


class ExportQuestion(BaseModel):
    """What an export that knows a worked pose takes."""

    mount: Mount = Field(description="a mount document")
    command: dict[str, float] = Field(default={}, description="how much longer than drawn each cylinder is, mm, by id")
    pose: Literal["drawn", "worked"] = Field(
        default="drawn", description="as drawn, or where its cylinders are worked to"
    )


ASKED: tuple[type[BaseModel], ...] = (ExportQuestion, Question)
"""The bodies these routes take."""


def routes() -> APIRouter:
    """A route for every format."""
    router = APIRouter(responses=refusals(*BODY))
    for each in EXPORTS.values():
        router.add_api_route(
            f"/export/{each.name}",
            _answering(each),
            methods=["POST"],
            summary=each.words[0].upper() + each.words[1:],
            response_class=Response,
            responses={200: _file(each.media_type, each.words)},
            openapi_extra={"requestBody": _asks(each)},
            operation_id=f"export_{each.name}",
        )
    return router


def _asks(export: Export) -> dict[str, Any]:
    """How the body of a route is described: a question, with a key for every option."""
    body = takes("ExportQuestion" if export.has_poses else "Question")
    if export.options:
        told = body["content"]["application/json"]
        keys = {each.key: {"enum": list(each.choices), "description": each.words} for each in export.options}
        told["schema"] = {"allOf": [told["schema"], {"type": "object", "properties": keys}]}
    return body


def _answering(export: Export) -> Callable[[Request], Awaitable[Response]]:
    async def answer(request: Request) -> Response:
        mount, strokes, worked, chosen = _read(await read_body(request), export)
        content = await asyncio.to_thread(lambda: export.write(Analysis(mount, strokes), worked, **chosen))
        return _download(content, export.media_type, mount.title, export.ending(worked))

    return answer


def _read(message: object, export: Export) -> tuple[Mount, dict[str, object], bool, dict[str, str]]:
    """Mount, strokes, whether the worked pose is asked for, and what is chosen. Raises BadDocument with every fault."""
    given = message if isinstance(message, dict) else {}
    pose = given.get("pose", "drawn") if export.has_poses else "drawn"
    wrong = [] if pose in ("drawn", "worked") else [Fault("pose", "is neither 'drawn' nor 'worked'; give one of them")]
    wrong += export.faults(given)
    extra = (*(("pose",) if export.has_poses else ()), *(each.key for each in export.options))
    try:
        mount, strokes = read_question(message, extra)
    except BadDocument as error:
        raise BadDocument(error.faults + wrong) from None
    if wrong:
        raise BadDocument(wrong)
    return mount, strokes, pose == "worked", export.chosen(mount, given)


def _download(content: bytes, media_type: str, title: str, ending: str) -> Response:
    """A file named after the title, in plain letters and in full (RFC 6266)."""
    plain = file_name(unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode(), ending)
    disposition = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(file_name(title, ending))}"
    return Response(content, media_type=media_type, headers={"content-disposition": disposition})


def _file(media_type: str, words: str) -> dict[str, Any]:
    return {"description": words, "content": {media_type: {"schema": {"type": "string", "format": "binary"}}}}
