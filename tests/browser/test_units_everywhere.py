"""With inches on no metric unit stands anywhere, and the reverse: on every screen, dialog and paper."""

import re

import pytest
from playwright.sync_api import Page, expect

from app.document.models import as_document
from app.shipped import shipped_mounts
from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, handle, settle
from tests.browser.papers import open_handout, packed, shipped
from tests.samples import the_rest

SHIPPED = tuple(shipped_mounts())

FOREIGN = {
    "inch": re.compile(r"(?<![\w(])(?:mm[²³]?|kN|MPa|kg|mL|L/min)(?!\w)|\d[ \u00a0]N(?!\w)"),
    "metric": re.compile(r"\d[ \u00a0](?:in[²³]?|lb|ft)(?![\w'])|(?<!\w)(?:lbf|psi|gal/min)(?!\w)"),
}
"""A unit of the other system. 'in' and 'N' are words and names too: they count behind a number only."""

SEEN = """
() => {
  const words = [];
  const own = (node) => node.closest('[data-system], #note, #mount-note, .titleblock-note, nav, footer, script, style');
  const inline = (node) => ['inline', 'inline-block', 'contents'].includes(getComputedStyle(node).display);
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const seen = new Set();
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    let holder = node.parentElement;
    if (!node.data.trim() || own(holder) || !holder.checkVisibility()) continue;
    while (holder.parentElement && inline(holder) && !(holder instanceof SVGElement)) holder = holder.parentElement;
    if (!seen.has(holder)) words.push([...holder.childNodes].map((each) => each.textContent).join(' '));
    seen.add(holder);
  }
  for (const each of document.querySelectorAll('[aria-label], [title], [placeholder]'))
    if (!own(each) && each.checkVisibility())
      words.push(each.ariaLabel ?? '', each.getAttribute('title') ?? '', each.getAttribute('placeholder') ?? '');
  return words;
}
"""
"""Everything that is read or heard, but for the words of the document's own note and the unit switch."""


def expect_no_unit_of_the_other_system(page: Page, system: str) -> None:
    note = page.locator("#mount-note, #note").all_inner_texts()
    words = [each for each in page.evaluate(SEEN) if each not in note]
    assert [each for each in words if FOREIGN[system].search(each)] == []


def switch(page: Page, system: str) -> None:
    page.locator(f'[data-system="{system}"]').click()


OUT_OF_THEIR_OWN = [
    (name, "metric" if as_document(mount).get("display") == "inch" else "inch")
    for name, mount in shipped_mounts().items()
]
"""Every shipped mount in the units it is not drawn in, in which a forgotten one shows."""
ONE_OF_EACH_SYSTEM = [*OUT_OF_THEIR_OWN[1::4], *OUT_OF_THEIR_OWN[-1:]]
IN_EITHER = [(name, system) for name in SHIPPED for system in ("inch", "metric")]
MOUNTS = [*ONE_OF_EACH_SYSTEM, *the_rest(*(each for each in IN_EITHER if each not in ONE_OF_EACH_SYSTEM))]


@pytest.mark.parametrize(("name", "system"), MOUNTS)
def test_no_unit_of_the_other_system_stands_on_any_panel(page: Page, name: str, system: str) -> None:
    switch(page, system)
    choose_mount(page, name)
    for tab in page.get_by_role("tab").all():
        tab.click()
        expect(page.locator("#panel")).not_to_contain_text(re.compile("working it out…|drawing lots…"))
        expect_no_unit_of_the_other_system(page, system)
    handle(page, page.locator("[data-handle]").first.get_attribute("data-handle") or "").focus()
    page.get_by_role("tab", name="Numbers").click()
    expect_no_unit_of_the_other_system(page, system)
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_role("button", name="all their numbers in a table").click()
    expect_no_unit_of_the_other_system(page, system)


@pytest.mark.parametrize("system", ["inch", "metric"])
def test_no_unit_of_the_other_system_stands_in_a_warning_or_a_refusal(page: Page, system: str) -> None:
    switch(page, system)
    stroke = page.locator("[data-stroke-typed='left cylinder']")
    stroke.fill("9000")
    stroke.press("Enter")
    settle(page)
    expect(page.locator("#notices")).to_contain_text("asked for")
    expect_no_unit_of_the_other_system(page, system)


@pytest.mark.parametrize(("name", "system"), MOUNTS)
def test_no_unit_of_the_other_system_stands_on_a_handout(page: Page, server: Server, name: str, system: str) -> None:
    open_handout(page, server.url, f"#m={packed(shipped(name))}")
    switch(page, system)
    expect_no_unit_of_the_other_system(page, system)


@pytest.mark.parametrize("system", ["inch", "metric"])
def test_no_unit_of_the_other_system_stands_side_by_side(page: Page, server: Server, system: str) -> None:
    page.goto(f"{server.url}/compare#a={packed(shipped(SHIPPED[0]))}&b={packed(shipped(SHIPPED[-1]))}&e=4,-9")
    for side in ("a", "b"):
        expect(page.locator(f"#side-{side}")).to_have_attribute("data-state", "live")
    switch(page, system)
    expect_no_unit_of_the_other_system(page, system)


def test_cross_fall_is_called_cross_slope_where_inches_are_used(page: Page) -> None:
    cell = page.locator("#titleblock .cell-fall")
    expect(cell).to_contain_text("Cross fall")
    page.locator("header [data-system=inch]").click()
    expect(cell).to_contain_text("Cross slope")
