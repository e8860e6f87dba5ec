"""The server goes away in the middle of the work and comes back."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Server, Watched, free_port, watch
from tests.browser.gestures import document, drag, expect_page_equals_json, kept, middle, settle


@pytest.fixture
def fragile(tmp_path: Path) -> Iterator[Server]:
    running = Server(free_port(), tmp_path / "log.txt")
    running.start()
    yield running
    running.stop()


def test_a_server_lost_during_a_drag_comes_back_with_nothing_lost(
    browser: Browser, fragile: Server, watched: Watched
) -> None:
    watched.expected = [r"WebSocket connection to .* failed", r"ERR_CONNECTION_(REFUSED|RESET)"]
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = watch(context, watched)
    page.goto(fragile.url)
    settle(page)
    drag(page, "right cylinder / 1", 30, 0, release=False)
    fragile.stop()
    settle(page, "offline")
    expect(page.locator("#notices")).to_contain_text("Your drawing stays on this page")
    x, y = middle(page.locator("[data-handle='right cylinder / 1'] .handle-target"))
    page.mouse.move(x + 30, y, steps=5)
    page.mouse.up()
    fragile.start()
    settle(page)
    assert document(page)["mount"]["members"][1]["ends"][0]["at"][0] > 920
    expect_page_equals_json(page, fragile.url)
    expect(page.locator("#notices")).to_have_text("")
    context.close()
    assert watched.unexpected() == []


def test_a_library_taken_away_is_said_and_what_the_page_holds_is_kept_in_a_new_one(
    browser: Browser, fragile: Server, watched: Watched
) -> None:
    watched.expected = [
        r"503 \(Service Unavailable\)",
        r"WebSocket connection to .* failed",
        r"ERR_CONNECTION_(REFUSED|RESET)",
    ]
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = watch(context, watched)
    page.goto(fragile.url)
    settle(page)
    drag(page, "right cylinder / 1", 30, 0)
    kept(page)
    shutil.rmtree(fragile.log.parent / "data")
    drag(page, "right cylinder / 1", 30, 0)
    expect(page.locator("#notices")).to_contain_text("was taken away")
    held = document(page)["mount"]
    page.get_by_role("button", name="keep it here again").click()
    kept(page)
    expect(page.locator("#notices")).to_have_text("")
    fragile.stop()
    fragile.start()
    page.reload()
    settle(page)
    assert document(page)["mount"] == held
    [entry] = page.request.get(f"{fragile.url}/library").json()
    assert page.request.get(f"{fragile.url}/library/{entry['id']}").json()["mount"] == held
    context.close()
    assert watched.unexpected() == []
