"""The list of steps: what was done, by name, and a jump to any of it; presses of a key in a row are one step."""

from playwright.sync_api import Locator, Page, expect

from tests.browser.gestures import choose_mount, document, drag, handle, kept, settle
from tests.browser.test_accessibility import violations


def press_quickly(joint: Locator, key: str, times: int) -> None:
    """Press a key several times in the same moment, however slow the machine is."""
    joint.evaluate(
        "(joint, [key, times]) => { for (let i = 0; i < times; i += 1)"
        " joint.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true })) }",
        [key, times],
    )


def steps(page: Page) -> Locator:
    return page.locator("#steps-room [data-jump]")


def test_steps_are_named_and_jumped_in_and_a_burst_of_keys_is_one(page: Page) -> None:
    choose_mount(page, "3-twin-cylinders")
    first = document(page)["mount"]["members"]
    joint = handle(page, "left cylinder / 2")
    joint.focus()
    press_quickly(joint, "ArrowLeft", 4)
    settle(page)
    drag(page, "right cylinder / 1", 30, 0)
    settle(page)
    page.get_by_label("title", exact=True).fill("Feet apart")
    page.keyboard.press("Enter")
    expect(page.locator("#mount-title")).to_have_text("Feet apart")
    kept(page)
    named = ["change the title", "move right cylinder / 1", "move left cylinder / 2", "as it was opened"]
    page.get_by_role("button", name="steps", exact=True).click()
    expect(steps(page)).to_have_text(named)
    expect(page.locator("[aria-current=step]")).to_be_focused()
    assert violations(page) == []
    page.keyboard.press("End")
    page.keyboard.press("Enter")
    settle(page)
    assert document(page)["mount"]["members"] == first
    kept(page)
    page.reload()
    settle(page)
    page.keyboard.press("u")
    expect(steps(page)).to_have_text(named)
    page.get_by_role("button", name="move left cylinder / 2").click()
    settle(page)
    at = document(page)["mount"]["members"][0]["ends"][1]["at"]
    assert at[0] == first[0]["ends"][1]["at"][0] - 40
    page.keyboard.press("Escape")
    expect(page.locator("#steps-room")).to_be_hidden()
    expect(page.get_by_role("button", name="steps", exact=True)).to_be_focused()


def test_undo_says_what_it_takes_back(page: Page) -> None:
    choose_mount(page, "3-twin-cylinders")
    slider = page.locator('[data-stroke="left cylinder"]').first
    slider.focus()
    slider.press("ArrowRight")
    settle(page)
    expect(page.get_by_role("button", name="undo")).to_have_attribute("title", "Undo: work left cylinder (Ctrl+Z)")
