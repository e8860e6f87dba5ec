"""The trainer's and the sales engineer's errand: two mounts over the same ground, played, scrubbed and explained."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.conftest import Server, Watched, afresh
from tests.browser.test_accessibility import violations

MADE_MS = 60_000


@pytest.fixture
def grading(desk: BrowserContext, server: Server, watched: Watched) -> Iterator[Page]:
    with afresh(desk, server, watched) as page:
        page.goto(f"{server.url}/run")
        made(page)
        yield page


def made(page: Page) -> None:
    """Wait until both runs are whole."""
    expect(page.locator("#run")).to_have_attribute("data-state", "live", timeout=MADE_MS)
    expect(page.locator('[data-run="rms"][data-side="a"]')).not_to_have_attribute("data-value", "", timeout=MADE_MS)


def number(page: Page, name: str, side: str) -> float:
    return float(page.locator(f'[data-run="{name}"][data-side="{side}"]').get_attribute("data-value") or "nan")


def setting(page: Page, path: str) -> Locator:
    return page.locator(f'[data-setting="{path}"]')


def test_two_mounts_run_over_the_same_ground_and_one_sentence_says_which_is_quicker(grading: Page) -> None:
    slow, quick = number(grading, "time-to-grade", "a"), number(grading, "time-to-grade", "b")
    assert slow > 3 * quick
    expect(grading.locator("#sentence")).to_contain_text(re.compile(r"B comes to grade in 0\.49.s, A in 1\.9.s"))
    expect(grading.locator("#sentence")).to_contain_text("both cylinders together", timeout=MADE_MS)

    scrub = grading.get_by_label("time of the run")
    scrub.fill("0")
    expect(grading.locator("#stage-a .off.right")).to_have_text("+20.0\N{NO-BREAK SPACE}mm")
    scrub.fill("12")
    expect(grading.locator("#stage-a .off.right")).to_have_text(re.compile(r"^[+−]?0\.\d"))
    assert violations(grading) == []

    grading.get_by_role("button", name="guess").click()
    expect(grading.locator('[data-run="rms"][data-side="a"] strong')).to_have_text("?")
    grading.get_by_role("button", name="guess").click()

    start = setting(grading, "start.right")
    start.fill("5")
    start.press("Tab")
    made(grading)
    expect(grading.locator("#sentence")).to_contain_text(re.compile(r"B comes to grade in 0\.2"), timeout=MADE_MS)
    grading.get_by_label("mount B", exact=True).select_option("")
    expect(grading.locator("#run")).to_have_attribute("data-sides", "1")
    expect(grading).not_to_have_url(re.compile(r"[#&]b="))  # the address follows a moment later
    grading.reload()
    made(grading)
    expect(setting(grading, "start.right")).to_have_value("5")
    expect(grading.locator("#run")).to_have_attribute("data-sides", "1")


def test_what_never_settles_is_said_and_bad_settings_stay_to_be_mended(grading: Page) -> None:
    grading.get_by_text("Valves and channels").click()
    setting(grading, "control.way").select_option("one after the other")
    made(grading)
    expect(grading.locator("#said")).to_contain_text(
        "A: one end after the other never settles on this mount", timeout=MADE_MS
    )
    expect(grading.locator('[data-run="time-to-grade"][data-side="a"] strong')).to_have_text("never", timeout=MADE_MS)
    late = setting(grading, "control.on_delay")
    late.fill("99")
    late.press("Tab")
    expect(grading.locator("#said")).to_contain_text("found 99, expected 10 or less", timeout=MADE_MS)
    late.fill("0.05")
    late.press("Tab")
    made(grading)
    expect(grading.locator("#said .refused")).to_have_count(0, timeout=MADE_MS)


def test_the_handout_carries_the_run_its_numbers_and_the_sentence(grading: Page) -> None:
    grading.get_by_role("button", name="handout").click()
    run = grading.locator("#ran")
    expect(run).to_contain_text("A grading run: level ground; right end 20.00\N{NO-BREAK SPACE}mm off", timeout=MADE_MS)
    expect(run).to_contain_text(re.compile(r"B comes to grade in 0\.49.s, A in 1\.9.s"))
    expect(run.locator("svg .edge-line.right")).to_have_count(2)
    assert number(grading, "inside", "b") > 0.9
    assert "&g=" in grading.url
