"""A mount built by who thinks in inches: round in inches from the bare blade to the last field."""

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.gestures import choose_mount, document, handle, middle, settle

MM_PER_INCH = 25.4
CYLINDERS_AND_STAY = [
    ("cylinder", (-34, 45), (-34, 12)),
    ("cylinder", (34, 45), (34, 12)),
    ("rod", (-36, 13), (36, 12)),
]


def pixel(page: Page, at: tuple[float, float]) -> tuple[float, float]:
    """Where a place in inches is on the screen, from the two ends of a blade of 96 in."""
    left, right = (middle(handle(page, f"blade/{end}").locator(".handle-target")) for end in ("left", "right"))
    scale = (right[0] - left[0]) / 96
    return left[0] + (at[0] + 48) * scale, left[1] - at[1] * scale


def start_bare_in_inches(page: Page) -> None:
    page.get_by_role("button", name="in", exact=True).click()
    page.get_by_role("button", name="library").click()
    page.get_by_role("button", name="start from a bare blade").click()
    expect(page.locator("#notices")).to_contain_text("hangs loose")


def draw(page: Page, tool: str, first: tuple[float, float], second: tuple[float, float]) -> None:
    page.get_by_role("button", name=tool, exact=True).click()
    for body, at in (("frame", first), ("blade", second)):
        page.get_by_role("group", name="join to").get_by_role("button", name=body, exact=True).click()
        page.mouse.move(*pixel(page, at))
        page.mouse.down()
        page.mouse.up()
    page.get_by_role("button", name="pick", exact=True).click()


def shown(room: Locator) -> dict[str, tuple[str, str]]:
    """Quantity and value of every field with a number, by its place in the document."""
    expect(room.locator("input[data-quantity=fine]").first).to_be_visible()
    read = "all => all.map((each) => [each.dataset.place, [each.dataset.quantity, each.value]])"
    fields = dict(room.locator("input[data-place]:not([data-quantity=words])").evaluate_all(read))
    return {place: (quantity, value) for place, (quantity, value) in fields.items() if value}


def is_round(quantity: str, value: str) -> bool:
    """Lengths to a sixteenth, small ones to a thousandth of an inch, everything else in two figures."""
    number = float(value)
    if quantity == "fine":
        return (number * 16).is_integer()
    if quantity == "error":
        return (number * 16).is_integer() or len(value) <= len("0.011")
    return float(f"{number:.2g}") == number


def test_a_mount_drawn_in_inches_is_round_in_every_field(page: Page) -> None:
    start_bare_in_inches(page)
    for tool, first, second in CYLINDERS_AND_STAY:
        draw(page, tool, first, second)
    settle(page)
    page.get_by_role("tab", name="Numbers").click()
    fields = shown(page.locator("#panel"))
    page.get_by_role("button", name="all their numbers in a table").click()
    fields |= shown(page.get_by_role("region", name="table of all members"))
    assert {place: field for place, field in fields.items() if not is_round(*field)} == {}
    blade = [float(fields[f"blade.{end}[0]"][1]) for end in ("left", "right")]
    assert blade == [-48, 48]
    assert fields["blade.mass"][1] == "650"
    assert fields["oil.bulk_modulus"][1] == "200000"
    assert fields["tolerance"][1] == "0.125"
    cylinder = [fields[f"members[0].{key}"][1] for key in ("bore", "rod", "retracted", "stroke")]
    assert cylinder == ["2.5", "1.5", "28", "10"]
    assert fields["members[0].ends[0].at[0]"][1] == "-34"


def test_the_first_joints_of_a_bare_blade_do_not_start_without_clearance(page: Page) -> None:
    start_bare_in_inches(page)
    draw(page, *CYLINDERS_AND_STAY[0])
    page.get_by_role("tab", name="Numbers").click()
    panel = page.locator("#panel [data-part=picked]")
    expect(panel.get_by_label("clearance of cylinder 1, rod end on blade, in")).to_have_value("0.011")
    expect(panel).to_contain_text("0.011\u00a0in is the middle of the fit H11/c11 (ISO 286) of a pin of 1.50\u00a0in")
    above = page.locator("#picked").get_by_label("clearance of cylinder 1")
    assert "a guess until you enter your own" in (above.get_attribute("title") or "")
    panel.get_by_label("clearance of cylinder 1, rod end on blade, in").fill("0.02")
    page.keyboard.press("Enter")
    expect(panel).not_to_contain_text("H11/c11")


@pytest.mark.parametrize(
    ("key", "step"), [("ArrowRight", 1 / 4), ("Shift+ArrowRight", 2.5), ("Alt+ArrowRight", 1 / 32)]
)
def test_keys_move_a_joint_by_fractions_of_an_inch(page: Page, key: str, step: float) -> None:
    choose_mount(page, "8-uprights-in-inches")
    handle(page, "left cylinder / 1").focus()
    page.keyboard.press(key)
    settle(page)
    x, _ = document(page)["mount"]["members"][0]["ends"][0]["at"]
    assert x / MM_PER_INCH == pytest.approx(-24 + step)


def test_who_has_chosen_no_units_sees_each_shipped_mount_in_its_own(page: Page) -> None:
    inches, millimetres = (page.get_by_role("button", name=unit, exact=True) for unit in ("in", "mm"))
    choose_mount(page, "8-uprights-in-inches")
    expect(inches).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_label("grid step")).to_contain_text("1/2 in")
    choose_mount(page, "3-twin-cylinders")
    expect(millimetres).to_have_attribute("aria-pressed", "true")
    millimetres.click()
    choose_mount(page, "8-uprights-in-inches")
    expect(millimetres).to_have_attribute("aria-pressed", "true")


@pytest.mark.parametrize("width", [1024, 1280])
def test_every_shipped_mount_has_room_at_the_top_of_a_narrow_screen(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 768})
    tiles = page.get_by_role("navigation", name="shipped mounts")
    expect(tiles.get_by_role("button")).to_have_count(9)
    assert tiles.evaluate("tiles => tiles.scrollWidth <= tiles.clientWidth")
    assert page.evaluate("document.body.scrollWidth <= innerWidth")
