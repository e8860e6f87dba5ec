"""The working, as a trainer shows it: formulas that stand on the readout's numbers and light up the sheet."""

import json
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, document, drag, handle, middle, posted, settle
from tests.samples import the_rest

MATHML = "http://www.w3.org/1998/Math/MathML"


def open_working(page: Page) -> Locator:
    page.get_by_role("tab", name="Working").click()
    steps = page.locator(".steps[aria-busy=false]")
    expect(steps).to_be_visible()
    return steps


def number_at(answer: Any, path: list[str | int]) -> float:  # noqa: ANN401 - any part of an answer
    for step in path:
        answer = answer[step]
    return float(answer)


@pytest.mark.parametrize("mount", ["6-crank-and-drop-rod", *the_rest("1-centre-pivot", "3-twin-cylinders")])
def test_every_number_of_the_working_is_the_servers_readout(page: Page, server: Server, mount: str) -> None:
    choose_mount(page, mount)
    steps = open_working(page)
    answer = posted(page, server.url)
    shown = steps.locator("[data-path]").evaluate_all(
        "all => all.map((each) => [each.dataset.path, each.dataset.value])"
    )
    assert len(shown) > 15
    assert [float(value) for _, value in shown] == [number_at(answer, json.loads(path)) for path, _ in shown]


def test_formulas_are_real_mathml_and_nothing_else_came_with_them(page: Page) -> None:
    steps = open_working(page)
    spaces = steps.locator("math, math *").evaluate_all("all => [...new Set(all.map((each) => each.namespaceURI))]")
    assert spaces == [MATHML]
    fraction = steps.locator("[data-step=coupling] [data-line=kappa] mfrac").first
    box = fraction.bounding_box()
    assert box is not None
    assert box["height"] > box["width"] / 2, "a fraction stands upright"


def test_pointing_at_a_symbol_highlights_its_length_on_the_sheet(page: Page) -> None:
    steps = open_working(page)
    steps.locator("[data-step=coupling] [data-line=kappa] [data-highlight=d_left]").hover()
    highlighted = page.locator(".layer-highlighted .highlighted")
    expect(highlighted).to_have_attribute("data-kind", "length")
    expect(highlighted).to_contain_text("dleft = −350 mm")
    start, stop = highlighted.locator(".highlighted-line").evaluate(
        "line => [line.x1.baseVal.value, line.x2.baseVal.value]"
    )
    edge = page.locator(".layer-blade .edge").bounding_box()
    sheet = page.locator("#sheet").bounding_box()
    assert edge is not None
    assert sheet is not None
    assert stop == pytest.approx(edge["x"] - sheet["x"], abs=5), "from the left end of the edge"
    assert (start - stop) / edge["width"] == pytest.approx(350 / 2400, abs=0.005)
    page.locator("#mount-title").hover()
    expect(highlighted).to_have_count(0)


def test_the_symbols_are_listed_and_highlighted_by_keys_too(page: Page) -> None:
    steps = open_working(page)
    movement = steps.locator("[data-step=movement]")
    movement.get_by_text("what the symbols stand for").click()
    movement.locator("button[data-highlight=r]").focus()
    expect(page.locator(".layer-highlighted .highlighted")).to_contain_text("r = −1700 mm")
    expect(movement.locator("button[data-highlight=r]")).to_contain_text("arm of the cylinder's line about the centre")
    page.get_by_role("tab", name="Working").focus()
    expect(page.locator(".layer-highlighted .highlighted")).to_have_count(0)


def test_a_table_of_equations_wider_than_the_panel_scrolls_by_keys_and_a_short_formula_is_no_stop(page: Page) -> None:
    choose_mount(page, "6-crank-and-drop-rod")
    steps = open_working(page)
    page.locator(".working-head [data-choose='crank cylinder']").click()
    table = steps.get_by_role("group", name="table of equations")
    expect(table).to_have_attribute("tabindex", "0")
    table.press("ArrowRight")
    expect(table).not_to_have_js_property("scrollLeft", 0)
    expect(steps.locator("[data-step=coupling] .formula-room[tabindex]")).to_have_count(0)


def test_a_row_of_the_play_table_highlights_its_joint(page: Page) -> None:
    steps = open_working(page)
    steps.locator('[data-step=play] tr[data-highlight="left cylinder / 2"]').hover()
    expect(page.locator(".layer-highlighted .highlighted")).to_have_attribute("data-kind", "point")
    expect(page.locator(".layer-highlighted .highlighted")).to_contain_text("left cylinder / 2")


def test_the_working_follows_the_chosen_cylinder_the_end_and_the_units(page: Page, server: Server) -> None:
    steps = open_working(page)
    page.locator(".working-head [data-choose='left cylinder']").click()
    page.get_by_role("group", name="end of the working").get_by_role("button", name="left end").click()
    movement = page.locator(".steps[aria-busy=false] [data-step=movement] [data-line=s_left] output")
    answer = posted(page, server.url)
    expect(movement).to_have_attribute("data-value", str(answer["actuators"]["left cylinder"]["left"]))
    page.locator("[data-system=inch]").click()
    expect(steps.locator("[data-step=centre] [data-line=x_C] output")).to_contain_text(" in")


def test_while_the_hand_moves_no_working_is_asked_for_and_its_numbers_are_away(page: Page) -> None:
    steps = page.locator(".steps")
    asked: list[str] = []
    open_working(page)
    page.on("request", lambda request: asked.append(request.url) if request.url.endswith("/working") else None)
    drag(page, "right cylinder / 2", -60, 20, release=False)
    x, y = middle(handle(page, "right cylinder / 2"))
    page.mouse.move(x + 40, y - 20, steps=40)
    settle(page)
    expect(steps).to_have_attribute("aria-busy", "true")
    expect(steps.locator("output").first).not_to_be_visible()
    assert asked == []
    page.mouse.up()
    settle(page)
    expect(steps).to_have_attribute("aria-busy", "false")
    assert len(asked) == 1


def test_new_numbers_take_the_place_of_the_old_ones(page: Page, server: Server) -> None:
    steps = open_working(page)
    worst = steps.locator("[data-step=worst] [data-line=e_worst] output")
    before = worst.get_attribute("data-value")
    drag(page, "right cylinder / 2", -80, 0)
    settle(page)
    expect(page.locator(".steps")).to_have_attribute("aria-busy", "false")
    expect(worst).not_to_have_attribute("data-value", before or "")
    assert float(worst.get_attribute("data-value") or "nan") == posted(page, server.url)["budget"]["right"]["worst"]


def test_where_the_formula_is_not_short_the_table_is_shown_and_said_to_be_numbers(page: Page) -> None:
    choose_mount(page, "6-crank-and-drop-rod")
    steps = open_working(page)
    page.locator(".working-head [data-choose='crank cylinder']").click()
    movement = steps.locator("[data-step=movement]")
    expect(movement).to_have_attribute("data-exact", "false")
    expect(movement).to_contain_text("solved with numbers")
    expect(movement.locator("mtable")).to_have_count(3)


def test_what_is_missing_is_a_reason_where_the_formula_would_be(page: Page) -> None:
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_role("button", name="take the load away").click()
    settle(page)
    assert "load" not in document(page)["mount"]
    steps = open_working(page)
    expect(steps.locator("[data-step=force]")).to_contain_text("– needs a load")
    expect(steps.locator("[data-step=force] math")).to_have_count(0)


SUM_OF = {"coupling": "coupling", "worst": "worst", "load-ratio": "force", "moves": "together"}
"Where the sum of a headline number stands."


def test_a_headline_number_that_is_clicked_brings_its_own_sum_into_sight(page: Page) -> None:
    for number, step in SUM_OF.items():
        page.get_by_role("tab", name="Error").click()
        page.locator(f"[data-readout={number}]").click()
        expect(page.get_by_role("tab", name="Working")).to_have_attribute("aria-selected", "true")
        expect(page.locator(f"[data-step={step}] h3")).to_be_in_viewport()
        expect(page.locator(f"[data-step={step}] [data-line]").first).to_be_visible()


def test_what_corrects_one_end_alone_is_worked_out_to_the_readouts_moves(page: Page, server: Server) -> None:
    page.locator("[data-readout=moves]").click()
    moves = posted(page, server.url)["coupling"]["moves"]["right"]
    step = page.locator("[data-step=together]")
    for symbol, cylinder in (("m_1", "right cylinder"), ("m_2", "left cylinder")):
        shown = step.locator(f"[data-line={symbol}] output")
        assert float(shown.get_attribute("data-value") or "nan") == moves[cylinder]


def test_no_formula_of_a_shipped_mount_is_cut_off_at_a_desk(page: Page) -> None:
    page.get_by_role("tab", name="Working").click()
    for mount in ("1-centre-pivot", "3-twin-cylinders", "5-end-hinge"):
        choose_mount(page, mount)
        expect(page.locator(".steps[aria-busy=false]")).to_be_visible()
        cut = page.locator(".line .formula-room").evaluate_all(
            "all => all.filter(each => each.scrollWidth > each.clientWidth).length"
        )
        assert cut == 0, mount
