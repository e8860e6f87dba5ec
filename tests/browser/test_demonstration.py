"""The trainer's ten minutes: a stroke with its traces, slop made visible, an end corrected, and the class guessing."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Server, Watched, watch
from tests.browser.hands import choose_mount, document, handle, settle


def show(page: Page, mount: str) -> None:
    choose_mount(page, mount)
    page.get_by_role("tab", name="Show").click()


def test_a_stroke_leaves_a_trace_at_both_ends_and_is_no_change_to_the_mount(page: Page) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="play", exact=True).click()
    expect(page.locator(".end-trace")).to_have_count(2)
    expect(page.get_by_role("img", name="height of both ends over the stroke")).to_be_visible()
    page.get_by_role("button", name="pause").click()
    page.get_by_role("button", name="stop, back to rest").click()
    settle(page)
    assert document(page)["command"] == {}
    expect(page.get_by_role("button", name="undo")).to_be_disabled()


def test_steps_are_taken_one_by_one(page: Page) -> None:
    show(page, "1-centre-pivot")
    for _ in range(3):
        page.get_by_role("button", name="one step").click()
        settle(page)
    assert document(page)["command"]["tilt cylinder"] > 0
    expect(page.locator(".trace-far")).to_be_visible()


def test_slop_swings_the_blade_as_many_times_life_size_as_asked(page: Page) -> None:
    show(page, "1-centre-pivot")
    rest = page.locator(".edge").get_attribute("d") or ""
    page.get_by_label("slop, times life size").fill("100")
    page.get_by_role("button", name="swing between").click()
    expect(page.locator(".edge")).not_to_have_attribute("d", rest)
    page.get_by_role("button", name="hold it still").click()
    expect(page.locator(".edge")).to_have_attribute("d", rest)


@pytest.mark.parametrize(
    ("mount", "how", "words"),
    [
        ("3-twin-cylinders", "one cylinder after the other", "On grade after 2 moves."),
        ("3-twin-cylinders", "together", "On grade after 2 moves."),
        ("1-centre-pivot", "one cylinder after the other", "Still off after 12 moves"),
        ("1-centre-pivot", "together", "there is no such move"),
    ],
)
def test_correcting_one_end_is_counted_in_moves(page: Page, mount: str, how: str, words: str) -> None:
    page.emulate_media(reduced_motion="no-preference")
    show(page, mount)
    page.get_by_role("button", name=how).click()
    expect(page.locator("#panel")).to_contain_text(words, timeout=20_000)


def test_the_numbers_are_hidden_until_the_class_has_guessed(page: Page) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="hide the numbers").click()
    expect(page.locator("[data-readout=coupling]")).to_be_hidden()
    expect(page.locator(".formula")).to_have_text("coupling = ?")
    page.get_by_role("button", name="show the numbers").click()
    expect(page.locator("[data-readout=coupling]")).to_be_visible()
    expect(page.locator(".formula")).to_have_text("coupling of right cylinder = −350 / 2050 = −0.17")


def test_the_projector_view_fills_the_wall_with_sheet_and_four_numbers_and_escape_leaves_it(page: Page) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="projector view").click()
    expect(page.locator("#titleblock")).to_be_hidden()
    for name in ("coupling", "worst", "load-ratio", "moves"):
        figure = page.locator(f"[data-readout={name}]")
        expect(figure).to_be_in_viewport(ratio=1)
        assert float(figure.evaluate("each => parseFloat(getComputedStyle(each).fontSize)")) > 60
    expect(handle(page, "blade/left")).to_be_in_viewport()
    page.keyboard.press("Escape")
    expect(page.locator("#titleblock")).to_be_visible()


def test_a_newcomer_is_shown_both_mounts_by_hand_and_the_hints_go_away(page: Page) -> None:
    page.get_by_role("button", name="show me around").click()
    expect(page.locator("#guide")).to_contain_text("1 of 4")
    expect(page.get_by_role("heading", level=1)).to_have_text("Centre pivot, short lever")
    page.locator("[data-stroke='tilt cylinder']").fill("8")
    expect(page.locator("#guide .looked")).to_be_visible()
    page.locator("#guide").get_by_role("button", name="next").click()
    handle(page, "tilt cylinder/2").focus()
    page.keyboard.press("ArrowUp")
    page.locator("#guide").get_by_role("button", name="next").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Two upright cylinders and a side stay")
    page.locator("#guide").get_by_role("button", name="end the tour").click()
    page.reload()
    settle(page)
    expect(page.locator("#guide")).to_have_text("")


def test_reduced_motion_moves_in_single_steps(browser: Browser, server: Server, watched: Watched) -> None:
    page = watch(browser.new_context(viewport={"width": 1440, "height": 900}, reduced_motion="reduce"), watched)
    page.goto(server.url)
    settle(page)
    page.get_by_role("tab", name="Show").click()
    rest = page.locator(".edge").get_attribute("d") or ""
    page.get_by_role("button", name="swing between").click()
    high = page.locator(".edge")
    expect(high).not_to_have_attribute("d", rest)
    page.get_by_role("button", name="hold it still").click()
    page.context.close()
