"""The words of the sheet: none lies over another, none leaves it, none covers the point the blade turns about."""

import pytest
from playwright.sync_api import Page, expect

from app.shipped import shipped_mounts
from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, drag, handle, kept, settle
from tests.browser.papers import packed, shipped
from tests.browser.words import FAULTS, faults
from tests.samples import the_rest

FITTED = """() => {
  const sheet = document.querySelector("#sheet");
  return Math.abs(sheet.viewBox.baseVal.width - sheet.getBoundingClientRect().width) < 1;
}"""
WATCHING = f"""() => {{
  cancelAnimationFrame(window.looking);
  const faults = {FAULTS};
  window.seen = {{ pictures: new Set(), faults: new Set() }};
  const look = () => {{
    window.seen.pictures.add(document.querySelector("#sheet .edge").getAttribute("d"));
    for (const each of faults()) window.seen.faults.add(each);
    window.looking = requestAnimationFrame(look);
  }};
  look();
}}"""

DESK, LAPTOP, TABLET, TWICE_AS_LARGE = (1440, 900), (1280, 800), (1024, 768), (720, 450)
SWING_MS = 1800
"""More than once there and back."""
MANY = 20
"""Pictures on the way, at least."""


def faults_on(page: Page, *screens: tuple[int, int]) -> dict[str, list[str]]:
    """The same on screens of several sizes, by their sizes; the last one stays."""
    found = {}
    for width, height in screens:
        page.set_viewport_size({"width": width, "height": height})
        page.wait_for_function(FITTED)
        found[f"{width} x {height}"] = faults(page)
    return {screen: each for screen, each in found.items() if each}


def in_units(page: Page, system: str) -> None:
    page.locator(f'[data-system="{system}"]').click()
    expect(page.locator(f'[data-system="{system}"]')).to_have_attribute("aria-pressed", "true")


def move_cylinders(page: Page, share: float) -> None:
    """Every cylinder to a share of its stroke."""
    page.locator("[data-stroke]").evaluate_all(
        """(all, share) => all.forEach((each) => {
          each.value = Number(each.min) + share * (each.max - each.min);
          each.dispatchEvent(new Event("input", { bubbles: true }));
        })""",
        share,
    )
    settle(page)


def faults_of_a_swing(page: Page, screen: tuple[int, int]) -> list[str]:
    """Let the play swing the blade, a hundred times life size, once there and back; what is at fault on the way."""
    page.set_viewport_size({"width": screen[0], "height": screen[1]})
    page.get_by_role("button", name="wall", exact=True).click()
    page.get_by_label("slop, times life size").fill("100")
    page.get_by_role("button", name="swing from stop to stop").click()
    page.clock.run_for(100)
    page.evaluate(WATCHING)
    page.clock.run_for(SWING_MS)
    assert page.evaluate("window.seen.pictures.size") > MANY
    found: list[str] = page.evaluate("[...window.seen.faults]")
    page.get_by_role("button", name="hold it still").click()
    page.keyboard.press("Escape")
    return found


def in_every_state(page: Page, units: tuple[str, str], *screens: tuple[int, int]) -> dict[str, dict[str, list[str]]]:
    """What is at fault with any shipped mount: as drawn in the first units, with its cylinders moved in the second."""
    found = {}
    for name in shipped_mounts():
        choose_mount(page, name)
        in_units(page, units[0])
        found[f"{name}, as drawn"] = faults_on(page, *screens)
        in_units(page, units[1])
        move_cylinders(page, 0.7)
        found[f"{name}, moved"] = faults_on(page, *screens)
    return {state: each for state, each in found.items() if each}


UNITS = [("metric", "inch"), *the_rest((("inch", "metric"),))]


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("screens", [(DESK, TWICE_AS_LARGE), *the_rest(((LAPTOP,),))])
def test_no_text_lies_over_another_as_drawn_or_with_the_cylinders_moved(
    page: Page, units: tuple[str, str], screens: tuple[tuple[int, int], ...]
) -> None:
    assert in_every_state(page, units, *screens) == {}


@pytest.mark.full
@pytest.mark.parametrize("units", UNITS)
def test_no_text_lies_over_another_under_a_finger(tablet: Page, units: tuple[str, str]) -> None:
    assert in_every_state(tablet, units, TABLET) == {}


@pytest.mark.parametrize("system", ["metric", *the_rest("inch")])
@pytest.mark.parametrize("name", ["3-twin-cylinders", *the_rest(*sorted({*shipped_mounts()} - {"3-twin-cylinders"}))])
@pytest.mark.parametrize("screens", [(DESK, TWICE_AS_LARGE), *the_rest(((LAPTOP, TABLET),))])
def test_no_text_lies_over_another_while_play_swings_the_blade(
    page: Page, name: str, system: str, screens: tuple[tuple[int, int], ...]
) -> None:
    page.clock.install()
    in_units(page, system)
    choose_mount(page, name)
    assert {screen: faults_of_a_swing(page, screen) for screen in screens} == {screen: [] for screen in screens}


def test_no_text_lies_over_what_an_end_has_travelled(page: Page) -> None:
    for name in ("1-centre-pivot", "3-twin-cylinders"):
        choose_mount(page, name)
        page.get_by_role("button", name="wall", exact=True).click()
        for _ in range(3):
            page.get_by_role("button", name="one step").click()
            settle(page)
        expect(page.locator(".travel")).to_have_count(2)
        assert faults(page) == []
        page.keyboard.press("Escape")


def test_what_is_said_at_a_picked_joint_lies_over_no_other_text_and_not_over_the_centre(page: Page) -> None:
    for name in ("3-twin-cylinders", "6-crank-and-drop-rod"):
        choose_mount(page, name)
        for joint in page.locator("[data-handle]").evaluate_all("all => all.map(each => each.dataset.handle)"):
            handle(page, joint).focus()
            expect(handle(page, joint)).to_have_attribute("aria-pressed", "true")
            assert (joint, faults(page)) == (joint, [])


def test_no_text_lies_over_another_with_held_dimensions_construction_outlines_and_a_ghost(
    page: Page, server: Server
) -> None:
    mount = shipped("3-twin-cylinders")
    mount["dimensions"] = [
        {"between": ["left cylinder / 1", "left cylinder / 2"], "way": "level"},
        {"between": ["left cylinder / 1", "right cylinder / 1"], "way": "along"},
        {"between": ["right cylinder / 2", "blade / right"], "way": "upright"},
    ]
    mount["construction"] = [{"at": [0, 700], "angle": 0}, {"at": [200, 300], "angle": 60}, {"at": [-300, 500]}]
    mount["outlines"] = [{"body": "frame", "points": [[-1100, 1300], [1100, 1300], [1100, 1450], [-1100, 1450]]}]
    page.goto("about:blank")
    page.goto(f"{server.url}/#m={packed(mount)}")
    settle(page)
    kept(page)
    page.keyboard.press("Shift+V")
    expect(page.locator(".variant-ghost")).to_have_count(1)
    for system in ("metric", "inch"):
        in_units(page, system)
        assert (system, faults_on(page, DESK, LAPTOP, TABLET)) == (system, {})
    move_cylinders(page, 0.7)
    assert faults_on(page, DESK, TWICE_AS_LARGE) == {}


def test_words_keep_their_side_while_a_joint_is_dragged(page: Page) -> None:
    words = page.locator("#sheet :is(.end-arrow-words, .dimension-words, .load-words, .staff-value)")
    sides = "all => all.map((each) => each.getAttribute('text-anchor'))"
    drag(page, "right cylinder / 2", -12, -6, release=False)
    settle(page)
    before = words.evaluate_all(sides)
    drag(page, "right cylinder / 2", 8, 4)
    settle(page)
    assert words.evaluate_all(sides) == before


def test_no_number_that_matters_is_left_out_on_a_sheet_that_is_far_too_small(page: Page) -> None:
    numbers = page.locator("#sheet :is(.end-arrow-words, .dimension-words, .staff-value, .load-words)")
    shown = numbers.all_text_contents()
    assert faults_on(page, (420, 480)) == {}
    assert numbers.all_text_contents() == shown


def test_no_text_lies_over_another_side_by_side_and_on_the_handout(page: Page, server: Server) -> None:
    for path, shown in (("/compare", "#sheet-b .formula"), ("/handout", "#sheet .formula")):
        page.goto(f"{server.url}{path}")
        expect(page.locator(shown)).to_be_visible()
        assert (path, faults(page)) == (path, [])
