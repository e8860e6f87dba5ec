"""A comparison is kept with its name, its note and what was asked of both, and opens again as it was."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Server, Tabs, Watched, afresh
from tests.browser.test_accessibility import violations
from tests.browser.test_compare import CRANK, HINGE, Pair

NAME, NOTE = "Arena north, spring", "Asked for the wide blade. Call back in May."


@pytest.fixture
def pair(lap: Tabs, server: Server, watched: Watched) -> Iterator[Pair]:
    with afresh(lap, server, watched) as page:
        opened = Pair(page, server.url)
        opened.open()
        yield opened


def named(pair: Pair) -> None:
    pair.replace("b", CRANK)
    right = pair.page.locator('[data-end-typed="right"]')
    right.fill("12")
    right.press("Enter")
    pair.settle()
    pair.page.get_by_role("button", name="kept", exact=True).click()
    pair.page.get_by_label("name", exact=True).fill(NAME)
    pair.page.get_by_label("note for this customer alone").fill(NOTE)


def expect_it_again(pair: Pair, name: str = NAME, note: str = NOTE) -> None:
    pair.settle()
    assert pair.question("b")["mount"]["members"][0]["id"]
    assert pair.value("lift-right", "a") == pytest.approx(12, abs=0.001)
    expect(pair.page.locator("#brand")).to_have_text(name)
    pair.page.get_by_role("button", name="kept", exact=True).click()
    expect(pair.page.get_by_label("note for this customer alone")).to_have_value(note)


def test_it_opens_again_as_it_was_from_the_list(pair: Pair) -> None:
    named(pair)
    pair.page.get_by_role("button", name="keep", exact=True).click()
    expect(pair.page.locator("#kept-said")).to_have_text(f"Kept as “{NAME}”.")
    assert violations(pair.page) == []
    pair.open()
    pair.page.get_by_role("button", name="kept", exact=True).click()
    pair.page.locator("#kept-list").get_by_text(NAME).first.click()
    expect(pair.page.locator("#side-b h2")).to_have_text("Crank and drop rod on one side")
    expect_it_again(pair)


def test_the_note_stays_with_whom_it_was_written_for(pair: Pair) -> None:
    named(pair)
    pair.page.get_by_role("button", name="keep", exact=True).click()
    expect(pair.page.locator("#kept-said")).to_contain_text("Kept as")
    pair.page.get_by_role("button", name="keep as another").click()
    expect(pair.page.get_by_label("note for this customer alone")).to_have_value("")
    pair.page.get_by_role("button", name="close").click()
    pair.replace("a", HINGE)
    pair.page.get_by_role("button", name="kept", exact=True).click()
    expect(pair.page.get_by_label("note for this customer alone")).to_have_value("")
    expect(pair.page.get_by_label("name", exact=True)).not_to_have_value(NAME)


def test_a_file_brings_it_back_note_and_all(pair: Pair, tmp_path: Path) -> None:
    named(pair)
    with pair.page.expect_download() as saving:
        pair.page.get_by_role("button", name="save file").click()
    file = tmp_path / saving.value.suggested_filename
    saving.value.save_as(file)
    assert json.loads(file.read_text())["note"] == NOTE
    pair.open()
    pair.page.get_by_role("button", name="kept", exact=True).click()
    with pair.page.expect_file_chooser() as chosen:
        pair.page.get_by_role("button", name="open a file…").click()
    chosen.value.set_files(file)
    expect(pair.page.locator("#brand")).to_have_text(NAME)
    expect_it_again(pair)


def test_what_was_taken_off_the_list_comes_back(pair: Pair) -> None:
    named(pair)
    pair.page.get_by_role("button", name="keep as another").click()
    first = pair.page.locator("#kept-list li.current")
    expect(first).to_contain_text(NAME)
    count = pair.page.locator("#kept-list .kept-open").count()
    first.get_by_role("button", name="off the list").click()
    expect(pair.page.locator("#kept-list .kept-open")).to_have_count(count - 1)
    pair.page.get_by_role("button", name="bring it back").click()
    expect(pair.page.locator("#kept-list .kept-open")).to_have_count(count)
