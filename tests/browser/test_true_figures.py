"""The true worst, lugs, tyres, loads both ways and relief, as a designer meets them on the sheet and in the panels."""

import re

import httpx2 as httpx
from playwright.sync_api import Page, expect

from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, document, handle, posted, settle, value
from tests.browser.papers import packed
from tests.mounts import document as drawn_document
from tests.mounts import end, rod


def open_tab(page: Page, name: str) -> None:
    page.get_by_role("tab", name=name).click()


def type_into(page: Page, label: str, text: str) -> None:
    field = page.locator("#panel").get_by_label(re.compile(f"^{re.escape(label)}"))
    field.fill(text)
    page.keyboard.press("Enter")
    settle(page)


def hung_on_links(page: Page, server: Server) -> None:
    """A blade on two plumb links of 60 mm whose stay has 10 mm of play at each end, tolerance 0.5 mm."""
    links = [
        rod(f"{side} link", end("frame", (x, 260)), end("blade", (x, 200)))
        for side, x in (("left", -800), ("right", 800))
    ]
    stay = rod("stay", end("frame", (-900, 200), clearance=10), end("blade", (700, 200), clearance=10))
    page.goto(f"{server.url}/#m={packed(drawn_document([*links, stay], tolerance=0.5))}")
    settle(page)


def test_where_the_sums_say_nothing_the_true_worst_stands_in_the_headline_and_the_verdict(
    page: Page, server: Server
) -> None:
    hung_on_links(page, server)
    expect(page.locator("[data-said=searched]")).to_contain_text("the linear sum says 0.00 mm")
    judged = httpx.post(f"{server.url}/worst", json=document(page)).json()
    assert value(page, "worst") == max(judged["worst"][side]["high"]["value"] for side in ("left", "right"))
    expect(page.locator(".verdict")).to_contain_text("outside by 0.34 mm")


def test_the_joints_can_be_shown_where_they_lie_at_the_true_worst(page: Page, server: Server) -> None:
    hung_on_links(page, server)
    open_tab(page, "Error")
    page.get_by_role("button", name="show where each joint lies at the true worst").click()
    shown = page.locator(".layer-offsets")
    for joint in ("stay / 1", "stay / 2"):
        expect(shown.locator(f'[data-offset="{joint}"]')).to_be_visible()


def test_the_stiffness_of_a_lug_joins_the_budget_and_is_drawn(page: Page, server: Server) -> None:
    choose_mount(page, "3-twin-cylinders")
    handle(page, "right cylinder / 1").focus()
    open_tab(page, "Numbers")
    type_into(page, "lug stiffness of right cylinder, barrel end on frame", "5000")
    expect(page.locator('[data-lug="right cylinder / 1"]')).to_be_visible()
    sources = posted(page, server.url)["budget"]["right"]["sources"]
    [bent] = [each for each in sources if each["kind"] == "bracket"]
    # 1 kN at the end are 2050/1700 of it in the cylinder; the end moves as much farther than the lug.
    assert round(bent["high"], 9) == round(1000 * (2050 / 1700) ** 2 / 5000, 9)
    open_tab(page, "Error")
    expect(page.locator('[data-kind=bracket][data-source="right cylinder / 1"]')).to_be_visible()


def test_tyres_under_the_frame_join_the_budget_and_are_drawn(page: Page, server: Server) -> None:
    choose_mount(page, "3-twin-cylinders")
    open_tab(page, "Numbers")
    page.get_by_role("button", name="put the frame on tyres").click()
    settle(page)
    type_into(page, "stiffness of each tyre", "350")
    expect(page.locator("[data-tyre]")).to_have_count(2)
    assert document(page)["mount"]["tyres"]["stiffness"] == 350
    open_tab(page, "Error")
    expect(page.locator("[data-kind=tyres]").first).to_be_visible()
    open_tab(page, "Numbers")
    page.get_by_role("button", name="take the tyres away").click()
    settle(page)
    assert "tyres" not in document(page)["mount"]


def test_a_load_both_ways_and_oil_pressed_on_both_sides_are_switched(page: Page, server: Server) -> None:
    choose_mount(page, "3-twin-cylinders")
    one_way = posted(page, server.url)["budget"]["right"]["worst"]
    open_tab(page, "Numbers")
    page.get_by_role("button", name="it acts both ways").click()
    settle(page)
    both = posted(page, server.url)["budget"]["right"]
    assert both["worst"] >= one_way
    page.get_by_role("button", name="trapped and pressed on both sides").click()
    settle(page)
    assert document(page)["mount"]["oil"]["preloaded"] is True
    assert posted(page, server.url)["budget"]["right"]["worst"] < both["worst"]


def test_a_load_beyond_relief_is_said_first_and_nothing_is_ranked(page: Page) -> None:
    choose_mount(page, "1-centre-pivot")
    open_tab(page, "Numbers")
    type_into(page, "size of load", "40")
    expect(page.locator(".verdict")).to_contain_text("the relief valve opens before the load is on")
    open_tab(page, "Improve")
    expect(page.locator("#panel")).to_contain_text("The relief valve opens before the load is on", timeout=15_000)
    expect(page.locator("[data-change]")).to_have_count(0)
