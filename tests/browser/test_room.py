"""The rooms of the page: what is said stands in its own line, the edge drags, and a hand's zoom stays."""

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, drag, handle, posted, settle, value
from tests.browser.papers import packed
from tests.mounts import cylinder, document, end, pin
from tests.samples import the_rest


def scale(page: Page) -> str:
    return page.locator(".cell-scale > :last-child").text_content() or ""


def target(page: Page, name: str) -> Locator:
    return handle(page, name).locator(".handle-target")


def box(locator: Locator) -> dict[str, float]:
    found = locator.bounding_box()
    assert found is not None
    return {"x": found["x"], "y": found["y"], "width": found["width"], "height": found["height"]}


def zoom_in(page: Page) -> str:
    before = scale(page)
    sheet = box(page.locator("#sheet"))
    page.mouse.move(sheet["x"] + sheet["width"] / 2, sheet["y"] + sheet["height"] / 2)
    page.mouse.wheel(0, -600)
    expect(page.locator(".cell-scale > :last-child")).not_to_have_text(before)
    return scale(page)


def test_a_notice_stands_above_the_sheet_and_moves_nothing_on_it(page: Page) -> None:
    before = box(target(page, "blade/left"))
    drag(page, "right cylinder / 1", 0, -120)
    settle(page, "stale")
    strip, sheet = box(page.locator("#notices .notice")), box(page.locator("#sheet"))
    assert strip["y"] + strip["height"] <= sheet["y"]
    assert box(target(page, "blade/left"))["y"] == before["y"]


def test_going_back_mends_what_was_refused(page: Page) -> None:
    drag(page, "right cylinder / 1", 0, -120)
    expect(page.locator("#notices")).to_contain_text("'right cylinder' is drawn")
    page.get_by_role("button", name="go back").click()
    settle(page)
    expect(page.locator("#notices")).to_have_text("")


def test_the_member_just_drawn_is_named_first_and_can_be_taken_out(page: Page) -> None:
    handle(page, "left cylinder / 1").focus()
    page.get_by_role("button", name="duplicate").click()
    settle(page, "stale")
    added = page.get_by_role("tab", name="Numbers")
    added.click()
    page.get_by_role("button", name="pick left cylinder 1").click()
    expect(page.locator("#notices")).to_contain_text("too many: 'left cylinder 1'")
    page.get_by_role("button", name="take 'left cylinder 1' out").click()
    settle(page)
    expect(page.locator("#notices")).to_have_text("")


def test_the_first_of_several_notices_stands_alone_until_the_rest_is_asked_for(page: Page) -> None:
    choose_mount(page, "6-crank-and-drop-rod")
    for stroke in page.locator("[data-stroke]").all():
        stroke.press("End")
    settle(page)
    expect(page.locator(".notice:visible")).to_have_count(1)
    page.locator(".notice-more").click()
    expect(page.locator(".notice:visible").nth(1)).to_be_visible()
    page.locator(".notice-more").click()
    expect(page.locator(".notice:visible")).to_have_count(1)


def test_a_mount_near_a_dead_centre_shows_how_it_would_give_way(page: Page, server: Server) -> None:
    members = [
        pin("hinge", "frame", "blade", (0, 0)),
        cylinder("lift", end("frame", (0, 1000)), end("blade", (800, 0)), outward=1200),
    ]
    mount = document(members) | {"blade": {"left": [0, 0], "right": [1000, 0]}}
    page.goto("about:blank")
    page.goto(f"{server.url}/#m={packed(mount, {'lift': 519.0})}")
    expect(page.locator("#notices")).to_contain_text("near a dead centre")
    edge = page.locator(".edge")
    stood = edge.get_attribute("d") or ""
    page.get_by_role("button", name="show how it moves").click()
    expect(edge).not_to_have_attribute("d", stood)
    page.get_by_role("button", name="stop", exact=True).click()
    expect(edge).to_have_attribute("d", stood)


def test_a_zoom_stays_through_a_resize_and_a_table_until_fit(page: Page) -> None:
    fitted = scale(page)
    zoomed = zoom_in(page)
    page.set_viewport_size({"width": 1280, "height": 800})
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_role("button", name="all their numbers in a table").click()
    expect(page.get_by_role("region", name="table of all members")).to_be_visible()
    page.set_viewport_size({"width": 1440, "height": 900})
    page.get_by_role("button", name="put the table away").click()
    expect(page.locator(".cell-scale > :last-child")).to_have_text(zoomed)
    page.get_by_role("button", name="fit", exact=True).click()
    expect(page.locator(".cell-scale > :last-child")).to_have_text(fitted)


def test_without_a_zoom_the_mount_fills_whatever_room_there_is(page: Page) -> None:
    fitted = scale(page)
    page.set_viewport_size({"width": 1024, "height": 600})
    expect(page.locator(".cell-scale > :last-child")).not_to_have_text(fitted)
    sheet = box(page.locator("#sheet"))
    for name in ("blade/left", "blade/right", "left cylinder / 1"):
        at = box(target(page, name))
        assert sheet["x"] <= at["x"] <= sheet["x"] + sheet["width"]
        assert sheet["y"] <= at["y"] <= sheet["y"] + sheet["height"]


def test_the_edge_of_the_readout_drags_and_is_where_it_was_on_the_next_visit(page: Page) -> None:
    readout, edge = page.locator("#readout"), page.get_by_role("separator", name="width of the readout")
    before = box(readout)["width"]
    x, y = box(edge)["x"] + box(edge)["width"] / 2, box(edge)["y"] + 60
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 160, y, steps=5)
    page.mouse.up()
    assert box(readout)["width"] == before + 160
    page.reload()
    settle(page)
    assert box(readout)["width"] == before + 160
    edge.dblclick(position={"x": 5, "y": 60})
    assert box(readout)["width"] == before


def test_the_edge_of_the_readout_moves_with_the_arrow_keys(page: Page) -> None:
    readout, edge = page.locator("#readout"), page.get_by_role("separator", name="width of the readout")
    before = box(readout)["width"]
    edge.focus()
    edge.press("ArrowLeft")
    assert box(readout)["width"] == before + 20
    expect(edge).to_have_attribute("aria-valuenow", str(round(before + 20)))
    edge.press("ArrowRight")
    assert box(readout)["width"] == before


def test_the_headline_speaks_of_the_cylinder_that_is_chosen_and_names_a_worse_one(page: Page, server: Server) -> None:
    drag(page, "left cylinder / 2", 40, 0)
    settle(page)
    actuators = posted(page, server.url)["actuators"]
    worst = max(actuators, key=lambda name: abs(actuators[name]["coupling"]))
    [other] = (name for name in actuators if name != worst)
    page.locator(f"[data-choose='{other}']").first.click()
    expect(page.get_by_role("heading", name=f"Coupling, {other}")).to_be_visible()
    assert value(page, "coupling") == actuators[other]["coupling"]
    expect(page.locator(".formula")).to_contain_text(f"{actuators[other]['coupling']:.2f}".replace("-", "−"))
    page.get_by_role("button", name=f"worse: {worst}").click()
    expect(page.get_by_role("heading", name=f"Coupling, {worst}")).to_be_visible()


def test_every_button_of_the_bar_is_on_a_small_screen(tablet: Page) -> None:
    for button in tablet.locator(".tools button").all():
        expect(button).to_be_in_viewport(ratio=1)


def test_every_shipped_mount_is_in_sight_whatever_the_width(page: Page) -> None:
    for width in (1440, 1280, 1024):
        page.set_viewport_size({"width": width, "height": 768})
        for tile in page.locator("#picker [data-mount]").all():
            expect(tile).to_be_in_viewport(ratio=1)


@pytest.mark.parametrize("unit", ["in", *the_rest("mm")])
def test_every_tool_and_every_shipped_mount_is_in_sight_on_a_tablet(tablet: Page, unit: str) -> None:
    tablet.get_by_role("button", name=unit, exact=True).click()
    for width in (1024, 1240, 1366):
        tablet.set_viewport_size({"width": width, "height": 768})
        for button in tablet.locator("#toolrow button, .corner button, #grid, #picker [data-mount]").all():
            expect(button).to_be_in_viewport(ratio=1)
        assert box(tablet.locator("#sheet"))["height"] > 300
