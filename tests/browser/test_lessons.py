"""A trainer teaches the shipped lessons step by step, and writes one."""

import json
from pathlib import Path
from typing import Any

import httpx2 as httpx
import pytest
from playwright.sync_api import Page, expect

from app.document.units import System
from app.lessons.document import LessonStep
from app.lessons.shipped import shipped_lessons
from app.shipped import shipped_mounts
from tests.browser.conftest import Server, Watched
from tests.browser.gestures import document, posted, settle
from tests.browser.test_wall import FITS, LETTERS
from tests.browser.wallnumbers import Stand, answer, pool, strangers
from tests.samples import the_rest

SHIPPED = shipped_lessons()
SUMS = ("ratio", "lever", "play", "oil", "error", "turns")


@pytest.mark.parametrize(
    ("name", "size", "system"),
    [
        ("2-other-end", (1280, 720), "metric"),
        ("3-dial-gauge", (1920, 1080), "inch"),
        *the_rest(
            ("1-short-lever", (1920, 1080), "inch"),
            ("1-short-lever", (1280, 720), "metric"),
            ("1-short-lever", (1920, 1080), "metric"),
            ("2-other-end", (1920, 1080), "inch"),
            ("3-dial-gauge", (1920, 1080), "metric"),
            ("2-other-end", (1280, 720), "inch"),
            ("2-other-end", (1920, 1080), "metric"),
            ("3-dial-gauge", (1280, 720), "metric"),
        ),
    ],
)
def test_a_shipped_lesson_is_taught_to_its_end_with_the_numbers_of_the_readout(
    page: Page, server: Server, name: str, size: tuple[int, int], system: System
) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.locator(f"[data-system={system}]").click()
    page.evaluate("name => { location.hash = `lesson=${name}`; }", name)
    steps = SHIPPED[name].steps
    for number, step in enumerate(steps):
        expect(page.get_by_role("button", name=f"step {number + 1} of {len(steps)}")).to_have_attribute(
            "aria-pressed", "true"
        )
        settle(page)
        taught(page, server, step, system)
        page.keyboard.press("n")
    expect(page.locator("[data-demo=next]")).to_be_disabled()
    page.get_by_role("button", name="end the lesson").click()
    expect(page.get_by_role("button", name="ask the class")).to_be_visible()


def taught(page: Page, server: Server, step: LessonStep, system: System) -> None:
    """Teach one step: ask, show the answer, go through what it shows, and compare."""
    mount = step.in_inches if system == "inch" and step.in_inches else step.mount
    title = shipped_mounts()[mount].title if isinstance(mount, str) else mount.title
    expect(page.get_by_role("heading", level=1)).to_have_text(title)
    expect(page.locator(".board-say")).to_have_text(step.say)
    fits(page)
    worst = worst_of(page, server)
    if step.question:
        expect(page.locator(".board-question")).to_be_visible()
        expect(page.locator(".board-line, .staff, .formula")).to_have_count(0)
        page.keyboard.press("n")
        told = answer(stand_of(page, server, step, system), step.question, shown_worst(page))
        given = page.locator(".board-answer").get_attribute("data-answer")
        assert float(given or "nan") == pytest.approx(told, rel=1e-6)
        fits(page)
        page.keyboard.press("n")
    still(page, step)
    if step.view in SUMS:
        lines = page.locator(".board-lines")
        expect(lines).to_be_visible()
        for line in range(2, int(lines.get_attribute("data-all") or "0") + 1):
            if step.reveal == "line by line":
                page.keyboard.press("n")
                expect(page.locator(".board-line")).to_have_count(line)
        numbers = pool(stand_of(page, server, step, system), step.view, worst)
        words = " ".join(page.locator(".board-line").all_inner_texts())
        assert words
        assert strangers(words, numbers, system) == [], words
    elif step.view == "dial":
        dial = posted(page, server.url)["dial"]
        for end in ("left", "right"):
            expect(page.locator(f"#board [data-readout=dial-{end}]")).to_have_attribute("data-value", str(dial[end]))
    fits(page)


def still(page: Page, step: LessonStep) -> None:
    """See it move, and bring it to rest."""
    if step.moves in ("stroke", "slop"):
        expect(page.locator("[data-demo=play][aria-pressed=true], [data-demo=swing][aria-pressed=true]")).to_have_count(
            1
        )
    elif step.moves:
        expect(page.locator("[data-readout=demo-moves]")).to_be_visible()
        fits(page)
    page.get_by_role("button", name="back to rest").click()
    settle(page)


def fits(page: Page) -> None:
    """Nothing of the board scrolls away, and its letters are a thirtieth of the height."""
    board = page.locator("#board")
    if board.is_visible():
        assert board.evaluate(FITS), board.inner_text()
        assert board.evaluate(LETTERS) >= (page.viewport_size or {"height": 0})["height"] / 30 - 0.05


def stand_of(page: Page, server: Server, step: LessonStep, system: System) -> Stand:
    found = posted(page, server.url)
    mount = document(page)["mount"]
    chosen = step.cylinder or widest(found)
    return Stand(mount, found, chosen, system)


def widest(found: dict[str, Any]) -> str:
    """The cylinder in hand where none was chosen: that of the largest coupling, the last of several."""
    sizes: dict[str, float] = {name: abs(each["coupling"] or 0) for name, each in found["actuators"].items()}
    most = max(sizes.values())
    return next(name for name in reversed(sizes) if sizes[name] >= most - 1e-9)


def worst_of(page: Page, server: Server) -> dict[str, Any]:
    found: dict[str, Any] = httpx.post(f"{server.url}/worst", json=document(page), timeout=30).json()
    return found


def shown_worst(page: Page) -> float:
    return float(page.locator("[data-readout=worst]").get_attribute("data-value") or "nan")


def test_a_lesson_goes_back_by_the_way_it_came(page: Page) -> None:
    page.evaluate("() => { location.hash = 'lesson=1-short-lever'; }")
    pressed = page.locator("[data-lesson-step][aria-pressed=true]")
    expect(pressed).to_have_text("1")
    settle(page)
    page.keyboard.press("Shift+N")
    expect(pressed).to_have_text("2")
    settle(page)
    page.keyboard.press("PageDown")
    expect(page.locator(".board-answer")).to_be_visible()
    page.keyboard.press("PageDown")
    expect(page.locator(".board-line")).to_have_count(1)
    page.keyboard.press("PageUp")
    expect(page.locator(".board-answer")).to_be_visible()
    page.keyboard.press("PageUp")
    expect(page.locator(".board-question")).to_be_visible()
    page.keyboard.press("PageUp")
    expect(pressed).to_have_text("1")


def test_a_lesson_is_written_kept_saved_and_opened_again(
    page: Page, server: Server, tmp_path: Path, watched: Watched
) -> None:
    watched.expected.append("422")
    page.keyboard.press("w")
    page.keyboard.press("t")
    lessons = page.get_by_role("dialog", name="Lessons")
    lessons.get_by_role("button", name="write one, from the sheet as it is").click()
    title = lessons.get_by_label("title")
    title.fill("Wear")
    title.press("Enter")
    lessons.get_by_role("button", name="close").click()
    page.locator("[data-stroke='left cylinder']").fill("20")
    settle(page)
    page.keyboard.press("t")
    lessons.get_by_role("button", name="take the sheet as a step").click()
    lessons.get_by_label("mount, step 1").select_option(label="Two upright cylinders, worn")
    lessons.get_by_label("first asked, step 1").select_option("slop")
    lessons.get_by_label("on the wall, step 1").select_option("play")
    said = lessons.get_by_label("what is said, step 1")
    said.fill("After some seasons.")
    said.press("Enter")
    lessons.get_by_label("minutes, step 2").fill("0")
    lessons.get_by_label("minutes, step 2").press("Enter")
    expect(lessons.get_by_role("status")).to_have_text("Not kept. steps[1].minutes: found 0, expected more than 0")
    lessons.get_by_label("minutes, step 2").fill("2,5")
    lessons.get_by_label("minutes, step 2").press("Enter")
    lessons.get_by_role("button", name="move up step 2").click()
    lessons.get_by_role("button", name="remove step 2").click()
    expect(lessons.locator(".lesson-step")).to_have_count(1)
    lessons.get_by_role("button", name="put the step back").click()
    expect(lessons.get_by_role("status")).to_have_text("Kept.")
    with page.expect_download() as saved:
        lessons.get_by_role("button", name="save as a file").click()
    file = tmp_path / saved.value.suggested_filename
    saved.value.save_as(file)
    assert file.name == "wear.lesson.json"
    written = json.loads(file.read_text())
    assert [step.get("minutes", 1) for step in written["steps"]] == [2.5, 1]
    assert written["steps"][0]["command"] == {"left cylinder": 20}
    assert written["steps"][1]["question"] == "slop"
    lessons.get_by_role("button", name="to the list").click()
    page.locator("#lesson-file").set_input_files(file)
    expect(lessons.get_by_label("title")).to_have_value("Wear")
    lessons.get_by_role("button", name="to the list").click()
    assert [each["title"] for each in httpx.get(f"{server.url}/lessons").json()].count("Wear") == 2
    page.locator("#lesson-file").set_input_files(
        {"name": "x.json", "mimeType": "application/json", "buffer": b'{"title": "x", "steps": [{"mount": "none"}]}'}
    )
    expect(lessons.get_by_role("status")).to_contain_text("steps[0].mount: is no shipped mount; give one of")
    lessons.get_by_role("button", name="take “Wear” off the list").first.click()
    lessons.get_by_role("button", name="bring it back").click()
    lessons.get_by_role("button", name="teach “Wear”").first.click()
    expect(page.locator("[data-lesson-step]")).to_have_count(2)
    assert document(page)["command"] == {"left cylinder": 20}
