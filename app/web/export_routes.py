"""What goes out for other programs: the drawing and the table, as downloads. Made in a thread."""

import asyncio
import re
import unicodedata
from typing import Any, Literal
from urllib.parse import quote

from fastapi import APIRouter, Request
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.document.errors import BadDocument, Fault
from app.document.models import Mount
from app.export.csv import as_csv
from app.results.readout import readout
from app.web.answers import ErrorAnswer
from app.web.ask import Question, read_body, read_question, takes

DXF_TYPE = "image/vnd.dxf"
CSV_TYPE = "text/csv; charset=utf-8"

_LONGEST_NAME = 60
_DEVICES = re.compile(r"(con|prn|aux|nul|com[\d¹²³]|lpt[\d¹²³])", re.IGNORECASE)
"""Names Windows keeps for devices, whatever the ending."""


class ExportQuestion(BaseModel):
    """What ``POST /export/dxf`` takes."""

    mount: Mount = Field(description="a mount document")
    command: dict[str, float] = Field(default={}, description="how much longer than drawn each cylinder is, mm, by id")
    pose: Literal["drawn", "worked"] = Field(default="drawn", description="as drawn, or where the command brings it")


ASKED: tuple[type[BaseModel], ...] = (ExportQuestion, Question)
"""The bodies these routes take."""


def routes() -> APIRouter:
    """The routes that hand out files."""
    router = APIRouter(responses={"4XX": {"model": ErrorAnswer, "description": "refused, with every fault"}})

    @router.post(
        "/export/dxf",
        summary="The mount as a DXF drawing in millimetres",
        response_class=Response,
        responses={200: _file(DXF_TYPE, "the drawing")},
        openapi_extra={"requestBody": takes("ExportQuestion")},
    )
    async def dxf(request: Request) -> Response:
        message = await read_body(request)
        mount, command, worked = _read(message)
        drawn = await asyncio.to_thread(_dxf, mount, command, worked)
        return _download(drawn, DXF_TYPE, mount.title, "-worked.dxf" if worked else ".dxf")

    @router.post(
        "/export/csv",
        summary="Readout, budget and forces as a table: section, item, quantity, value, unit",
        response_class=Response,
        responses={200: _file(CSV_TYPE, "the table")},
        openapi_extra={"requestBody": takes("Question")},
    )
    async def table(request: Request) -> Response:
        mount, command = read_question(await read_body(request))
        text = await asyncio.to_thread(lambda: as_csv(mount, readout(mount, command)))
        return _download(text.encode(), CSV_TYPE, mount.title, ".csv")

    return router


def file_name(title: str, ending: str) -> str:
    """A name for a file made from a title: letters, digits and hyphens only, never empty, never a device's."""
    words = re.sub(r"[\W_]+", "-", unicodedata.normalize("NFC", title)).strip("-")[:_LONGEST_NAME].strip("-")
    if not words or _DEVICES.fullmatch(words):
        words = f"mount-{words}".strip("-")
    return words + ending


def _dxf(mount: Mount, command: dict[str, object], worked: bool) -> bytes:
    from app.export.dxf import dxf_bytes  # takes a third of a second to load, and most sessions draw none

    return dxf_bytes(mount, command, worked)


def _read(message: object) -> tuple[Mount, dict[str, object], bool]:
    """Mount, command and whether the worked pose is asked for. Raises BadDocument with every fault."""
    pose = message.get("pose", "drawn") if isinstance(message, dict) else "drawn"
    wrong = [] if pose in ("drawn", "worked") else [Fault("pose", "is neither 'drawn' nor 'worked'; give one of them")]
    try:
        mount, command = read_question(message, ("pose",))
    except BadDocument as error:
        raise BadDocument(error.faults + wrong) from None
    if wrong:
        raise BadDocument(wrong)
    return mount, command, pose == "worked"


def _download(content: bytes, media_type: str, title: str, ending: str) -> Response:
    """A file named after the title, in plain letters and in full (RFC 6266)."""
    plain = file_name(unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode(), ending)
    disposition = f"attachment; filename=\"{plain}\"; filename*=UTF-8''{quote(file_name(title, ending))}"
    return Response(content, media_type=media_type, headers={"content-disposition": disposition})


def _file(media_type: str, words: str) -> dict[str, Any]:
    return {"description": words, "content": {media_type: {"schema": {"type": "string", "format": "binary"}}}}
