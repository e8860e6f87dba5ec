"""The searches of a server: each in a process of its own, followed by a thread, kept until newer ones come."""

import os
import secrets
from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from multiprocessing.connection import Connection
from threading import Event, Lock, Thread
from typing import Any, Literal, TypeAlias, TypeVar

import numpy as np

from app.document.errors import Fault, SketcherError
from app.document.reading import decode, read_mount
from app.incidents import Incidents
from app.results.answer import answer
from app.search.boxes import read_free
from app.search.goals import read_goals
from app.search.search import Problem, Progress, Searched, search_front, tried
from app.web.aside import begin

MOST_GOING, MOST_KEPT = 2, 16

State: TypeAlias = Literal["going", "done", "failed"]


class Busy(SketcherError):
    """As many searches are going as the machine is given."""

    code = "busy"


class NoSuchSearch(SketcherError):
    """A search that is not there, or no longer."""

    code = "not-found"


@answer
class SearchStanding:
    """How a search stands."""

    id: str
    """Its name, by which it is asked for again."""
    state: State
    """Whether it is going, done, or has failed."""
    progress: Progress | None
    """How far it is; null until the first of it is known."""
    result: Searched | None
    """What it found; null until it is done."""
    error: str | None
    """Why it failed, in a sentence; else null."""


class Searches:
    """Starts searches, keeps how they stand, ends them."""

    def __init__(self, incidents: Incidents) -> None:
        self._incidents = incidents
        self._kept: OrderedDict[str, _Going] = OrderedDict()
        self._starting = Lock()

    def start(self, asked: "Asked", name: str | None = None) -> SearchStanding:
        """Start a search, under the name it is given; one that was started under it already goes on. Raises Busy."""
        with self._starting:
            return self._started(asked, name)

    def _started(self, asked: "Asked", name: str | None) -> SearchStanding:
        if name is not None and name in self._kept:
            return self._kept[name].standing
        if sum(each.standing.state == "going" for each in self._kept.values()) >= MOST_GOING:
            text = f"{MOST_GOING} searches are going already; wait for one, or end it"
            raise Busy([Fault("", text)])
        going = _Going(name or secrets.token_urlsafe(9), asked, self._incidents)
        self._kept[going.standing.id] = going
        while len(self._kept) > MOST_KEPT:
            _, oldest = self._kept.popitem(last=False)
            oldest.kill()
        return going.standing

    def standing(self, name: str) -> SearchStanding:
        """How a search stands. Raises NoSuchSearch."""
        return self._of(name).standing

    def cancel(self, name: str) -> SearchStanding:
        """End a search with what it has so far. Raises NoSuchSearch."""
        going = self._of(name)
        going.cancel()
        return going.standing

    def close(self) -> None:
        """End all, whatever they have."""
        for each in self._kept.values():
            each.kill()

    def _of(self, name: str) -> "_Going":
        if name not in self._kept:
            raise NoSuchSearch([Fault(name[:60], "is no search that is known here; start it again")])
        return self._kept[name]


Asked: TypeAlias = tuple[str, dict[str, float], list[object], list[object], int, int]
"""What goes to the process: the mount as text, strokes, goals and what is free as they came, budget, seed."""


class _Going:
    def __init__(self, name: str, asked: Asked, incidents: Incidents) -> None:
        context = get_context("spawn")
        self._line, theirs = context.Pipe()
        self._process = context.Process(target=_work, args=(theirs, asked), daemon=False)
        self._process.start()
        theirs.close()
        self.standing = SearchStanding(name, "going", None, None, None)
        self._incidents, self._ended = incidents, Event()
        Thread(target=self._follow, daemon=True).start()

    def _follow(self) -> None:
        try:
            while self.standing.state == "going":
                told = self._line.recv()
                if isinstance(told, Progress):
                    self.standing = replace(self.standing, progress=told)
                elif isinstance(told, Searched):
                    self.standing = replace(self.standing, state="done", result=told)
                else:
                    self.standing = replace(self.standing, state="failed", error=str(told))
        except (EOFError, OSError):
            self.standing = replace(self.standing, state="failed", error="the search was ended before it had an answer")
        finally:
            self._ended.set()

    def cancel(self) -> None:
        if self.standing.state == "going":
            try:
                self._line.send("cancel")
            except OSError:
                return
            self._ended.wait(_PATIENCE_S)

    def kill(self) -> None:
        if self._process.is_alive():
            self._process.terminate()
            self._process.join(_PATIENCE_S)


_PATIENCE_S = 5.0
_WORTH_SPLITTING = 4000
"""Geometries from which more processes are worth their start."""


_Made = TypeVar("_Made")


class Warming(Executor):
    """A pool that is used once its processes are up: until then what is mapped is worked out here.

    A process of it takes some seconds to load and to write the equations; the search need not wait for that.
    """

    def __init__(self, pool: Executor, processes: int, problem: Problem) -> None:
        self._pool = pool
        first = np.array([[each.value for each in problem.free]])
        self._up = [pool.submit(tried, problem, first) for _ in range(processes)]

    def map(
        self, fn: Callable[..., _Made], *iterables: Iterable[Any], timeout: float | None = None, chunksize: int = 1
    ) -> Iterator[_Made]:
        """As any executor's, in order."""
        if all(each.done() for each in self._up):
            return self._pool.map(fn, *iterables, timeout=timeout, chunksize=chunksize)
        return map(fn, *iterables)


def _work(line: Connection, asked: Asked) -> None:
    """Search, in the process: progress and answer go up the line, a cancel comes down."""
    begin()
    mount_text, strokes, goals, free, budget, seed = asked
    try:
        mount = read_mount(decode(mount_text))
        problem = Problem(mount, strokes, tuple(read_goals(goals)), read_free(mount, free))

        def tell(progress: Progress) -> bool:
            line.send(progress)
            return not line.poll()

        cores = os.cpu_count() or 1
        if cores == 1 or budget < _WORTH_SPLITTING:
            line.send(search_front(problem, budget, seed, tell=tell))
            return
        with ProcessPoolExecutor(cores, get_context("spawn"), begin) as pool:
            line.send(search_front(problem, budget, seed, Warming(pool, cores, problem), cores, tell))
    except SketcherError as error:
        line.send(str(error))
    except BrokenPipeError:
        return
