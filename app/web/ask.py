"""A question to the engine: a mount and a command, as they come in over a route or the live socket."""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from pydantic import BaseModel, Field
from starlette.requests import Request

from app.document.errors import BadDocument, Fault, TooLarge, TooSlow
from app.document.models import Mount
from app.document.reading import decode, read_mount
from app.solve.assembly import topology_of
from app.solve.equations import Topology, derive, is_derived, keep
from app.solve.writer import Writer

BODY_LIMIT = 256 * 1024
"""Largest request body or socket message, bytes: a mount of 60 members takes a tenth of it."""

PATIENCE_S = 30.0
"""How long a request may take to come whole."""

_DERIVING = ThreadPoolExecutor(1, "deriving")
"""One thread, since one topology is derived at a time: those that wait keep no thread from whoever keeps a step."""

WRITER = Writer()
"""The process that derives for a server; where none was started, as in a test, the thread derives itself."""

Answerer = Callable[[Mount, dict[str, object]], Any]


class ShippedMount(BaseModel):
    """One of the mounts that ship with the tool."""

    name: str = Field(description="its name in addresses")
    title: str = Field(description="its title")
    note: str = Field(description="what it teaches")


class GradingAnswer(BaseModel):
    """A published grading tolerance."""

    label: str = Field(description="what it is for")
    tolerance: float = Field(description="+- mm at the surface")
    source: str = Field(description="where it stands")


class FitAnswer(BaseModel):
    """A clearance fit at one nominal diameter."""

    fit: str = Field(description="its name, such as H8/f7")
    least: float = Field(description="least diametral clearance, mm")
    greatest: float = Field(description="greatest diametral clearance, mm")


class Question(BaseModel):
    """What ``POST /readout`` takes."""

    mount: Mount = Field(description="a mount document")
    command: dict[str, float] = Field(default={}, description="how much longer than drawn each cylinder is, mm, by id")


async def read_body(request: Request) -> Any:  # noqa: ANN401 - any JSON value
    """The JSON value a request carries. Raises TooLarge once it passes the limit, TooSlow, Unreadable."""
    body = b""
    patience_s: float = request.app.state.patience_s
    try:
        async with asyncio.timeout(patience_s):
            async for chunk in request.stream():
                body += chunk
                if len(body) > BODY_LIMIT:
                    message = f"the message is larger than {BODY_LIMIT // 1024} kB; send a smaller one"
                    raise TooLarge([Fault("", message)])
    except TimeoutError:
        raise TooSlow([Fault("", too_slow(patience_s))]) from None
    return decode(body)


def too_slow(patience_s: float) -> str:
    """What is said of a request that does not end."""
    return f"the request had not come whole after {patience_s:g} s; send it again, over a better line"


def read_question(message: object, extra: tuple[str, ...] = ()) -> tuple[Mount, dict[str, object]]:
    """The mount and command of a message; ``extra`` names further keys it may have. Raises BadDocument."""
    if not isinstance(message, dict):
        raise BadDocument([Fault("", "the message is no JSON object; send {mount, command}")])
    known = ("mount", "command", *extra)
    faults = [
        Fault(str(key)[:60], f"is no key of a question; known keys are {', '.join(known)}")
        for key in message
        if key not in known
    ]
    command = message.get("command", {})
    if not isinstance(command, dict):
        faults.append(Fault("command", 'is no object; give cylinder ids with mm, such as {"left cylinder": 25}'))
    if "mount" not in message:
        faults.append(Fault("mount", "is missing; give a mount document"))
        raise BadDocument(faults)
    try:
        mount = read_mount(message["mount"], "mount")
    except BadDocument as error:
        raise BadDocument(faults + error.faults) from None
    if faults:
        raise BadDocument(faults)
    return mount, command


async def answer(mount: Mount, strokes: dict[str, object], answerer: Answerer) -> Any:  # noqa: ANN401 - any answer
    """Answer a question; a topology that is new is derived elsewhere, so that nobody else waits for it."""
    await have_equations(mount)
    return answerer(mount, strokes)


async def have_equations(mount: Mount) -> None:
    """See that the equations of a mount's topology are at hand."""
    topology = topology_of(mount)
    if not is_derived(topology):
        await asyncio.get_running_loop().run_in_executor(_DERIVING, _derived, topology)


def _derived(topology: Topology) -> None:
    """Have the equations of a topology at hand: written by the other process, or here where that is not there."""
    if is_derived(topology):
        return
    try:
        keep(topology, WRITER.write(topology))
    except (OSError, EOFError):
        derive(topology)


def takes(name: str) -> dict[str, Any]:
    """How a route that reads its body by hand describes it: the schema of that name."""
    return {"required": True, "content": {"application/json": {"schema": {"$ref": f"#/components/schemas/{name}"}}}}
