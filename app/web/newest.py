"""Lines on which the newest message is the one that gets an answer."""

import asyncio
from collections.abc import Callable, Coroutine

from starlette.websockets import WebSocket

from app.document.errors import BadDocument, Fault


class Newest:
    """Holds the newest text for one line only: a slow one skips what it did not get to."""

    def __init__(self) -> None:
        self._text: str | None = None
        self._there = asyncio.Event()

    def put(self, text: str) -> None:
        """Replace what is waiting."""
        self._text = text
        self._there.set()

    async def take(self) -> str:
        """The newest text, once there is one."""
        await self._there.wait()
        self._there.clear()
        text, self._text = self._text, None
        return text or ""


async def attend(socket: WebSocket, answering: Callable[[Newest], Coroutine[object, object, None]]) -> None:
    """Take the messages of an accepted line until the page leaves, while ``answering`` answers the newest of them."""
    newest = Newest()
    task = asyncio.create_task(answering(newest))
    try:
        while True:
            message = await socket.receive()
            if message["type"] == "websocket.disconnect":
                break
            newest.put(message.get("text") or (message.get("bytes") or b"").decode("utf-8", "replace"))
    finally:
        task.cancel()


def number_of(message: object) -> int:
    """The number of a message, its ``seq``. Raises BadDocument."""
    seq = message.get("seq") if isinstance(message, dict) else None
    if isinstance(seq, bool) or not isinstance(seq, int):
        raise BadDocument([Fault("seq", "is missing or no whole number; number the messages 1, 2, 3 ...")])
    return seq
