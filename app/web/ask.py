"""A question to the engine: a mount and a command, as they come in over a route or the live socket."""

import asyncio
from collections.abc import Callable
from typing import Any

from pydantic import BaseModel, Field

from app.assembly import topology_of
from app.equations import derive, is_derived
from app.errors import BadDocument, Fault
from app.mount import Mount
from app.refusals import read_mount

Answerer = Callable[[Mount, dict[str, object]], dict[str, Any]]


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


class Question(BaseModel):
    """What ``POST /readout`` takes."""

    mount: Mount = Field(description="a mount document")
    command: dict[str, float] = Field(default={}, description="how much longer than drawn each cylinder is, mm, by id")


def read_question(message: object, extra: tuple[str, ...] = ()) -> tuple[Mount, dict[str, object]]:
    """The mount and command of a message; ``extra`` names further keys it may have. Raises BadDocument."""
    if not isinstance(message, dict):
        raise BadDocument([Fault("", "the message is no JSON object; send {mount, command}")])
    faults = [
        Fault(str(key)[:60], "is no key of a question; known keys are mount and command")
        for key in message
        if key not in ("mount", "command", *extra)
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


async def answer(mount: Mount, command: dict[str, object], answerer: Answerer) -> dict[str, Any]:
    """Answer a question; a topology that is new is derived in a thread, so that nobody else waits for it."""
    topology = topology_of(mount)
    if not is_derived(topology):
        await asyncio.to_thread(derive, topology)
    return answerer(mount, command)
