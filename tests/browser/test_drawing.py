"""The designer draws by numbers: typed lengths and angles, and what holds while other things are moved."""

import math
import re

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Watched
from tests.browser.gestures import choose_mount, closer, document, drag, handle, kept, middle, pixel, settle
from tests.browser.test_build_and_keep import set_by_mouse, start_bare


def test_a_rod_is_drawn_by_a_typed_length_and_angle_and_set_to_others_afterwards(page: Page) -> None:
    start_bare(page)
    page.keyboard.press("r")
    page.get_by_role("group", name="join to").get_by_role("button", name="frame").click()
    set_by_mouse(page, (0, 500))
    page.get_by_role("group", name="join to").get_by_role("button", name="blade").click()
    page.keyboard.type("12in")
    page.keyboard.press("Tab")
    page.keyboard.type("30")
    page.keyboard.press("Enter")
    settle(page, "stale")
    first, second = document(page)["mount"]["members"][0]["ends"]
    assert [second["at"][axis] - first["at"][axis] for axis in (0, 1)] == pytest.approx([263.964543, 152.4], abs=2e-6)

    page.keyboard.press("Escape")
    page.get_by_label("which end of rod 1").select_option("other")
    length = page.locator("#picked").get_by_label("length of rod 1")
    expect(length).to_have_value("304.8")
    length.fill("609.6")
    length.press("Enter")
    expect(handle(page, "rod 1 / 1")).to_have_attribute("aria-label", re.compile(r"x −264.0\smm, y 347.6\smm"))
    settle(page, "stale")
    expect(page.locator("#picked").get_by_label("angle of rod 1")).to_have_value("30")
    moved, stayed = document(page)["mount"]["members"][0]["ends"]
    assert stayed["at"] == second["at"]
    assert moved["at"] == pytest.approx([first["at"][0] - 263.964543, first["at"][1] - 152.4], abs=3e-6)


def tap_joint(page: Page, name: str) -> None:
    page.mouse.click(*middle(handle(page, name).locator(".handle-target")))


def held(page: Page, words: str) -> Locator:
    return page.locator("#sheet").get_by_role("button", name=f"held {words}")


def places(page: Page) -> dict[str, list[float]]:
    members = document(page)["mount"]["members"]
    return {f"{each['id']} / {end}": each["ends"][end - 1]["at"] for each in members for end in (1, 2)}


def test_held_dimensions_hold_through_drags_typing_undo_and_a_reload(page: Page) -> None:
    choose_mount(page, "3-twin-cylinders")
    page.keyboard.press("h")
    tap_joint(page, "left cylinder / 1")
    tap_joint(page, "left cylinder / 2")
    expect(held(page, "along")).to_be_visible()
    page.get_by_role("button", name="level", exact=True).click()
    tap_joint(page, "blade/left")
    tap_joint(page, "left cylinder / 2")
    expect(held(page, "level")).to_have_attribute("aria-label", re.compile("350.0"))
    page.get_by_role("button", name="upright", exact=True).click()
    tap_joint(page, "blade/left")
    tap_joint(page, "left cylinder / 2")
    expect(held(page, "upright")).to_be_visible()
    entry = page.locator("#picked").get_by_role("textbox", name="held upright")
    expect(entry).to_be_visible()
    page.keyboard.press("Escape")
    expect(entry, "what was just held stays in hand when the tool is put down").to_be_visible()

    drag(page, "left cylinder / 1", -40, 10)
    settle(page)
    at = places(page)
    assert at["left cylinder / 2"] == [-850, 300]
    assert at["left cylinder / 1"][0] < -950
    assert math.dist(at["left cylinder / 1"], at["left cylinder / 2"]) == pytest.approx(850, abs=1e-6)

    held(page, "level").press("Enter")
    size = page.locator("#picked").get_by_role("textbox", name="held level")
    size.fill("16 in")
    size.press("Enter")
    expect(size).to_have_value("406.4")
    kept(page)
    page.reload()
    settle(page)
    expect(held(page, "level")).to_have_attribute("aria-label", re.compile("406.4"))

    page.keyboard.press("Control+z")
    expect(held(page, "level")).to_have_attribute("aria-label", re.compile("350.0"))
    held(page, "upright").press("Delete")
    expect(held(page, "upright")).to_have_count(0)


def test_what_cannot_be_held_is_refused_with_what_settles_it_already(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    choose_mount(page, "3-twin-cylinders")
    page.keyboard.press("h")
    for way in ("along", "level"):
        page.get_by_role("button", name=way, exact=True).click()
        tap_joint(page, "left cylinder / 1")
        tap_joint(page, "right cylinder / 1")
    expect(page.locator("#notices")).to_contain_text(
        "The level distance of 'left cylinder / 1' and 'right cylinder / 1' is settled already by the distance of"
    )
    expect(held(page, "level")).to_have_count(0)


def test_an_outline_is_drawn_by_mouse_and_keys_and_its_corners_are_moved(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    choose_mount(page, "6-crank-and-drop-rod")
    closer(page, (-700, 1300))
    page.keyboard.press("o")
    page.get_by_role("group", name="join to").get_by_role("button", name="crank").click()
    for at in ((-900, 900), (-500, 1300), (-500, 900), (-900, 1300)):
        set_by_mouse(page, at)
    page.get_by_role("button", name="close the outline").click()
    expect(page.locator("#notices")).to_contain_text(
        "The outline crosses itself: the sides from corner 1 and from corner 3"
    )
    page.get_by_role("button", name="all right").click()

    page.locator("#sheet").focus()
    page.keyboard.press("Backspace")
    page.keyboard.press("Backspace")
    page.keyboard.press("Backspace")
    for at in ((-500, 900), (-500, 1300)):
        set_by_mouse(page, at)
    page.keyboard.press("Enter")
    outline = page.locator("#sheet").get_by_role("button", name="outline of crank", exact=True)
    expect(outline).to_have_count(1)
    page.keyboard.press("Escape")
    outline.press("Enter")
    handle(page, "outline/0/1").press("Shift+ArrowRight")
    settle(page)
    assert document(page)["mount"]["outlines"] == [
        {"body": "crank", "points": [[-900, 900], [-400, 900], [-500, 1300]]}
    ]
    kept(page)
    page.reload()
    settle(page)
    outline.press("Enter")
    page.get_by_role("button", name="delete the outline").click()
    expect(outline).to_have_count(0)


PASTE = """(field, text) => {
  const clipboardData = new DataTransfer();
  clipboardData.setData("text/plain", text);
  field.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
}"""


def test_lines_of_a_spreadsheet_are_pasted_into_the_table_all_or_none(page: Page) -> None:
    choose_mount(page, "3-twin-cylinders")
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_role("button", name="table").first.click()
    table = page.get_by_role("region", name="table of all members")
    first = table.get_by_role("textbox", name="x of barrel of left cylinder")
    before = document(page)["mount"]["members"]

    first.evaluate(PASTE, "-800\t1100\n-800\tnone\n")
    complaint = "line 2, column 2: 'none' is no number for the y of rod end of left cylinder. Nothing was taken."
    expect(page.get_by_role("alert")).to_have_text(complaint)
    assert document(page)["mount"]["members"] == before

    first.evaluate(PASTE, "-800\t1100\n-800\t250\n800\t1100\n800\t250\n")
    expect(first).to_have_value("-800")
    settle(page)
    assert [each["at"] for member in document(page)["mount"]["members"][:2] for each in member["ends"]] == [
        [-800, 1100],
        [-800, 250],
        [800, 1100],
        [800, 250],
    ]
    table.get_by_role("textbox", name="bore of left cylinder").fill("80")
    table.get_by_role("textbox", name="bore of left cylinder").press("Control+d")
    expect(table.get_by_role("textbox", name="bore of right cylinder")).to_have_value("80")
    table.get_by_role("textbox", name="length of left cylinder, mm", exact=True).fill("900")
    table.get_by_role("textbox", name="length of left cylinder, mm", exact=True).press("Enter")
    expect(table.get_by_role("textbox", name="y of rod end of left cylinder")).to_have_value("200")
    for _ in range(3):
        page.get_by_role("button", name="undo").click()
    expect(first).to_have_value("-850")
    settle(page)
    assert document(page)["mount"]["members"] == before


def test_members_are_copied_from_one_mount_into_another(page: Page) -> None:
    choose_mount(page, "6-crank-and-drop-rod")
    handle(page, "crank pivot").focus()
    page.keyboard.press("Control+c")
    choose_mount(page, "3-twin-cylinders")
    page.get_by_role("button", name="paste").click()
    settle(page, "stale")
    mount = document(page)["mount"]
    assert (mount["members"][-1]["id"], mount["bodies"]) == ("crank pivot", ["crank"])
    page.get_by_role("button", name="undo").click()
    settle(page)
    assert len(document(page)["mount"]["members"]) == 3


def test_joints_rest_on_construction_lines_which_stay_with_the_document(page: Page) -> None:
    choose_mount(page, "3-twin-cylinders")
    page.keyboard.press("l")
    set_by_mouse(page, (0, 1240))
    page.get_by_role("button", name="parallel to").click()
    set_by_mouse(page, (850, 700))
    set_by_mouse(page, (600, 700))
    page.keyboard.press("Escape")
    level, plumb = document(page)["mount"]["construction"]
    assert (level, plumb["angle"]) == ({"at": [0, 1240], "angle": 0}, 90)

    line = page.locator("#sheet").get_by_role("button", name="construction line 1", exact=True)
    line.press("Enter")
    y = page.locator("#picked").get_by_label("y of construction line 1")
    y.fill("1243.5")
    y.press("Enter")
    expect(y).to_have_value("1243.5")
    x_at, y_at = pixel(page, (-850, 1243.5))
    at = middle(handle(page, "left cylinder / 1").locator(".handle-target"))
    drag(page, "left cylinder / 1", x_at - at[0] + 1, y_at - at[1] + 2)
    settle(page)
    assert places(page)["left cylinder / 1"] == [-850, 1243.5]
    kept(page)
    page.reload()
    settle(page)
    line.press("Enter")
    page.locator("#picked").get_by_role("button", name="delete").click()
    expect(page.locator("#sheet").get_by_role("button", name=re.compile("construction line"))).to_have_count(1)


def test_a_slide_is_turned_by_its_handle_and_by_keys(page: Page) -> None:
    choose_mount(page, "2-pivot-on-carriage")
    members = document(page)["mount"]["members"]
    index = next(number for number, each in enumerate(members) if each["kind"] == "slide")
    handle(page, members[index]["id"]).focus()
    turning = handle(page, f"direction/{index}")
    turning.press("ArrowRight")
    settle(page)
    assert document(page)["mount"]["members"][index]["direction"] == pytest.approx([0.087156, 0.996195], abs=1e-6)
    drag(page, f"direction/{index}", -4, 0)
    page.get_by_role("button", name="undo").click()
    page.get_by_role("button", name="undo").click()
    settle(page)
    assert document(page)["mount"]["members"] == members
