"""No violation that axe-core finds, on any screen, light or dark; nothing lost at 200 % zoom or on a tablet."""

from itertools import cycle
from typing import Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Server, Watched, watch
from tests.browser.gestures import choose_mount, handle, settle
from tests.samples import the_rest

Scheme = Literal["light", "dark"]
PANELS = ["Error", "Loads", "Improve", "Working", "Numbers"]


def violations(page: Page) -> list[str]:
    found = Axe().run(page).response["violations"]
    return [f"{each['id']}: {node['target']} {node['failureSummary']}" for each in found for node in each["nodes"]]


def opened(browser: Browser, server: Server, watched: Watched, scheme: str) -> Page:
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme=scheme)  # type: ignore[arg-type]
    page = watch(context, watched)
    page.goto(server.url)
    settle(page)
    return page


@pytest.mark.parametrize("schemes", [("light", "dark"), *the_rest((("dark", "light"),))])
def test_the_sketch_and_its_panels_have_no_violation(
    browser: Browser, server: Server, watched: Watched, schemes: tuple[Scheme, Scheme]
) -> None:
    page = opened(browser, server, watched, schemes[0])
    handle(page, "right cylinder / 1").focus()
    for panel, scheme in zip(PANELS, cycle(schemes), strict=False):
        page.emulate_media(color_scheme=scheme)
        page.get_by_role("tab", name=panel).click()
        expect(page.get_by_role("tab", name=panel)).to_have_attribute("aria-selected", "true")
        assert violations(page) == []
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_role("button", name="all their numbers in a table").click()
    expect(page.get_by_role("region", name="table of all members")).to_be_visible()
    assert violations(page) == []
    page.context.close()


@pytest.mark.parametrize("scheme", ["light", *the_rest("dark")])
def test_the_wall_has_no_violations_whatever_stands_on_it(
    browser: Browser, server: Server, watched: Watched, scheme: str
) -> None:
    page = opened(browser, server, watched, scheme)
    page.get_by_role("button", name="wall", exact=True).click()
    for board in page.locator("[data-board]:is(button)").all():
        board.click()
        expect(board).to_have_attribute("aria-pressed", "true")
        assert violations(page) == []
    page.locator("button[data-board=working]").click()
    expect(page.locator(".wall-page[aria-busy=false] .wall-result")).to_be_visible()
    assert violations(page) == []
    page.get_by_label("step of the working").select_option(label="8  Play of the joints")
    for _ in range(3):
        page.keyboard.press("n")
    expect(page.locator(".page-head")).to_be_visible()
    assert violations(page) == []
    page.get_by_role("button", name="ask the class").click()
    assert violations(page) == []
    page.context.close()


@pytest.mark.parametrize("scheme", ["dark", *the_rest("light")])
def test_lessons_have_no_violation_chosen_written_or_taught(
    browser: Browser, server: Server, watched: Watched, scheme: str
) -> None:
    page = opened(browser, server, watched, scheme)
    page.keyboard.press("w")
    page.keyboard.press("t")
    lessons = page.get_by_role("dialog", name="Lessons")
    expect(lessons.get_by_role("button", name="teach “What a dial gauge tells”")).to_be_visible()
    assert violations(page) == []
    lessons.get_by_role("button", name="write one, from the sheet as it is").click()
    lessons.get_by_role("button", name="take the sheet as a step").click()
    expect(lessons.locator(".lesson-step")).to_have_count(2)
    assert violations(page) == []
    lessons.get_by_role("button", name="to the list").click()
    lessons.get_by_role("button", name="teach “What a dial gauge tells”").click()
    expect(page.locator(".board-question")).to_be_visible()
    settle(page)
    page.keyboard.press("n")
    page.keyboard.press("n")
    expect(page.locator("#board .dial")).to_have_count(2)
    assert violations(page) == []
    page.context.close()


@pytest.mark.parametrize(
    ("mount", "scheme"),
    [
        ("3-twin-cylinders", "light"),
        ("6-crank-and-drop-rod", "dark"),
        *the_rest(("3-twin-cylinders", "dark"), ("6-crank-and-drop-rod", "light")),
    ],
)
def test_the_working_of_formulas_and_of_tables_has_no_violation(
    browser: Browser, server: Server, watched: Watched, scheme: str, mount: str
) -> None:
    page = opened(browser, server, watched, scheme)
    choose_mount(page, mount)
    page.get_by_role("tab", name="Working").click()
    steps = page.locator(".steps[aria-busy=false]")
    expect(steps).to_be_visible()
    steps.locator("[data-step=movement]").get_by_text("what the symbols stand for").click()
    assert violations(page) == []
    page.context.close()


@pytest.mark.parametrize(
    ("dialog", "scheme"),
    [
        ("library", "light"),
        ("files", "dark"),
        ("keys", "light"),
        *the_rest(("library", "dark"), ("files", "light"), ("keys", "dark")),
    ],
)
def test_the_dialogs_have_no_violation(
    browser: Browser, server: Server, watched: Watched, scheme: str, dialog: str
) -> None:
    page = opened(browser, server, watched, scheme)
    page.get_by_role("button", name=dialog, exact=True).click()
    expect(page.get_by_role("dialog")).to_be_visible()
    assert violations(page) == []
    page.context.close()


@pytest.mark.parametrize("scheme", ["dark", *the_rest("light")])
def test_drawing_and_trouble_have_no_violation(browser: Browser, server: Server, watched: Watched, scheme: str) -> None:
    page = opened(browser, server, watched, scheme)
    page.keyboard.press("c")
    assert violations(page) == []
    page.keyboard.press("Escape")
    handle(page, "side stay / 1").focus()
    page.keyboard.press("Delete")
    settle(page, "stale")
    assert violations(page) == []
    page.context.close()


@pytest.mark.parametrize(("width", "height"), [(720, 450), (1024, 768)])
def test_nothing_is_lost_at_twice_the_size_or_on_a_tablet(
    browser: Browser, server: Server, watched: Watched, width: int, height: int
) -> None:
    page = watch(browser.new_context(viewport={"width": width, "height": height}), watched)
    page.goto(server.url)
    settle(page)
    for name in ("coupling", "worst", "load-ratio", "moves"):
        figure = page.locator(f"[data-readout={name}]")
        figure.scroll_into_view_if_needed()
        expect(figure).to_be_in_viewport()
    controls = [page.get_by_role("button", name=name, exact=True) for name in ("files", "cylinder", "fit", "as drawn")]
    controls += [page.locator("[data-stroke='left cylinder']"), page.get_by_label("tolerance, plus or minus")]
    controls += [page.get_by_role("tab", name=panel) for panel in PANELS]
    for control in controls:
        control.click(trial=True)
    page.context.close()


@pytest.mark.parametrize(
    ("name", "scheme"),
    [
        ("sketch", "light"),
        ("teach", "dark"),
        ("sell", "light"),
        ("document", "dark"),
        *the_rest(("sketch", "dark"), ("teach", "light"), ("sell", "dark"), ("document", "light")),
    ],
)
def test_the_page_for_each_user_has_no_violation_and_every_way_on_it_leads_somewhere(
    browser: Browser, server: Server, watched: Watched, scheme: str, name: str
) -> None:
    page = opened(browser, server, watched, scheme)
    page.goto(f"{server.url}/guide/{name}")
    expect(page.get_by_role("heading", level=1)).to_have_text(name.capitalize())
    assert violations(page) == []
    for link in page.locator("main a, nav a").evaluate_all("all => all.map(each => each.href)"):
        assert page.request.get(link).ok, link
    page.context.close()
