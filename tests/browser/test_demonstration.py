"""The trainer's ten minutes: a stroke with its traces, slop made visible, an end corrected, and the class guessing."""

import httpx2 as httpx
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Server, Watched, watch
from tests.browser.gestures import choose_mount, document, handle, middle, posted, settle
from tests.samples import the_rest

MOVE_MS = 1000
MOST_MOVES = 12
"""The page makes a move in less, and no more of them."""


HUNG = """() => {
  const [box, sheet] = [document.querySelector("#sheet").getBoundingClientRect(), document.querySelector("#sheet")];
  const { width, height } = sheet.viewBox.baseVal;
  const as_large = Math.abs(width / height - box.width / box.height) < 0.001;
  return document.body.classList.contains("wall") && as_large && new Promise((done) => {
    requestAnimationFrame(() => requestAnimationFrame(() => done(true)));
  });
}"""
"""The page is a wall, and its sheet is drawn for the room it has there."""


def show(page: Page, mount: str) -> None:
    choose_mount(page, mount)
    page.get_by_role("button", name="wall", exact=True).click()
    page.wait_for_function(HUNG)


def test_a_stroke_leaves_a_trace_at_both_ends_and_is_no_change_to_the_mount(page: Page) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="to and fro").click()
    expect(page.locator(".end-trace")).to_have_count(2)
    expect(page.get_by_role("img", name="height of both ends over the stroke")).to_be_visible()
    page.get_by_role("button", name="pause").click()
    page.get_by_role("button", name="back to rest").click()
    settle(page)
    assert document(page)["command"] == {}
    page.keyboard.press("Escape")
    expect(page.get_by_role("button", name="undo")).to_be_disabled()


def test_steps_are_taken_one_by_one(page: Page) -> None:
    show(page, "1-centre-pivot")
    for _ in range(3):
        page.get_by_role("button", name="one step").click()
        settle(page)
    assert document(page)["command"]["tilt cylinder"] > 0
    expect(page.locator(".trace-far")).to_be_visible()


def right_end(page: Page) -> float:
    """How far down the right end of the edge is drawn, pixels."""
    return middle(handle(page, "blade/right").locator(".handle-target"))[1]


def swing(page: Page) -> float:
    """Let the play swing the blade, one jump at a time; how far the right end was thrown, pixels."""
    rest, there = right_end(page), handle(page, "blade/right").get_attribute("transform") or ""
    page.get_by_role("button", name="swing from stop to stop").click()
    expect(handle(page, "blade/right")).not_to_have_attribute("transform", there)
    return abs(right_end(page) - rest)


def test_slop_swings_the_blade_as_many_times_life_size_as_asked(page: Page) -> None:
    page.emulate_media(reduced_motion="reduce")
    show(page, "1-centre-pivot")
    rest = handle(page, "blade/right").get_attribute("transform") or ""
    thrown = {}
    for times in ("10", "30"):
        page.get_by_label("slop, times life size").fill(times)
        expect(page.locator("#wall-strip")).to_contain_text(f"slop {times} times life size")
        thrown[times] = swing(page)
        page.get_by_role("button", name="hold it still").click()
        expect(handle(page, "blade/right")).to_have_attribute("transform", rest)
    assert thrown["30"] == pytest.approx(3 * thrown["10"], rel=0.03)


def test_swinging_slop_changes_no_number_on_the_sheet(page: Page) -> None:
    page.emulate_media(reduced_motion="reduce")
    show(page, "1-centre-pivot")
    page.get_by_label("slop, times life size").fill("100")
    assert swing(page) > 12
    expect(page.locator(".formula")).to_have_text("coupling of tilt cylinder = −1200 / 1200 = −1.00")
    expect(page.locator(".dimension-words")).to_have_text(["1200", "1200"])


@pytest.mark.parametrize(
    ("mount", "how", "words"),
    [
        ("3-twin-cylinders", "one after the other", "On grade after 2 moves."),
        ("1-centre-pivot", "one after the other", "Still off after 12 moves"),
        ("1-centre-pivot", "together", "no move corrects one end alone"),
        *the_rest(
            ("5-end-hinge", "together", "On grade after 1 move."),
            ("3-twin-cylinders", "together", "On grade after 2 moves."),
            ("5-end-hinge", "one after the other", "On grade after 1 move."),
        ),
    ],
)
def test_correcting_one_end_is_counted_in_moves(page: Page, mount: str, how: str, words: str) -> None:
    page.emulate_media(reduced_motion="no-preference")
    page.clock.install()
    show(page, mount)
    page.get_by_role("button", name=how).click()
    panel = page.locator("#board")
    expect(panel.get_by_role("status")).to_contain_text("The grade at the right end lies higher")
    for _ in range(MOST_MOVES + 2):
        page.clock.run_for(MOVE_MS)
        settle(page)
    expect(panel).to_contain_text(words)


def test_an_end_that_was_corrected_stands_at_the_grade_it_was_worked_to(page: Page, server: Server) -> None:
    show(page, "3-twin-cylinders")
    before = posted(page, server.url)["pose"]["ends"]
    page.get_by_role("button", name="one after the other").click()
    expect(page.locator(".grade-mark")).to_have_count(2)
    expect(page.locator("#board")).to_contain_text("off grade: left 0.00 mm, right −9.00 mm")
    expect(page.locator("#board")).to_contain_text("On grade after 2 moves.")
    settle(page)
    after = posted(page, server.url)["pose"]["ends"]
    assert after["right"][1] - before["right"][1] == pytest.approx(9, abs=0.45)
    assert after["left"][1] - before["left"][1] == pytest.approx(0, abs=0.45)


def test_the_numbers_are_hidden_until_the_class_has_guessed(page: Page) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="ask the class").click()
    for told in (".formula", ".staff", ".centre-ring", ".end-arrow", ".layer-ghosts"):
        expect(page.locator(told)).to_have_count(0)
    expect(page.locator("[data-stroke]").first).to_be_hidden()
    page.locator("#board").focus()
    page.keyboard.press("Escape")
    expect(page.locator("[data-readout=coupling]")).to_be_hidden()
    expect(page.locator("[data-readout=cross-fall]")).to_be_hidden()
    for panel in ("Error", "Loads", "Improve", "Working"):
        page.get_by_role("tab", name=panel).click()
        expect(page.locator("#panel")).to_have_text("Hidden until the class has guessed.show the numbers")
    page.get_by_role("button", name="show the numbers").click()
    expect(page.locator("[data-line]").first).to_be_visible()
    expect(page.locator("[data-readout=coupling]")).to_be_visible()
    expect(page.locator(".formula")).to_have_text("coupling of right cylinder = −350 / 2050 = −0.17")


def test_the_four_numbers_take_the_wall(page: Page) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="four numbers").click()
    for name in ("coupling", "worst", "load-ratio", "moves"):
        figure = page.locator(f"[data-readout={name}]")
        expect(figure).to_be_in_viewport(ratio=1)
        assert float(figure.evaluate("each => parseFloat(getComputedStyle(each).fontSize)")) > 60


def test_the_budget_on_the_wall_adds_up_to_the_worst_of_the_readout(page: Page, server: Server) -> None:
    show(page, "6-crank-and-drop-rod")
    page.get_by_role("button", name="budget", exact=True).click()
    rows = page.locator(".wall-row:not(.wall-head, .budget-total)")
    expect(rows.last).to_contain_text("smaller")
    budget = posted(page, server.url)["budget"]
    for column, end in ((0, "left"), (1, "right")):
        numbers = page.locator(".wall-row:not(.wall-head, .budget-total)").evaluate_all(
            "(rows, at) => rows.map((row) => Number(row.querySelectorAll('.wall-number')[at].textContent))", column
        )
        assert sum(numbers) == pytest.approx(budget[end]["worst"], abs=0.006)


def test_the_dials_on_the_wall_read_what_the_load_test_says(page: Page, server: Server) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="load test", exact=True).click()
    dial = posted(page, server.url)["dial"]
    for end in ("left", "right"):
        expect(page.locator(f"#board [data-readout=dial-{end}]")).to_have_attribute("data-value", str(dial[end]))


def test_the_sum_grows_along_the_band_of_the_tolerance(page: Page, server: Server) -> None:
    show(page, "1-centre-pivot")
    page.get_by_role("button", name="error", exact=True).click()
    page.keyboard.press("n")
    parts = page.locator(".wall-part")
    expect(parts).to_have_count(1)
    for _ in range(3):
        page.keyboard.press("n")
    expect(parts).to_have_count(4)
    budget = posted(page, server.url)["budget"]
    drawn = parts.evaluate_all("all => all.reduce((sum, each) => sum + each.width.baseVal.value, 0)")
    asked = page.locator(".wall-asked").evaluate("each => each.width.baseVal.value")
    assert drawn / asked == pytest.approx(budget["right"]["worst"] / budget["tolerance"], rel=0.001)


def test_the_run_on_the_wall_is_the_one_the_server_makes(page: Page, server: Server) -> None:
    show(page, "3-twin-cylinders")
    page.get_by_role("button", name="run", exact=True).click()
    ready = httpx.get(f"{server.url}/run/ready").json()[0]["run"]
    ran = httpx.post(f"{server.url}/run", json={"mount": document(page)["mount"], "run": ready}).json()
    both = [ran["summary"][end]["time_to_grade"] for end in ("left", "right")]
    expect(page.locator("[data-run=time]")).to_have_attribute("data-value", str(max(both)))
    expect(page.locator("[data-run=other]")).to_have_attribute("data-value", str(ran["summary"]["left"]["disturbed"]))


def test_a_sum_is_built_line_by_line_with_a_key_and_each_length_is_lit_on_the_drawing(page: Page) -> None:
    show(page, "3-twin-cylinders")
    lines = page.locator(".board-line")
    expect(lines).to_have_count(4)
    page.keyboard.press("n")
    expect(lines).to_have_text(["from there to the right end, level2050 mm"])
    expect(page.locator(".highlighted")).to_have_attribute("data-kind", "length")
    page.keyboard.press("n")
    expect(lines).to_have_count(2)
    page.keyboard.press("n")
    expect(lines.last).to_have_text("−350 / 2050 =−0.17")


def test_the_sums_on_the_wall_are_those_of_the_readout(page: Page, server: Server) -> None:
    show(page, "1-centre-pivot")
    found = posted(page, server.url)
    budget = found["budget"]["right"]
    play = sum(each["high"] for each in budget["sources"] if each["kind"] == "clearance")
    oil = next(each for each in budget["sources"] if each["kind"] == "oil")
    page.get_by_role("button", name="play", exact=True).click()
    expect(page.locator(".board-line").nth(-2)).to_have_text(f"right end, stop to stop{2 * play:.2f} mm")
    expect(page.locator(".board-line").last).to_have_text(f"play alone, right end±{play:.2f} mm")
    page.get_by_role("button", name="oil", exact=True).click()
    expect(page.locator(".board-line").last).to_have_text(f"at the right end{max(-oil['low'], oil['high']):.2f} mm")
    page.get_by_role("button", name="error", exact=True).click()
    expect(page.locator(".board-lines")).to_contain_text(f"all at their worst, right end{budget['worst']:.2f} mm")


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_guesses_stand_beside_the_answer_in_the_unit_of_the_page(page: Page, server: Server, system: str) -> None:
    page.locator(f"[data-system={system}]").click()
    show(page, "3-twin-cylinders")
    page.keyboard.press("q")
    rise, unit, raised = ("1 in", "in", 25.4) if system == "inch" else ("10 mm", "mm", 10.0)
    expect(page.locator(".board-question")).to_have_text(
        f"right cylinder raises the right end by {rise}. How far does the left end rise? (− if it drops)"
    )
    expect(page.locator(".board-line")).to_have_count(0)
    entry = page.get_by_label(f"a guess of the class, {unit}")
    for guess in ("1", "-0,5", "far", "2"):
        entry.fill(guess)
        entry.press("Enter")
        if guess == "far":
            expect(entry).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#board")).to_contain_text("3 guesses so far.")
    page.get_by_role("button", name="take the last back").click()
    page.locator("#board").focus()
    page.keyboard.press("n")
    answer = posted(page, server.url)["actuators"]["right cylinder"]["coupling"] * raised
    expect(page.locator(".board-answer")).to_have_attribute("data-answer", str(answer))
    factor = 25.4 if system == "inch" else 1
    guesses = [float(each) for each in page.locator(".guess-dot").evaluate_all("all => all.map(x => x.dataset.guess)")]
    assert guesses == pytest.approx([-0.5 * factor, factor])
    expect(page.locator(".guess-strip")).to_contain_text(f"2 guesses, the middle one 0.25{'0' * (system == 'inch')}")
    page.keyboard.press("n")
    expect(page.locator(".board-line")).to_have_count(1)
    page.keyboard.press("b")
    expect(page.locator(".board-line")).to_have_count(1)


def test_a_newcomer_is_shown_both_mounts_by_hand_and_the_hints_go_away(page: Page) -> None:
    page.get_by_role("button", name="show me around").click()
    expect(page.locator("#guide")).to_contain_text("1 of 4")
    expect(page.get_by_role("heading", level=1)).to_have_text("Centre pivot, short lever")
    page.locator("[data-stroke='tilt cylinder']").fill("8")
    expect(page.locator("#guide .looked")).to_be_visible()
    page.locator("#guide").get_by_role("button", name="next").click()
    handle(page, "tilt cylinder / 2").focus()
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
    page.get_by_role("button", name="wall", exact=True).click()
    rest = page.locator(".edge").get_attribute("d") or ""
    page.get_by_role("button", name="swing from stop to stop").click()
    high = page.locator(".edge")
    expect(high).not_to_have_attribute("d", rest)
    page.get_by_role("button", name="hold it still").click()
    page.context.close()
