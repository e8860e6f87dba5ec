"""What stands on the wall is read from the back row: letters of a thirtieth of its height, and nothing scrolls away."""

import itertools
import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, handle, posted, settle
from tests.browser.test_demonstration import show
from tests.browser.test_run import made
from tests.samples import the_rest

SCENARIOS = Path(__file__).parents[2] / "scenarios"

WALL_SIZES = [(1440, 900), (1920, 1080), (1280, 720)]

FITS = """each => each.scrollHeight <= each.clientHeight + 1 && each.scrollWidth <= each.clientWidth + 1"""
LETTERS = """each => Math.min(...[...each.querySelectorAll("*")]
    .filter((node) => node.checkVisibility() && !node.closest(".only-spoken, .how"))
    .filter((node) => [...node.childNodes].some((kid) => kid.nodeType === 3 && kid.data.trim()))
    .map((node) => parseFloat(getComputedStyle(node).fontSize) * (node.getScreenCTM ? node.getScreenCTM().a : 1)))"""
"""The smallest letters that are seen without pointing at them, pixels, those of a drawing as large as it is drawn."""

DRAWN = "() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))"
"""Until what was changed last is drawn."""


def test_what_must_be_read_on_the_wall_is_a_thirtieth_of_its_height(page: Page) -> None:
    show(page, "1-centre-pivot")
    for width, height in WALL_SIZES:
        page.set_viewport_size({"width": width, "height": height})
        for board in ("coupling", "lever", "play", "oil", "error"):
            page.get_by_role("button", name=board, exact=True).click()
            expect(page.locator(".board-line").last).to_be_in_viewport(ratio=1)
            page.evaluate(DRAWN)
            assert page.locator("#board").evaluate(LETTERS) >= height / 30 - 0.05, f"{board} at {width} x {height}"
        expect(page.locator("#titleblock")).to_be_hidden()
        expect(handle(page, "blade/left")).to_be_in_viewport()
    page.keyboard.press("Escape")
    expect(page.locator("#titleblock")).to_be_visible()


@pytest.mark.parametrize(
    ("width", "height", "system"),
    [(1280, 720, "inch"), *the_rest((1920, 1080, "inch"), (1920, 1080, "metric"), (1280, 720, "metric"))],
)
def test_nothing_on_the_wall_scrolls_away_or_is_small(page: Page, width: int, height: int, system: str) -> None:
    page.set_viewport_size({"width": width, "height": height})
    page.locator(f"[data-system={system}]").click()
    page.keyboard.press("w")
    for key in ("2", "6", "8"):
        page.keyboard.press(key)
        settle(page)
        for button in page.locator("button[data-board]").all():
            button.click()
            expect(button).to_have_attribute("aria-pressed", "true")
            if button.inner_text() == "run":
                expect(page.locator(".wall-section")).to_be_visible()
            if button.inner_text() == "working":
                expect(page.locator(".wall-page[aria-busy=false]")).to_be_visible()
            board = page.locator("#headlines" if button.inner_text() == "four numbers" else "#board")
            assert board.evaluate(FITS), f"{key}, {button.inner_text()}"
            assert board.evaluate(LETTERS) >= height / 30 - 0.05, f"{key}, {button.inner_text()}"


PAGES = f"""async () => {{
    const frames = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    const [fits, letters] = [{FITS}, {LETTERS}];
    const board = document.querySelector("#board");
    const found = [];
    for (;;) {{
        const wide = [...board.querySelectorAll(".wall-formula")].some((each) => each.scrollWidth > each.clientWidth);
        const of = board.querySelector(".page-of").textContent;
        found.push({{ of, step: board.querySelector("[data-step]").dataset.step, fits: fits(board) && !wide,
            letters: letters(board), result: board.querySelector("output")?.dataset.value ?? null }});
        const next = document.querySelector("[data-demo=next]");
        if (next.disabled) return found;
        next.click();
        await frames();
    }}
}}"""
"""Every page of the working from the one on the wall to the last, as it is measured."""


def custom(folder: Path) -> Path:
    """A mount of no shipped kind: long names, places that are no round numbers in any unit, air in its oil."""
    file = folder / "custom.json"
    told = (SCENARIOS / "6-crank-and-drop-rod.json").read_text()
    mount = json.loads(told.replace("crank cylinder", "tilt cylinder of the carrier's left side"))
    mount["title"] = "A carrier with its crank on the left, as measured"
    mount["blade"]["mass_centre"] = [17.3, 188.7]
    mount["load"]["at"] = [mount["blade"]["right"][0] - 53.7, mount["blade"]["right"][1]]
    mount["oil"]["entrained_air"] = 0.012
    file.write_text(json.dumps(mount))
    return file


def bring(page: Page, mount: str, folder: Path) -> None:
    """Open a shipped mount, or the custom one."""
    if mount == "custom":
        page.locator("#open-file").set_input_files(custom(folder))
        expect(page.get_by_role("heading", level=1)).to_contain_text("as measured")
    else:
        choose_mount(page, mount)
    settle(page)


SEEN = [
    ("1-centre-pivot", (1440, 900), "metric"),
    ("3-twin-cylinders", (1920, 1080), "metric"),
    ("custom", (1280, 720), "inch"),
]
"""Every mount, size and system once."""

EVERY = itertools.product(("1-centre-pivot", "3-twin-cylinders", "custom"), WALL_SIZES, ("metric", "inch"))


@pytest.mark.parametrize(("mount", "size", "system"), [*SEEN, *the_rest(*[each for each in EVERY if each not in SEEN])])
def test_the_working_takes_the_wall_page_by_page(
    page: Page, tmp_path: Path, mount: str, size: tuple[int, int], system: str
) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.locator(f"[data-system={system}]").click()
    bring(page, mount, tmp_path)
    page.keyboard.press("w")
    page.locator("button[data-board=working]").click()
    expect(page.locator(".wall-page[aria-busy=false]")).to_be_visible()
    pages: list[dict[str, Any]] = page.evaluate(PAGES)
    assert pages[-1]["of"].endswith(f"page {len(pages)} of {len(pages)}")
    assert [each for each in pages if not each["fits"]] == []
    assert [each for each in pages if each["letters"] < size[1] / 30 - 0.05] == []


def test_a_page_of_the_working_is_turned_by_key_by_step_and_by_a_number_that_is_clicked(
    page: Page, server: Server
) -> None:
    show(page, "3-twin-cylinders")
    page.locator("button[data-board=working]").click()
    title = page.locator(".board-title")
    expect(title).to_have_text("1  Where the blade turns")
    page.keyboard.press("n")
    expect(page.locator(".wall-page")).to_have_attribute("data-line", "x_C")
    expect(page.locator(".highlighted")).to_have_attribute("data-kind", "point")
    page.keyboard.press("b")
    expect(page.locator(".wall-page")).to_have_attribute("data-line", "t")
    page.get_by_label("step of the working").select_option(label="2  Coupling")
    for _ in range(3):
        page.keyboard.press("n")
    coupling = posted(page, server.url)["actuators"]["right cylinder"]["coupling"]
    expect(page.locator(".wall-result")).to_have_attribute("data-value", str(coupling))
    page.get_by_role("button", name="four numbers").click()
    page.locator("#headlines [data-seek=force]").first.click()
    expect(title).to_have_text("5  Load on the cylinder")
    page.keyboard.press("1")
    expect(page.get_by_role("heading", level=1)).to_have_text("Centre pivot, short lever")


@pytest.mark.parametrize("mount", ["custom", *the_rest("1-centre-pivot", "3-twin-cylinders")])
def test_nothing_of_a_run_on_its_wall_scrolls_away_or_is_small(page: Page, tmp_path: Path, mount: str) -> None:
    bring(page, mount, tmp_path)
    page.locator("[data-action=run]").click()
    made(page)
    page.keyboard.press("w")
    for number, ready in enumerate(page.locator("[data-ready]").all()):
        ready.click()
        expect(ready).to_have_attribute("aria-pressed", "true")
        made(page)
        systems = ("metric", "inch", "metric") if number % 2 else ("inch", "metric", "inch")
        for (width, height), system in zip(WALL_SIZES, systems, strict=True):
            page.set_viewport_size({"width": width, "height": height})
            page.locator(f"[data-system={system}]").click()
            page.evaluate(DRAWN)
            case = f"{ready.inner_text()} at {width} x {height}, {system}"
            for room in (".ground", ".findings"):
                assert page.locator(room).evaluate(FITS), f"{case}: {room}"
            for room in (".stages", ".sections", ".legend", ".findings"):
                assert page.locator(room).evaluate(LETTERS) >= height / 30 - 0.05, f"{case}: {room}"


def test_letters_are_keys_of_the_run_after_a_button_was_pressed(page: Page) -> None:
    page.locator("[data-action=run]").click()
    made(page)
    page.locator("[data-system=inch]").click()
    page.keyboard.press("w")
    expect(page.locator("body")).to_have_class("wall")
