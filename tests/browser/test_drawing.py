"""The designer draws by numbers: typed lengths and angles, and what holds while other things are moved."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.gestures import document, settle
from tests.browser.test_build_and_keep import set_by_mouse, start_bare


def test_a_rod_is_drawn_by_a_typed_length_and_angle_and_set_to_others_afterwards(page: Page) -> None:
    start_bare(page)
    page.keyboard.press("r")
    page.get_by_role("group", name="join to").get_by_role("button", name="frame").click()
    set_by_mouse(page, (0, 500))
    page.get_by_role("group", name="join to").get_by_role("button", name="blade").click()
    page.keyboard.type("12in")
    page.keyboard.press("Tab")
    page.keyboard.type("30")
    page.keyboard.press("Enter")
    settle(page, "stale")
    first, second = document(page)["mount"]["members"][0]["ends"]
    assert [second["at"][axis] - first["at"][axis] for axis in (0, 1)] == pytest.approx([263.964543, 152.4], abs=2e-6)

    page.keyboard.press("Escape")
    page.get_by_label("which end of rod 1").select_option("other")
    length = page.locator("#picked").get_by_label("length of rod 1")
    expect(length).to_have_value("304.8")
    length.fill("609.6")
    length.press("Enter")
    expect(page.locator("#picked").get_by_label("angle of rod 1")).to_have_value("30")
    settle(page, "stale")
    moved, stayed = document(page)["mount"]["members"][0]["ends"]
    assert stayed["at"] == second["at"]
    assert moved["at"] == pytest.approx([first["at"][0] - 263.964543, first["at"][1] - 152.4], abs=3e-6)
