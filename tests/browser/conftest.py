"""A real server and a real browser for the errands."""

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import Any, Protocol

import httpx2 as httpx
import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, Playwright, sync_playwright
from playwright.sync_api import Error as PlaywrightError

from tests.browser.gestures import overhear

ROOT = Path(__file__).resolve().parents[2]
SYSTEM_BROWSERS = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # Drawing and fetching in the browser's own process: a tenth less of a page's time.
    "--in-process-gpu",
    "--enable-features=NetworkServiceInProcess2",
    # The lists below the address bar are pages of their own, loaded with every window: a third of a page's time.
    "--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup",
]
NO_BROWSER = (
    "No Chromium found for the browser errands. Install one: `apt-get install chromium` (Debian), or "
    "`python -m playwright install chromium`, or set BLADE_MOUNT_BROWSER to its path."
)


class Server:
    """A server process of its own on a port of its own; it can be stopped and started again on the same port."""

    def __init__(self, port: int, log: Path, *more: str) -> None:
        self.port, self.log, self.more = port, log, more
        self.url = f"http://127.0.0.1:{port}"
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Start it and wait until it answers; if it dies, its output says why."""
        command = [sys.executable, "-m", "app", "--no-open", "--port", str(self.port), *self.more]
        with self.log.open("ab") as output:
            kept = {"BLADE_MOUNT_DATA": str(self.log.parent / "data")}
            self.process = subprocess.Popen(
                command, cwd=ROOT, env=os.environ | kept, stdout=output, stderr=subprocess.STDOUT
            )
        deadline = time.monotonic() + 90
        while time.monotonic() < deadline:
            if self.process.poll() is not None:
                break
            try:
                httpx.get(f"{self.url}/scenarios", timeout=1)
            except httpx.TransportError:
                time.sleep(0.05)
            else:
                return
        pytest.fail(f"the server did not come up:\n{self.log.read_text()}")

    def stop(self) -> None:
        """Kill it as a power cut would."""
        if self.process and self.process.poll() is None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()


def free_port() -> int:
    with socket.socket() as opened:
        opened.bind(("127.0.0.1", 0))
        return int(opened.getsockname()[1])


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    running = Server(free_port(), tmp_path_factory.mktemp("server") / "log.txt")
    running.start()
    yield running
    running.stop()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as started:
        yield started


def launch(playwright: Playwright) -> Browser:
    """The machine's Chromium, or the one Playwright installed."""
    named = os.environ.get("BLADE_MOUNT_BROWSER")
    found = named or next((path for name in SYSTEM_BROWSERS if (path := shutil.which(name))), None)
    return playwright.chromium.launch(executable_path=found, args=FLAGS)


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    try:
        launched = launch(playwright)
    except PlaywrightError as error:
        pytest.fail(f"{NO_BROWSER}\n({error.message.splitlines()[0]})")
    yield launched
    launched.close()


class Watched:
    """What a page complained about."""

    def __init__(self) -> None:
        self.complaints: list[str] = []
        self.expected: list[str] = []

    def console(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.complaints.append(message.text)

    def error(self, error: PlaywrightError) -> None:
        self.complaints.append(str(error))

    def unexpected(self) -> list[str]:
        return [text for text in self.complaints if not any(re.search(each, text) for each in self.expected)]


@pytest.fixture
def watched() -> Watched:
    return Watched()


class Listener(Protocol):
    """Who hears what a page complains about."""

    def console(self, message: ConsoleMessage) -> None: ...

    def error(self, error: PlaywrightError) -> None: ...


def watch(context: BrowserContext, listener: Listener) -> Page:
    page = context.new_page()
    page.set_default_timeout(10_000)
    overhear(page)
    page.on("console", listener.console)
    page.on("pageerror", listener.error)
    return page


@pytest.fixture(scope="module")
def modules(browser: Browser, server: Server) -> Iterator[Page]:
    """A page whose modules are called by themselves, the same for all tests of a file: none changes what is drawn."""
    watched = Watched()
    context = browser.new_context()
    opened = watch(context, watched)
    live(opened, server)
    yield opened
    context.close()
    assert watched.unexpected() == []


LASTING = (
    "add_init_script",
    "emulate_media",
    "expose_binding",
    "expose_function",
    "on",
    "once",
    "route",
    "route_web_socket",
    "set_default_timeout",
    "set_extra_http_headers",
    "set_viewport_size",
)
"""What is done to a tab for as long as it is open."""


EMPTY_STORE = """async () => {
    for (const { name } of await indexedDB.databases())
        await new Promise((done, failed) => {
            const asked = indexedDB.deleteDatabase(name);
            asked.onsuccess = done;
            asked.onerror = failed;
        });
}"""
"""Steps to go back to, and what else a page keeps in its browser's store, are gone once nobody has them open."""


class Tabs:
    """A browser that keeps the page's files from one test to the next, and nothing else.

    The tab of a test is the next one's too, at two thirds of the cost of a new one, unless something lasting was done
    to it.
    """

    def __init__(self, browser: Browser, **wanted: Any) -> None:  # noqa: ANN401 - whatever a context is made of
        self.browser, self.wanted = browser, wanted
        self.watched = Watched()
        self._context: BrowserContext | None = None
        self._tab: Page | None = None

    def afresh(self, server: Server) -> Page:
        """A tab that remembers nothing."""
        if self._context is None:
            self._context = self.browser.new_context(**self.wanted)
        if self._tab is None:
            self._tab = self._opened(self._context)
        # A file of the page's own server: from a blank page it would come back with all its modules to be read again.
        self._tab.goto(f"{server.url}/static/icon.svg")
        self._tab.evaluate("sessionStorage.clear(), localStorage.clear()")
        self._tab.evaluate(EMPTY_STORE)
        self._context.clear_cookies()
        return self._tab

    def _opened(self, context: BrowserContext) -> Page:
        opened = watch(context, self)
        for name in LASTING:
            setattr(opened, name, self._not_again(getattr(opened, name), "_tab"))
        opened.clock.install = self._not_again(opened.clock.install, "_tab", "_context")  # type: ignore[method-assign]
        return opened

    def _not_again(self, lasting: Callable[..., Any], *what: str) -> Callable[..., Any]:
        @wraps(lasting)
        def called(*given: Any, **named: Any) -> Any:  # noqa: ANN401 - whatever the browser's driver takes
            for each in what:
                setattr(self, each, None)
            return lasting(*given, **named)

        return called

    def console(self, message: ConsoleMessage) -> None:
        self.watched.console(message)

    def error(self, error: PlaywrightError) -> None:
        self.watched.error(error)

    def leave(self, used: Page) -> None:
        """Close what was opened."""
        context = used.context
        if self._context is None:
            context.close()
            return
        for each in context.pages:
            if each is not self._tab:
                each.close()
        context.clear_permissions()

    def close(self) -> None:
        if self._context:
            self._context.close()


@pytest.fixture(scope="session")
def desk(browser: Browser) -> Iterator[Tabs]:
    """A browser at a desk."""
    tabs = Tabs(browser, viewport={"width": 1440, "height": 900})
    yield tabs
    tabs.close()


@pytest.fixture(scope="session")
def lap(browser: Browser) -> Iterator[Tabs]:
    """The same on a tablet with a finger."""
    tabs = Tabs(browser, viewport={"width": 1024, "height": 768}, has_touch=True)
    yield tabs
    tabs.close()


@pytest.fixture
def page(desk: Tabs, server: Server, watched: Watched) -> Iterator[Page]:
    """The sketch at a desk, open and live. Any error on the console fails the test."""
    with afresh(desk, server, watched) as opened:
        live(opened, server)
        yield opened


@pytest.fixture
def tablet(lap: Tabs, server: Server, watched: Watched) -> Iterator[Page]:
    """The same on a tablet with a finger."""
    with afresh(lap, server, watched) as opened:
        live(opened, server)
        yield opened


def live(page: Page, server: Server) -> None:
    """Open the sketch and wait until its numbers are there."""
    page.goto(server.url)
    page.locator("#readout[data-state=live]").wait_for()


@contextmanager
def afresh(tabs: Tabs, server: Server, watched: Watched) -> Iterator[Page]:
    """A tab of a browser that remembers nothing; what it opened is closed when the test is over."""
    tabs.watched = watched
    opened = tabs.afresh(server)
    yield opened
    tabs.leave(opened)
    assert watched.unexpected() == []
