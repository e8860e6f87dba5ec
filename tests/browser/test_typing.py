"""Whatever is typed anywhere is taken, shown and kept: with Enter, and with Tab."""

import re
from collections.abc import Callable
from itertools import cycle

import httpx2 as httpx
import pytest
from playwright.sync_api import Locator, Page, WebSocketRoute, expect

from tests.browser.conftest import Server
from tests.browser.gestures import choose_mount, document, handle, kept, settle
from tests.browser.papers import open_handout, packed, read_back, shipped
from tests.browser.test_compare import Pair, linked, pair  # noqa: F401 - a fixture
from tests.samples import the_rest

CARRIAGE = "2-pivot-on-carriage"
EVERY_FIELD = "input[type=text][data-place]"

ENTER_AND_TAB, TAB_AND_ENTER = ("Enter", "Tab"), ("Tab", "Enter")
finished_by = pytest.mark.parametrize("keys", [ENTER_AND_TAB, *the_rest((TAB_AND_ENTER,))])
"""Keys that take what is typed, field by field in turn."""


def another(field: Locator) -> str:
    """Something else that will do where the field is."""
    now = field.input_value()
    if field.get_attribute("data-quantity") in ("words", None):
        return f"{now} II"
    return f"{round(float(now or 0) * 1.02 + 0.1, 1):g}"


def type_into(page: Page, field: Locator, words: str, key: str) -> None:
    field.fill(words)
    field.press(key)
    settle(page)
    expect(field).to_have_value(words)


def kinds(places: list[str]) -> list[str]:
    """The first field of every kind: ``members[3].bore`` and ``members[4].bore`` are one."""
    return list({re.sub(r"\[\d+\]", "", place): place for place in reversed(places)}.values())


def type_into_every_field(page: Page, room: Locator, key: str, sample: bool) -> dict[str, str]:
    """What was typed where, by the place in the document; of a sample one field of every kind."""
    room.locator(EVERY_FIELD).first.wait_for()
    places = room.locator(EVERY_FIELD).evaluate_all("all => all.map((each) => each.dataset.place)")
    places = kinds(places) if sample else places
    typed = {}
    for place in places:
        field = room.locator(f'input[data-place="{place}"]')
        typed[place] = another(field)
        type_into(page, field, typed[place], key)
    return typed


def titles_kept(server: Server) -> list[str]:
    """Of the mounts in the library."""
    return [each["title"] for each in httpx.get(f"{server.url}/library").json()]


class LiveLine:
    """The page's line to its server, whose answers can be held back for a while."""

    def __init__(self, page: Page) -> None:
        self.held = False
        self.waiting: list[Callable[[], None]] = []
        page.route_web_socket("**/live", self.connect)
        page.reload()
        settle(page)

    def connect(self, route: WebSocketRoute) -> None:
        server = route.connect_to_server()
        server.on_message(lambda answer: self.answered(lambda: route.send(answer)))

    def answered(self, send: Callable[[], None]) -> None:
        if self.held:
            self.waiting.append(send)
        else:
            send()

    def let_go(self) -> None:
        self.held = False
        for send in self.waiting:
            send()
        self.waiting.clear()


def numbers(page: Page, part: str) -> Locator:
    page.get_by_role("tab", name="Numbers").click()
    return page.locator(f"[data-part={part}]")


def open_inputs(page: Page) -> Locator:
    return numbers(page, "inputs")


def open_inputs_of_a_joint(page: Page) -> Locator:
    page.locator("[data-handle^='tilt cylinder']").first.focus()
    return numbers(page, "picked")


def open_members(page: Page) -> Locator:
    return numbers(page, "members")


def open_table(page: Page) -> Locator:
    open_members(page).get_by_role("button", name="all their numbers in a table").click()
    return page.get_by_role("region", name="table of all members")


@pytest.mark.parametrize(
    ("open_room", "key"),
    [
        (open_inputs, "Enter"),
        (open_inputs_of_a_joint, "Tab"),
        (open_members, "Enter"),
        (open_table, "Tab"),
        *the_rest(
            (open_inputs, "Tab"),
            (open_inputs_of_a_joint, "Enter"),
            (open_members, "Tab"),
            (open_table, "Enter"),
        ),
    ],
)
def test_what_is_typed_into_any_field_of_a_panel_is_there_after_a_reload(
    page: Page, open_room: Callable[[Page], Locator], key: str, request: pytest.FixtureRequest
) -> None:
    choose_mount(page, CARRIAGE)
    typed = type_into_every_field(page, open_room(page), key, sample=not request.config.getoption("full"))
    kept(page)
    page.reload()
    settle(page)
    room = open_room(page)
    shown = {place: room.locator(f'input[data-place="{place}"]').input_value() for place in typed}
    assert shown == typed


@finished_by
def test_what_is_typed_into_the_title_block_is_there_after_a_reload(page: Page, keys: tuple[str, str]) -> None:
    typed = {"title": "North field, second blade", "tolerance, plus or minus mm": "2.5"}
    for (label, words), key in zip(typed.items(), cycle(keys), strict=False):
        type_into(page, page.get_by_label(label, exact=True), words, key)
    expect(page.get_by_role("heading", level=1)).to_have_text("North field, second blade")
    kept(page)
    page.reload()
    settle(page)
    for label, words in typed.items():
        expect(page.get_by_label(label, exact=True)).to_have_value(words)


@finished_by
def test_what_is_typed_beside_a_picked_joint_is_there_after_a_reload(page: Page, keys: tuple[str, str]) -> None:
    typed = {"x of": "-870", "y of": "1140", "clearance": "0.2"}
    handle(page, "left cylinder / 1").focus()
    for (label, words), key in zip(typed.items(), cycle(keys), strict=False):
        type_into(page, page.locator("#picked").get_by_label(label), words, key)
    kept(page)
    page.reload()
    settle(page)
    handle(page, "left cylinder / 1").focus()
    for label, words in typed.items():
        expect(page.locator("#picked").get_by_label(label)).to_have_value(words)


@finished_by
def test_a_stroke_that_is_typed_is_there_after_a_reload(page: Page, keys: tuple[str, str]) -> None:
    for name, words, key in zip(("left cylinder", "right cylinder"), ("12.5", "-8"), keys, strict=True):
        type_into(page, page.locator(f"[data-stroke-typed='{name}']"), words, key)
    kept(page)
    page.reload()
    settle(page)
    expect(page.locator("[data-stroke-typed='left cylinder']")).to_have_value("12.5")
    expect(page.locator("[data-stroke-typed='right cylinder']")).to_have_value("-8")


def test_a_number_is_shown_as_the_document_writes_it_once_it_is_taken(page: Page) -> None:
    tolerance = page.get_by_label("tolerance, plus or minus mm")
    tolerance.fill("1/8 in")
    tolerance.press("Enter")
    expect(tolerance).to_have_value("3.175")
    expect(tolerance).to_be_focused()


def test_a_title_typed_on_after_enter_is_not_lost(page: Page) -> None:
    title = page.get_by_label("title", exact=True)
    title.fill("North")
    title.press("Enter")
    title.press_sequentially(" field")
    title.press("Enter")
    settle(page)
    expect(page.get_by_role("heading", level=1)).to_have_text("North field")


def test_a_title_typed_just_before_another_mount_is_opened_stays_with_its_own(page: Page, server: Server) -> None:
    page.get_by_label("title", exact=True).fill("Typed just before a click")
    choose_mount(page, CARRIAGE)
    expect(page.get_by_label("title", exact=True)).to_have_value(shipped(CARRIAGE)["title"])
    settle(page)
    assert document(page)["mount"]["title"] == shipped(CARRIAGE)["title"]
    assert "Typed just before a click" in titles_kept(server)


def test_a_title_being_typed_when_the_address_opens_another_mount_stays_with_its_own(
    page: Page, server: Server
) -> None:
    page.get_by_label("title", exact=True).fill("Typed before a link")
    page.evaluate("name => { location.hash = `n=${name}`; }", CARRIAGE)
    expect(page.get_by_label("title", exact=True)).to_have_value(shipped(CARRIAGE)["title"])
    assert "Typed before a link" in titles_kept(server)


def test_another_mount_is_opened_unasked_once_the_answer_that_keeps_the_last_change_is_there(
    page: Page, server: Server
) -> None:
    line = LiveLine(page)
    line.held = True
    page.get_by_label("title", exact=True).fill("Answered late")
    page.get_by_label("title", exact=True).press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Answered late")
    page.locator(f"[data-mount='{CARRIAGE}']").click()
    line.let_go()
    expect(page.get_by_label("title", exact=True)).to_have_value(shipped(CARRIAGE)["title"])
    expect(page.locator("#notices")).not_to_contain_text("would lose it")
    assert "Answered late" in titles_kept(server)


def test_what_was_refused_is_not_left_in_the_fields_of_another_mount(page: Page) -> None:
    tolerance = page.get_by_label("tolerance, plus or minus mm")
    tolerance.fill("a little")
    tolerance.press("Enter")
    expect(tolerance).to_have_attribute("aria-invalid", "true")
    choose_mount(page, CARRIAGE)
    expect(tolerance).not_to_have_attribute("aria-invalid", "true")
    expect(tolerance).to_have_value(f"{shipped(CARRIAGE)['tolerance']:g}")
    expect(page.get_by_role("alert")).to_be_hidden()


@finished_by
def test_what_is_typed_side_by_side_is_there_after_a_reload(pair: Pair, keys: tuple[str, str]) -> None:  # noqa: F811
    page = pair.page
    pair.open()
    typed = {
        "blade width of both mounts, mm": "2500",
        "load of both mounts, kN": "2.5",
        "tolerance ± of both mounts, mm": "4",
        "clearance in every joint of both mounts, mm": "0.1",
        "left end, mm up": "6",
    }
    for (label, words), key in zip(typed.items(), cycle(keys), strict=False):
        page.get_by_label(label).fill(words)
        page.get_by_label(label).press(key)
        pair.settle()
        expect(page.get_by_label(label)).to_have_value(words)
    page.wait_for_url(lambda url: "a=" in url and read_back(url, "a")["command"] != {})
    page.reload()
    pair.settle()
    for label, words in typed.items():
        expect(page.get_by_label(label)).to_have_value(words)


@finished_by
def test_title_and_note_typed_on_a_handout_are_there_after_a_reload(page: Page, keys: tuple[str, str]) -> None:
    open_handout(page, page.url.split("/#")[0].rstrip("/"), f"#m={packed(shipped(CARRIAGE))}")
    typed = {"title of the handout": "For the riding school", "note": "Seen on Tuesday"}
    for (label, words), key in zip(typed.items(), keys, strict=True):
        page.get_by_label(label, exact=True).fill(words)
        page.get_by_label(label, exact=True).press(key if label != "note" else "Tab")
    page.reload()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    for label, words in typed.items():
        expect(page.get_by_label(label, exact=True)).to_have_text(words)


def test_two_mounts_on_a_handout_keep_their_own_title(page: Page) -> None:
    both = linked(shipped("1-centre-pivot"), shipped("3-twin-cylinders"))
    open_handout(page, page.url.split("/#")[0].rstrip("/"), both)
    page.get_by_label("title of the handout").fill("Two for the riding school")
    page.reload()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    expect(page.get_by_label("title of the handout")).to_have_text("Two for the riding school")
