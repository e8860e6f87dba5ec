"""The designer's first errand: open, drag a cylinder mount, watch the numbers, check them."""

import math

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Server
from tests.browser.gestures import (
    choose_mount,
    document,
    drag,
    expect_page_equals_json,
    figure,
    handle,
    middle,
    pixel,
    posted,
    settle,
    value,
)


def test_opens_with_a_working_mount_and_live_numbers(page: Page, server: Server) -> None:
    expect(page.get_by_role("heading", level=1)).to_have_text("Two upright cylinders and a side stay")
    expect(page.locator("[data-readout=worst]")).to_have_text("2.49")
    expect_page_equals_json(page, server.url)


def test_dragging_both_cylinders_outward_brings_the_coupling_under_a_tenth(page: Page, server: Server) -> None:
    before = value(page, "coupling")
    for side, way in (("left", -1), ("right", 1)):
        for end in (1, 2):
            drag(page, f"{side} cylinder / {end}", way * 54, 0)
    settle(page)
    assert before < -0.15
    assert -0.1 < value(page, "coupling") < 0
    expect_page_equals_json(page, server.url)


def test_the_drawing_snaps_to_the_grid_and_shows_coordinates_while_it_moves(page: Page) -> None:
    page.get_by_label("grid step").select_option("50")
    drag(page, "left cylinder / 2", 26, -17, release=False)
    expect(page.locator(".coordinates")).to_have_text("−700.0 mm, 400.0 mm")
    page.mouse.up()
    expect(page.locator(".coordinates")).to_have_count(0)
    settle(page)
    assert document(page)["mount"]["members"][0]["ends"][1]["at"] == [-700, 400]


def test_escape_during_a_drag_puts_everything_back(page: Page) -> None:
    before = document(page)
    drag(page, "right cylinder / 1", -60, 20, release=False)
    expect(page.locator(".coordinates")).to_be_visible()
    page.keyboard.press("Escape")
    page.mouse.up()
    settle(page)
    assert document(page) == before


def test_a_cylinder_dragged_past_its_stroke_is_marked_and_the_numbers_are_dashes(page: Page) -> None:
    drag(page, "right cylinder / 2", 0, -130)
    settle(page, "stale")
    expect(page.locator("[data-member='right cylinder']")).to_have_class(r"member cylinder hue-1 chosen marked")
    expect(page.locator("#notices")).to_contain_text("'right cylinder' is drawn")
    expect(figure(page, "worst")).to_have_text("–")
    expect(figure(page, "worst")).to_have_attribute("data-value", "")
    page.get_by_role("button", name="undo").click()
    settle(page)
    expect(figure(page, "worst")).to_have_text("2.49")


def test_undo_and_redo_take_a_drag_as_one_step(page: Page) -> None:
    before = document(page)["mount"]
    drag(page, "left cylinder / 1", -50, 10)
    settle(page)
    after = document(page)["mount"]
    page.keyboard.press("Control+z")
    settle(page)
    assert document(page)["mount"] == before
    page.keyboard.press("Control+Shift+z")
    settle(page)
    assert document(page)["mount"] == after


def test_the_keyboard_alone_moves_a_joint_and_escape_puts_it_back(page: Page, server: Server) -> None:
    before = document(page)["mount"]["members"][1]["ends"][1]["at"]
    handle(page, "right cylinder / 2").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("ArrowUp")
    settle(page)
    assert document(page)["mount"]["members"][1]["ends"][1]["at"] == [before[0] + 110, before[1] + 10]
    expect_page_equals_json(page, server.url)
    page.keyboard.press("Escape")
    settle(page)
    assert document(page)["mount"]["members"][1]["ends"][1]["at"] == before


def test_tab_reaches_every_joint(page: Page) -> None:
    names = page.locator("[data-handle]").evaluate_all("all => all.map(each => each.dataset.handle)")
    handle(page, names[0]).focus()
    reached = [page.evaluate("document.activeElement.dataset.handle")]
    for _ in names[1:]:
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.dataset.handle"))
    assert sorted(reached) == sorted(names)


def test_a_coordinate_can_be_typed_in_either_unit(page: Page) -> None:
    handle(page, "side stay / 1").focus()
    page.get_by_label("x of side stay, frame end").fill("-36 1/2 in")
    page.keyboard.press("Enter")
    settle(page)
    assert document(page)["mount"]["members"][2]["ends"][0]["at"] == [pytest.approx(-927.1), 330]


def test_a_coordinate_that_is_no_number_is_refused_beside_its_field_and_can_be_mended(page: Page) -> None:
    handle(page, "side stay / 1").focus()
    field = page.get_by_label("x of side stay, frame end")
    field.fill("far")
    page.keyboard.press("Tab")
    expect(page.get_by_role("alert")).to_have_text(
        "No number: write it like 12, 3.5 mm, 1 1/4 in, 8' 6, 29.7e6 or 205 GPa"
    )
    field.fill("1,200")
    page.keyboard.press("Tab")
    expect(page.get_by_role("alert")).to_have_text("Could be two numbers: write 1200 or 1.2, not 1,200")
    field.fill("far")
    page.keyboard.press("Tab")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_value("far")
    field.fill("-36 in")
    expect(page.get_by_role("alert")).to_be_hidden()
    page.keyboard.press("Enter")
    settle(page)
    assert document(page)["mount"]["members"][2]["ends"][0]["at"] == [pytest.approx(-914.4), 330]


def test_escape_puts_back_what_a_refused_field_held(page: Page) -> None:
    page.get_by_label("tolerance, plus or minus mm").fill("tight")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("alert")).to_be_hidden()
    expect(page.get_by_label("tolerance, plus or minus mm")).to_have_value("3")


def test_a_tap_puts_the_picked_joint_where_it_should_go(page: Page) -> None:
    handle(page, "left cylinder / 1").focus()
    x, y = middle(handle(page, "left cylinder / 1").locator(".handle-target"))
    page.get_by_role("button", name="tap where it should go").click()
    page.mouse.click(x - 40, y - 12)
    settle(page)
    at = document(page)["mount"]["members"][0]["ends"][0]["at"]
    assert at[0] < -900
    assert at[1] > 1160


def test_a_finger_drags_a_joint_on_the_tablet(tablet: Page, server: Server) -> None:
    target = handle(tablet, "right cylinder / 1").locator(".handle-target")
    box = target.bounding_box()
    assert box is not None
    x, y = middle(target)
    before = handle(tablet, "right cylinder / 1").get_attribute("aria-label") or ""
    session = tablet.context.new_cdp_session(tablet)
    session.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 9):
        point = {"x": x + 2 * step, "y": y}
        session.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    expect(handle(tablet, "right cylinder / 1")).not_to_have_attribute("aria-label", before)
    settle(tablet)
    assert document(tablet)["mount"]["members"][1]["ends"][0]["at"][0] > 900
    expect_page_equals_json(tablet, server.url)


def test_touch_targets_are_44_pixels_and_mouse_targets_24(page: Page, tablet: Page) -> None:
    for opened, least in ((page, 24), (tablet, 44)):
        sizes = opened.locator(".handle-target").evaluate_all(
            "all => all.map(each => 2 * Number(each.getAttribute('r')))"
        )
        assert min(sizes) >= least


def test_every_shipped_mount_opens_live(page: Page, server: Server) -> None:
    names = page.locator("[data-mount]").evaluate_all("all => all.map(each => each.dataset.mount)")
    assert len(names) == 9
    for name in names:
        choose_mount(page, name)
        expect_page_equals_json(page, server.url)


def test_a_picked_joint_says_on_the_sheet_what_load_and_play_do_there(page: Page, server: Server) -> None:
    handle(page, "left cylinder / 1").focus()
    settle(page)
    answer = posted(page, server.url)
    force = answer["forces"]["left cylinder / 1"]
    facts = page.locator(".layer-facts")
    expect(facts).to_contain_text(f"load {math.hypot(*force['load']) / 1000:.2f} kN")
    expect(facts).to_contain_text(f"weight {math.hypot(*force['weight']) / 1000:.2f} kN")
    play = next(each for each in answer["budget"]["left"]["sources"] if each["id"] == "left cylinder / 1")
    expect(facts).to_contain_text(f"its play: left ±{play['high']:.2f}")
    expect(facts).to_contain_text("held: the load hardly moves it")
    page.mouse.click(*pixel(page, (0, 1500)))
    expect(facts).to_be_empty()
    expect(page.get_by_role("group", name="picked joint")).to_be_hidden()


def test_the_picked_joint_is_never_covered_by_its_numbers(tablet: Page) -> None:
    names = tablet.locator("[data-handle]").evaluate_all("all => all.map(each => each.dataset.handle)")
    for name in names:
        handle(tablet, name).focus()
        settle(tablet)
        x, y = middle(handle(tablet, name).locator(".handle-target"))
        tops = tablet.evaluate("([x, y]) => document.elementFromPoint(x, y)?.closest('#sheet')?.id", [x, y])
        assert tops == "sheet", name


def test_enter_leads_from_a_joint_to_its_numbers_and_escape_back(page: Page) -> None:
    handle(page, "left cylinder / 1").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_label("x of left cylinder, barrel end on frame")).to_be_focused()
    page.keyboard.press("Escape")
    expect(handle(page, "left cylinder / 1")).to_be_focused()


def test_a_move_told_of_between_frames_is_followed_at_once(page: Page) -> None:
    drag(page, "left cylinder / 2", -25, 0, release=False)
    settle(page)
    before = handle(page, "left cylinder / 2").get_attribute("aria-label") or ""
    x, y = middle(handle(page, "left cylinder / 2").locator(".handle-target"))
    page.evaluate(
        """([x, y]) => document.querySelector('#sheet').dispatchEvent(new PointerEvent('pointerrawupdate',
            { pointerId: 1, pointerType: 'mouse', clientX: x, clientY: y, bubbles: true }))""",
        [x - 40, y],
    )
    expect(handle(page, "left cylinder / 2")).not_to_have_attribute("aria-label", before)
    there = handle(page, "left cylinder / 2").get_attribute("aria-label") or ""
    page.mouse.up()
    settle(page)
    expect(handle(page, "left cylinder / 2")).to_have_attribute("aria-label", there)
