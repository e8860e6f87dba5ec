"""Searches of a server: what is worked out where, while their processes come up."""

from concurrent.futures import Executor, Future, ThreadPoolExecutor
from threading import Event, get_ident
from typing import Any

import numpy as np

from app.search.boxes import read_free
from app.search.goals import Goal
from app.search.search import Problem
from app.shipped import shipped_mounts
from app.web.searches import Warming


class Slow(ThreadPoolExecutor):
    """A pool whose threads begin when they are let."""

    def __init__(self) -> None:
        super().__init__(1)
        self.let = Event()

    def submit(self, function: Any, /, *given: Any, **named: Any) -> "Future[Any]":  # noqa: ANN401 - as the base has it
        def begin() -> object:
            self.let.wait()
            return function(*given, **named)

        return super().submit(begin)


def thread_of(_: float) -> int:
    return get_ident()


def problem() -> Problem:
    mount = shipped_mounts()["3-twin-cylinders"]
    box = {"joint": "left cylinder / 2", "x": [-1000, -700], "alike": True}
    return Problem(mount, {}, (Goal("error", 3.0),), read_free(mount, [box]))


def test_what_is_mapped_while_a_pool_comes_up_is_worked_out_here_and_then_there() -> None:
    with Slow() as pool:
        warming: Executor = Warming(pool, 1, problem())
        assert list(warming.map(thread_of, np.zeros(2))) == [get_ident()] * 2
        pool.let.set()
        pool.submit(int).result()
        assert get_ident() not in list(warming.map(thread_of, np.zeros(2)))
