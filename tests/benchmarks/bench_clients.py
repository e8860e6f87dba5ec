"""A class on one server: ``python -m tests.benchmarks.bench_clients [SECONDS]``.

Sixty clients each drag a joint of a shipped mount over a live line: the next edit goes out when the last is answered,
and no more than thirty a second; once a second the step is kept. Ten of them draw instead: each of their edits is a
topology nobody has had before, whose equations are written anew. Printed: how long a readout of a known topology takes
and how long keeping does, and the memory of the server at the start and at the end.
"""

import asyncio
import copy
import itertools
import json
import os
import random
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx2 as httpx
from websockets.asyncio.client import ClientConnection, connect

from app.document.models import as_document
from app.shipped import shipped_mounts
from tests.browser.conftest import Server, free_port
from tests.mounts import Document, end, pin, rod

CLIENTS, DRAWING = 60, 10
MOST_A_SECOND = 30
SAVE_EVERY_S = 1.0
EDITS = 50
"""Different places a joint is dragged to."""
READOUT_MS, SAVE_MS = 150, 300
"""Targets for the 95th percentiles."""

MOST_TIES = 4
"""New topologies have so many more rods than the mount they begin with, each between two of its bodies."""


@dataclass
class Times:
    """What was measured, ms."""

    known: list[float] = field(default_factory=list)
    new: list[float] = field(default_factory=list)
    saves: list[float] = field(default_factory=list)


def dragged(drawn: Document, by: float) -> Document:
    """The same mount with its first joint elsewhere."""
    edited = copy.deepcopy(drawn)
    member = edited["members"][0]
    (member["ends"][0] if "ends" in member else member)["at"][0] += by
    return edited


def new_topologies(number: int) -> Any:  # noqa: ANN401 - a generator without an end
    """Drawings of a client, no two of one topology: which bodies its own bodies hang on, and by what."""
    rng = random.Random(number)  # noqa: S311 - no secret
    for count in itertools.count():
        names = [f"body {number}-{count}-{each}" for each in range(rng.randint(1, 2))]
        members = []
        for each, name in enumerate(names):
            on = rng.choice(["frame", "blade", *names[:each]])
            members.append(pin(f"pin {each}", on, name, (200.0 * each, 600)))
            members += [
                rod(f"tie {each}-{tie}", end(rng.choice(["frame", "blade"]), (100.0 * tie, 900)), end(name, (tie, 700)))
                for tie in range(rng.randint(1, MOST_TIES))
            ]
        drawn = as_document(shipped_mounts()[rng.choice(list(shipped_mounts()))])
        yield {**drawn, "bodies": [*drawn.get("bodies", []), *names], "members": [*drawn["members"], *members]}


async def ask(line: ClientConnection, seq: int, mount: str) -> float:
    """Ask for the readout of a mount, as JSON: how long the answer takes, ms."""
    since = time.perf_counter()
    await line.send(f'{{"seq":{seq},"mount":{mount}}}')
    answer = str(await line.recv())
    assert answer.startswith(f'{{"seq":{seq},"readout"'), answer
    return (time.perf_counter() - since) * 1000


async def drag(url: str, number: int, until: float, times: Times) -> None:
    """One who drags, and keeps what was dragged."""
    drawn = as_document(list(shipped_mounts().values())[number % len(shipped_mounts())])
    edits = [dragged(drawn, by) for by in range(EDITS)]
    texts = [json.dumps(edit) for edit in edits]
    async with connect(f"ws{url[4:]}/live") as line, httpx.AsyncClient(base_url=url, timeout=60) as keeping:
        kept = (await keeping.post("/library", json={"mount": drawn})).json()
        # People do not end their drags at the same moment.
        revision, saved = kept["revision"], time.perf_counter() - SAVE_EVERY_S * number / CLIENTS
        for seq in itertools.count(1):
            begun = time.perf_counter()
            if begun > until:
                return
            times.known.append(await ask(line, seq, texts[seq % EDITS]))
            if time.perf_counter() - saved > SAVE_EVERY_S:
                saved = time.perf_counter()
                answer = await keeping.put(
                    f"/library/{kept['id']}", json={"revision": revision, "mount": edits[seq % EDITS]}
                )
                times.saves.append((time.perf_counter() - saved) * 1000)
                revision = answer.json()["revision"]
            await asyncio.sleep(max(0.0, begun + 1 / MOST_A_SECOND - time.perf_counter()))


async def draw(url: str, number: int, until: float, times: Times) -> None:
    """One who draws something nobody has drawn before, edit after edit."""
    async with connect(f"ws{url[4:]}/live") as line:
        for seq, drawn in enumerate(new_topologies(number), 1):
            begun = time.perf_counter()
            if begun > until:
                return
            times.new.append(await ask(line, seq, json.dumps(drawn)))
            await asyncio.sleep(max(0.0, begun + 1 / MOST_A_SECOND - time.perf_counter()))


def memory_mb(process: int) -> float:
    """What a process holds in memory; not a number where the system does not say."""
    try:
        status = Path(f"/proc/{process}/status").read_text()
    except OSError:
        return float("nan")
    return int(status.split("VmRSS:")[1].split()[0]) / 1024


def processor_s(process: int) -> float:
    """How long a process has had a processor, s; not a number where the system does not say."""
    try:
        fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
    except OSError:
        return float("nan")
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def percentile(found: list[float], share: int) -> float:
    return statistics.quantiles(found, n=100)[share - 1] if len(found) > 1 else float("nan")


async def work(url: str, seconds: float) -> Times:
    """Let everybody work for so long."""
    times, until = Times(), time.perf_counter() + seconds
    everybody = [draw(url, number, until, times) for number in range(DRAWING)]
    everybody += [drag(url, number, until, times) for number in range(CLIENTS - DRAWING)]
    await asyncio.gather(*everybody)
    return times


def main() -> None:
    """Serve, work, print."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 20.0
    with tempfile.TemporaryDirectory() as folder:
        server = Server(free_port(), Path(folder) / "log.txt")
        server.start()
        assert server.process is not None
        try:
            asyncio.run(work(server.url, min(seconds, 3.0)))  # until every shipped topology has been had
            before, had = memory_mb(server.process.pid), processor_s(server.process.pid)
            times = asyncio.run(work(server.url, seconds))
            after, had = memory_mb(server.process.pid), processor_s(server.process.pid) - had
        finally:
            server.stop()
    readout, save = percentile(times.known, 95), percentile(times.saves, 95)
    print(f"{CLIENTS} clients for {seconds:g} s, {DRAWING} of them with new topologies ({len(times.new)} in all)")
    print(
        f"known readout  p50 {percentile(times.known, 50):6.1f} ms  p95 {readout:6.1f} ms  of {len(times.known)}   "
        f"target: {READOUT_MS} ms   {'met' if readout < READOUT_MS else 'missed'}"
    )
    print(
        f"save           p50 {percentile(times.saves, 50):6.1f} ms  p95 {save:6.1f} ms  of {len(times.saves)}   "
        f"target: {SAVE_MS} ms   {'met' if save < SAVE_MS else 'missed'}"
    )
    print(f"new topology   p50 {percentile(times.new, 50):6.1f} ms  p95 {percentile(times.new, 95):6.1f} ms")
    print(f"memory         {before:.0f} MB at the start, {after:.0f} MB at the end")
    print(f"the server had a processor for {had:.1f} s: where that is much less, the machine had other work")


if __name__ == "__main__":
    main()
