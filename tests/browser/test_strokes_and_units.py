"""Working the cylinders and reading the result in either unit system."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, document, expect_page_equals_json, figure, settle, value


def test_a_stroke_moves_the_near_end_and_the_far_end_follows_by_the_coupling(page: Page, server: Server) -> None:
    slider = page.locator("[data-stroke='right cylinder']")
    slider.focus()
    slider.fill("-12")
    settle(page)
    answer = expect_page_equals_json(page, server.url)
    rise = {end: answer["pose"]["ends"][end][1] for end in ("left", "right")}
    assert rise["right"] == pytest.approx(12 * 1.206, rel=0.01)
    assert rise["left"] / rise["right"] == pytest.approx(-0.171, rel=0.03)
    expect(page.locator(".staff-lift")).to_have_count(2)
    assert float(figure(page, "cross-fall").get_attribute("data-value") or 0) == answer["pose"]["slope"]


def test_at_the_end_of_its_stroke_the_page_says_so(page: Page) -> None:
    slider = page.locator("[data-stroke='left cylinder']")
    slider.focus()
    page.keyboard.press("End")
    settle(page)
    expect(page.locator("#notices")).to_contain_text("'left cylinder' is fully out")


def test_a_stroke_typed_beyond_its_end_goes_as_far_as_it_can_and_says_why(page: Page, server: Server) -> None:
    typed = page.locator("[data-stroke-typed='right cylinder']")
    typed.fill("200")
    typed.press("Enter")
    settle(page)
    expect(page.locator("#notices")).to_contain_text("fully out after 130.0 mm of the 200.0 mm asked for")
    answer = expect_page_equals_json(page, server.url)
    assert answer["pose"]["fraction"] == pytest.approx(0.65)


def test_all_cylinders_go_back_to_where_they_were_drawn(page: Page) -> None:
    page.locator("[data-stroke='right cylinder']").fill("40")
    page.get_by_role("button", name="as drawn").click()
    settle(page)
    assert document(page)["command"] == {}
    expect(figure(page, "cross-fall")).to_have_text("0.00 %  0.00°")


def test_inches_change_what_is_shown_and_nothing_else(page: Page, server: Server) -> None:
    metric = {name: value(page, name) for name in ("coupling", "worst", "load-ratio")}
    page.get_by_role("button", name="in", exact=True).click()
    expect(figure(page, "worst")).to_have_text("0.098")
    expect(page.locator("#headlines")).to_contain_text("right cylinder 271 lbf, 56 psi pushed")
    assert {name: value(page, name) for name in metric} == metric
    expect_page_equals_json(page, server.url)


def test_the_parts_of_the_budget_add_up_to_the_total_as_shown(page: Page) -> None:
    for name in ("1-centre-pivot", "6-crank-and-drop-rod", "7-worn-twin-cylinders"):
        choose_mount(page, name)
        for column in (2, 4):
            parts = page.locator(f"[data-source] > :nth-child({column})").all_inner_texts()
            total = page.locator(f"[data-total=worst] > :nth-child({column})").inner_text()
            assert sum(round(float(part) * 100) for part in parts) == round(float(total) * 100)


def test_the_tolerance_is_changed_in_the_title_block(page: Page) -> None:
    page.get_by_label("tolerance").fill("2")
    page.keyboard.press("Enter")
    settle(page)
    expect(page.locator(".verdict")).to_contain_text("outside by 0.49 mm")
    page.get_by_label("tolerance").fill("")
    page.keyboard.press("Enter")
    settle(page)
    expect(page.locator(".verdict")).to_contain_text("no tolerance is set")


def test_a_single_cylinder_has_no_move_for_one_end_and_says_why(page: Page) -> None:
    choose_mount(page, "1-centre-pivot")
    expect(figure(page, "moves")).to_have_text("–")
    expect(figure(page, "moves")).to_have_attribute("data-value", "")
    expect(page.locator("#headlines")).to_contain_text("no move corrects one end alone")
