"""The trainer's and the sales engineer's errand: two mounts over the same ground, played, scrubbed and explained."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Server, Tabs, Watched, afresh
from tests.browser.test_accessibility import Scheme, violations

MADE_MS = 60_000
SCHEMES: tuple[Scheme, ...] = ("dark", "light")


@pytest.fixture
def grading(desk: Tabs, server: Server, watched: Watched) -> Iterator[Page]:
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
    run = grading.locator("section.part").filter(has=grading.get_by_role("heading", name="Over the same run"))
    expect(run).to_contain_text("level ground; the right end starts 20.00\N{NO-BREAK SPACE}mm", timeout=MADE_MS)
    expect(run).to_contain_text(re.compile(r"B comes to grade in 0\.49.s, A in 1\.9.s"))
    expect(run.locator("svg .edge-line.right")).to_have_count(2)
    shares = run.get_by_role("row", name="Share of the way inside the tolerance")
    expect(shares).to_contain_text(re.compile(r"89\.43.% *95\.92.%"))
    assert "&g=" in grading.url


PIVOT = "2-pivot-on-carriage"


def keep(page: Page, url: str, title: str, length: float, origin: str) -> str:
    """Put a copy of the pivot with a blade of half a length into the library: its id."""
    drawn = page.request.get(f"{url}/scenarios/{PIVOT}").json()
    blade = {**drawn["blade"], "left": [-length, 0], "right": [length, 0]}
    asked = {
        "mount": {**drawn, "title": title, "blade": blade},
        "command": {},
        "key": f"run-{length:.0f}",
        "origin": origin,
    }
    kept = page.request.post(f"{url}/library", data=asked)
    assert kept.ok, kept.text()
    return str(kept.json()["id"])


def test_the_designer_runs_the_variants_of_a_mount_and_sees_what_costs_most(grading: Page, server: Server) -> None:
    first = keep(grading, server.url, "Run with a short blade", 1000, PIVOT)
    keep(grading, server.url, "Run with a wide blade", 1600, first)
    grading.reload()
    made(grading)
    grading.get_by_label("mount A", exact=True).select_option(f"kept:{first}")
    grading.get_by_role("button", name="Rough ground, class C").click()
    lasts = setting(grading, "seconds")
    lasts.fill("8")
    lasts.press("Tab")
    made(grading)
    grading.get_by_text("Variants, and worst over 32 seeds").click()
    table = grading.locator(".variant-runs")
    expect(table.locator("tbody tr")).to_have_count(3, timeout=MADE_MS)  # with the shipped mount they come from
    for name in ("Run with a short blade", "Run with a wide blade"):
        cell = table.locator(f'[data-variant-run="{name}"] [data-number="worst"]')
        expect(cell).not_to_have_attribute("data-value", "", timeout=MADE_MS)
    worst = [float(each.get_attribute("data-value") or "nan") for each in table.locator('[data-number="worst"]').all()]
    assert worst[1] < worst[0] < worst[2]
    expect(table.locator("caption")).to_contain_text("worst of all", timeout=MADE_MS)

    table.get_by_role("button", name="Run with a wide blade").click()
    made(grading)
    expect(grading.get_by_label("mount B", exact=True)).to_contain_text("Run with a wide blade")
    grading.get_by_text("What costs most").click()
    expect(grading.locator("#costs table")).to_have_count(2, timeout=MADE_MS)
    expect(grading.locator('#costs table[data-side="a"] tbody tr').first).to_contain_text(
        "both cylinders worked together", timeout=MADE_MS
    )
    assert violations(grading) == []


def test_scrubbing_and_playing_ask_the_server_for_nothing(grading: Page) -> None:
    expect(grading.locator("#sentence")).to_contain_text("both cylinders together", timeout=MADE_MS)
    asked: list[str] = []
    grading.on("request", lambda request: asked.append(request.url))
    grading.on("websocket", lambda socket: asked.append(socket.url))
    grading.evaluate("() => { window.sent = 0; WebSocket.prototype.send = () => { window.sent += 1; }; }")
    scrub = grading.get_by_label("time of the run")
    for time in ("0", "0.4", "3", "11.5"):
        scrub.fill(time)
    scrub.press("ArrowLeft")
    grading.locator("#section-b").click(position={"x": 300, "y": 40})
    grading.get_by_role("button", name="4", exact=True).click()
    grading.get_by_role("button", name="start", exact=True).click()
    expect(grading.locator("#now")).to_contain_text("12.0")
    assert asked == []
    assert grading.evaluate("window.sent") == 0


def test_the_trainer_has_it_large_on_the_wall_and_hides_what_comes_of_it(grading: Page) -> None:
    grading.keyboard.press("w")
    for scheme in SCHEMES:
        grading.emulate_media(color_scheme=scheme)
        assert violations(grading) == []
    grading.keyboard.press("g")
    expect(grading.locator("#four strong").first).to_have_text("?")
    expect(grading.locator("#section-a .edge-line.left")).to_be_hidden()
    expect(grading.locator("#settings")).to_be_hidden()
    assert violations(grading) == []
    grading.keyboard.press("g")
    expect(grading.locator('[data-run="time-to-grade"][data-side="b"] strong')).to_have_text("0.49\N{NO-BREAK SPACE}s")
    assert violations(grading) == []
