"""A crank and a carriage drawn from a bare blade in inches, by typed lengths, and read back from the drawing."""

import math
from pathlib import Path
from typing import Any

import pytest
from ezdxf.filemanagement import readfile
from playwright.sync_api import Locator, Page, expect

from tests.browser.gestures import document, handle, kept, middle, settle

MOST_ACTIONS = 60
EXACT_MM = 1e-6
INCH = 25.4


NEXT_FRAME = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(null))))"
"""What was drawn last may move the sheet: a hand waits until it stands."""


class Hand:
    """One person's hand: every click, key and word it types is an action."""

    def __init__(self, page: Page) -> None:
        self.page, self.actions = page, 0

    def click(self, what: Locator) -> None:
        self.actions += 1
        what.click()

    def tap(self, x: float, y: float) -> None:
        """A place on the sheet, inches."""
        self.actions += 1
        self.page.evaluate(NEXT_FRAME)
        left, right = (middle(handle(self.page, f"blade/{end}").locator(".handle-target")) for end in ("left", "right"))
        scale = (right[0] - left[0]) / 96
        self.page.mouse.click(left[0] + (x + 48) * scale, left[1] - y * scale)

    def press(self, key: str) -> None:
        self.actions += 1
        self.page.keyboard.press(key)

    def type(self, words: str) -> None:
        self.actions += 1
        self.page.keyboard.type(words)

    def button(self, name: str) -> None:
        self.click(self.page.get_by_role("button", name=name, exact=True).first)

    def onto(self, body: str) -> None:
        self.click(self.page.get_by_role("group", name="join to").get_by_role("button", name=body, exact=True))

    def span(self, length: str, angle: str) -> None:
        self.type(length)
        self.press("Tab")
        self.type(angle)
        self.press("Enter")


def draw(hand: Hand) -> None:
    """Two lifts and a stay hold a carriage; the blade turns on it, tilted by a crank and a drop rod."""
    hand.button("in")
    hand.button("library")
    hand.click(hand.page.get_by_role("button", name="start from a bare blade"))
    expect(hand.page.locator("#notices")).to_contain_text("hangs loose")
    hand.press("c")
    hand.onto("frame")
    hand.tap(-30, 60)
    hand.button("+ body")
    hand.span("22", "-90")
    hand.press("Escape")
    hand.press("Shift+X")
    hand.press("r")
    hand.onto("frame")
    hand.tap(-40, 46)
    hand.onto("body 1")
    hand.tap(24, 46)
    hand.press("o")
    for corner in ((-34, 10), (34, 10), (34, 50), (-34, 50)):
        hand.tap(*corner)
    hand.press("Enter")
    hand.press("p")
    hand.onto("blade")
    hand.tap(0, 14)
    hand.button("+ body")
    hand.tap(-12, 34)
    hand.press("c")
    hand.onto("body 1")
    hand.tap(14, 42)
    hand.onto("body 2")
    hand.span("26", "160")
    hand.press("r")
    hand.tap(-26, 34)
    hand.onto("blade")
    hand.span("24 1/2", "-90")
    hand.press("h")
    hand.tap(-26, 34)
    hand.tap(-26, 9.5)
    hand.button("level")
    hand.tap(-48, 0)
    hand.tap(-26, 9.5)
    hand.press("Escape")


def joints(mount: dict[str, Any]) -> list[list[float]]:
    return [
        at
        for each in mount["members"]
        for at in ([end["at"] for end in each["ends"]] if "ends" in each else [each["at"]])
    ]


def near(found: tuple[float, float], wanted: list[float]) -> bool:
    return math.dist((found[0] * INCH, found[1] * INCH), wanted) < EXACT_MM


def test_a_crank_and_carriage_mount_is_drawn_in_under_sixty_actions_and_read_back_exactly(
    page: Page, tmp_path: Path
) -> None:
    hand = Hand(page)
    draw(hand)
    held = page.locator("#sheet").get_by_role("button", name="held level")
    expect(held).to_be_visible()
    hand.click(page.locator("#picked").get_by_role("textbox", name="held level"))
    hand.press("Control+a")
    hand.type("20")
    hand.press("Enter")
    settle(page)
    drawn = document(page)["mount"]
    kept(page)
    page.set_viewport_size({"width": 1100, "height": 700})
    page.mouse.move(*middle(handle(page, "blade/left").locator(".handle-target")))
    page.mouse.wheel(0, -300)
    page.reload()
    settle(page)
    assert document(page)["mount"] == drawn
    with page.expect_download() as saving:
        hand.button("files")
        hand.click(page.get_by_role("button", name="DXF").first)
    assert hand.actions < MOST_ACTIONS, hand.actions

    mount = document(page)["mount"]
    assert [each["kind"] for each in mount["members"]].count("cylinder") == 3
    rod = next(each for each in mount["members"] if each["id"] == "rod 2")
    assert rod["ends"][1]["at"][0] == pytest.approx(-28 * INCH, abs=EXACT_MM)
    assert math.dist(rod["ends"][0]["at"], rod["ends"][1]["at"]) == pytest.approx(24.5 * INCH, abs=EXACT_MM)
    lifts = [each["ends"] for each in mount["members"][:2]]
    assert [end["at"][0] for end in lifts[0]] == pytest.approx([-end["at"][0] for end in lifts[1]], abs=EXACT_MM)

    saving.value.save_as(tmp_path / "mount.dxf")
    space = readfile(tmp_path / "mount.dxf").modelspace()
    circles = [(each.dxf.center.x, each.dxf.center.y) for each in space.query('CIRCLE[layer=="JOINTS"]')]
    wanted = joints(mount)
    assert len(circles) == len(wanted)
    assert all(any(near(found, at) for found in circles) for at in wanted)
    polygons = [[(x, y) for x, y, *_ in each] for each in space.query('LWPOLYLINE[layer=="OUTLINE"]')]  # type: ignore[attr-defined]
    corners = mount["outlines"][0]["points"]
    assert any(
        len(found) == len(corners) and all(near(a, b) for a, b in zip(found, corners, strict=True))
        for found in polygons
    )

    renamed(page, mount)


def renamed(page: Page, mount: dict[str, Any]) -> None:
    """Every member and body gets another name, and the names are there after a reload with all that hangs on them."""
    page.keyboard.press("Escape")
    page.get_by_role("tab", name="Numbers").click()
    members = [f"part {number}" for number in range(1, len(mount["members"]) + 1)]
    for number, (each, name) in enumerate(zip(mount["members"], members, strict=True), start=1):
        typed(page, f"name of {each['kind']} {number}", name)
    for number, name in ((1, "carriage"), (2, "crank")):
        typed(page, f"name of body {number}", name)
    kept(page)
    page.reload()
    settle(page)
    found = document(page)["mount"]
    assert [each["id"] for each in found["members"]] == members
    assert {outline["body"] for outline in found["outlines"]} == {"carriage"}
    assert joints(found) == joints(mount)


def typed(page: Page, label: str, words: str) -> None:
    entry = page.get_by_label(label, exact=True)
    entry.fill(words)
    entry.press("Enter")
    settle(page)
