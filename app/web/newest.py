"""A line that holds the newest message only."""

import asyncio


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
