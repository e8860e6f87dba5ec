"""From the hand to painted numbers, in a real browser: ``python -m tests.benchmarks.bench_page``.

The same page is driven twice: once against the server, once against one that sends back a stored readout without
computing. Printed: the 95th percentile of the time from a pointer move to the frame that shows the number it led to,
both ways, and their ratio; and the server's memory.
"""

import statistics
import threading
import time
from pathlib import Path
from typing import Any

import uvicorn
from playwright.sync_api import Browser, sync_playwright

from app.document.models import Mount
from app.web.ask import Answerer
from app.web.server import create_app
from tests.answers import readout
from tests.browser.conftest import Server, free_port, launch
from tests.browser.papers import as_many_members_as_fit, packed

MOVES = 240

RECORD = """
() => {
  window.times = [];
  let moved = null;
  addEventListener('pointermove', (event) => { moved = event.timeStamp; }, true);
  const number = document.querySelector('[data-readout="worst"]');
  new MutationObserver(() => {
    if (moved === null) return;
    const from = moved;
    moved = null;
    requestAnimationFrame(() => setTimeout(() => window.times.push(performance.now() - from)));
  }).observe(number, {attributes: true, attributeFilter: ['data-value']});
}
"""


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
    server = uvicorn.Server(uvicorn.Config(create_app(answerer=answerer), port=port, log_level="error"))
    threading.Thread(target=server.run, daemon=True).start()
    while not server.started:
        time.sleep(0.02)
    return server, f"http://127.0.0.1:{port}/"


def measure(browser: Browser, url: str, joint: str = "right cylinder / 1") -> list[float]:
    page = browser.new_page(viewport={"width": 1440, "height": 900})
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
        page.mouse.move(x + 40 * (number % 2) + number / 10, y)
        page.wait_for_timeout(25)
    page.mouse.up()
    times: list[float] = page.evaluate("window.times")
    page.close()
    return times


def main() -> None:
    with sync_playwright() as started:
        browser = launch(started)
        results = {}
        for name, answerer in (("echo", echoing()), ("real", readout)):
            server, url = serve(answerer)
            measure(browser, url)
            results[name] = statistics.quantiles(measure(browser, url), n=20)
            server.should_exit = True
        server, url = serve(readout)
        mount = as_many_members_as_fit(39)
        large = f"{url}#m={packed(mount)}"
        joint = next(f"{each['id']} / 1" for each in mount["members"] if each["kind"] == "cylinder")
        measure(browser, large, joint)
        cuts = statistics.quantiles(measure(browser, large, joint), n=20)
        results["39 members, 13 bodies"] = cuts
        server.should_exit = True
        browser.close()
    for name, cuts in results.items():
        print(
            f"{name}: median {cuts[9]:6.1f} ms, 95th percentile {cuts[18]:6.1f} ms from pointer move to painted numbers"
        )
    print(f"ratio at the 95th percentile {results['real'][18] / results['echo'][18]:.2f} (wanted: 1.15 or less)")
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
