"""How long a mount's whole travel takes, against the same poses one by one.

Two plain ways for the same grid: ``scipy.optimize.root`` and central differences at every pose (``PlainWay``), and this
project's own readout at every pose. Both are timed on a sample of the cells and multiplied. Then the page: how much the
plane that follows a drag adds to the time from the hand to painted numbers, and how long its own repaint takes:
``python -m tests.benchmarks.bench_travel``.
"""

import itertools
import statistics
import time
from collections.abc import Callable
from functools import partial

import numpy as np
from playwright.sync_api import Browser, sync_playwright

from app.document.models import Mount
from app.document.reading import read_file
from app.results.readout import readout
from app.strokes.over import travel
from tests.benchmarks.bench_page import Timed, measure, serve
from tests.benchmarks.bench_readout import SCENARIOS, PlainWay, median_ms, met
from tests.browser.conftest import launch

MOUNTS = ("3-twin-cylinders", "6-crank-and-drop-rod")
"""One moving body, and two."""

TARGETS_MS = {41: (12.0, 25.0), 101: (80.0, 160.0)}
SCIPY_RATIO = 50.0
PLANE_SHARE = 1.1
"""By how much the 95th percentile of the numbers may grow with the plane."""

RUNS = 5
"""Drags with and without the plane, by turns."""

FRAMES = 2
SAMPLE = 25
"""Cells at which the plain ways are timed."""

WITHOUT_PLANE = """
const Plain = WebSocket;
window.WebSocket = class extends Plain {
  constructor(address) { super(String(address).endsWith('/travel/live') ? 'ws://127.0.0.1:1/' : address); }
};
"""
"""A page whose travel never comes."""

REPAINTS = """
() => {
  window.repaints = [];
  const plane = document.querySelector('#plane');
  let came = null;
  const heard = WebSocket.prototype.addEventListener;
  for (const socket of window.lines ?? [])
    heard.call(socket, 'message', () => { came = performance.now(); });
  new MutationObserver(() => {
    if (came === null) return;
    const from = came;
    came = null;
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => window.repaints.push(performance.now() - from);
    port2.postMessage(null);
  }).observe(plane, {attributes: true, subtree: true, attributeFilter: ['d']});
}
"""

KEEPING_LINES = """
window.lines = [];
const Kept = WebSocket;
window.WebSocket = class extends Kept {
  constructor(address) {
    super(address);
    if (String(address).endsWith('/travel/live')) window.lines.push(this);
  }
};
"""


def commands_of(mount: Mount, steps: int) -> list[dict[str, float]]:
    """Strokes of a sample of the grid's cells, evenly."""
    along = [
        np.linspace(each.retracted, each.retracted + each.stroke, steps) - each.drawn_length
        for each in mount.cylinders[:2]
    ]
    cells = list(itertools.product(*along))
    names = [each.id for each in mount.cylinders[:2]]
    chosen = cells[:: max(1, len(cells) // SAMPLE)][:SAMPLE]
    return [dict(zip(names, (float(each) for each in cell), strict=True)) for cell in chosen]


def per_call_ms(work: Callable[[dict[str, float]], object], commands: list[dict[str, float]]) -> float:
    """Time of one call in a loop over commands, ms."""
    began = time.perf_counter()
    for command in commands:
        work(command)
    return 1000 * (time.perf_counter() - began) / len(commands)


def all_plain(plain: PlainWay, command: dict[str, float]) -> object:
    """A pose and its central differences, the plain way."""
    return plain.everything(list(command.values()))


def compare_loops() -> None:
    """Print a line for each mount and grid."""
    print(f"{'travel':24} {'grid':>9} {'ms':>8} {'target':>7} {'scipy loop':>12} {'readout loop':>13}")
    for (bodies, name), steps in itertools.product(enumerate(MOUNTS), TARGETS_MS):
        mount = read_file(SCENARIOS / f"{name}.json")
        commands = commands_of(mount, steps)
        plain = PlainWay(mount)
        ours = median_ms(partial(travel, mount, steps=steps), 7)
        cells = steps**2
        scipy = cells * per_call_ms(partial(all_plain, plain), commands)
        own = cells * per_call_ms(partial(readout, mount), commands)
        print(
            f"{name:24} {steps:4}x{steps:<4} {ours:8.1f} {met(ours, TARGETS_MS[steps][bodies]):>7} "
            f"{scipy / ours:10.0f}x  {own / ours:11.0f}x   "
            f"{met(scipy / ours, SCIPY_RATIO, at_most=False)} against scipy (wanted: {SCIPY_RATIO:g}x)"
        )


def repaint_ms(browser: Browser, url: str) -> list[float]:
    """From a plane that has come to its being painted, while a pivot is dragged, ms."""
    page = browser.new_page(viewport={"width": 1440, "height": 900})
    page.add_init_script(KEEPING_LINES)
    page.goto(url)
    page.locator("#plane .plane-height").first.wait_for(timeout=60_000)
    page.evaluate(REPAINTS)
    box = page.locator("[data-handle='right cylinder / 1'] .handle-target").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.get_by_label("grid step").select_option("1")
    page.mouse.move(x, y)
    page.mouse.down()
    for number in range(120):
        page.mouse.move(x + 20 * (number % 2) + number / 10, y)
        page.wait_for_timeout(25)
    page.mouse.up()
    found: list[float] = page.evaluate("window.repaints")
    page.close()
    return found


def compare_pages() -> None:
    """Print what the plane adds to the numbers' way, and its own repaint."""
    with sync_playwright() as started:
        browser = launch(started)
        server, url = serve(readout)
        repaint_ms(browser, url)
        timed: dict[str, list[Timed]] = {"without": [], "with": []}
        for _ in range(RUNS):
            timed["without"].append(measure(browser, url, script=WITHOUT_PLANE))
            timed["with"].append(measure(browser, url))
        repaints = repaint_ms(browser, url)
        server.should_exit = True
        browser.close()
    late = {name: statistics.median(each.late for each in runs) for name, runs in timed.items()}
    share = late["with"] / late["without"]
    print(
        f"numbers, 95th percentile: {late['without']:.1f} ms without the plane, {late['with']:.1f} ms with it: "
        f"{share:.2f} ({met(share, PLANE_SHARE)}, wanted: {PLANE_SHARE:g} or less)"
    )
    frame_ms = 1000 / 60
    middle, slow = np.percentile(repaints, [50, 95])
    print(
        f"plane, from come to painted: median {middle:.1f} ms, 95th percentile {slow:.1f} ms of {len(repaints)} "
        f"({met(float(middle), FRAMES * frame_ms)}, wanted: {FRAMES} frames)"
    )


if __name__ == "__main__":
    compare_loops()
    compare_pages()
