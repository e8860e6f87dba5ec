"""A process that writes equations for another: the same to the last bit, and no loss when it is gone."""

import os
import signal
from collections.abc import Iterator

import numpy as np
import pytest

from app.shipped import shipped_mounts
from app.solve.assembly import topology_of
from app.solve.equations import Array, as_text, from_text, write
from app.solve.writer import Writer

TOPOLOGIES = {name: topology_of(mount) for name, mount in shipped_mounts().items()}
LOADING_S = 60


@pytest.fixture
def writer() -> Iterator[Writer]:
    started = Writer()
    started.start()
    yield started
    started.close()


@pytest.mark.parametrize("name", list(TOPOLOGIES))
def test_equations_sent_as_text_are_those_that_were_written_to_the_last_bit(name: str) -> None:
    own, sent = write(TOPOLOGIES[name]), from_text(*as_text(TOPOLOGIES[name]))
    drawn = np.random.default_rng(3)
    q = drawn.normal(size=(own.unknowns,))
    lengths: Array = drawn.uniform(500, 900, size=own.by_length.shape[1:])
    errors = np.zeros(own.by_error.shape[1])
    numbers: Array = drawn.normal(scale=300, size=len(own._written.arguments[1]))  # type: ignore[union-attr]
    for mine, theirs in zip(
        own.at(q.tolist(), numbers.tolist(), lengths.tolist(), errors.tolist()),
        sent.at(q.tolist(), numbers.tolist(), lengths.tolist(), errors.tolist()),
        strict=True,
    ):
        assert np.array_equal(mine, theirs)
    two = [np.stack([each, each + 1]) for each in (q, lengths, errors)]
    for mine, theirs in zip(
        own.stacked(two[0], numbers.tolist(), two[1], two[2]),
        sent.stacked(two[0], numbers.tolist(), two[1], two[2]),
        strict=True,
    ):
        assert np.array_equal(mine, theirs)


def test_another_process_writes_the_equations(writer: Writer) -> None:
    assert writer.ready.wait(LOADING_S)
    topology = TOPOLOGIES["3-twin-cylinders"]
    assert writer.write(topology).rows == write(topology).rows


def test_a_process_that_is_gone_is_told_of(writer: Writer) -> None:
    assert writer.ready.wait(LOADING_S)
    assert writer._process
    os.kill(writer._process.pid, signal.SIGKILL)
    writer._process.wait()
    with pytest.raises((OSError, EOFError)):
        writer.write(TOPOLOGIES["3-twin-cylinders"])


def test_it_ends_with_the_one_it_writes_for(writer: Writer) -> None:
    assert writer.ready.wait(LOADING_S)
    assert writer._process
    assert writer._process.stdin
    writer._process.stdin.close()
    assert writer._process.wait(LOADING_S) == 0
