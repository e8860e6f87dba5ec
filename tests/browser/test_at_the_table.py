"""The sales engineer's ten minutes at a customer's table: a tablet, fingers, and no network but the tool's own."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Route, expect

from tests.browser.conftest import Server, Watched, watch
from tests.browser.papers import print_to, read_back
from tests.browser.test_accessibility import violations
from tests.browser.test_compare import CRANK, SIDES, Pair

NAME, NOTE = "Yard at the mill", "Wants 3 m. Pins last changed in spring."


@pytest.fixture
def pair(browser: Browser, server: Server, watched: Watched) -> Iterator[Pair]:
    context = browser.new_context(viewport={"width": 1024, "height": 768}, has_touch=True)
    beyond: list[str] = []

    def only_here(route: Route) -> None:
        if urlsplit(route.request.url).netloc == urlsplit(server.url).netloc:
            route.continue_()
        else:
            beyond.append(route.request.url)
            route.abort()

    context.route(re.compile("^http"), only_here)
    yield Pair(watch(context, watched), server.url)
    context.close()
    assert beyond == []
    assert watched.unexpected() == []


def typed(pair: Pair, label: str, value: str) -> None:
    field = pair.page.get_by_label(label)
    field.tap()
    field.fill(value)
    field.press("Enter")
    pair.settle()


def settle_all(pair: Pair) -> None:
    pair.settle()
    for part in ("#over", "#runs"):
        expect(pair.page.locator(part)).to_have_attribute("data-state", "live", timeout=60_000)


def asked(pair: Pair, path: str, question: dict[str, Any]) -> dict[str, Any]:
    reply = pair.page.request.post(f"{pair.url}{path}", data=question)
    assert reply.ok, reply.text()
    found: dict[str, Any] = reply.json()
    return found


def value(pair: Pair, row: str, side: str, within: str) -> float | None:
    text = pair.page.locator(f"{within} [data-compare={row}][data-side={side}]").get_attribute("data-value")
    return float(text) if text else None


def expect_the_travel(pair: Pair) -> None:
    """What is said of either over its travel is the travel's own."""
    for side in SIDES:
        over = asked(pair, "/travel", pair.question(side))
        for row, layer in (("over-load-ratio", "load_ratio"), ("over-residual", "residual"), ("over-relief", "relief")):
            found = over["worst"].get(layer)
            assert value(pair, row, side, "#over") == (found["value"] if found else None), (row, side)
        worst = value(pair, "over-worst", side, "#over")
        assert worst is not None
        assert worst >= over["worst"]["worst"]["value"] - 1e-12
        words = pair.page.locator(f"[data-over={side}]")
        state = "fails" if worst > pair.question(side)["mount"]["tolerance"] else "passes"
        expect(words.locator(f"[data-over-verdict={side}]")).to_contain_text(f"{side.upper()} {state}")
        expect(words).to_contain_text(f"As drawn {over['drawn']['worst']:.2f}\u00a0mm.")


def expect_the_run(pair: Pair, settings: dict[str, Any]) -> None:
    """What is said of the run is what each mount makes of it alone."""
    for side in SIDES:
        ran = asked(pair, "/run", {"mount": read_back(pair.page.url, side)["mount"], "run": settings})["summary"]
        ends = (ran["left"], ran["right"])
        times = [each["time_to_grade"] for each in ends]
        assert value(pair, "run-time", side, "#runs") == (None if None in times else max(times))
        assert value(pair, "run-inside", side, "#runs") == min(each["inside"] for each in ends)
        rms = (sum(each["rms"] ** 2 for each in ends) / 2) ** 0.5
        assert value(pair, "run-rms", side, "#runs") == pytest.approx(rms)


def expect_each_at_its_own_best(pair: Pair, settings: dict[str, Any]) -> None:
    """Which setting either has, and what it makes of the run with it."""
    expect(pair.page.locator("#best")).to_have_attribute("data-state", "live", timeout=60_000)
    mounts = {side: {"mount": read_back(pair.page.url, side)["mount"]} for side in SIDES}
    found = asked(pair, "/compare/run", {**mounts, "run": settings, "best": True})["own_best"]
    assert [each["way"] for each in found] == ["each its own", "decoupled"]
    for each in found:
        words = pair.page.locator(f"[data-best-sentence='{each['way']}']")
        for side, own in zip(SIDES, each["best"], strict=True):
            expect(words).to_contain_text(f"{side.upper()} at gain {own['setting']:.2f}\u00a01/s")
            (row,) = (row for row in each["rows"] if row["name"] == "run-time")
            assert value(pair, "run-time", side, f"[data-best-of='{each['way']}']") == row[side]


def expect_it_as_it_was_left(pair: Pair) -> None:
    settle_all(pair)
    page = pair.page
    expect(page.locator("#brand")).to_have_text(NAME)
    expect(page.get_by_label("clearance the joints of both are worn to, mm")).to_have_value("0.8")
    expect(page.get_by_label("sensors where the blade gets another width")).to_have_value("stay")
    expect(page.get_by_label("correction asked of both, mm up")).to_have_value("15")
    expect(page.get_by_role("button", name="a rut under one wheel")).to_have_attribute("aria-pressed", "true")
    for side in SIDES:
        mount = read_back(page.url, side)["mount"]
        assert (mount["load"]["force"], mount["tolerance"]) == ([0, 1200], 4)
    page.get_by_role("button", name="kept", exact=True).tap()
    expect(page.get_by_label("note for this customer alone")).to_have_value(NOTE)
    page.get_by_role("button", name="close").tap()


def expect_the_handout(pair: Pair, folder: Path) -> None:
    """Two printed pages say what the page said: who it is for, the pose, the travel and the run."""
    page = pair.page
    said = [page.locator(f"[{each}]").inner_text() for each in ("data-run-sentence", "data-over-sentence=b")]
    page.get_by_role("button", name="handout").tap()
    expect(page.locator("main")).to_have_attribute("data-more", "ready", timeout=60_000)
    assert violations(page) == []
    text = print_to(page, folder / "handout.pdf", "A4")
    assert len(text) == 2
    first, second = (" ".join(each.split()) for each in text)
    for words in (NAME, NOTE, "Where B is better"):
        assert words in first
    for words in (*said, "Both cylinders worked together, A at gain"):
        assert " ".join(words.split()) in second
    assert "checked by a licensed engineer" in second


def test_ten_minutes_at_the_table(pair: Pair, tmp_path: Path) -> None:
    page = pair.page
    pair.open()
    pair.replace("a", CRANK)
    page.get_by_label("sensors where the blade gets another width").select_option("stay")
    alike = page.locator("#differences")
    typed(pair, "blade width of both mounts, mm", "2600")
    expect(alike).to_contain_text("2600 mm wide")
    typed(pair, "load of both mounts, kN", "1.2")
    expect(alike).to_contain_text("1.2 kN upward")
    typed(pair, "tolerance ± of both mounts, mm", "4")
    expect(alike).to_contain_text("±4 mm")
    typed(pair, "clearance the joints of both are worn to, mm", "0.8")
    typed(pair, "correction asked of both, mm up", "15")
    settle_all(pair)
    pair.expect_numbers_of_the_readout()
    expect_the_travel(pair)
    correction = {"seconds": 12, "start": {"right": -15}}
    expect_the_run(pair, correction)
    expect_each_at_its_own_best(pair, correction)
    expect(page.locator("[data-run-sentence]")).to_contain_text("come")
    assert violations(page) == []

    rut = {"seconds": 20, "ground": {"kind": "bump", "height": -30, "at": 4}}
    page.get_by_role("button", name="a rut under one wheel").tap()
    expect(page.get_by_role("button", name="a rut under one wheel")).to_have_attribute("aria-pressed", "true")
    settle_all(pair)
    expect_the_run(pair, rut)

    page.get_by_role("button", name="kept", exact=True).tap()
    page.get_by_label("name", exact=True).fill(NAME)
    page.get_by_label("note for this customer alone").fill(NOTE)
    page.get_by_role("button", name="keep", exact=True).tap()
    expect(page.locator("#kept-said")).to_have_text(f"Kept as “{NAME}”.")
    with page.expect_download() as saving:
        page.get_by_role("button", name="save file").tap()
    file = tmp_path / "kept.json"
    saving.value.save_as(file)
    assert json.loads(file.read_text())["run"]["ground"]["kind"] == "bump"
    page.get_by_role("button", name="close").tap()

    expect(page).to_have_url(re.compile("Yard.*x=0.8,metre,stay,stay"))
    link = page.url
    pair.open(f"#{urlsplit(link).fragment}")
    expect_it_as_it_was_left(pair)
    pair.open()
    page.get_by_role("button", name="kept", exact=True).tap()
    with page.expect_file_chooser() as chosen:
        page.get_by_role("button", name="open a file…").tap()
    chosen.value.set_files(file)
    expect(page.locator("#brand")).to_have_text(NAME)
    expect_it_as_it_was_left(pair)
    expect_the_run(pair, rut)
    expect_the_handout(pair, tmp_path)


def test_the_pose_is_compared_while_travel_and_run_are_still_being_worked_out(pair: Pair) -> None:
    held: list[Route] = []
    pair.page.route(re.compile("/compare/(travel|run)$"), lambda route: held.append(route))
    with pair.page.expect_request(re.compile("/compare/run$")):
        pair.open()
    expect(pair.page.locator("#sentences")).to_contain_text("Where B is better")
    for part in ("#over", "#runs"):
        expect(pair.page.locator(part)).to_have_attribute("data-state", "waiting")
    assert violations(pair.page) == []
    for route in held:
        route.continue_()
    settle_all(pair)
