"""The designer builds, edits, keeps and exchanges a mount."""

import base64
import json
import re
import zlib
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import httpx2 as httpx
import pytest
from playwright.sync_api import Browser, Page, Route, expect
from pypdf import PdfReader

from app.shipped import shipped_mounts
from tests.answers import readout
from tests.browser.conftest import EMPTY_STORE, Server, Watched, watch
from tests.browser.gestures import (
    choose_mount,
    closer,
    document,
    drag,
    handle,
    kept,
    middle,
    pixel,
    posted,
    settle,
    value,
)
from tests.browser.papers import packed, shipped
from tests.samples import the_rest

TWIN = shipped_mounts()["3-twin-cylinders"]


def start_bare(page: Page) -> None:
    page.get_by_role("button", name="library").click()
    page.get_by_role("button", name="start from a bare blade").click()
    expect(page.locator("#notices")).to_contain_text("hangs loose")


def set_by_mouse(page: Page, at: tuple[float, float]) -> None:
    page.mouse.move(*pixel(page, at))
    page.mouse.down()
    page.mouse.up()


def set_by_keys(page: Page, at: tuple[float, float]) -> None:
    """Walk the cross to a place on the 50 mm grid, reading where it is."""
    for axis, keys in ((0, ("ArrowRight", "ArrowLeft")), (1, ("ArrowUp", "ArrowDown"))):
        words = (page.locator(".draft-words").text_content() or "").replace("−", "-").replace("\u00a0", " ")
        now = [float(part.split()[-2]) for part in words.replace(" mm", " mm ").rsplit(",", 1)]
        steps = round((at[axis] - now[axis]) / 10)
        key = keys[0] if steps > 0 else keys[1]
        for _ in range(abs(steps) // 10):
            page.keyboard.press(f"Shift+{key}")
        for _ in range(abs(steps) % 10):
            page.keyboard.press(key)
    page.keyboard.press("Enter")


PLAN = [
    ("cylinder", (-850, 1150), (-850, 300)),
    ("cylinder", (850, 1150), (850, 300)),
    ("rod", (-900, 330), (900, 300)),
]


def drawn_alone(answer: dict[str, Any]) -> list[float]:
    """Every number of a readout that hangs on where things are drawn and not on what they are called or how large."""
    found: list[float] = [answer["coupling"]["worst"], answer["coupling"]["residual"]]
    for end in ("left", "right"):
        found += [*answer["pose"]["ends"][end], *answer["coupling"]["moves"][end].values()]
    for each in answer["actuators"].values():
        found += [each["left"], each["right"], each["coupling"], *each["instant_centre"], each["force"]]
        found += [each["load_ratio"], each["weight_force"], each["sensors"]["coupling"]]
    for each in answer["forces"].values():
        found += [*each["load"], *each["weight"], each["worst"]]
    return found


def expect_like_the_shipped_twin(page: Page, server: Server) -> None:
    settle(page)
    assert drawn_alone(posted(page, server.url)) == pytest.approx(drawn_alone(readout(TWIN)), abs=1e-6)


def tab_to(page: Page, there: str, key: str = "Tab") -> None:
    """Go from stop to stop by the keyboard until what has the focus matches a selector."""
    for _ in range(200):
        if page.evaluate("selector => document.activeElement.matches(selector)", there):
            return
        page.keyboard.press(key)
    pytest.fail(f"{there} is not reached by {key}")


def test_the_twin_mount_is_built_from_a_bare_blade_with_the_mouse_alone(page: Page, server: Server) -> None:
    start_bare(page)
    closer(page, (0, 1150))
    for tool, first, second in PLAN:
        page.get_by_role("button", name=tool, exact=True).click()
        for body, at in (("frame", first), ("blade", second)):
            page.get_by_role("group", name="join to").get_by_role("button", name=body, exact=True).click()
            set_by_mouse(page, at)
        page.get_by_role("button", name="pick", exact=True).click()
    expect_like_the_shipped_twin(page, server)


def test_the_twin_mount_is_built_from_a_bare_blade_with_the_keyboard_alone(page: Page, server: Server) -> None:
    tab_to(page, "[data-action=library]")
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog")).to_be_visible()
    tab_to(page, "[data-action=bare]")
    page.keyboard.press("Enter")
    expect(page.locator("#notices")).to_contain_text("hangs loose")
    for tool, first, second in PLAN:
        page.keyboard.press(tool[0])
        for body, at in (("frame", first), ("blade", second)):
            tab_to(page, f"[data-onto={body}]")
            page.keyboard.press("Enter")
            tab_to(page, "#sheet, #sheet *", "Shift+Tab")
            set_by_keys(page, at)
        page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    expect_like_the_shipped_twin(page, server)


def test_an_end_is_joined_to_the_body_under_it_and_the_preview_says_so(page: Page) -> None:
    page.get_by_role("button", name="rod", exact=True).click()
    page.mouse.move(*pixel(page, (0, 120)))
    expect(page.locator(".draft-words")).to_contain_text("rod: from blade")
    page.mouse.move(*pixel(page, (0, 900)))
    expect(page.locator(".draft-words")).to_contain_text("rod: from frame")


def test_a_loose_mount_says_which_body_moves_and_shows_how(page: Page) -> None:
    handle(page, "side stay / 1").focus()
    page.keyboard.press("Delete")
    settle(page, "stale")
    expect(page.locator("#notices")).to_contain_text("it can still move one way: the blade can")
    before = page.locator(".edge").get_attribute("d")
    page.get_by_role("button", name="show how it moves").click()
    expect(page.locator(".edge")).not_to_have_attribute("d", before or "")
    page.get_by_role("button", name="stop").click()


def test_a_bound_mount_marks_what_fights_and_says_which_removal_frees_it(page: Page, server: Server) -> None:
    handle(page, "left cylinder / 1").focus()
    page.get_by_role("button", name="duplicate").click()
    settle(page, "stale")
    expect(page.locator("#notices")).to_contain_text("The mount is bound, with one constraint too many")
    expect(page.locator("#notices")).to_contain_text("would free it")
    expect(page.locator(".member.marked").first).to_be_visible()
    freeing = posted(page, server.url)["mobility"]["freeing"]
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_role("button", name=f"delete {freeing[-1]}").click()
    settle(page)


def test_both_sides_alike_moves_the_partner_as_in_a_mirror(page: Page) -> None:
    page.get_by_role("button", name="both sides alike").click()
    drag(page, "right cylinder / 1", 30, -10)
    settle(page)
    members = document(page)["mount"]["members"]
    (rx, ry), (lx, ly) = members[1]["ends"][0]["at"], members[0]["ends"][0]["at"]
    assert rx > 850
    assert (lx, ly) == (-rx, ry)


def test_several_joints_are_picked_in_a_frame_and_moved_together(page: Page) -> None:
    before = document(page)["mount"]["members"][0]["ends"]
    page.mouse.move(*pixel(page, (-960, 1300)))
    page.keyboard.down("Shift")
    page.mouse.down()
    page.mouse.move(*pixel(page, (-700, 230)), steps=5)
    page.mouse.up()
    page.keyboard.up("Shift")
    expect(page.locator("#tools")).to_contain_text("3 joints picked")
    drag(page, "left cylinder / 1", -20, 0)
    settle(page)
    after = document(page)["mount"]["members"][0]["ends"]
    assert after[0]["at"][0] < before[0]["at"][0]
    assert after[0]["at"][0] - before[0]["at"][0] == after[1]["at"][0] - before[1]["at"][0]


def test_a_measured_distance_stays_on_the_sheet_and_follows(page: Page) -> None:
    page.keyboard.press("m")
    for at in ((-850, 300), (850, 300)):
        set_by_mouse(page, at)
    page.keyboard.press("Escape")
    expect(page.locator("[data-measure]")).to_contain_text("1700.0 mm")
    handle(page, "right cylinder / 2").focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("[data-measure]")).to_contain_text("1710.0 mm")


def test_a_member_is_renamed_mirrored_and_taken_out(page: Page) -> None:
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_label("name of rod 3").fill("left stay")
    page.keyboard.press("Enter")
    settle(page)
    handle(page, "left stay / 1").focus()
    page.get_by_role("button", name="mirror").click()
    ids = [each["id"] for each in document(page)["mount"]["members"]]
    assert ids[-1] == "right stay"
    page.keyboard.press("Control+z")
    page.keyboard.press("Control+z")
    settle(page)
    assert [each["id"] for each in document(page)["mount"]["members"]][-1] == "side stay"


def test_every_number_of_every_member_is_typed_in_one_table(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    page.get_by_role("tab", name="Numbers").click()
    page.get_by_role("button", name="all their numbers in a table").click()
    table = page.get_by_role("region", name="table of all members")
    for field, typed in {
        "y of barrel of left cylinder, mm": "1160",
        "clearance of rod end of right cylinder, mm": "0.2",
        "rating of end 1 of side stay, kN": "12",
        "bore of right cylinder, mm": "2 3/4 in",
        "section of side stay, mm²": "600",
        "Young's modulus of side stay, MPa": "205000",
    }.items():
        table.get_by_label(field).fill(typed)
        page.keyboard.press("Enter")
        settle(page)
    left, right, stay = document(page)["mount"]["members"]
    assert left["ends"][0]["at"] == [-850, 1160]
    assert right["ends"][1]["clearance"] == 0.2
    assert right["bore"] == pytest.approx(69.85)
    assert stay["ends"][0]["rating"] == 12_000
    assert (stay["section_area"], stay["elastic_modulus"]) == (600, 205_000)
    table.get_by_label("name of side stay").fill("stay")
    page.keyboard.press("Enter")
    settle(page)
    table.get_by_label("body of end 1 of stay").select_option("blade")
    expect(page.get_by_role("alert")).to_have_text("'stay' joins 'blade' to itself; give two different bodies")
    expect(table.get_by_label("body of end 1 of stay")).to_have_value("frame")
    table.get_by_role("button", name="put the table away").click()
    expect(table).to_be_hidden()


def test_work_is_kept_and_undone_after_a_reload(page: Page) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    drag(page, "left cylinder / 1", -30, 0)
    settle(page)
    kept(page)
    changed = document(page)["mount"]
    page.reload()
    settle(page)
    assert document(page)["mount"]["members"] == changed["members"]
    for _ in range(2):
        page.get_by_role("button", name="undo").click()
        settle(page)
    assert document(page)["mount"]["members"][1]["ends"][0]["at"] == [850, 1150]
    expect(page.get_by_role("button", name="undo")).to_be_disabled()


def test_undo_outlives_a_store_that_is_emptied_under_the_page(page: Page) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    page.evaluate(EMPTY_STORE)
    drag(page, "left cylinder / 1", -30, 0)
    settle(page)
    kept(page)
    page.reload()
    settle(page)
    for _ in range(2):
        page.get_by_role("button", name="undo").click()
        settle(page)
    assert document(page)["mount"]["members"][1]["ends"][0]["at"] == [850, 1150]


def test_a_reload_in_the_middle_of_a_drag_loses_only_that_drag(page: Page) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    before = document(page)["mount"]
    drag(page, "left cylinder / 1", -40, 0, release=False)
    page.reload()
    settle(page)
    assert document(page)["mount"]["members"] == before["members"]


def test_the_shipped_mount_stays_unspoilt_and_the_copy_is_in_the_library(page: Page) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    choose_mount(page, "3-twin-cylinders")
    assert document(page)["mount"]["members"][1]["ends"][0]["at"] == [850, 1150]
    page.get_by_role("button", name="library").click()
    page.locator("[data-kept]").first.get_by_role("button", name="open").click()
    kept(page)
    settle(page)
    assert document(page)["mount"]["members"][1]["ends"][0]["at"][0] > 900


def test_an_earlier_version_is_brought_back_and_a_deleted_mount_too(page: Page) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    first = document(page)["mount"]["members"]
    there = handle(page, "right cylinder / 1").get_attribute("aria-label") or ""
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    page.get_by_role("button", name="library").click()
    entry = page.locator("[data-kept].now")
    entry.get_by_role("button", name="earlier versions").click()
    page.get_by_role("button", name="step 1,").click()
    expect(page.locator(".looked-at")).to_contain_text("worst edge error")
    assert page.locator("[data-kept].now").count() == 1
    page.get_by_role("button", name="bring this version back").click()
    expect(handle(page, "right cylinder / 1")).to_have_attribute("aria-label", there)
    settle(page)
    assert document(page)["mount"]["members"] == first
    kept(page)
    page.get_by_role("button", name="library").click()
    gone = page.locator("[data-kept].now").get_attribute("data-kept")
    page.locator("[data-kept].now").get_by_role("button", name="delete").click()
    expect(page.locator(f"[data-kept='{gone}']")).to_have_count(0)
    page.get_by_role("button", name="show what was deleted").click()
    page.locator(f"[data-kept='{gone}']").get_by_role("button", name="bring back").click()
    page.get_by_role("button", name="back to the library").click()
    expect(page.locator(f"[data-kept='{gone}']")).to_have_count(1)


def test_two_tabs_on_one_mount_see_each_others_changes(page: Page) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    second = page.context.new_page()
    second.goto(page.url)
    settle(second)
    handle(page, "left cylinder / 1").focus()
    page.keyboard.press("ArrowUp")
    settle(page)
    expect(second.locator("#kept")).to_have_text("changed in another tab just now")
    expect(handle(second, "left cylinder / 1")).to_have_attribute("aria-label", re.compile("y 1160.0"))


def test_tabs_that_change_a_mount_at_the_same_time_are_told_and_nothing_is_lost(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 409"]
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    second = page.context.new_page()
    second.goto(page.url)
    settle(second)
    drag(second, "left cylinder / 1", -20, 0, release=False)
    handle(page, "side stay / 1").focus()
    page.keyboard.press("ArrowUp")
    settle(page)
    kept(page)
    second.mouse.up()
    expect(second.locator("#notices")).to_contain_text("changed in another tab while you worked")
    second.get_by_role("button", name="keep yours on top").click()
    expect(second.locator("#kept")).to_have_text("kept")
    second.get_by_role("button", name="library").click()
    second.locator("[data-kept].now").get_by_role("button", name="earlier versions").click()
    expect(second.locator(".versions li")).to_have_count(3)


def test_a_document_goes_out_and_comes_back_equal(page: Page, tmp_path: Path) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    before = document(page)["mount"]
    page.get_by_role("button", name="files").click()
    with page.expect_download() as saving:
        page.get_by_role("button", name="save the document").click()
    file = tmp_path / "mount.json"
    saving.value.save_as(file)
    assert json.loads(file.read_text()) == before
    page.get_by_label("close").locator("visible=true").click()
    choose_mount(page, "1-centre-pivot")
    page.locator("#open-file").set_input_files(file)
    expect(page.get_by_role("heading", level=1)).to_have_text(before["title"])
    settle(page)
    assert document(page)["mount"] == before


def test_a_link_carries_the_whole_mount(page: Page, browser: Browser, server: Server, watched: Watched) -> None:
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    before = document(page)["mount"]
    page.get_by_role("button", name="files").click()
    page.get_by_role("button", name="copy a link").click()
    expect(page.locator("#file-said")).to_contain_text("carries the whole mount")
    link = page.evaluate("navigator.clipboard.readText()")
    elsewhere = watch(browser.new_context(), watched)
    elsewhere.goto(link)
    expect(elsewhere.locator("#kept")).to_have_text("kept")
    settle(elsewhere)
    assert document(elsewhere)["mount"] == before
    elsewhere.context.close()


FOR_OTHER_PROGRAMS = [
    ("DXF as drawn", "-drawn.dxf", b"  0"),
    ("DXF as worked", "-worked.dxf", b"  0"),
    ("PDF as drawn", "-drawn.pdf", b"%PDF"),
    ("PDF as worked", "-worked.pdf", b"%PDF"),
    ("CSV of the numbers", ".csv", b""),
    ("picture, SVG", ".svg", b"<?xml"),
    ("picture, PNG", ".png", b"\x89PNG"),
]


def test_what_goes_to_other_programs_is_downloaded(page: Page, tmp_path: Path) -> None:
    for button, ending, start in FOR_OTHER_PROGRAMS:
        if not page.get_by_role("dialog").is_visible():
            page.get_by_role("button", name="files").click()
        with page.expect_download() as saving:
            page.get_by_role("button", name=button).click()
        file = tmp_path / "out"
        saving.value.save_as(file)
        assert saving.value.suggested_filename.endswith(ending)
        assert file.read_bytes().startswith(start)
        assert file.stat().st_size > 500


def test_drawings_go_out_in_the_units_of_the_page(page: Page, tmp_path: Path) -> None:
    page.locator('[data-system="inch"]').click()
    settle(page)
    page.get_by_role("button", name="files").click()
    expect(page.get_by_label("paper", exact=True)).to_have_value("Letter")
    page.get_by_label("scale", exact=True).select_option("1:20")
    with page.expect_download() as saving:
        page.get_by_role("button", name="PDF as drawn").click()
    saving.value.save_as(tmp_path / "sheet.pdf")
    [sheet] = PdfReader(tmp_path / "sheet.pdf").pages
    assert (float(sheet.mediabox.width), float(sheet.mediabox.height)) == (11 * 72, 8.5 * 72)
    assert {"1:20", "inches"} <= set(sheet.extract_text().split("\n"))
    with page.expect_download() as saving:
        page.get_by_role("button", name="CSV of the numbers").click()
    saving.value.save_as(tmp_path / "table.csv")
    units = {line.rsplit(",", 1)[-1] for line in (tmp_path / "table.csv").read_text(encoding="utf-8").splitlines()}
    assert {"in", "lbf", "psi"} <= units
    assert units.isdisjoint({"mm", "N", "MPa"})


def test_a_scale_that_does_not_fit_is_refused_in_words(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    page.get_by_role("button", name="files").click()
    page.get_by_label("scale", exact=True).select_option("1:2")
    page.get_by_role("button", name="PDF as drawn").click()
    expect(page.locator("#file-said")).to_contain_text("choose 1:20, the largest that fits, or a larger paper")
    page.get_by_label("paper", exact=True).select_option("A1")
    page.get_by_label("scale", exact=True).select_option("1:10")
    with page.expect_download():
        page.get_by_role("button", name="PDF as drawn").click()
    expect(page.locator("#file-said")).to_be_empty()


def test_a_picture_shows_the_sheet_plain_with_its_title_block_whatever_is_picked(page: Page, tmp_path: Path) -> None:
    handle(page, "right cylinder / 1").focus()
    expect(page.locator("#sheet .picked")).to_have_count(1)
    page.get_by_role("button", name="files").click()
    with page.expect_download() as saving:
        page.get_by_role("button", name="picture, SVG").click()
    saving.value.save_as(tmp_path / "sheet.svg")
    root = ElementTree.parse(tmp_path / "sheet.svg").getroot()  # noqa: S314 - our own file
    classes = {each.get("class") for each in root.iter()} - {None}
    assert classes == set()
    assert [each for each in root.iter() if each.get("data-handle") or each.get("aria-pressed")] == []
    words = {each.text for each in root.iter("{http://www.w3.org/2000/svg}text")}
    assert {document(page)["mount"]["title"], "as drawn", "±3.00\N{NO-BREAK SPACE}mm", "0 – 500 mm"} <= words
    expect(page.locator("#sheet .picked")).to_have_count(1)
    expect(page.locator("#sheet .member.chosen")).to_have_count(1)


def test_what_no_eye_sees_is_shown_as_a_mark_and_the_picture_is_sound(
    page: Page, server: Server, tmp_path: Path
) -> None:
    """XML 1.0 has no place for most control characters."""
    file = tmp_path / "mount.json"
    drawn = json.loads(json.dumps(document(page)["mount"]).replace("left cylinder", "left\\u0007 cylinder"))
    file.write_text(json.dumps({**drawn, "title": "Bell \x07 and \u202eturned", "note": "form\x0cfeed"}))
    page.locator("#open-file").set_input_files(file)
    expect(page.get_by_role("heading", level=1)).to_have_text("Bell \ufffd and \ufffdturned")
    expect(page.locator("#mount-note")).to_have_text("form\ufffdfeed")
    settle(page)
    page.get_by_label("title", exact=True).fill("Typed \x07 here")
    page.get_by_label("title", exact=True).press("Enter")
    settle(page)
    page.get_by_role("button", name="files").click()
    with page.expect_download() as saving:
        page.get_by_role("button", name="picture, SVG").click()
    picture = ElementTree.parse(saving.value.path())  # noqa: S314 - the page's own
    assert "Typed \ufffd here" in "".join(picture.getroot().itertext())


def test_a_broken_or_huge_file_is_refused_and_nothing_is_lost(page: Page, tmp_path: Path, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    before = document(page)
    for content, words in (
        ("{", "cannot be read as JSON"),
        ('{"format": 1}', "It was not opened. title: is missing"),
        ("x" * 300_000, "is larger than 256 kB"),
    ):
        file = tmp_path / "bad.json"
        file.write_text(content)
        page.locator("#open-file").set_input_files(file)
        expect(page.locator("#notices")).to_contain_text(words)
        assert document(page) == before
        page.get_by_role("button", name="all right").click()
        expect(page.locator("#notices")).to_have_text("")


def test_sixty_members_open_and_a_hundred_are_refused_with_the_limit_named(
    page: Page, tmp_path: Path, watched: Watched
) -> None:
    watched.expected = ["status of 422"]
    base: dict[str, Any] = {**document(page)["mount"]}
    for count, words in ((60, "bound"), (100, "60 are the most")):
        extra = [
            {
                "kind": "rod",
                "id": f"rod {n}",
                "ends": [{"on": "frame", "at": [n, 900]}, {"on": "blade", "at": [n, 200]}],
            }
            for n in range(count - 3)
        ]
        file = tmp_path / f"{count}.json"
        file.write_text(json.dumps({**base, "members": base["members"] + extra}))
        page.locator("#open-file").set_input_files(file)
        expect(page.locator("#notices")).to_contain_text(words)


def test_the_list_of_keys_opens_with_a_question_mark(page: Page) -> None:
    page.keyboard.press("?")
    expect(page.get_by_role("dialog", name="Keys")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog", name="Keys")).to_be_hidden()


def test_the_wheel_zooms_at_the_pointer_and_fit_brings_it_back(page: Page) -> None:
    before = middle(handle(page, "right cylinder / 2").locator(".handle-target"))
    page.mouse.move(*before)
    page.mouse.wheel(0, -600)
    expect(page.locator("[data-handle='blade/left']")).not_to_be_in_viewport()
    after = middle(handle(page, "right cylinder / 2").locator(".handle-target"))
    assert after == pytest.approx(before, abs=1.5)
    page.get_by_role("button", name="fit").click()
    expect(page.locator("[data-handle='blade/left']")).to_be_in_viewport()


def test_a_coupling_read_after_many_undos_is_where_it_began(page: Page) -> None:
    began = value(page, "coupling")
    handle(page, "left cylinder / 1").focus()
    for _ in range(12):
        page.keyboard.press("ArrowLeft")
    settle(page)
    assert value(page, "coupling") != began
    for _ in range(12):
        page.keyboard.press("Control+z")
    settle(page)
    assert value(page, "coupling") == began


def test_work_that_does_not_hold_yet_is_there_again_after_a_reload_with_its_undo(page: Page) -> None:
    drag(page, "right cylinder / 2", 0, -130)
    settle(page, "stale")
    expect(page.locator("#kept")).to_have_text("not kept until the drawing holds")
    page.reload()
    settle(page, "stale")
    expect(page.locator("#notices")).to_contain_text("'right cylinder' is drawn")
    page.get_by_role("button", name="undo").click()
    settle(page)
    assert document(page)["mount"]["members"][1]["ends"][1]["at"] == [850, 300]


def test_a_step_that_did_not_get_through_is_sent_again(page: Page, watched: Watched) -> None:
    watched.expected = ["ERR_FAILED", "Failed to load resource"]
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    page.route("**/library/*", lambda route: route.abort(), times=1)
    drag(page, "right cylinder / 1", 0, -10)
    expect(page.locator("#kept")).to_have_text("not kept yet: the server is away")
    kept(page)


def test_of_two_mounts_opened_one_after_the_other_the_last_takes_the_sheet(page: Page) -> None:
    for name in ("1-centre-pivot", "5-end-hinge"):
        choose_mount(page, name)
        handle(page, "blade/left").focus()
        page.keyboard.press("ArrowUp")
        settle(page)
        kept(page)
    page.get_by_role("button", name="library").click()
    entries = page.locator("[data-kept]")
    hinge, pivot = (entries.nth(number).get_attribute("data-kept") for number in (0, 1))
    held: list[Route] = []
    page.route(f"**/library/{pivot}", lambda route: held.append(route))
    page.locator(f"[data-kept='{pivot}']").get_by_role("button", name="open").click()
    page.get_by_role("button", name="library").click()
    page.locator(f"[data-kept='{hinge}']").get_by_role("button", name="open").click()
    expect(page).to_have_url(re.compile(f"k={hinge}"))
    held[0].continue_()
    page.unroute_all(behavior="wait")
    settle(page)
    expect(page.get_by_role("heading", level=1)).to_have_text("Hinged at one end")
    expect(page).to_have_url(re.compile(f"k={hinge}"))


def test_a_change_of_another_tab_during_a_drag_that_is_given_up_is_seen_after_it(page: Page) -> None:
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    kept(page)
    second = page.context.new_page()
    second.goto(page.url)
    settle(second)
    drag(page, "left cylinder / 2", 10, 0, release=False)
    handle(second, "side stay / 1").focus()
    second.keyboard.press("ArrowUp")
    kept(second)
    page.keyboard.press("Escape")
    page.mouse.up()
    expect(page.locator("#kept")).to_have_text("changed in another tab just now")


def test_two_fingers_scale_the_paper(tablet: Page) -> None:
    before = middle(handle(tablet, "blade/right").locator(".handle-target"))
    box = tablet.locator("#sheet").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + 60
    session = tablet.context.new_cdp_session(tablet)

    def fingers(kind: str, apart: float) -> None:
        points = [] if kind == "touchEnd" else [{"x": x - apart, "y": y, "id": 0}, {"x": x + apart, "y": y, "id": 1}]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    fingers("touchStart", 40)
    for apart in (60, 90, 120, 150):
        fingers("touchMove", apart)
    fingers("touchEnd", 0)
    expect(handle(tablet, "blade/right")).not_to_be_in_viewport()
    tablet.get_by_role("button", name="fit").click()
    expect(handle(tablet, "blade/right")).to_be_in_viewport()
    assert middle(handle(tablet, "blade/right").locator(".handle-target")) == pytest.approx(before, abs=1)


# What is typed


def type_in(page: Page, label: str, words: str) -> None:
    page.get_by_label(label, exact=True).fill(words)
    page.keyboard.press("Enter")


def test_a_name_that_will_not_do_is_refused_beside_its_field_and_changes_nothing(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    before = document(page)["mount"]
    page.get_by_role("tab", name="Numbers").click()
    for label, typed, words in (
        ("name of cylinder 1", "right cylinder", "used twice; give each its own name"),
        ("name of cylinder 1", "", "is empty; give at least one character"),
        ("name of rod 3", "a/b", "use no '/'"),
    ):
        type_in(page, label, typed)
        expect(page.get_by_role("alert")).to_contain_text(words)
        page.keyboard.press("Escape")
        settle(page)
        assert document(page)["mount"] == before
        expect(page.locator("[data-stroke]")).to_have_count(2)
        expect(page.get_by_role("button", name="undo")).to_be_disabled()


WILL_NOT_DO = [
    (
        "bore of left cylinder, in",
        "1",
        "the bore of 1.00\u00a0in is not larger than the piston rod of 1.42\u00a0in",
    ),
    (
        "clearance of left cylinder, barrel end on frame, in",
        "-1/8",
        "found −0.125\u00a0in, expected 0.000\u00a0in or more",
    ),
    ("stroke of left cylinder, in", "0.2", "longer than its full reach"),
]


def test_a_size_that_will_not_do_is_refused_beside_its_field_in_the_units_shown(page: Page, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    before = document(page)["mount"]
    page.get_by_role("button", name="in", exact=True).click()
    handle(page, "left cylinder / 1").focus()
    page.get_by_role("tab", name="Numbers").click()
    for label, typed, words in WILL_NOT_DO:
        page.locator("#panel").get_by_label(label, exact=True).fill(typed)
        page.keyboard.press("Enter")
        expect(page.get_by_role("alert")).to_contain_text(words)
        page.keyboard.press("Escape")
        settle(page)
        assert document(page)["mount"] == before


def test_a_cylinder_worked_off_its_drawn_stroke_is_renamed_and_deleted_with_its_command(page: Page) -> None:
    page.locator("[data-stroke='left cylinder']").fill("20")
    settle(page)
    page.get_by_role("tab", name="Numbers").click()
    type_in(page, "name of cylinder 1", "near cylinder")
    settle(page)
    assert document(page)["command"] == {"near cylinder": 20}
    page.get_by_role("button", name="delete near cylinder").click()
    expect(page.locator("#notices")).to_contain_text("hangs loose")
    assert document(page)["command"] == {}


def test_a_member_may_be_called_as_a_part_of_the_document_is(page: Page) -> None:
    blade = TWIN.model_dump(mode="json", exclude_none=True, exclude_unset=True)["blade"]
    page.get_by_role("tab", name="Numbers").click()
    for name, y in (("blade", 340), ("load", 350), ("sensors", 360)):
        type_in(page, "name of rod 3", name)
        settle(page)
        handle(page, f"{name} / 1").focus()
        page.keyboard.press("ArrowUp")
        settle(page)
        assert document(page)["mount"]["members"][2]["ends"][0]["at"] == [-900, y]
        assert document(page)["mount"]["blade"] == blade


def test_escape_on_a_joint_takes_back_its_own_moves_and_nothing_else(page: Page) -> None:
    handle(page, "left cylinder / 1").focus()
    type_in(page, "tolerance, plus or minus mm", "5")
    settle(page)
    handle(page, "left cylinder / 1").focus()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    settle(page)
    page.keyboard.press("Escape")
    settle(page)
    mount = document(page)["mount"]
    assert mount["members"][0]["ends"][0]["at"] == [-850, 1150]
    assert mount["tolerance"] == 5


def test_enter_in_a_field_that_was_not_touched_changes_nothing(page: Page) -> None:
    page.get_by_role("button", name="in", exact=True).click()
    handle(page, "left cylinder / 1").focus()
    page.get_by_role("tab", name="Numbers").click()
    page.locator("#panel").get_by_label("bore of left cylinder, in").focus()
    page.keyboard.press("Enter")
    settle(page)
    assert document(page)["mount"]["members"][0]["bore"] == 63
    expect(page.get_by_role("button", name="undo")).to_be_disabled()


def test_undo_reaches_from_a_field_that_was_just_typed(page: Page) -> None:
    type_in(page, "tolerance, plus or minus mm", "5")
    settle(page)
    page.keyboard.press("Control+z")
    settle(page)
    assert document(page)["mount"]["tolerance"] == 3
    expect(page.get_by_label("tolerance, plus or minus mm")).to_have_value("3")


def test_both_sides_alike_holds_for_what_is_typed_too(page: Page) -> None:
    page.get_by_role("button", name="both sides alike").click()
    handle(page, "right cylinder / 1").focus()
    page.get_by_role("tab", name="Numbers").click()
    panel = page.locator("#panel")
    for label, typed in (
        ("x of right cylinder, barrel end on frame, mm", "900"),
        ("clearance of right cylinder, barrel end on frame, mm", "0.2"),
        ("bore of right cylinder, mm", "70"),
    ):
        panel.get_by_label(label).fill(typed)
        page.keyboard.press("Enter")
        settle(page)
    left, right, _ = document(page)["mount"]["members"]
    assert (left["ends"][0]["at"], right["ends"][0]["at"]) == ([-900, 1150], [900, 1150])
    assert left["ends"][0]["clearance"] == right["ends"][0]["clearance"] == 0.2
    assert left["bore"] == right["bore"] == 70


# Picking


def test_of_joints_over_one_another_a_second_tap_picks_the_one_beneath(page: Page) -> None:
    page.get_by_role("tab", name="Numbers").click()
    type_in(page, "left x of sensor, mm", "-850")
    type_in(page, "left y of sensor, mm", "300")
    settle(page)
    at = middle(handle(page, "left cylinder / 2").locator(".handle-target"))
    for label in ("left sensor", "left cylinder, rod end on blade", "left sensor"):
        page.mouse.click(*at)
        expect(page.locator("#picked h2")).to_have_text(label)


def test_the_end_of_the_blade_is_dragged_though_the_load_stands_on_it(page: Page) -> None:
    drag(page, "blade/right", -30, 0)
    settle(page)
    assert document(page)["mount"]["blade"]["right"][0] < 1150
    load = document(page)["mount"]["load"]["at"]
    drag(page, "load/at", -60, 0)
    settle(page)
    assert document(page)["mount"]["load"]["at"][0] < load[0] - 100


def test_a_tap_on_a_rod_picks_its_nearer_end(page: Page) -> None:
    page.mouse.click(*pixel(page, (300, 311)))
    expect(page.locator("#picked h2")).to_have_text("side stay, blade end")


@pytest.mark.parametrize("how", ["finger", "keys"])
def test_several_joints_are_picked_without_shift_and_a_mouse(page: Page, how: str) -> None:
    handle(page, "left cylinder / 1").focus()
    page.get_by_role("button", name="several").click()
    for name in ("left cylinder / 2", "side stay / 1"):
        if how == "keys":
            handle(page, name).focus()
            page.keyboard.press("Enter")
        else:
            page.mouse.click(*middle(handle(page, name).locator(".handle-target")))
    expect(page.locator("#tools")).to_contain_text("3 joints picked")


def test_without_snap_a_joint_goes_where_the_hand_goes(page: Page) -> None:
    page.get_by_label("grid step").select_option(label="no snap")
    drag(page, "right cylinder / 1", 13, -7)
    settle(page)
    x, y = document(page)["mount"]["members"][1]["ends"][0]["at"]
    assert x % 10 != 0
    assert y % 10 != 0


# Leaving and coming


def test_a_change_that_is_not_kept_is_not_lost_by_opening_another_mount_unasked(page: Page) -> None:
    drag(page, "right cylinder / 1", 0, -260)
    settle(page, "stale")
    expect(page.locator("#kept")).to_have_text("not kept until the drawing holds")
    changed = document(page)["mount"]
    page.locator("[data-mount='1-centre-pivot']").click()
    expect(page.locator("#notices")).to_contain_text("opening another mount would lose it")
    page.get_by_role("button", name="stay here").click()
    assert document(page)["mount"] == changed
    page.locator("[data-mount='1-centre-pivot']").click()
    page.get_by_role("button", name="open the other and lose it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Centre pivot, short lever")


def test_a_link_put_into_the_address_of_an_open_tab_is_opened(page: Page) -> None:
    page.evaluate("location.hash = 'n=5-end-hinge'")
    expect(page.get_by_role("heading", level=1)).to_have_text("Hinged at one end")


def test_a_link_opened_again_opens_the_same_mount_as_it_was_left(page: Page, server: Server) -> None:
    link = f"{server.url}/#m={packed({**shipped('1-centre-pivot'), 'title': 'Sent in a message'})}"

    def open_link() -> str:
        page.goto("about:blank")
        page.goto(link)
        page.wait_for_url(re.compile("#k="))
        settle(page)
        return page.url

    first = open_link()
    expect(page.locator("#notices")).not_to_contain_text("opened here before")
    assert open_link() == first
    page.get_by_label("title", exact=True).fill("Worked on since")
    page.get_by_label("title", exact=True).press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Worked on since")
    settle(page, "live")
    expect(page.locator("#kept")).to_have_text("kept")
    assert open_link() == first
    expect(page.get_by_role("heading", level=1)).to_have_text("Worked on since")
    expect(page.locator("#notices")).to_contain_text("opened here before, and the mount was changed since")
    page.request.delete(f"{server.url}/library/{first.rpartition('=')[2]}")
    assert open_link() == first
    expect(page.locator("#kept")).to_have_text("kept")
    kept = httpx.get(f"{server.url}/library").json()
    assert [each["title"] for each in kept].count("Worked on since") == 1
    assert "Sent in a message" not in [each["title"] for each in kept]


@pytest.mark.parametrize("opens", ["{", "["])
def test_a_link_that_unfolds_to_no_mount_is_refused_in_words_and_the_page_works(page: Page, opens: str) -> None:
    """Sixty kilobytes of such a link stand for sixty megabytes."""
    deflate = zlib.compressobj(wbits=-15)
    bomb = deflate.compress(f'{{"mount": {opens * 60_000_000}'.encode()) + deflate.flush()
    page.evaluate("text => { location.hash = `m=${text}`; }", base64.urlsafe_b64encode(bomb).decode().rstrip("="))
    expect(page.locator("#notices")).to_contain_text("This link carries something else than a mount")
    drag(page, "right cylinder / 1", 40, 0)
    settle(page)


SILENT = {
    "opening": "indexedDB.constructor.prototype.open = () => new EventTarget();",
    "reading": "IDBObjectStore.prototype.get = IDBObjectStore.prototype.getAll = () => new EventTarget();",
    "writing": "IDBTransaction.prototype.addEventListener = () => {};",
}
"""What a browser does whose store has got stuck: it calls nobody back."""


@pytest.mark.parametrize("stuck", ["opening", *the_rest("reading", "writing")])
def test_a_browsers_store_that_never_answers_keeps_nothing_from_working(
    page: Page, browser: Browser, server: Server, stuck: str
) -> None:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    tab = watch(context, Watched())
    tab.add_init_script(SILENT[stuck])
    tab.goto(server.url)
    settle(tab)
    drag(tab, "right cylinder / 1", 30, 0)
    settle(tab)
    expect(tab.locator("#kept")).to_have_text("kept")
    drawn, address = document(tab)["mount"], tab.url
    tab.goto("about:blank")
    tab.goto(address)
    settle(tab)
    assert document(tab)["mount"] == drawn
    context.close()


def test_the_units_chosen_last_are_there_after_a_reload(page: Page) -> None:
    page.get_by_role("button", name="in", exact=True).click()
    page.reload()
    settle(page)
    expect(page.get_by_role("button", name="in", exact=True)).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_label("grid step")).to_contain_text("1/4 in")


# Drawing, measuring, saying


def test_the_body_a_rod_would_be_joined_to_is_marked_and_its_length_said(page: Page) -> None:
    page.keyboard.press("r")
    set_by_mouse(page, (0, 120))
    page.mouse.move(*pixel(page, (300, 900)))
    expect(page.locator(".draft-words")).to_contain_text("rod: blade to frame, 835.7 mm")
    expect(page.locator(".draft-body")).to_have_count(0)
    page.mouse.move(*pixel(page, (400, 120)))
    expect(page.locator(".draft-words")).to_contain_text("rod: both ends on blade would hold nothing")
    expect(page.locator(".draft-body").first).to_be_visible()
    page.mouse.down()
    page.mouse.up()
    assert len(document(page)["mount"]["members"]) == 3


def test_a_distance_is_measured_between_any_two_points_and_the_cylinders_stay_where_they_are(page: Page) -> None:
    page.locator("[data-stroke='right cylinder']").fill("30")
    settle(page)
    page.keyboard.press("m")
    set_by_mouse(page, (-850, 1150))
    page.mouse.move(*pixel(page, (0, 1600)))
    expect(page.locator(".draft-words")).to_contain_text(re.compile(r"9\d\d\.\d\smm to"))
    set_by_mouse(page, (0, 1600))
    page.keyboard.press("Escape")
    expect(page.locator("[data-measure='left cylinder / 1 frame']")).to_contain_text(re.compile(r"9\d\d\.\d\smm"))
    assert document(page)["command"] == {"right cylinder": 30}


def test_a_mount_that_is_twice_over_held_is_not_promised_free_by_one_removal(page: Page) -> None:
    for name in ("left cylinder / 1", "right cylinder / 1"):
        handle(page, name).focus()
        page.get_by_role("button", name="duplicate").click()
        expect(page.locator("#notices")).to_contain_text("too many")
    expect(page.locator("#notices")).to_contain_text("with 2 constraints too many")
    expect(page.locator("#notices")).to_contain_text("would take one of the 2 away")


def test_a_loose_mount_names_every_way_it_can_move(page: Page) -> None:
    for name in ("side stay", "right cylinder"):
        handle(page, f"{name} / 1").focus()
        page.keyboard.press("Delete")
    expect(page.locator("#notices")).to_contain_text("it can still move 2 ways: the blade can turn and shift")
    handle(page, "left cylinder / 1").focus()
    page.keyboard.press("Delete")
    expect(page.locator("#notices")).to_contain_text("it can still move 3 ways: nothing holds the blade")


def test_where_the_browser_gives_no_clipboard_the_link_is_there_to_copy_by_hand(page: Page) -> None:
    page.evaluate("Object.defineProperty(navigator, 'clipboard', {value: undefined})")
    page.get_by_role("button", name="files").click()
    page.get_by_role("button", name="copy a link").click()
    expect(page.get_by_label("link that carries the mount")).to_have_value(re.compile("#m=.+"))
    expect(page.locator("#file-said")).to_contain_text("by hand")


def test_what_a_screen_reader_is_told_holds_all_four_numbers(page: Page) -> None:
    drag(page, "right cylinder / 1", 20, 0)
    for words in ("coupling", "worst edge error", "times the edge load", "to correct one end alone: 2 cylinders"):
        expect(page.locator("#spoken")).to_contain_text(words)


def test_note_and_units_of_the_document_are_edited_too(page: Page) -> None:
    page.get_by_role("tab", name="Numbers").click()
    type_in(page, "note, two sentences on what it is", "For the riding arena.")
    settle(page)
    expect(page.locator("#mount-note")).to_have_text("For the riding arena.", use_inner_text=False)
    page.get_by_label("units the document opens in").select_option("inch")
    settle(page)
    assert (document(page)["mount"]["note"], document(page)["mount"]["display"]) == ("For the riding arena.", "inch")
