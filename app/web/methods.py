"""HEAD, answered wherever GET is; and which methods an address takes."""

from collections.abc import Iterable

from starlette.routing import BaseRoute, Match, Mount
from starlette.types import ASGIApp, Message, Receive, Scope, Send

_METHODS = ("GET", "POST", "PUT", "DELETE")


class Head:
    """Middleware that answers HEAD as GET is answered, without the body."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on."""
        if scope["type"] != "http" or scope["method"] != "HEAD":
            await self.app(scope, receive, send)
            return

        async def sending(message: Message) -> None:
            await send({**message, "body": b""} if message["type"] == "http.response.body" else message)

        await self.app({**scope, "method": "GET"}, receive, sending)


def methods_at(routes: Iterable[BaseRoute], scope: Scope) -> list[str]:
    """The methods that the address of a request takes, of whichever routes."""
    listed = list(routes)
    scope = {**scope, "root_path": scope.get("app_root_path", scope["root_path"])}  # not as a folder of files left it
    found = [method for method in _METHODS if any(_takes(route, {**scope, "method": method}) for route in listed)]
    return ["GET", "HEAD", *found[1:]] if "GET" in found else found


def _takes(route: BaseRoute, scope: Scope) -> bool:
    """A folder of files matches whatever the method is, and takes GET alone."""
    return route.matches(scope)[0] is Match.FULL and (not isinstance(route, Mount) or scope["method"] == "GET")
