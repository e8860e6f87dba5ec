"""The application on a socket: how long a request may take to come, and that lines still have somebody at the end.

uvicorn closes a line that is silent between two requests, and waits for good for the rest of one that has begun.
"""

import asyncio
import sys
from typing import ClassVar

import h11
import uvicorn
from fastapi import FastAPI
from uvicorn.protocols.http.h11_impl import H11Protocol

from app.web.answers import refuse
from app.web.ask import BODY_LIMIT, too_slow

PING_S = 20.0
"""A live socket is pinged so often, and closed when it has not answered after as long again."""

SWITCH_S = 0.0005
"""How long a thread that derives a topology may keep the one that answers waiting, each time it wants to go on."""


def server_of(app: FastAPI, ping_s: float = PING_S) -> uvicorn.Server:
    """A server that waits for a request no longer than the application is patient."""
    sys.setswitchinterval(SWITCH_S)
    return uvicorn.Server(
        uvicorn.Config(
            app,
            http=_patient(app.state.patience_s),
            log_level="warning",
            ws_max_size=BODY_LIMIT,
            ws_per_message_deflate=False,
            ws_ping_interval=ping_s,
            ws_ping_timeout=ping_s,
            timeout_graceful_shutdown=2,
        )
    )


def _patient(limit_s: float) -> type[asyncio.Protocol]:
    return type("Patient", (Patient,), {"limit_s": limit_s})


class Patient(H11Protocol):
    """HTTP on one line, with an end to waiting: a request that has not come whole by then is refused or cut off.

    While the application waits for a body it looks at the clock itself (``read_body``) and answers in full.
    """

    limit_s: ClassVar[float]
    _waiting: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override] # as the base has it
        """Somebody is there: the first request is waited for."""
        super().connection_made(transport)
        self._look()

    def connection_lost(self, exc: Exception | None) -> None:
        """Nobody is there any more."""
        self._stop()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """A piece of a request."""
        super().data_received(data)
        self._look()

    def on_response_complete(self) -> None:
        """The next request is waited for anew."""
        self._stop()
        super().on_response_complete()
        self._look()

    def handle_websocket_upgrade(self, event: h11.Request) -> None:
        """The line is a socket's from here on, which is pinged."""
        self._stop()
        super().handle_websocket_upgrade(event)

    def send_400_response(self, msg: str) -> None:
        """What is no HTTP is refused in the shape of every error."""
        self._refuse(400, "no-request", "this is no HTTP request that can be read; open the address with a browser")

    def _look(self) -> None:
        """Count from when the line is free to when a request is whole."""
        if self.transport.is_closing() or self.transport.get_protocol() is not self:
            return
        if self.conn.their_state not in (h11.IDLE, h11.SEND_BODY):
            self._stop()
        elif self._waiting is None:
            self._waiting = self.loop.call_later(self.limit_s, self._give_up)

    def _stop(self) -> None:
        if self._waiting:
            self._waiting.cancel()
        self._waiting = None

    def _give_up(self) -> None:
        self._waiting = None
        if self.transport.is_closing():
            return
        if self.cycle is not None and not self.cycle.response_complete:
            self._look()  # the application sees to it
        elif self.conn.their_state is h11.IDLE and self.conn.our_state is h11.IDLE and self.conn.trailing_data[0]:
            self._refuse(408, "too-slow", too_slow(self.limit_s))
        else:
            self.transport.close()

    def _refuse(self, status: int, code: str, sentence: str) -> None:
        answer = refuse(status, code, sentence)
        headers = [*answer.raw_headers, (b"connection", b"close")]
        head, body = h11.Response(status_code=status, headers=headers), h11.Data(data=bytes(answer.body))
        for event in (head, body, h11.EndOfMessage()):
            self.transport.write(self.conn.send(event) or b"")
        self.transport.close()
