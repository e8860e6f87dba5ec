"""The server killed in the middle of writes: eight times in the test line, a thousand with ``--full`` and four writers.

Every one of them is the whole server, started as the command line starts it, on one data folder. It is forked from a
process that has loaded the application already, which leaves out the second that loading takes and nothing else. A
client writes steps as fast as they are acknowledged until SIGKILL cuts it off, then does as the page does: it sends the
step in flight again, under the same key.

Half of the kills come from within, behind one statement of a step after the other: its parts, its commit that nobody is
told of any more, the beginning of the next. Half come from outside, at a moment drawn from a seed.
"""

import contextlib
import multiprocessing
import os
import random
import shutil
import signal
import socket
import sqlite3
import sys
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from multiprocessing.connection import Connection
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from typing import Any

import httpx2 as httpx
import pytest
import uvicorn.lifespan.on
import uvicorn.loops.auto  # noqa: F401

from app.cli import main
from app.document.models import MOST_MEMBERS, as_document
from app.document.reading import decode, read_mount
from app.library.store import FILE, VERSIONS_KEPT
from app.web import server, serving  # noqa: F401 - loaded before the fork, as are uvicorn's parts below
from tests.mounts import Document, document, end, rod

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL on Windows")

SAMPLE, ALL = 8, 1000
"""Kills in the test line, and with ``--full``."""

WRITERS = 4
"""How many write at once with ``--full``, each on a mount of its own."""

LONGEST_LIFE_S = 0.12
"""Killed from outside, a server lives up to this long after its first acknowledged step: some tens of steps."""

MOST_STEPS = 12
STATEMENTS = 7
"""Killed from within, it keeps fewer steps than this; each takes so many statements from one INSERT to the next."""

SEED = 20260301


def drawing(writer: int, step: int) -> Document:
    """The largest drawing there is; each part tells whose it is and of which step, so that a mixture would show."""
    rods = [
        rod(f"rod {n}", end("frame", (n, 900 + writer)), end("blade", (n, 100 - step))) for n in range(MOST_MEMBERS)
    ]
    return as_document(read_mount(document(rods, title=f"writer {writer}, step {step}", tolerance=step)))


class Doomed(sqlite3.Connection):
    """A connection whose process kills itself behind a set statement, counted from the first step it keeps."""

    left = 0
    counting = False

    def execute(self, statement: str, /, *given: Any) -> sqlite3.Cursor:  # noqa: ANN401 - as sqlite3 has it
        done = super().execute(statement, *given)
        self.counting = self.counting or statement.startswith("INSERT INTO versions")
        if self.counting:
            if self.left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            self.left -= 1
        return done


def serve(port: int, folder: Path, log: Path, there: Connection, statements: int | None) -> None:
    """What runs in the process that is killed: from within behind so many statements more, if there is a number."""
    if statements is not None:
        Doomed.left = statements
        sqlite3.connect = partial(sqlite3.connect, factory=Doomed)  # type: ignore[assignment] # ends with this process
    said = os.fdopen(os.dup(there.fileno()), "w")
    with log.open("a") as complained, contextlib.redirect_stdout(said), contextlib.redirect_stderr(complained):
        main(["--no-open", "--port", str(port), "--data", str(folder)])


@dataclass
class Writer:
    """One who works on a mount of its own: what it sent and what was acknowledged."""

    number: int
    address: str
    id: str = ""
    acknowledged: int = 0
    client: httpx.Client = field(default_factory=lambda: httpx.Client(timeout=10))

    def begin(self) -> None:
        """Keep the first step, as a new mount."""
        made = {"mount": drawing(self.number, 1), "key": f"{self.number}-0"}
        self.id = self.client.post(self.address, json=made).json()["id"]
        self.acknowledged = 1

    def send(self) -> int:
        """Send the next step; the same one under the same key as long as it is not acknowledged."""
        step = self.acknowledged
        made = {"revision": step, "mount": drawing(self.number, step + 1), "key": f"{self.number}-{step}"}
        answer = self.client.put(f"{self.address}/{self.id}", json=made)
        assert answer.status_code == 200, answer.text
        self.acknowledged += 1
        return int(answer.json()["revision"])

    def until_killed(self, heard: Callable[[], None]) -> None:
        """Send step after step until no answer comes, and tell of every one that does."""
        with contextlib.suppress(httpx.TransportError):
            while True:
                assert self.send() == self.acknowledged
                heard()

    def stored(self, folder: Path, newer_than: int) -> dict[int, Document]:
        """Every version of the mount that the file of a folder holds."""
        with contextlib.closing(sqlite3.connect(folder / FILE)) as opened:
            rows = opened.execute(
                "SELECT v.revision, document FROM versions v JOIN mounts ON mount = number "
                "WHERE id = ? AND v.revision > ?",
                (self.id, newer_than),
            )
            return {revision: decode(text) for revision, text in rows}


@dataclass
class Desk:
    """A data folder and the server on it, with those who write."""

    folder: Path
    port: int
    writers: list[Writer]
    process: ForkServerProcess | None = None

    def start(self, statements: int | None = None) -> None:
        """Start the server, and wait for the first it says: from then on it listens."""
        log = self.folder.parent / "log.txt"
        context = multiprocessing.get_context("forkserver")
        here, there = context.Pipe()
        self.process = context.Process(target=serve, args=(self.port, self.folder, log, there, statements))
        self.process.start()
        there.close()
        with here:
            if not here.poll(20) or not os.read(here.fileno(), 4096):
                pytest.fail(f"the server did not come up:\n{log.read_text() if log.exists() else ''}")

    def kill(self) -> None:
        if self.process:
            self.process.kill()

    def buried(self) -> int | None:
        """Wait for the end of the killed process: how it ended."""
        assert self.process is not None
        self.process.join()
        return self.process.exitcode

    def write_until_killed(self, after_s: float | None = None) -> None:
        """Let everybody write; if there is a number, kill so long after the first step that is acknowledged."""
        killing = threading.Timer(after_s or 0, self.kill)
        first = threading.Lock()

        def heard() -> None:
            if after_s is not None and first.acquire(blocking=False):
                killing.start()

        with ThreadPoolExecutor(len(self.writers)) as threads:
            for done in [threads.submit(writer.until_killed, heard) for writer in self.writers]:
                done.result()
        if killing.ident:
            killing.join()

    def copied(self) -> Path:
        """What the file holds, with the journal beside it: a copy that may be opened, and so mended, like the file."""
        aside = self.folder.parent / "copy"
        shutil.rmtree(aside, ignore_errors=True)
        aside.mkdir()
        for file in self.folder.glob(f"{FILE}*"):
            shutil.copy(file, aside)
        with contextlib.closing(sqlite3.connect(aside / FILE)) as opened:
            assert opened.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            assert opened.execute("PRAGMA foreign_key_check").fetchall() == []
        return aside


@pytest.fixture
def desk(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Desk]:
    with socket.socket() as opened:
        opened.bind(("127.0.0.1", 0))
        port = opened.getsockname()[1]
    multiprocessing.get_context("forkserver").set_forkserver_preload([__name__])
    many = WRITERS if request.config.getoption("full") else 1
    writers = [Writer(number, f"http://127.0.0.1:{port}/library") for number in range(1, many + 1)]
    set_up = Desk(tmp_path / "data", port, writers)
    yield set_up
    for writer in writers:
        writer.client.close()
    set_up.kill()
    set_up.buried()


def test_kills_lose_no_acknowledged_step_and_tear_no_document(desk: Desk, request: pytest.FixtureRequest) -> None:
    kills = ALL if request.config.getoption("full") else SAMPLE
    moments = random.Random(SEED)  # noqa: S311 - no secret
    desk.start()
    for writer in desk.writers:
        writer.begin()
    desk.kill()
    desk.buried()
    kept_in_flight = 0
    for number in range(kills):
        checked = [writer.acknowledged for writer in desk.writers]
        if number % 2:
            desk.start()
            desk.write_until_killed(after_s=moments.uniform(0, LONGEST_LIFE_S))
        else:
            desk.start(moments.randrange(MOST_STEPS) * STATEMENTS + number // 2 % STATEMENTS)
            desk.write_until_killed()
        assert desk.buried() == -signal.SIGKILL
        folder = desk.copied()
        for writer, before in zip(desk.writers, checked, strict=True):
            found = writer.stored(folder, before)
            newest = max(found, default=before)
            assert newest - writer.acknowledged in (0, 1)
            assert found == {each: drawing(writer.number, each) for each in range(before + 1, newest + 1)}
            kept_in_flight += newest - writer.acknowledged
    assert 0 < kept_in_flight < kills * len(desk.writers)
    desk.start()
    for writer in desk.writers:
        assert writer.send() == writer.acknowledged
        everything = writer.stored(desk.copied(), 0)
        oldest = max(1, writer.acknowledged - VERSIONS_KEPT + 1)
        assert everything == {each: drawing(writer.number, each) for each in range(oldest, writer.acknowledged + 1)}
