"""The notices that tell a second tab of a change.

A socket on ``/library/{id}/watch`` is sent ``{"revision": n, "key": k, "deleted": false}`` at once and again after
every change; ``key`` is the one the step came under, so that a tab knows its own. What another server on the same
folder changes is noticed within seconds.
"""

import asyncio
from collections import defaultdict
from contextlib import suppress
from dataclasses import asdict
from typing import Any

from fastapi import WebSocket
from starlette.websockets import WebSocketDisconnect

from app.document.errors import NotInLibrary, SketcherError
from app.incidents import Incidents
from app.library.store import Library
from app.web.answers import as_json, body_of
from app.web.library_messages import known

LOOK_AGAIN_S = 2.0
"""How often a watcher looks by itself for what another server on the same folder has changed."""


class Watchers:
    """The tabs that look at each mount."""

    def __init__(self, incidents: Incidents) -> None:
        self._incidents = incidents
        self._of: defaultdict[str, set[asyncio.Event]] = defaultdict(set)

    def tell(self, id: str) -> None:
        """Wake everybody who looks at a mount."""
        for changed in self._of.get(id, ()):
            changed.set()

    async def watch(self, socket: WebSocket, library: Library, id: str) -> None:
        """Send one tab where a mount stands, now and after every change, until it leaves."""
        await socket.accept()
        changed = asyncio.Event()
        self._of[id].add(changed)
        sending = asyncio.create_task(self._send_news(socket, library, id, changed))
        try:
            while (await socket.receive())["type"] != "websocket.disconnect":
                pass
        except (WebSocketDisconnect, RuntimeError):
            pass
        finally:
            sending.cancel()
            self._of[id].discard(changed)
            if not self._of[id]:
                del self._of[id]

    async def _send_news(self, socket: WebSocket, library: Library, id: str, changed: asyncio.Event) -> None:
        """The store is asked each time, so that what is sent last is the newest, whichever change was told of first.

        What cannot be read now may be readable the next time: only a mount that is not there ends it.
        """
        told: object = None
        with suppress(WebSocketDisconnect, RuntimeError):
            while True:
                changed.clear()
                news, refusal = await self._standing(library, id)
                if news != told:
                    await socket.send_text(as_json(news))
                    told = news
                if isinstance(refusal, NotInLibrary):
                    await socket.close(1008, "nothing to watch")
                    return
                with suppress(TimeoutError):
                    await asyncio.wait_for(changed.wait(), LOOK_AGAIN_S)

    async def _standing(self, library: Library, id: str) -> tuple[dict[str, Any], SketcherError | None]:
        """What to tell of a mount, and why it is nothing better."""
        try:
            return asdict(await asyncio.to_thread(library.standing, known(id))), None
        except SketcherError as error:
            return body_of(error), error
        except Exception as error:
            unforeseen = self._incidents.keep(error, "library watch")
            return body_of(unforeseen), unforeseen
