"""A mount is copied as a variant, changed, switched with its parent and set against it; the library names them."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Server, Watched
from tests.browser.gestures import document, drag, handle, kept, middle, settle, value
from tests.browser.papers import packed, shipped
from tests.browser.test_accessibility import opened, violations
from tests.samples import the_rest

TWIN = shipped("3-twin-cylinders")
TITLE = "Two upright cylinders and a side stay"


def headline(page: Page, row: int, name: str) -> float:
    cell = page.locator("[data-variant-row]").nth(row).locator(f'[data-headline="{name}"]')
    expect(cell).not_to_have_attribute("data-value", "")
    return float(cell.get_attribute("data-value") or "nan")


def test_a_variant_is_copied_changed_and_set_against_the_one_before(page: Page) -> None:
    drag(page, "left cylinder / 2", -40, 0)
    settle(page)
    kept(page)
    before = {name: value(page, name) for name in ("coupling", "worst", "load-ratio")}
    page.keyboard.press("Shift+V")
    expect(page.locator("#mount-title")).to_have_text(f"{TITLE}, B")
    settle(page)
    drag(page, "left cylinder / 2", 120, 0)
    settle(page)
    kept(page)
    expect(page.locator(".layer-variants .variant-name")).to_have_text(TITLE)
    page.get_by_role("button", name="variants 3").click()
    expect(page.locator("tr.now")).to_contain_text("on the sheet")
    assert {name: headline(page, 1, name) for name in before} == pytest.approx(before, rel=1e-6)
    here = headline(page, 2, "coupling")
    assert here == value(page, "coupling")
    difference = page.locator("[data-variant-row]").nth(1).locator("td").first
    expect(difference).to_contain_text(f"here {here - before['coupling']:+.2f}".replace("-", "−"))
    page.keyboard.press(",")
    expect(page.locator("#mount-title")).to_have_text(TITLE)
    settle(page)
    assert value(page, "coupling") == pytest.approx(before["coupling"], rel=1e-6)
    page.reload()
    settle(page)
    expect(page.get_by_role("button", name="variants 3")).to_be_visible()


def test_a_mount_that_came_by_a_link_and_is_not_kept_is_copied_too(page: Page, server: Server) -> None:
    page.goto(f"{server.url}/#m={packed({**TWIN, 'title': 'By a link'})}")
    expect(page.locator("#mount-title")).to_have_text("By a link")
    settle(page)
    page.keyboard.press("Shift+V")
    expect(page.locator("#mount-title")).to_have_text("By a link, B")
    settle(page)
    kept(page)


def test_a_ghost_follows_a_stroke_while_it_is_worked(page: Page) -> None:
    page.keyboard.press("Shift+V")
    ghost = page.locator(".variant-ghost")
    expect(ghost).to_have_count(1)
    stood = ghost.get_attribute("d") or ""
    x, y = middle(page.locator("[data-stroke]").first)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 30, y, steps=4)
    expect(ghost).not_to_have_attribute("d", stood)
    page.mouse.up()
    settle(page)


def test_a_mount_in_the_library_is_found_renamed_and_copied_in_place(page: Page) -> None:
    drag(page, "left cylinder / 2", -40, 0)
    settle(page)
    kept(page)
    page.get_by_role("button", name="library").click()
    page.locator("[data-kept].now").get_by_role("button", name="copy as variant").click()
    expect(page.locator("[data-rename]").get_by_label("title")).to_have_value(f"{TITLE}, B")
    page.keyboard.type("Feet apart")
    page.locator("[data-rename]").get_by_label("note").fill("for the short frame")
    page.get_by_role("button", name="keep", exact=True).click()
    copy = page.locator("[data-kept]").filter(has_text="Feet apart")
    expect(copy).to_contain_text(f"from {TITLE}")
    page.locator("[data-kept].now").get_by_role("button", name="rename").click()
    page.locator("[data-rename]").get_by_label("title").fill("As it stands")
    page.keyboard.press("Enter")
    expect(copy).to_contain_text("from As it stands")
    page.get_by_label("search titles and notes").fill("short FRAME")
    expect(page.locator("[data-kept]")).to_have_count(1)
    page.keyboard.press("Escape")
    expect(page.locator("#mount-title")).to_have_text("As it stands")
    assert document(page)["mount"]["title"] == "As it stands"


@pytest.mark.parametrize("scheme", ["dark", *the_rest("light")])
def test_the_library_and_the_variants_have_no_violation(
    browser: Browser, server: Server, watched: Watched, scheme: str
) -> None:
    page = opened(browser, server, watched, scheme)
    handle(page, "left cylinder / 2").press("ArrowLeft")
    settle(page)
    kept(page)
    page.keyboard.press("Shift+V")
    expect(page.locator("#mount-title")).to_contain_text(", B")
    page.keyboard.press("v")
    expect(page.locator("[data-variant-row]")).to_have_count(3)
    expect(page.locator(".variant-ghost")).to_have_count(1)
    assert violations(page) == []
    page.get_by_role("button", name="library").click()
    page.get_by_role("button", name="rename").first.click()
    expect(page.locator("[data-rename]").get_by_label("title")).to_be_focused()
    assert violations(page) == []
    page.context.close()
