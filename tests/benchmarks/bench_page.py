"""From the hand to painted numbers, in a real browser: ``python -m tests.benchmarks.bench_page``.

The same page is driven against the server, against one that sends back a stored readout without computing, and against
the server by a browser that tells of moves once a frame only. Printed: median and 95th percentile of the time from a
pointer move until the frame is painted that shows the number it led to, and in how many of the moves that is the frame
that draws the move; the ratio of the first two; and the server's memory.
"""

import statistics
import threading
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import uvicorn
from playwright.sync_api import Browser, sync_playwright

from app.document.models import Mount
from app.web.ask import Answerer
from app.web.server import create_app
from app.web.serving import server_of
from tests.answers import readout
from tests.browser.conftest import Server, free_port, launch
from tests.browser.papers import as_many_members_as_fit, packed

MOVES = 240
SWING_PX = 40.0
WITHIN_PX = 10.0
"""As far as the large mount stays within its strokes: beyond, all of its numbers go and come with every other move."""

RECORD = """
() => {
  window.times = [];
  window.frames = [];
  let moved = null;
  let drawn = 0;
  let then = 0;
  const count = () => { drawn += 1; requestAnimationFrame(count); };
  requestAnimationFrame(count);
  addEventListener('pointermove', (event) => { moved = event.timeStamp; then = drawn; }, true);
  const number = document.querySelector('[data-readout="worst"]');
  new MutationObserver(() => {
    if (moved === null) return;
    const from = moved;
    moved = null;
    window.frames.push(drawn - then);
    // The numbers are changed in a frame's callbacks: the next message comes when that frame has been painted.
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => window.times.push(performance.now() - from);
    port2.postMessage(null);
  }).observe(number, {attributes: true, attributeFilter: ['data-value']});
}
"""

ONCE_A_FRAME = """
const add = EventTarget.prototype.addEventListener;
EventTarget.prototype.addEventListener = function (name, ...more) {
  if (name !== 'pointerrawupdate') add.call(this, name, ...more);
};
"""
"""Takes moves between frames away from a page."""


@dataclass(frozen=True)
class Timed:
    """What one run came to."""

    median: float
    late: float
    """The 95th percentile, ms."""
    in_frame: float
    """Share of the moves whose number is painted in the frame that draws them."""


def echoing() -> Answerer:
    """Sends the first readout back every time, its worst error off by a count so that there is something to paint."""
    kept: dict[str, Any] = {}

    def answer(mount: Mount, command: dict[str, object]) -> dict[str, Any]:
        if not kept:
            kept.update(readout(mount, command))
        kept["budget"]["right"]["worst"] += 1e-6
        return kept

    return answer


def serve(answerer: Answerer) -> tuple[uvicorn.Server, str]:
    port = free_port()
    server = server_of(create_app(answerer=answerer))
    server.config.port = port
    threading.Thread(target=server.run, daemon=True).start()
    while not server.started:
        time.sleep(0.02)
    return server, f"http://127.0.0.1:{port}/"


def measure(
    browser: Browser, url: str, joint: str = "right cylinder / 1", script: str = "", swing: float = SWING_PX
) -> Timed:
    """How long it takes while a joint is dragged, ``swing`` pixels to and fro."""
    page = browser.new_page(viewport={"width": 1440, "height": 900})
    page.add_init_script(script)
    page.goto(url)
    page.locator("#readout[data-state=live]").wait_for()
    page.evaluate(RECORD)
    box = page.locator(f"[data-handle='{joint}'] .handle-target").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.get_by_label("grid step").select_option("1")
    page.mouse.move(x, y)
    page.mouse.down()
    for number in range(MOVES):
        page.mouse.move(x + swing * (number % 2) + number / 20, y)
        page.wait_for_timeout(25)
    page.mouse.up()
    times: list[float] = page.evaluate("window.times")
    frames: list[int] = page.evaluate("window.frames")
    page.close()
    cuts = statistics.quantiles(times, n=20)
    return Timed(cuts[9], cuts[18], sum(each <= 1 for each in frames) / len(frames))


def main() -> None:
    with sync_playwright() as started:
        browser = launch(started)
        results = {}
        for name, answerer in (("echo", echoing()), ("real", readout)):
            server, url = serve(answerer)
            measure(browser, url)
            results[name] = measure(browser, url)
            if name == "real":
                results["real, told of moves once a frame"] = measure(browser, url, script=ONCE_A_FRAME)
            server.should_exit = True
        server, url = serve(readout)
        mount = as_many_members_as_fit(39)
        large = f"{url}#m={packed(mount)}"
        joint = next(f"{each['id']} / 1" for each in mount["members"] if each["kind"] == "cylinder")
        measure(browser, large, joint)
        results["39 members, 13 bodies"] = measure(browser, large, joint, swing=WITHIN_PX)
        results["39 members, every other move beyond a stroke"] = measure(browser, large, joint)
        server.should_exit = True
        browser.close()
    print("from pointer move to painted numbers (wanted: 33 ms at the median, two frames):")
    for name, timed in results.items():
        shares = f"{timed.in_frame:.0%} in the frame that draws the move"
        print(f"{name}: median {timed.median:.1f} ms, 95th percentile {timed.late:.1f} ms, {shares}")
    print(f"ratio at the 95th percentile {results['real'].late / results['echo'].late:.2f} (wanted: 1.15 or less)")
    own = Server(free_port(), Path("/tmp/bench_page.txt"))  # noqa: S108 - a benchmark's log
    own.start()
    assert own.process is not None
    print(f"memory of a fresh server: {memory_mb(own.process.pid):.0f} MB (wanted: under 150)")
    own.stop()


def memory_mb(pid: int) -> float:
    """Resident memory of a process, MB (Linux)."""
    for line in Path(f"/proc/{pid}/status").read_text().splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024
    return float("nan")


if __name__ == "__main__":
    main()
