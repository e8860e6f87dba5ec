"""Apprentices follow the sheet of the one who teaches on their own phones."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Server, Watched, free_port, watch
from tests.browser.gestures import document, drag, settle
from tests.browser.test_accessibility import violations
from tests.browser.words import faults


@pytest.fixture
def classroom(tmp_path: Path) -> Iterator[Server]:
    running = Server(free_port(), tmp_path / "log.txt", "--host", "0.0.0.0")  # noqa: S104 - a class on the network
    running.start()
    yield running
    running.stop()


def test_a_phone_follows_the_sheet_and_answers_the_question(
    browser: Browser, classroom: Server, watched: Watched, tmp_path: Path
) -> None:
    keys = json.loads((tmp_path / "data" / "keys.json").read_text())
    desk = browser.new_context(viewport={"width": 1440, "height": 900})
    page = watch(desk, watched)
    page.goto(f"{classroom.url}/?key={keys['change']}")
    settle(page)
    assert "key=" not in page.url
    pocket = browser.new_context(viewport={"width": 390, "height": 780}, has_touch=True)
    phone = watch(pocket, watched)
    phone.goto(f"{classroom.url}/watch?key={keys['watch']}")
    expect(phone.locator("#mount-title")).to_have_text(document(page)["mount"]["title"])
    expect(page.locator("#watching")).to_have_text("1 watching along")
    drag(page, "right cylinder / 1", 60, 20)
    settle(page)
    worst = page.locator("[data-readout=worst]").get_attribute("data-value") or ""
    expect(phone.locator("[data-readout=worst]")).to_have_attribute("data-value", worst)
    page.locator("[data-stroke='left cylinder']").fill("30")
    settle(page)
    coupling = page.locator("[data-readout=coupling]").get_attribute("data-value") or ""
    expect(phone.locator("[data-readout=coupling]")).to_have_attribute("data-value", coupling)
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390
    assert phone.locator("[data-handle]:visible").count() == 0
    assert faults(phone) == []
    page.get_by_role("button", name="wall", exact=True).click()
    page.get_by_role("button", name="ask the class").click()
    page.get_by_role("button", name="worst error").click()
    expect(phone.locator("#readout")).to_be_hidden()
    phone.get_by_label("All at its worst: how far out can the").fill("2,5")
    phone.get_by_role("button", name="answer").click()
    expect(phone.locator("#guess-said")).to_contain_text("Sent: 2.50 mm")
    expect(page.locator("#board")).to_contain_text("1 guess so far.")
    page.get_by_role("button", name="show the answer").click()
    expect(page.locator(".guess-dot")).to_have_attribute("data-guess", "2.5")
    worst = page.locator("[data-readout=worst]").get_attribute("data-value") or ""
    expect(page.locator(".board-answer")).to_have_text(f"{float(worst):.2f} mm")
    expect(phone.locator("#guess")).to_be_hidden()
    expect(phone.locator("#remote")).to_have_count(0)
    desk.close()
    pocket.close()
    assert watched.unexpected() == []


def test_a_phone_of_the_trainer_steps_the_wall_and_its_lesson(
    browser: Browser, classroom: Server, watched: Watched, tmp_path: Path
) -> None:
    keys = json.loads((tmp_path / "data" / "keys.json").read_text())
    desk = browser.new_context(viewport={"width": 1280, "height": 720})
    page = watch(desk, watched)
    page.goto(f"{classroom.url}/?key={keys['change']}")
    settle(page)
    pocket = browser.new_context(viewport={"width": 390, "height": 780}, has_touch=True)
    phone = watch(pocket, watched)
    phone.goto(f"{classroom.url}/watch?key={keys['change']}")
    remote = phone.get_by_role("region", name="the wall")
    expect(remote).to_be_hidden()
    page.keyboard.press("w")
    expect(remote.get_by_role("status")).to_contain_text("the blade turns about one point, line 4 of 4")
    remote.get_by_role("button", name="next line").tap()
    expect(page.locator(".board-line")).to_have_count(1)
    page.evaluate("() => { location.hash = 'lesson=1-short-lever'; }")
    expect(remote.get_by_role("status")).to_contain_text("step 1 of 7: the class is asked")
    settle(page)
    remote.get_by_role("button", name="show the answer").tap()
    expect(page.locator(".board-answer")).to_be_visible()
    remote.get_by_role("button", name="back").tap()
    expect(page.locator(".board-question")).to_be_visible()
    remote.get_by_role("button", name="next step").tap()
    expect(page.locator("[data-lesson-step][aria-pressed=true]")).to_have_text("2")
    assert faults(phone) == []
    assert violations(phone) == []
    page.keyboard.press("Escape")
    expect(remote).to_be_hidden()
    desk.close()
    pocket.close()
    assert watched.unexpected() == []
