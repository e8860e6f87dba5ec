"""A browser engine driven over WebDriver: the W3C's own two protocols, so that no other driver is needed.

Firefox speaks WebDriver BiDi by itself (https://w3c.github.io/webdriver-bidi/); WebKitGTK has a driver that speaks
classic WebDriver (https://www.w3.org/TR/webdriver2/). What a hand does is described alike in both, as sequences of
actions, so an errand is written once.
"""

import base64
import json
import re
import shutil
import subprocess
import time
from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import httpx2 as httpx
from websockets.sync.client import ClientConnection, connect

from tests.browser.conftest import free_port

PATIENCE_S = 30.0
"""How long an errand waits for what it expects."""

SIZE = (1440, 900)
_ENTER = "\ue007"
_STEPS = 12

Actions = list[dict[str, Any]]


class EngineMissing(Exception):
    """The engine, or what it is driven with, is not on this machine; the text says what to install."""


class Engine(ABC):
    """One page in one engine."""

    prints = True
    """Whether its driver can print."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.complaints: list[str] = []
        """What the page wrote to the console as an error, as far as the engine tells."""
        self._stack = ExitStack()

    @abstractmethod
    def start(self) -> None:
        """Start it. Raises EngineMissing."""

    @abstractmethod
    def open(self, url: str) -> None:
        """Go to an address and wait until it is loaded."""

    @abstractmethod
    def value(self, expression: str) -> Any:  # noqa: ANN401
        """What an expression of JavaScript is on the page, through JSON."""

    @abstractmethod
    def act(self, actions: Actions) -> None:
        """Do what a hand does: sources of WebDriver actions."""

    @abstractmethod
    def printed(self) -> bytes:
        """The page as PDF."""

    def stop(self) -> None:
        """End everything that was started."""
        self._stack.close()

    def wait(self, expression: str) -> None:
        """Wait until an expression is true on the page."""
        deadline = time.monotonic() + PATIENCE_S
        while not self.value(f"Boolean({expression})"):
            if time.monotonic() > deadline:
                raise AssertionError(f"waited {PATIENCE_S:.0f} s in vain for {expression}")
            time.sleep(0.05)

    def middle(self, selector: str) -> tuple[float, float]:
        """The middle of an element once it is there, pixels of the window; it is brought into sight first."""
        named = f"document.querySelector({json.dumps(selector)})"
        self.wait(named)
        x, y = self.value(
            f"(() => {{ const found = {named}; found.scrollIntoView({{ block: 'nearest' }});"
            " const box = found.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]; })()"
        )
        return x, y

    def click(self, selector: str) -> None:
        self.drag(selector, 0, 0)

    def drag(self, selector: str, dx: float, dy: float) -> None:
        """Take an element by its middle and move it by pixels, in steps."""
        x, y = self.middle(selector)
        moves = [(x + dx * step / _STEPS, y + dy * step / _STEPS) for step in range(1, _STEPS + 1)]
        pointer = [
            _moved(x, y),
            {"type": "pointerDown", "button": 0},
            *(_moved(*at) for at in (moves if dx or dy else [])),
            {"type": "pointerUp", "button": 0},
        ]
        self.act([{"type": "pointer", "id": "mouse", "parameters": {"pointerType": "mouse"}, "actions": pointer}])

    def type(self, text: str) -> None:
        """Type letters, and Enter at the end."""
        keys = [{"type": way, "value": key} for key in [*text, _ENTER] for way in ("keyDown", "keyUp")]
        self.act([{"type": "key", "id": "keys", "actions": keys}])

    def press(self, key: str) -> None:
        keys = [{"type": way, "value": key} for way in ("keyDown", "keyUp")]
        self.act([{"type": "key", "id": "keys", "actions": keys}])


def _moved(x: float, y: float) -> dict[str, Any]:
    return {"type": "pointerMove", "x": round(x), "y": round(y), "duration": 16}


class Firefox(Engine):
    """Firefox over WebDriver BiDi, without a window."""

    line: ClientConnection

    def start(self) -> None:
        program = shutil.which("firefox-esr") or shutil.which("firefox")
        if program is None:
            raise EngineMissing("Firefox is not here; `apt-get install firefox-esr` brings it")
        flags = ["--headless", "--no-remote", "--remote-debugging-port", "0", "--profile", str(self.folder)]
        size = [f"--width={SIZE[0]}", f"--height={SIZE[1]}"]
        process = subprocess.Popen([program, *flags, *size], stderr=subprocess.PIPE, stdout=subprocess.DEVNULL)
        self._stack.callback(_end, process)
        address = _said(process, r"WebDriver BiDi listening on (ws://\S+)")
        self.line = self._stack.enter_context(connect(f"{address}/session", max_size=None))
        self._number = 0
        self._ask("session.new", {"capabilities": {}})
        self._ask("session.subscribe", {"events": ["log.entryAdded"]})
        self.page = self._ask("browsingContext.getTree", {})["contexts"][0]["context"]
        viewport = {"width": SIZE[0], "height": SIZE[1]}
        self._ask("browsingContext.setViewport", {"context": self.page, "viewport": viewport})

    def _ask(self, method: str, params: dict[str, Any]) -> Any:  # noqa: ANN401
        self._number += 1
        self.line.send(json.dumps({"id": self._number, "method": method, "params": params}))
        while True:
            answer = json.loads(self.line.recv(PATIENCE_S * 2))
            if answer.get("method") == "log.entryAdded" and answer["params"]["level"] == "error":
                self.complaints.append(str(answer["params"]["text"]))
            if answer.get("id") == self._number:
                break
        if answer["type"] == "error":
            raise AssertionError(f"{method}: {answer['error']}: {answer['message']}")
        return answer["result"]

    def open(self, url: str) -> None:
        self._ask("browsingContext.navigate", {"context": self.page, "url": url, "wait": "complete"})

    def value(self, expression: str) -> Any:  # noqa: ANN401
        asked = {
            "expression": f"JSON.stringify({expression}) ?? null",
            "target": {"context": self.page},
            "awaitPromise": True,
        }
        answer = self._ask("script.evaluate", asked)
        if answer["type"] == "exception":
            raise AssertionError(f"{expression}: {answer['exceptionDetails']['text']}")
        return json.loads(answer["result"].get("value") or "null")

    def act(self, actions: Actions) -> None:
        self._ask("input.performActions", {"context": self.page, "actions": actions})

    def printed(self) -> bytes:
        return base64.b64decode(self._ask("browsingContext.print", {"context": self.page, "background": True})["data"])


class WebKit(Engine):
    """WebKitGTK over classic WebDriver, on a screen of its own. Its driver cannot print, nor does it tell of errors."""

    prints = False

    def start(self) -> None:
        driver, screen = shutil.which("WebKitWebDriver"), shutil.which("Xvfb")
        browser = next(Path("/usr").glob("lib/**/webkit2gtk-4.*/MiniBrowser"), None)
        if driver is None or screen is None or browser is None:
            raise EngineMissing("WebKit is not here; `apt-get install webkit2gtk-driver xvfb` brings it")
        showing = subprocess.Popen(
            [screen, "-displayfd", "1", "-screen", "0", f"{SIZE[0]}x{SIZE[1] + 100}x24"],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
        self._stack.callback(_end, showing)
        assert showing.stdout is not None
        display = f":{showing.stdout.readline().decode().strip()}"
        port = free_port()
        environment = {
            "DISPLAY": display,
            "HOME": str(self.folder),
            "XDG_RUNTIME_DIR": str(self.folder),
            "LIBGL_ALWAYS_SOFTWARE": "1",
            "WEBKIT_DISABLE_DMABUF_RENDERER": "1",
            "PATH": "/usr/bin:/bin",
        }
        driving = subprocess.Popen(
            [driver, f"--port={port}"], env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        self._stack.callback(_end, driving)
        self.client = self._stack.enter_context(httpx.Client(base_url=f"http://127.0.0.1:{port}", timeout=PATIENCE_S))
        options = {"binary": str(browser), "args": ["--automation"]}
        capabilities = {"alwaysMatch": {"webkitgtk:browserOptions": options}}
        self.session = ""
        self.session = _until(lambda: self._ask("POST", "", {"capabilities": capabilities}))["sessionId"]
        self._stack.callback(self._ask, "DELETE", f"/{self.session}")
        rect = {"x": 0, "y": 0, "width": SIZE[0], "height": SIZE[1] + 60}
        self._ask("POST", f"/{self.session}/window/rect", rect)

    def _ask(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:  # noqa: ANN401
        answer = self.client.request(method, f"/session{path}", json=body)
        value = answer.json()["value"]
        if answer.status_code != 200:
            raise AssertionError(f"{path}: {value['error']}: {value['message']}")
        return value

    def open(self, url: str) -> None:
        self._ask("POST", f"/{self.session}/url", {"url": url})

    def value(self, expression: str) -> Any:  # noqa: ANN401
        script = f"return Promise.resolve({expression}).then((value) => JSON.stringify(value) ?? null)"
        return json.loads(self._ask("POST", f"/{self.session}/execute/sync", {"script": script, "args": []}) or "null")

    def act(self, actions: Actions) -> None:
        self._ask("POST", f"/{self.session}/actions", {"actions": actions})

    def printed(self) -> bytes:
        raise NotImplementedError("the driver of WebKitGTK does not print")


ENGINES: dict[str, type[Engine]] = {"firefox": Firefox, "webkit": WebKit}


def _said(process: "subprocess.Popen[bytes]", pattern: str) -> str:
    """What a starting process says of itself."""
    assert process.stderr is not None
    lines: list[str] = []
    for line in _lines(process):
        lines.append(line)
        if found := re.search(pattern, line):
            return found[1]
    raise AssertionError(f"the browser did not come up:\n{''.join(lines)}")


def _lines(process: "subprocess.Popen[bytes]") -> Iterator[str]:
    assert process.stderr is not None
    for line in process.stderr:
        yield line.decode(errors="replace")


def _until(make: Callable[[], Any]) -> Any:  # noqa: ANN401
    """What can be had once a process listens."""
    deadline = time.monotonic() + PATIENCE_S
    while True:
        try:
            return make()
        except httpx.TransportError:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.05)


def _end(process: "subprocess.Popen[bytes]") -> None:
    process.terminate()
    try:
        process.wait(10)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()
    for stream in (process.stdout, process.stderr):
        if stream is not None:
            stream.close()
