"""Processes beside the server for what would hold it up: its own answers wait for nothing that runs there.

They are started when first needed, give way to the others on the machine, and end with the server however that ends.
"""

import asyncio
import os
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from multiprocessing import get_context, parent_process
from threading import Thread
from typing import TypeVar

_Answer = TypeVar("_Answer")

NICENESS = 5


class Aside:
    """One such process, or several; with none a thread of the server takes the place of one."""

    def __init__(self, processes: int = 1) -> None:
        self._processes = processes
        self._pool: Executor | None = None

    async def ask(self, work: Callable[..., _Answer], *given: object) -> _Answer:
        """Have a function of a module called there; what it raises is raised here.

        Tried once more where the process has died meanwhile.
        """
        loop = asyncio.get_running_loop()
        try:
            return await loop.run_in_executor(self.pool(), work, *given)
        except BrokenProcessPool:
            self.close()
            return await loop.run_in_executor(self.pool(), work, *given)

    def pool(self) -> Executor:
        """The processes, started when first needed."""
        if self._pool is None:
            several = self._processes
            self._pool = ProcessPoolExecutor(several, get_context("spawn"), begin) if several else ThreadPoolExecutor(1)
        return self._pool

    def begin(self) -> None:
        """Have them load what they need before it is asked for."""
        if self._pool is None:
            self.pool().submit(int)

    def close(self) -> None:
        """End them, whatever they are at."""
        pool, self._pool = self._pool, None
        if pool is None:
            return
        if isinstance(pool, ProcessPoolExecutor):
            for process in list((pool._processes or {}).values()):
                process.kill()
        pool.shutdown(wait=True, cancel_futures=True)


def begin() -> None:
    """What a process beside the server does first: give way, and end with the one that started it."""
    with suppress(OSError, AttributeError):  # not every system lets a process give way
        os.nice(NICENESS)
    Thread(target=_end_with_the_server, daemon=True).start()


def _end_with_the_server() -> None:
    """A server that is killed cannot end its own."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(0)
