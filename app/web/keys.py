"""Who may do what where the server is open to a network: two keys, carried by the address and then by a cookie.

On loopback there are none. A page opened with ``?key=`` is sent on to the same address without it, so that the key
stays out of the history and of what is copied; the cookie is HttpOnly and SameSite. The line is not encrypted: whoever
listens on the network reads the keys, which is said where they are printed.
"""

import hmac
import json
import secrets
import socket
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from typing import Literal
from urllib.parse import parse_qs, parse_qsl, urlencode

from starlette.datastructures import Headers
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from app.export.files import write_whole
from app.web.answers import refuse

FILE = "keys.json"
WATCHING = ("/watch", "/static/", "/vocabulary")
"""What the watching key opens: addresses that begin so."""

Role = Literal["change", "watch"]


@dataclass(frozen=True)
class Keys:
    """The key of those who may change and delete mounts, and that of those who may only watch a sheet."""

    change: str
    watch: str

    def role(self, key: str) -> Role | None:
        """What a key allows; None for nothing."""
        given = key.encode()
        if hmac.compare_digest(given, self.change.encode()):
            return "change"
        return "watch" if hmac.compare_digest(given, self.watch.encode()) else None


def keys_of(folder: Path) -> Keys:
    """The keys of a data folder, made the first time, so that an address stays good. Raises Unwritable."""
    file = folder / FILE
    try:
        found = json.loads(file.read_text())
        if isinstance(found["change"], str) and isinstance(found["watch"], str) and found["change"] and found["watch"]:
            return Keys(found["change"], found["watch"])
    except (OSError, ValueError, KeyError, TypeError):
        pass  # none yet, or spoilt: new ones cost no more than opening the new address
    made = Keys(secrets.token_urlsafe(16), secrets.token_urlsafe(16))
    write_whole(file, json.dumps(vars(made)).encode(), private=True)
    return made


def own_names() -> set[str]:
    """The names and addresses of this machine, in small letters; nothing is sent to find them."""
    name = socket.gethostname().lower()
    names = {name, socket.getfqdn().lower(), f"{name.split('.')[0]}.local"}
    for host in (name, ""):
        try:
            names |= {str(each[4][0]).split("%")[0] for each in socket.getaddrinfo(host or None, 0)}
        except OSError:
            continue
    return names | {address for address in (own_address("192.0.2.1"), own_address("2001:db8::1")) if address}


def own_address(towards: str = "192.0.2.1") -> str | None:
    """The address others on the network reach this machine at; a datagram socket is pointed, nothing is sent."""
    family = socket.AF_INET6 if ":" in towards else socket.AF_INET
    try:
        with socket.socket(family, socket.SOCK_DGRAM) as pointed:
            pointed.connect((towards, 9))
            return str(pointed.getsockname()[0])
    except OSError:
        return None


class Gate:
    """Middleware that lets in who has a key, and tells the rest of the application which (``scope["role"]``)."""

    def __init__(self, app: ASGIApp, keys: Keys | None) -> None:
        self.app, self.keys = app, keys

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or refuse it."""
        if self.keys is None or scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        cookie = f"blade-mount-{_port(headers.get('host', ''))}"
        given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [""])[0]
        answer: Response
        if scope["type"] == "http" and scope["method"] in ("GET", "HEAD") and self.keys.role(given):
            answer = RedirectResponse(_without_key(scope), 303)
            answer.set_cookie(cookie, given, httponly=True, samesite="lax", max_age=30 * 24 * 3600)
            await answer(scope, receive, send)
            return
        role = self.keys.role(_cookie(headers.get("cookie", ""), cookie))
        if role == "change" or (role == "watch" and scope["path"].startswith(WATCHING)):
            await self.app({**scope, "role": role}, receive, send)
            return
        if role == "watch":
            answer = refuse(403, "watch-only", "this key may only watch; ask for an address that may change mounts")
        else:
            text = "this server answers only to those who have its key; open the whole address it printed"
            answer = refuse(401, "no-key", text)
            answer.headers["www-authenticate"] = "Key"
        if scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": 1008, "reason": "no key"})
        else:
            await answer(scope, receive, send)


def _without_key(scope: Scope) -> str:
    """The same address without its key, on this server."""
    left = [(name, value) for name, value in parse_qsl(scope["query_string"].decode("latin-1")) if name != "key"]
    path = "/" + scope["path"].lstrip("/\\")  # two slashes would lead to another server
    return f"{path}?{urlencode(left)}" if left else path


def _cookie(text: str, name: str) -> str:
    try:
        found = SimpleCookie(text).get(name)
    except CookieError:
        return ""
    return found.value if found else ""


def _port(host: str) -> str:
    port = host.rpartition(":")[2]
    return port if port.isdecimal() and port.isascii() else "80"
