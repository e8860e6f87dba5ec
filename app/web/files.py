"""The page's own files, at an address that changes with them, so that a browser asks for each of them only once."""

import hashlib
import re
from os import PathLike
from pathlib import Path

from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

_STATE = re.compile(r"(state-[0-9a-f]{16})/")
_FOR_GOOD = "max-age=31536000, immutable"


class PageFiles(StaticFiles):
    """Files of a folder; below ``state-DIGEST/`` too, where they may be kept for good while they are in that state."""

    def __init__(self, directory: PathLike[str]) -> None:
        super().__init__(directory=directory)
        self._folder = Path(directory)
        self._state = ""

    def state(self) -> str:
        """The first part of the address of files that may be kept: another as soon as one of them is another."""
        seen = hashlib.sha256()
        for path in sorted(self._folder.rglob("*.*")):
            known = path.stat()
            seen.update(f"{path}\n{known.st_size}\n{known.st_mtime_ns}\n".encode())
        self._state = f"state-{seen.hexdigest()[:16]}"
        return self._state

    async def get_response(self, path: str, scope: Scope) -> Response:
        """A file. One that is asked for in a state that is over comes as it is now, and is not to be kept."""
        asked = _STATE.match(path)
        answer = await super().get_response(path[asked.end() :] if asked else path, scope)
        if asked and asked[1] == self._state and answer.status_code == 200:
            answer.headers["cache-control"] = _FOR_GOOD
        return answer
