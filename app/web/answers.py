"""The one shape every error of the server takes, and how answers are written."""

import json
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel, Field
from pydantic_core import PydanticSerializationError, to_json, to_jsonable_python
from starlette.responses import Response

from app.document.errors import Fault, SketcherError
from app.document.messages import Value

STATUSES = {
    "not-found": 404,
    "changed-elsewhere": 409,
    "deleted": 409,
    "key-used": 409,
    "too-large": 413,
    "too-slow": 408,
    "unforeseen": 500,
    "busy": 503,
    "no-library": 503,
    "library-gone": 503,
    "version-unreadable": 409,
}
"""HTTP status by an error's code; 422 for every other."""


_SAID = {
    401: "without a key, where the server is open to a network",
    403: "from another site's page, or with a key that may only watch",
    404: "not there",
    408: "the request did not come whole in time",
    409: "not now: another step was newer, the mount lies among the deleted ones, or a version cannot be read",
    413: "larger than the server takes",
    421: "sent to a name that is not this server's",
    422: "refused, with every fault",
    500: "something nobody foresaw, with the reference number of its entry in the log",
    503: "not now: the file of the mounts cannot be used, or as many searches are going as may",
}
"""What each status says in the description of the routes."""

_ANYWHERE = (401, 403, 413, 421, 500)
BODY = (408, 422)
"""What becomes of a body that is not taken."""


def refusals(*statuses: int) -> dict[int | str, dict[str, Any]]:
    """How a route describes its refusals, those that any route may give among them."""
    return {status: {"model": ErrorAnswer, "description": _SAID[status]} for status in sorted({*_ANYWHERE, *statuses})}


class FaultAnswer(BaseModel):
    """One thing wrong."""

    place: str = Field(description="where, such as members[2].ends[0].on; empty for the whole")
    code: str = Field(description="stable name of the kind of fault")
    text: str = Field(description="what was found, what is expected, what to do, with {name} where a value stands")
    values: dict[str, Value] = Field(description="what stands at each place: [number, quantity] or [words, kind]")


class ErrorBody(BaseModel):
    """What went wrong."""

    code: str = Field(description="stable name of the kind of error")
    message: str = Field(description="the first fault as one sentence in mm, kN, MPa and kg")
    faults: list[FaultAnswer] = Field(description="every fault")


class ErrorAnswer(BaseModel):
    """The shape of every error."""

    error: ErrorBody


def error_body(code: str, faults: list[Fault]) -> dict[str, Any]:
    """An error as a JSON object."""
    listed = [
        {"place": each.place, "code": each.code, "text": each.text, "values": dict(each.values)} for each in faults
    ]
    return {"error": {"code": code, "message": str(faults[0]), "faults": listed}}


def body_of(error: SketcherError) -> dict[str, Any]:
    """A user's error as a JSON object."""
    return error_body(error.code, error.faults)


def as_json(content: object) -> str:
    """JSON text on one line; half a surrogate pair leaves as its JSON escape.

    Raises ValueError for a number that is not finite: none ever leaves.
    """
    try:
        text = to_json(content, inf_nan_mode="constants").decode()
    except PydanticSerializationError:
        plain = to_jsonable_python(content, inf_nan_mode="constants")
        text = json.dumps(plain, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        return text.encode("utf-8", "backslashreplace").decode()
    if "NaN" in text or "Infinity" in text:
        json.loads(text, parse_constant=_not_finite)
    return text


def _not_finite(constant: str) -> None:
    raise ValueError(f"{constant} is in the answer")


class Json(Response):
    """A JSON answer."""

    media_type = "application/json"

    def render(self, content: object) -> bytes:
        """Write the content."""
        return as_json(content).encode()


def refused(error: SketcherError) -> Json:
    """The error answer for what a user can mend."""
    answer = Json(body_of(error), status_code=STATUSES.get(error.code, 422))
    if error.code == "too-slow":
        answer.headers["connection"] = "close"  # the rest of the request may come yet
    return answer


def refuse(status: int, code: str, message: str, place: str = "", headers: Mapping[str, str] | None = None) -> Json:
    """An error answer with one fault."""
    return Json(error_body(code, [Fault(place, message)]), status_code=status, headers=headers)
