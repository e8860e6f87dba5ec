"""A mount whose parts are called what JavaScript's own objects are called: none is taken for the other."""

import itertools
import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Server
from tests.browser.gestures import document, drag, settle
from tests.browser.papers import open_handout, packed, print_to, shipped
from tests.mounts import Document
from tests.samples import the_rest

OF_OBJECTS = ("__proto__", "constructor", "toString", "hasOwnProperty", "valueOf", "__defineGetter__", "$&")
CRANK, CARRIAGE, TWIN = "6-crank-and-drop-rod", "2-pivot-on-carriage", "3-twin-cylinders"


def renamed(name: str) -> Document:
    """A shipped mount with every body, member and allowance under such a name."""
    drawn, names = shipped(name), itertools.cycle(OF_OBJECTS)
    bodies = {body if isinstance(body, str) else body["name"]: next(names) for body in drawn.get("bodies", [])}
    text = json.dumps(drawn)
    for body, other in bodies.items():
        text = text.replace(json.dumps(body), json.dumps(other))
    drawn = json.loads(text)
    for part in drawn["members"]:
        part["id"] = next(names)
    for allowance, label in zip(drawn.get("allowances", []), OF_OBJECTS, strict=False):
        allowance["label"] = label
    return {**drawn, "title": "__proto__"}


@pytest.mark.parametrize("name", [CRANK, *the_rest(CARRIAGE, TWIN)])
def test_a_mount_called_after_objects_is_dragged_worked_looked_at_and_kept(
    page: Page, server: Server, name: str
) -> None:
    mount = renamed(name)
    page.goto("about:blank")
    page.goto(f"{server.url}/#m={packed(mount)}")
    page.wait_for_url(re.compile("#k="))
    settle(page)
    assert [each["id"] for each in document(page)["mount"]["members"]] == [each["id"] for each in mount["members"]]
    worst = page.locator('[data-readout="worst"]').get_attribute("data-value")
    for part in mount["members"]:
        handle = part["id"] if "at" in part else f"{part['id']} / 1"
        drag(page, handle, 6, 3)
        settle(page)
    assert page.locator('[data-readout="worst"]').get_attribute("data-value") != worst
    [cylinder, *_] = [part["id"] for part in mount["members"] if part["kind"] == "cylinder"]
    page.locator(f"input[type=range][data-stroke='{cylinder}']").fill("4")
    settle(page)
    assert document(page)["command"] == {cylinder: 4}
    for tab in page.get_by_role("tab").all():
        tab.click()
        expect(tab).to_have_attribute("aria-selected", "true")
        settle(page)
        assert not re.search(r"NaN|undefined|function|\[object|native code", page.locator("#readout").inner_text())
    page.get_by_role("button", name="wall", exact=True).click()
    for action in ("one step", "one step", "back to rest"):
        page.get_by_role("button", name=action).click()
        settle(page)
    page.keyboard.press("Escape")
    page.get_by_role("button", name="undo").click()
    settle(page)
    assert page.locator("svg#sheet").evaluate("svg => svg.innerHTML.includes('NaN')") is False
    expect(page.locator("#kept")).to_have_text("kept")


@pytest.mark.parametrize("name", [CRANK, *the_rest(TWIN)])
def test_its_handout_is_printed_and_it_stands_beside_another(
    page: Page, server: Server, tmp_path: Path, name: str
) -> None:
    open_handout(page, server.url, f"#m={packed(renamed(name))}")
    [printed] = print_to(page, tmp_path / "handout.pdf", "A4")
    assert "constructor" in printed
    assert not re.search(r"NaN|undefined|native code", printed)
    page.goto(f"{server.url}/compare#a={packed(renamed(name))}&b={packed(shipped('1-centre-pivot'))}")
    for side in ("a", "b"):
        expect(page.locator(f"#side-{side}")).to_have_attribute("data-state", "live")
    page.get_by_label("left end, mm up").fill("4")
    page.get_by_label("left end, mm up").press("Enter")
    expect(page.locator("#side-a")).to_have_attribute("data-state", "live")
    assert not re.search(r"NaN|undefined|native code", page.locator("body").inner_text())
