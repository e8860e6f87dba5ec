"""The mount over its travel: the plane beside the sliders, curves, and the way to where each number is worst."""

import re

from playwright.sync_api import Locator, Page, expect

from tests.browser.gestures import choose_mount, document, drag, figure, settle, value


def plane(page: Page) -> Locator:
    """The stroke plane, once it is there."""
    shown = page.get_by_role("group", name="stroke plane")
    expect(shown).to_be_visible(timeout=30_000)
    return shown


def dot(page: Page) -> Locator:
    return page.locator("#plane [data-dot]")


def lines(page: Page) -> str:
    return plane(page).locator(".plane-height-left").get_attribute("d") or ""


def test_the_dot_of_the_plane_works_both_cylinders_and_one_step_takes_it_back(page: Page) -> None:
    box = plane(page).bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 0.6 * box["width"], box["y"] + 0.5 * box["height"])
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"], box["y"] - 10, steps=8)
    page.mouse.up()
    settle(page)
    assert document(page)["command"] == {"left cylinder": 130, "right cylinder": 130}
    dot(page).press("ArrowLeft")
    dot(page).press("Shift+ArrowDown")
    settle(page)
    assert document(page)["command"] == {"left cylinder": 129, "right cylinder": 120}
    for _ in range(2):
        page.get_by_role("button", name="undo").click()
    settle(page)
    assert document(page)["command"] == {}


def test_the_worst_over_the_travel_is_one_press_away_and_is_what_the_readout_says_there(page: Page) -> None:
    plane(page)
    worst = page.locator('[data-over-travel="worst"]')
    expected = float(worst.get_attribute("data-value") or "nan")
    page.locator("button", has=worst).click()
    settle(page)
    assert abs(value(page, "worst") - expected) < 1e-9
    expect(figure(page, "worst").locator("xpath=ancestor::section")).to_contain_text("outside")
    page.get_by_role("tab", name="Travel").click()
    page.get_by_role("button", name=re.compile("^go to the worst coupling, left cylinder")).click()
    settle(page)
    assert document(page)["command"]["left cylinder"] in (-130, 130)


def test_the_plane_follows_a_pivot_while_it_is_dragged(page: Page) -> None:
    before = lines(page)
    drag(page, "left cylinder / 2", 60, 0, release=False)
    expect(plane(page).locator(".plane-height-left")).not_to_have_attribute("d", before)
    page.mouse.up()


def test_with_one_cylinder_there_is_a_curve_that_can_be_dragged(page: Page) -> None:
    choose_mount(page, "1-centre-pivot")
    curve = page.locator("#plane svg[data-hand]")
    expect(curve).to_be_visible(timeout=30_000)
    dot(page).press("Shift+ArrowRight")
    settle(page)
    assert document(page)["command"] == {"tilt cylinder": 10}
    expect(page.locator(".plane-dead")).to_contain_text("dead centre 34\u00a0mm beyond fully in")


def test_the_curves_are_saved_as_a_table_and_as_a_picture(page: Page) -> None:
    plane(page)
    page.get_by_role("tab", name="Travel").click()
    expect(page.locator("#panel svg.curves .curve").first).to_be_visible()
    with page.expect_download() as table:
        page.get_by_role("button", name="save as CSV").click()
    lines_of_table = table.value.path().read_text(encoding="utf-8-sig").splitlines()
    assert len(lines_of_table) == 1 + 101
    assert lines_of_table[0].startswith('"right cylinder, longer than drawn [mm]"')
    with page.expect_download() as picture:
        page.get_by_role("button", name="save as SVG").click()
    drawn = picture.value.path().read_text()
    assert drawn.startswith("<?xml")
    assert drawn.count('stroke-dasharray="6px, 3px"') == 1
    assert "class=" not in drawn
