"""The server killed in the middle of writes: eight times in the test line, a hundred times with ``--full``.

Every one of them is the whole server, started as the command line starts it, on one data folder. It is forked from a
process that has loaded the application already, which leaves out the second that loading takes and nothing else. The
client writes steps as fast as they are acknowledged until SIGKILL cuts it off, then does as the page does: it sends the
step in flight again, under the same key.

Half of the kills come from within, behind one statement of a step after the other: its parts, its commit that nobody is
told of any more, the beginning of the next. Half come from outside, at a moment drawn from a seed.
"""

import contextlib
import multiprocessing
import os
import random
import signal
import socket
import sqlite3
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from typing import Any

import httpx2 as httpx
import pytest

from app.cli import main
from app.document.models import MOST_MEMBERS, as_document
from app.document.reading import decode, read_mount
from app.library.store import FILE, VERSIONS_KEPT
from app.web import server  # noqa: F401 - loaded before the fork
from tests.mounts import Document, document, end, rod

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL on Windows")

SAMPLE, ALL = 8, 100
"""Kills in the test line, and with ``--full``."""

LONGEST_LIFE_S = 0.12
"""Killed from outside, a server lives up to this long after its first acknowledged step: some tens of steps."""

MOST_STEPS = 12
STATEMENTS = 7
"""Killed from within, it keeps fewer steps than this; each takes so many statements from one INSERT to the next."""

SEED = 20260301


def drawing(number: int) -> Document:
    """The largest drawing there is; every part of it tells which step it belongs to, so that a mixture would show."""
    rods = [rod(f"rod {n}", end("frame", (n, 900)), end("blade", (n, 100 - number))) for n in range(MOST_MEMBERS)]
    return as_document(read_mount(document(rods, title=f"step {number}", tolerance=number)))


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


def serve(port: int, folder: Path, log: Path, statements: int | None) -> None:
    """What runs in the process that is killed: from within behind so many statements more, if there is a number."""
    if statements is not None:
        Doomed.left = statements
        sqlite3.connect = partial(sqlite3.connect, factory=Doomed)  # type: ignore[assignment] # ends with this process
    with log.open("a") as said, contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        main(["--no-open", "--port", str(port), "--data", str(folder)])


@dataclass
class Desk:
    """A data folder, the server on it, and the client that writes: what it sent and what was acknowledged."""

    folder: Path
    port: int
    id: str = ""
    acknowledged: int = 0
    process: ForkServerProcess | None = None
    client: httpx.Client = field(default_factory=lambda: httpx.Client(timeout=10))

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}/library"

    def start(self, statements: int | None = None) -> None:
        log = self.folder.parent / "log.txt"
        context = multiprocessing.get_context("forkserver")
        self.process = context.Process(target=serve, args=(self.port, self.folder, log, statements))
        self.process.start()
        deadline = time.monotonic() + 20
        while time.monotonic() < deadline and self.process.is_alive():
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", self.port), timeout=1):
                return
        pytest.fail(f"the server did not come up:\n{log.read_text() if log.exists() else ''}")

    def kill(self) -> None:
        if self.process:
            self.process.kill()

    def buried(self) -> int | None:
        """Wait for the end of the killed process: how it ended."""
        assert self.process is not None
        self.process.join()
        return self.process.exitcode

    def send(self) -> int:
        """Send the next step; the same one under the same key as long as it is not acknowledged."""
        made = {"revision": self.acknowledged, "mount": drawing(self.acknowledged + 1), "key": f"k{self.acknowledged}"}
        answer = self.client.put(f"{self.address}/{self.id}", json=made)
        assert answer.status_code == 200, answer.text
        self.acknowledged += 1
        return int(answer.json()["revision"])

    def write_until_killed(self, after_s: float | None = None) -> None:
        """Send step after step until no answer comes; if there is a number, kill so long after the first answer."""
        killing: threading.Timer | None = None
        with contextlib.suppress(httpx.TransportError):
            while True:
                assert self.send() == self.acknowledged
                if killing is None and after_s is not None:
                    killing = threading.Timer(after_s, self.kill)
                    killing.start()
        if killing:
            killing.join()


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with socket.socket() as opened:
        opened.bind(("127.0.0.1", 0))
        port = opened.getsockname()[1]
    multiprocessing.get_context("forkserver").set_forkserver_preload([__name__])
    set_up = Desk(tmp_path / "data", port)
    yield set_up
    set_up.client.close()
    set_up.kill()
    set_up.buried()


def stored(folder: Path, newer_than: int) -> dict[int, dict[str, Any]]:
    """Every version the file holds, read with SQLite alone, after its own check of the whole file."""
    opened = sqlite3.connect(f"file:{folder / FILE}?mode=ro", uri=True)
    try:
        assert opened.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert opened.execute("PRAGMA foreign_key_check").fetchall() == []
        rows = opened.execute("SELECT revision, document FROM versions WHERE revision > ?", (newer_than,))
        return {revision: decode(text) for revision, text in rows}
    finally:
        opened.close()


def test_kills_lose_no_acknowledged_step_and_tear_no_document(desk: Desk, request: pytest.FixtureRequest) -> None:
    kills = ALL if request.config.getoption("full") else SAMPLE
    moments = random.Random(SEED)  # noqa: S311 - no secret
    desk.start()
    desk.id = desk.client.post(desk.address, json={"mount": drawing(1), "key": "k0"}).json()["id"]
    desk.acknowledged = 1
    desk.kill()
    desk.buried()
    kept_in_flight = 0
    for number in range(kills):
        checked = desk.acknowledged
        if number % 2:
            desk.start()
            desk.write_until_killed(after_s=moments.uniform(0, LONGEST_LIFE_S))
        else:
            desk.start(moments.randrange(MOST_STEPS) * STATEMENTS + number // 2 % STATEMENTS)
            desk.write_until_killed()
        assert desk.buried() == -signal.SIGKILL
        found = stored(desk.folder, checked)
        newest = max(found, default=checked)
        assert newest - desk.acknowledged in (0, 1)
        assert found == {each: drawing(each) for each in range(checked + 1, newest + 1)}
        kept_in_flight += newest - desk.acknowledged
    assert 0 < kept_in_flight < kills
    desk.start()
    assert desk.send() == desk.acknowledged
    everything = stored(desk.folder, 0)
    oldest = max(1, desk.acknowledged - VERSIONS_KEPT + 1)
    assert everything == {each: drawing(each) for each in range(oldest, desk.acknowledged + 1)}
