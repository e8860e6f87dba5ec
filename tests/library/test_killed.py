"""The server killed in the middle of writes, a hundred times.

Every one of the hundred is the whole server, started as the command line starts it, on one data folder. It is forked
from a process that has loaded the application already, which leaves out the second that loading takes and nothing else.
The client writes steps as fast as they are acknowledged until SIGKILL cuts it off, then does as the page does: it sends
the step in flight again, under the same key. Half of the kills come at a random moment, half at the instant the files
are seen to change.
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
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
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

KILLS = 100
LONGEST_LIFE_S = 0.12
"""A server is killed up to this long after its first acknowledged step: some tens of steps."""

SEED = 20260301


def drawing(number: int) -> Document:
    """The largest drawing there is; every part of it tells which step it belongs to, so that a mixture would show."""
    rods = [rod(f"rod {n}", end("frame", (n, 900)), end("blade", (n, 100 - number))) for n in range(MOST_MEMBERS)]
    return as_document(read_mount(document(rods, title=f"step {number}", tolerance=number)))


def serve(port: int, folder: Path, log: Path) -> None:
    """What runs in the process that is killed."""
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

    def start(self) -> None:
        log = self.folder.parent / "log.txt"
        context = multiprocessing.get_context("forkserver")
        self.process = context.Process(target=serve, args=(self.port, self.folder, log))
        self.process.start()
        deadline = time.monotonic() + 20
        while time.monotonic() < deadline and self.process.is_alive():
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", self.port), timeout=1):
                return
        pytest.fail(f"the server did not come up:\n{log.read_text() if log.exists() else ''}")

    def kill(self) -> None:
        if self.process:
            self.process.kill()

    def kill_in_the_write(self) -> None:
        """Kill at the first change of the files; whatever has changed them by then is all that is written."""
        before, deadline = self.written(), time.monotonic() + 2
        while self.written() == before and time.monotonic() < deadline:
            pass
        self.kill()

    def written(self) -> list[tuple[int, int]]:
        """Size and time of the database and of what is written ahead."""
        found = [os.stat(path) for path in (self.folder / FILE, self.folder / f"{FILE}-wal") if path.exists()]
        return [(each.st_size, each.st_mtime_ns) for each in found]

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

    def write_until_killed(self, after_s: float, how: Callable[[], None]) -> None:
        killing: threading.Timer | None = None
        with contextlib.suppress(httpx.TransportError):
            while True:
                assert self.send() == self.acknowledged
                if killing is None:
                    killing = threading.Timer(after_s, how)
                    killing.start()
        assert killing is not None
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


def test_a_hundred_kills_lose_no_acknowledged_step_and_tear_no_document(desk: Desk) -> None:
    moments = random.Random(SEED)  # noqa: S311 - no secret
    desk.start()
    desk.id = desk.client.post(desk.address, json={"mount": drawing(1), "key": "k0"}).json()["id"]
    desk.acknowledged = 1
    kept_in_flight = 0
    for number in range(KILLS):
        checked = desk.acknowledged
        how = desk.kill if number % 2 else desk.kill_in_the_write
        desk.write_until_killed(moments.uniform(0, LONGEST_LIFE_S), how)
        assert desk.buried() == -signal.SIGKILL
        desk.start()
        found = stored(desk.folder, checked)
        extra = max(found) - desk.acknowledged
        assert extra in (0, 1)
        assert found == {each: drawing(each) for each in range(checked + 1, max(found) + 1)}
        kept_in_flight += extra
        assert desk.send() == desk.acknowledged
    assert 0 < kept_in_flight < KILLS
    everything = stored(desk.folder, 0)
    oldest = max(1, desk.acknowledged - VERSIONS_KEPT + 1)
    assert everything == {each: drawing(each) for each in range(oldest, desk.acknowledged + 1)}
