"""What a person does with the page, and what it then says."""

import json
from typing import Any
from urllib.parse import urlsplit

import httpx2 as httpx
from playwright.sync_api import Locator, Page, WebSocket, expect

NUMBERS = ("coupling", "worst", "load-ratio")


def figure(page: Page, name: str) -> Locator:
    return page.locator(f'[data-readout="{name}"]')


def value(page: Page, name: str) -> float:
    return float(figure(page, name).get_attribute("data-value") or "nan")


def settle(page: Page, state: str = "live") -> None:
    """Wait until the numbers belong to what is drawn."""
    expect(page.locator("#readout")).to_have_attribute("data-state", state)


def handle(page: Page, name: str) -> Locator:
    return page.locator(f'[data-handle="{name}"]')


def middle(locator: Locator) -> tuple[float, float]:
    box = locator.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def pixel(page: Page, at: tuple[float, float]) -> tuple[float, float]:
    """Where a place in mm is on the screen, from the two ends of a blade of 2400 mm."""
    left, right = (middle(handle(page, f"blade/{end}").locator(".handle-target")) for end in ("left", "right"))
    scale = (right[0] - left[0]) / 2400
    return left[0] + (at[0] + 1200) * scale, left[1] - at[1] * scale


def closer(page: Page, at: tuple[float, float]) -> None:
    """Turn the wheel over a place in mm: what is near it on the drawing comes apart on the screen."""
    scale = page.locator(".cell-scale > :last-child")
    before = scale.text_content() or ""
    page.mouse.move(*pixel(page, at))
    page.mouse.wheel(0, -200)
    expect(scale).not_to_have_text(before)


def drag(page: Page, name: str, dx: float, dy: float, release: bool = True) -> None:
    """Take a handle with the mouse and move it by pixels, in steps."""
    x, y = middle(handle(page, name).locator(".handle-target"))
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + dx, y + dy, steps=12)
    if release:
        page.mouse.up()


def choose_mount(page: Page, name: str) -> None:
    page.locator(f'[data-mount="{name}"]').click()
    settle(page)


_asked: dict[Page, str] = {}


def overhear(page: Page) -> None:
    """Remember the newest question the page asks its server."""

    def heard(frame: str | bytes) -> None:
        _asked[page] = frame if isinstance(frame, str) else frame.decode()

    def opened(socket: WebSocket) -> None:
        if urlsplit(socket.url).path == "/live":
            socket.on("framesent", heard)

    page.on("websocket", opened)


def document(page: Page) -> dict[str, Any]:
    """The mount and command the page last asked about."""
    question = json.loads(_asked[page])
    return {"mount": question["mount"], "command": question["command"]}


def posted(page: Page, url: str) -> dict[str, Any]:
    """What ``POST /readout`` answers for what is on the sheet."""
    answer = httpx.post(f"{url}/readout", json=document(page))
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.json()
    return found


def coupled(page: Page) -> str:
    """The cylinder whose coupling the headline says."""
    label = figure(page, "coupling").locator("xpath=ancestor::section").get_attribute("aria-label") or ""
    return label.removeprefix("Coupling, ")


def expect_page_equals_json(page: Page, url: str) -> dict[str, Any]:
    """Compare every headline number of the page with the server's own answer."""
    settle(page)
    answer = posted(page, url)
    worst = max(answer["budget"][end]["worst"] for end in ("left", "right"))
    ratios = [each["load_ratio"] for each in answer["actuators"].values()]
    assert value(page, "coupling") == answer["actuators"][coupled(page)]["coupling"]
    assert value(page, "worst") == worst
    assert value(page, "load-ratio") == max(ratios)
    return answer


def kept(page: Page) -> None:
    expect(page.locator("#kept")).to_have_text("kept")
