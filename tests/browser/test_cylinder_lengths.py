"""A cylinder's sizes: from the usual series, fitted to where its ends are, and kept or following when one moves."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import Watched
from tests.browser.gestures import document, drag, handle, kept, settle

Move = Callable[[Page], None]


def cylinder(page: Page, which: int = 0) -> dict[str, Any]:
    """A cylinder of the mount on the sheet."""
    found: dict[str, Any] = document(page)["mount"]["members"][which]
    return found


def lengths(page: Page, which: int = 0) -> tuple[float, float]:
    found = cylinder(page, which)
    return found["retracted"], found["stroke"]


def numbers_of(page: Page, joint: str) -> Locator:
    """The fields of a picked joint and its member."""
    handle(page, joint).focus()
    page.get_by_role("tab", name="Numbers").click()
    return page.locator("#panel [data-part=picked]")


def put(page: Page, joint: str, axis: str, typed: str) -> None:
    """Type a coordinate of a joint above the sheet."""
    handle(page, joint).focus()
    field = page.locator("#picked").get_by_label(f"{axis} of")
    field.fill(typed)
    field.press("Enter")


def follow_the_distance(page: Page) -> None:
    choice = numbers_of(page, "left cylinder / 1").get_by_label("closed length when an end is moved")
    choice.select_option("follow the distance")


def move_by_hand(page: Page) -> None:
    drag(page, "left cylinder / 1", 0, -260)


def move_by_typing(page: Page) -> None:
    put(page, "left cylinder / 1", "y", "1900")


def move_by_typing_among_the_numbers(page: Page) -> None:
    field = numbers_of(page, "left cylinder / 1").get_by_label("y of left cylinder, barrel end on frame, mm")
    field.fill("1900")
    field.press("Enter")


every_way = pytest.mark.parametrize("move", [move_by_hand, move_by_typing, move_by_typing_among_the_numbers])


def test_bore_and_rod_are_chosen_from_the_series_of_the_units_shown(page: Page) -> None:
    panel = numbers_of(page, "left cylinder / 1")
    panel.get_by_label("usual bores for left cylinder").select_option("80 mm")
    settle(page)
    panel.get_by_label("usual piston rods for left cylinder").select_option("45 mm")
    settle(page)
    assert (cylinder(page)["bore"], cylinder(page)["rod"]) == (80, 45)
    expect(panel.get_by_label("bore of left cylinder, mm")).to_have_value("80")
    expect(panel).to_contain_text("ISO 3320, from memory")
    page.get_by_role("button", name="in", exact=True).click()
    panel.get_by_label("usual bores for left cylinder").select_option("2 1/2 in")
    settle(page)
    panel.get_by_label("usual piston rods for left cylinder").select_option("1 1/2 in")
    settle(page)
    expect(panel.get_by_label("bore of left cylinder, in")).to_have_value("2.5")
    expect(panel.get_by_label("piston rod of left cylinder, in")).to_have_value("1.5")
    expect(panel).to_contain_text("common practice in inches")


def test_a_rod_as_thick_as_the_bore_is_not_offered(page: Page) -> None:
    rods = numbers_of(page, "left cylinder / 1").get_by_label("usual piston rods for left cylinder")
    expect(rods).to_contain_text("56 mm")
    expect(rods).not_to_contain_text("63 mm")


@every_way
def test_an_end_put_out_of_reach_is_mended_by_fitting_the_cylinder(page: Page, watched: Watched, move: Move) -> None:
    watched.expected = ["status of 422"]
    move(page)
    settle(page, "stale")
    notice = page.locator("#notices")
    expect(notice).to_contain_text("full reach of 980.0\u00a0mm (720.0\u00a0mm closed + 260.0\u00a0mm stroke)")
    expect(notice.get_by_role("button", name="go back")).to_be_visible()
    notice.get_by_role("button", name="fit 'left cylinder' to this distance").click()
    settle(page)
    closed, stroke = lengths(page)
    assert closed - stroke == 460
    top = cylinder(page)["ends"][0]["at"][1]
    assert top - 300 - closed == pytest.approx(stroke / 2, abs=3.75)
    kept(page)
    page.reload()
    settle(page)
    assert lengths(page) == (closed, stroke)


@every_way
def test_a_closed_length_that_follows_keeps_the_cylinder_as_far_out_as_it_was(page: Page, move: Move) -> None:
    follow_the_distance(page)
    move(page)
    settle(page)
    closed, stroke = lengths(page)
    assert stroke == 260
    top = cylinder(page)["ends"][0]["at"][1]
    assert top > 1300
    assert top - 300 - closed == pytest.approx(130)
    page.get_by_role("button", name="undo").click()
    settle(page)
    assert lengths(page) == (720, 260)


def test_the_choice_to_follow_is_there_after_a_reload(page: Page) -> None:
    follow_the_distance(page)
    page.reload()
    settle(page)
    choice = numbers_of(page, "left cylinder / 1").get_by_label("closed length when an end is moved")
    expect(choice).to_have_value("follow")


def test_a_closed_length_stays_when_a_cylinder_is_moved_within_its_reach(page: Page) -> None:
    put(page, "left cylinder / 1", "y", "1200")
    settle(page)
    assert lengths(page) == (720, 260)


def test_a_cylinder_is_fitted_from_its_own_numbers_and_its_partner_with_it(page: Page) -> None:
    page.get_by_role("button", name="both sides alike").click()
    put(page, "left cylinder / 1", "y", "1250")
    settle(page)
    panel = numbers_of(page, "left cylinder / 1")
    expect(panel).to_contain_text("dead length of 460.0\u00a0mm. As drawn it is 230.0\u00a0mm out.")
    panel.get_by_role("button", name="fit to this distance").click()
    settle(page)
    assert lengths(page) == lengths(page, 1) == (785, 325)
    expect(panel).to_contain_text("As drawn it is 165.0\u00a0mm out.")
