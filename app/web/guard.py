"""What keeps other sites' pages and oversized messages out, and answers where nothing else does.

A page of another site can make a browser send requests to this machine, and can point its own name at this machine's
address. So the Host must be this server by address or known name, and where a browser names an Origin it must be the
same as the Host.
"""

import ipaddress
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.incidents import Incidents
from app.web.answers import refuse, refused

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
    "connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)

HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-cache",
}

LOCAL_NAMES = {"localhost", "127.0.0.1", "::1"}


class LastResort:
    """Middleware around all others: whatever goes wrong inside becomes an error answer in the one shape."""

    def __init__(self, app: ASGIApp, incidents: Incidents) -> None:
        self.app, self.incidents = app, incidents

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on; a socket is closed, and an answer already begun is broken off."""
        begun = False

        async def sending(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self.app(scope, receive, sending)
        except ClientDisconnect:
            return  # nobody is there to be told
        except Exception as error:
            if scope["type"] not in ("http", "websocket"):
                raise
            unforeseen = self.incidents.keep(error, f"{scope.get('method', 'socket')} {scope['path']}")
            if scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1011, "reason": "unforeseen"})
            elif not begun:
                await refused(unforeseen)(scope, receive, _with_headers(send))


class Guard:
    """Middleware that checks Host, Origin and size, and sets the security headers."""

    def __init__(self, app: ASGIApp, names: set[str], limit: int) -> None:
        self.app, self.limit = app, limit
        self.names = LOCAL_NAMES | {name.lower() for name in names}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        host = headers.get("host", "")
        reason = None
        if not self._known(host):
            reason = refuse(
                421, "unknown-host", "this server does not answer to that Host; open the address it printed"
            )
        elif (origin := headers.get("origin")) is not None and _place(origin) != host:
            reason = refuse(403, "other-origin", "pages of other sites may not talk to this server")
        elif not _fits(headers.get("content-length"), self.limit):
            reason = refuse(413, "too-large", f"the message is larger than {self.limit // 1024} kB; send a smaller one")
        if reason is None:
            await self.app(scope, receive, _with_headers(send))
        elif scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": 1008, "reason": "not from this page"})
        else:
            await reason(scope, receive, _with_headers(send))

    def _known(self, host: str) -> bool:
        try:
            name = (urlsplit(f"//{host}").hostname or "").lower() if host else ""
        except ValueError:
            return False
        return name in self.names


def _place(origin: str) -> str | None:
    """Host and port of an Origin; None where it is malformed."""
    try:
        return urlsplit(origin).netloc
    except ValueError:
        return None


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True


def is_loopback(host: str) -> bool:
    """Whether a server on this host is for this machine only."""
    return host in LOCAL_NAMES or (_is_address(host) and ipaddress.ip_address(host).is_loopback)


def _fits(length: str | None, limit: int) -> bool:
    return length is None or (length.isdecimal() and int(length) <= limit)


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sending
