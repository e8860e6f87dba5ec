"""Load, play, dial readings, spread and what to change, as a designer and a trainer meet them."""

from typing import Any

import httpx2 as httpx
import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Server, Watched
from tests.browser.gestures import choose_mount, document, drag, handle, posted, settle, value


def open_tab(page: Page, name: str) -> None:
    page.get_by_role("tab", name=name).click()


def detailed(page: Page, server: Server) -> dict[str, Any]:
    found: dict[str, Any] = httpx.post(f"{server.url}/detail", json=document(page)).json()
    return found


def test_the_dials_read_what_the_server_says_and_the_parts_add_up(page: Page, server: Server) -> None:
    choose_mount(page, "1-centre-pivot")
    open_tab(page, "Error")
    dial = posted(page, server.url)["dial"]
    assert value(page, "dial-left") == dial["left"]
    assert value(page, "dial-right") == dial["right"]
    for column in (2, 3):
        shown = page.locator(f"[data-dial-source] > :nth-child({column})").all_inner_texts()
        total = page.locator(f".part-dial .budget-total > :nth-child({column})").inner_text()
        parts = [reading_and_range(text) for text in shown]
        assert [sum(part[0] for part in parts), sum(part[1] for part in parts)] == list(reading_and_range(total))


def reading_and_range(text: str) -> tuple[int, int]:
    """A reading and what is not known of it, in hundredths of a millimetre."""
    reading, _, unsure = text.replace("−", "-").partition("±")
    return round(100 * float(reading)), round(100 * float(unsure or 0))


def test_the_twin_mount_reads_a_twentieth_of_the_see_saw_since_the_weight_holds_its_play(page: Page) -> None:
    open_tab(page, "Error")
    twin = abs(value(page, "dial-right"))
    expect(page.locator(".part-dial")).to_contain_text("held")
    choose_mount(page, "1-centre-pivot")
    assert abs(value(page, "dial-right")) > 20 * twin
    expect(page.locator(".part-dial")).to_contain_text("The weight does not push 'tilt cylinder, barrel end'")


def test_counting_only_what_the_load_moves_shows_the_servers_total_of_it(page: Page, server: Server) -> None:
    choose_mount(page, "7-worn-twin-cylinders")
    page.get_by_role("button", name="what the load moves").click()
    budget = posted(page, server.url)["budget"]
    for column, end in ((2, "left"), (4, "right")):
        shown = page.locator(f"[data-total=worst_under_load] > :nth-child({column})").inner_text()
        assert float(shown) == pytest.approx(budget[end]["worst_under_load"], abs=0.006)
    assert budget["right"]["worst_under_load"] < budget["right"]["worst"]


def test_the_load_is_dragged_along_the_edge_and_turned(page: Page) -> None:
    drag(page, "load/at", -120, 40)
    settle(page)
    load = document(page)["mount"]["load"]
    assert load["at"][1] == 0
    assert -1200 < load["at"][0] < 1000
    drag(page, "load/turn", 40, 0)
    settle(page)
    turned = document(page)["mount"]["load"]["force"]
    assert turned[0] < 0 < turned[1]
    assert turned[0] ** 2 + turned[1] ** 2 == pytest.approx(1000**2)


def test_the_load_is_set_by_number_and_taken_away_with_reasons_left_behind(page: Page) -> None:
    open_tab(page, "Numbers")
    page.get_by_label("size of load").fill("2.5")
    page.keyboard.press("Enter")
    settle(page)
    assert document(page)["mount"]["load"]["force"] == [0, 2500]
    page.get_by_role("button", name="take the load away").click()
    settle(page)
    expect(page.locator("[data-readout=load-ratio]")).to_have_text("–")
    expect(page.locator("#headlines")).to_contain_text("needs a load")
    open_tab(page, "Error")
    expect(page.locator("#panel")).to_contain_text("needs a load")


def test_clearance_bore_oil_mass_and_allowances_are_changed_in_place(page: Page) -> None:
    handle(page, "right cylinder / 2").focus()
    open_tab(page, "Numbers")
    panel = page.locator("#panel")
    for label, typed in (
        ("clearance of right cylinder, rod end on blade", "0.4"),
        ("bore of right cylinder", "80"),
        ("bulk modulus", "1000"),
        ("mass of blade", "310"),
        ("± of allowance 1", "2"),
    ):
        panel.get_by_label(label).fill(typed)
        page.keyboard.press("Enter")
    settle(page)
    mount = document(page)["mount"]
    assert mount["members"][1]["ends"][1]["clearance"] == 0.4
    assert mount["members"][1]["bore"] == 80
    assert mount["oil"]["bulk_modulus"] == 1000
    assert mount["blade"]["mass"] == 310
    assert mount["allowances"][0]["plus_minus"] == 2


def test_a_valve_waits_until_both_its_numbers_are_there(page: Page) -> None:
    open_tab(page, "Numbers")
    panel = page.locator("#panel")
    panel.get_by_label("flow").fill("")
    page.keyboard.press("Enter")
    settle(page)
    assert "valve" not in document(page)["mount"]
    expect(panel).to_contain_text("both are needed")
    expect(panel.get_by_label("smallest pulse")).to_have_value("0.8")
    panel.get_by_label("flow").fill("15")
    page.keyboard.press("Enter")
    expect(panel).not_to_contain_text("both are needed")
    settle(page)
    assert document(page)["mount"]["valve"] == {"flow": 15, "smallest_pulse": 0.8}


def test_a_ready_made_fit_sets_the_clearance_to_its_greatest(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    handle(page, "left cylinder / 1").focus()
    open_tab(page, "Numbers")
    page.get_by_label("pin diameter for a fit of").fill("40")
    page.keyboard.press("Enter")
    page.get_by_label("ISO 286 fits").select_option(label="H11/c11: 0.120 to 0.440 mm")
    settle(page)
    assert document(page)["mount"]["members"][0]["ends"][0]["clearance"] == 0.44
    page.get_by_label("pin diameter for a fit of").fill("400")
    page.keyboard.press("Enter")
    expect(page.get_by_label("pin diameter for a fit of")).to_have_attribute("aria-invalid", "true")


def test_a_published_tolerance_is_taken_over_with_its_source(page: Page) -> None:
    open_tab(page, "Numbers")
    page.get_by_label("published tolerances").select_option(label="±6.00 mm: road surface or binder course level")
    settle(page)
    assert document(page)["mount"]["tolerance"] == 6
    expect(page.locator("#panel")).to_contain_text("series 700, second-hand")


def test_the_spread_and_what_to_change_are_the_servers_own(page: Page, server: Server) -> None:
    choose_mount(page, "1-centre-pivot")
    open_tab(page, "Error")
    draws = detailed(page, server)["spread"]["draws"]
    assert draws % 100_000 == 0
    expect(page.locator(".part-spread")).to_contain_text(f"of {draws:,} draws outside the tolerance", timeout=15_000)
    open_tab(page, "Improve")
    first = page.locator("[data-change]").first
    best = detailed(page, server)["improve"]["tried"][0]
    assert first.get_attribute("data-change") == best["what"]
    assert float(first.get_attribute("data-value") or 0) == best["fall"]["right"]
    page.get_by_role("button", name="show on the sheet which way").click()
    expect(page.locator("[data-slope]").first).to_be_visible()


def test_forces_are_listed_and_drawn(page: Page, server: Server) -> None:
    open_tab(page, "Loads")
    rows = page.locator("[data-table=joints] tbody tr")
    expect(rows).to_have_count(len(posted(page, server.url)["forces"]))
    page.get_by_role("button", name="show as arrows").click()
    expect(page.locator(".reaction").first).to_be_visible()
    expect(page.locator(".layer-reactions")).to_contain_text("longest arrow 1.63 kN")


def test_tabs_are_reached_by_arrow_keys(page: Page) -> None:
    page.get_by_role("tab", name="Error").focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_role("tab", name="Loads")).to_be_focused()
    expect(page.get_by_role("tab", name="Loads")).to_have_attribute("aria-selected", "true")
