"""Mounts carried in a link, and what the pages that are handed one show: their numbers, each with its place."""

import base64
import json
import re
import zlib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import httpx2 as httpx
from playwright.sync_api import Page, expect

from tests.browser.conftest import ROOT
from tests.mounts import Document, cylinder, document, end, extras, rod

Readout = dict[str, Any]


def shipped(name: str) -> Document:
    found: Document = json.loads((ROOT / "scenarios" / f"{name}.json").read_text())
    return found


def packed(mount: Document, command: Mapping[str, float] | None = None) -> str:
    """A mount as a link carries it: JSON, raw deflate (RFC 1951), base64url without padding (RFC 4648)."""
    deflate = zlib.compressobj(wbits=-15)
    text = json.dumps({"mount": mount, "command": dict(command or {})}).encode()
    return base64.urlsafe_b64encode(deflate.compress(text) + deflate.flush()).decode().rstrip("=")


def read_back(link: str, part: str) -> Document:
    """The mount and command of a part of a link's fragment."""
    found = re.search(rf"[#&]{part}=([A-Za-z0-9_-]+)", link)
    assert found, link[:80]
    text = found.group(1) + "=" * (-len(found.group(1)) % 4)
    question: Document = json.loads(zlib.decompress(base64.urlsafe_b64decode(text), wbits=-15))
    return question


def answered(url: str, question: Document) -> Readout:
    reply = httpx.post(f"{url}/readout", json={"mount": question["mount"], "command": question["command"]})
    assert reply.status_code == 200, reply.text
    found: Readout = reply.json()
    return found


def at(readout: Readout, path: list[str | int]) -> Any:  # noqa: ANN401 - any JSON value
    found: Any = readout
    for step in path:
        found = found[step]
    return found


def numbers_with_places(page: Page, selector: str = "[data-path]") -> list[tuple[list[str | int], float | None]]:
    """Every number on the page that names its place in the readout, unrounded."""
    listed = page.locator(selector).evaluate_all("all => all.map(e => [e.dataset.path, e.dataset.value])")
    return [(json.loads(path), float(value) if value else None) for path, value in listed]


def open_handout(page: Page, url: str, fragment: str = "") -> None:
    page.goto("about:blank")
    page.goto(f"{url}/handout{fragment}")
    expect(page.locator("main")).to_have_attribute("data-state", "ready", timeout=30_000)


def print_to(page: Page, path: Path, paper: str) -> list[str]:
    """Print as the browser does, and read back the text of every page."""
    from pypdf import PdfReader

    page.pdf(path=path, format=paper, prefer_css_page_size=True, print_background=True)
    return [each.extract_text() for each in PdfReader(path).pages]


def squeezed(text: str) -> str:
    """Without any space: a name may run over the end of a line."""
    return re.sub(r"\s", "", text)


BODIES = [f"body {number:02d}" for number in range(1, 13)]


def as_many_members_as_fit(members: int) -> Document:
    """Twelve bodies and the blade, each on three members: 39 hold it, each more fights them."""
    held: list[Document] = [
        cylinder("cylinder 01", end("frame", (-800, 1000)), end("blade", (-800, 300), clearance=0.2)),
        cylinder("cylinder 02", end("frame", (800, 1000)), end("blade", (800, 300), clearance=0.2)),
        rod("rod 03", end("frame", (-900, 330)), end("blade", (900, 300), clearance=0.1)),
    ]
    for number, body in enumerate(BODIES):
        x, y = 250 * number - 1400, 1500
        for foot, head in (((-80, 0), (-60, 200)), ((80, 0), (60, 200)), ((-80, 30), (90, 230))):
            low = end("frame", (x + foot[0], y + foot[1]), clearance=0.1)
            high = end(body, (x + head[0], y + head[1]), clearance=0.1)
            held.append(rod(f"rod {len(held) + 1:02d}", low, high))
    for number in range(len(held), members):
        x = 60 * number - 3000
        held.append(rod(f"rod {number + 1:02d}", end("frame", (x, 2200)), end(BODIES[number % 12], (x, 2600))))
    return document(held[:members], BODIES, **extras())
