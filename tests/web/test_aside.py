"""Work beside the server: in a process of its own, or in a thread where there is none."""

import math
import os
from collections.abc import Iterator
from multiprocessing import active_children

import pytest

from app.web.aside import Aside
from tests.web.client import aside as run


@pytest.fixture
def beside() -> Iterator[Aside]:
    made = Aside()
    yield made
    made.close()


def test_it_works_in_a_process_of_its_own_that_is_started_again_when_it_has_died(beside: Aside) -> None:
    async def asked() -> None:
        first = await beside.ask(os.getpid)
        assert first != os.getpid()
        os.kill(first, 9)
        assert await beside.ask(os.getpid) not in (first, os.getpid())
        with pytest.raises(ValueError, match="math domain error"):
            await beside.ask(math.sqrt, -1.0)

    run(asked())
    before = len(active_children())
    beside.close()
    assert len(active_children()) < before


def test_without_a_process_a_thread_of_the_server_works() -> None:
    here = Aside(0)

    async def asked() -> None:
        assert await here.ask(os.getpid) == os.getpid()

    run(asked())
    here.close()
