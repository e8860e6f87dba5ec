"""Watching along: what the one who teaches has on the sheet goes to everyone who watches, and their guesses come back.

The page that shows sends ``{"shown": {...}}``, at most as often as it is read; everyone who watches is sent the newest,
as it came. While the numbers are hidden a watcher may send ``{"guess": mm}``, again to change it; who holds the key
that changes may also step the wall, ``{"step": "next"}``. The page that shows is told ``{"watching": n, "guesses":
[...], "steps": [[n, "next"], ...]}``, the newest steps with their numbers, so that none is lost or made twice. Nothing
is stored and nobody has a name: a guess ends with its question or with the line it came over.
"""

import asyncio
from collections import deque
from collections.abc import Callable
from contextlib import suppress

from fastapi import APIRouter, Request, WebSocket
from fastapi.responses import Response
from fastapi.templating import Jinja2Templates
from starlette.websockets import WebSocketDisconnect

from app.document.errors import SketcherError
from app.document.reading import decode
from app.incidents import Incidents
from app.web.answers import as_json, body_of
from app.web.newest import Newest

MOST_GUESS = 1e6
"""Nothing larger is a guess, in document units."""
MOST_WATCHERS = 250
"""More than a hall holds: who comes after them is asked to try again later."""
_LONGEST_GUESS = 200
"""Characters of a watcher's message; longer ones are not read."""
STEPS = ("next", "back", "next-step", "last-step", "quiz")
"""What a phone may ask of the wall: the next line or answer, back, a whole step of a lesson, to ask the class."""
_STEPS_KEPT = 16
"""So many of the newest steps are told: more are not pressed between two messages."""
_NOTHING = as_json({"shown": None})


class Showing:
    """What is shown, who watches, and what they guess."""

    def __init__(self) -> None:
        self.shown = _NOTHING
        self.asked: object = None
        self.watchers: dict[Newest, float | None] = {}
        self.showers: set[Newest] = set()
        self.steps: deque[tuple[int, str]] = deque(maxlen=_STEPS_KEPT)

    def show(self, message: object) -> None:
        """Pass on what is shown; a new question begins without answers."""
        if not isinstance(message, dict) or not isinstance(message.get("shown"), dict):
            return
        shown = message["shown"]
        asked = _words(shown.get("question")) if shown.get("quiz") is True else None
        if asked is not None and asked != self.asked:
            self.watchers = dict.fromkeys(self.watchers)
        self.asked = asked
        self.shown = as_json({"shown": message["shown"]})
        for watcher in self.watchers:
            watcher.put(self.shown)
        self.tell()

    def guess(self, watcher: Newest, message: object) -> None:
        """Take a guess, while there is a question."""
        guess = message.get("guess") if isinstance(message, dict) else None
        number = isinstance(guess, int | float) and not isinstance(guess, bool)
        if self.asked is not None and number and abs(guess) < MOST_GUESS:  # type: ignore[arg-type] # seen to be a number
            self.watchers[watcher] = float(guess)  # type: ignore[arg-type]
            self.tell()

    def step(self, message: object) -> None:
        """Take a step of the wall that a phone asks for."""
        way = message.get("step") if isinstance(message, dict) else None
        if isinstance(way, str) and way in STEPS:
            self.steps.append((self.steps[-1][0] + 1 if self.steps else 1, way))
            self.tell()

    def tell(self) -> None:
        """Tell every page that shows how many watch, what they guess, smallest first, and the newest steps."""
        guesses = sorted(guess for guess in self.watchers.values() if guess is not None)
        for shower in self.showers:
            told = {"watching": len(self.watchers), "guesses": guesses, "steps": list(self.steps)}
            shower.put(as_json(told))


def _words(question: object) -> str:
    """What a question asks: with other words the answers begin anew, with other numbers of the mount they do not."""
    return str(question.get("words", "")) if isinstance(question, dict) else ""


def routes(pages: Jinja2Templates, incidents: Incidents) -> APIRouter:
    """The page of those who watch, and the lines of both."""
    router = APIRouter(include_in_schema=False)
    showing = Showing()

    @router.get("/watch")
    async def page(request: Request) -> Response:
        return pages.TemplateResponse(request, "watch.html", {"remote": request.scope.get("role") != "watch"})

    @router.websocket("/watch/live")
    async def watch(socket: WebSocket) -> None:
        if len(showing.watchers) >= MOST_WATCHERS:
            await socket.close(1013, "too many watch; try again later")
            return
        line = Newest()
        showing.watchers[line] = None
        line.put(showing.shown)
        showing.tell()
        steps = socket.scope.get("role") != "watch"

        def heard(message: object) -> None:
            if steps:
                showing.step(message)
            showing.guess(line, message)

        try:
            await _talk(socket, line, heard, incidents, _LONGEST_GUESS)
        finally:
            del showing.watchers[line]
            showing.tell()

    @router.websocket("/watch/show")
    async def show(socket: WebSocket) -> None:
        if socket.scope.get("role") == "watch":
            await socket.close(1008, "this key may only watch")
            return
        line = Newest()
        showing.showers.add(line)
        showing.tell()
        try:
            await _talk(socket, line, showing.show, incidents)
        finally:
            showing.showers.discard(line)

    return router


async def _talk(
    socket: WebSocket,
    line: Newest,
    heard: Callable[[object], None],
    incidents: Incidents,
    longest: int | None = None,
) -> None:
    """Send what is put on a line, and hear what comes and is not too long, until it ends."""
    await socket.accept()
    sending = asyncio.create_task(_send(socket, line))
    try:
        while (message := await socket.receive())["type"] != "websocket.disconnect":
            text = message.get("text") or ""
            if longest is not None and len(text) > longest:
                continue
            try:
                heard(decode(text))
            except SketcherError as error:
                line.put(as_json(body_of(error)))
            except Exception as error:
                line.put(as_json(body_of(incidents.keep(error, "watch"))))
    except (WebSocketDisconnect, RuntimeError):
        pass
    finally:
        sending.cancel()


async def _send(socket: WebSocket, line: Newest) -> None:
    with suppress(WebSocketDisconnect, RuntimeError):
        while True:
            await socket.send_text(await line.take())
