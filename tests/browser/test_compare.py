"""The sales engineer's errand: two mounts side by side on the customer's numbers."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Locator, Page, WebSocket, expect

from tests.browser.conftest import Server, Tabs, Watched, afresh
from tests.browser.gestures import middle
from tests.browser.papers import answered, at, packed, read_back, shipped
from tests.browser.test_accessibility import violations
from tests.mounts import Document
from tests.samples import the_rest

PIVOT, TWIN, HINGE, CRANK, WORN = (
    "1-centre-pivot",
    "3-twin-cylinders",
    "5-end-hinge",
    "6-crank-and-drop-rod",
    "7-worn-twin-cylinders",
)
SIDES = ("a", "b")


class Pair:
    """The page with its two mounts, and the newest question each side asked its server."""

    def __init__(self, page: Page, url: str) -> None:
        self.page, self.url = page, url
        self.asked: list[Document] = []
        self.told: list[Document] = []
        page.on("websocket", self._listen)

    def _listen(self, socket: WebSocket) -> None:
        if urlsplit(socket.url).path != "/live":
            return
        place = len(self.asked)
        self.asked.append({})
        self.told.append({})

        def sent(frame: str | bytes) -> None:
            self.asked[place] = json.loads(frame)

        def received(frame: str | bytes) -> None:
            self.told[place] = json.loads(frame)

        socket.on("framesent", sent)
        socket.on("framereceived", received)

    def open(self, fragment: str = "") -> None:
        self.asked.clear()
        self.told.clear()
        self.page.goto("about:blank")
        self.page.goto(f"{self.url}/compare{fragment}")
        self.settle()

    def settle(self) -> None:
        for side in SIDES:
            expect(self.page.locator(f"#side-{side}")).to_have_attribute("data-state", "live")
        expect(self.page.locator("#findings")).to_have_attribute("data-state", "live")

    def question(self, side: str) -> Document:
        """The mount a side shows, with its cylinders where the server worked them to."""
        pose = self.readout(side)["pose"]
        command = {name: move for name, move in pose["command"].items() if move} if pose else {}
        return {"mount": self.asked[SIDES.index(side)]["mount"], "command": command}

    def readout(self, side: str) -> dict[str, Any]:
        """What the server said to a side last."""
        readout: dict[str, Any] = self.told[SIDES.index(side)]["readout"]
        return readout

    def figure(self, name: str, side: str) -> Locator:
        return self.page.locator(f'[data-compare="{name}"][data-side="{side}"]')

    def value(self, name: str, side: str) -> float:
        return float(self.figure(name, side).get_attribute("data-value") or "nan")

    def words(self, name: str) -> str:
        return self.page.locator(f'[data-ratio="{name}"]').inner_text()

    def better(self, name: str) -> str:
        return self.page.locator(f'[data-ratio="{name}"]').get_attribute("data-better") or ""

    def replace(self, side: str, name: str) -> None:
        self.page.locator(f'#side-{side} [data-mount="{name}"]').click()
        self.settle()

    def drag(self, side: str, name: str, dx: float, dy: float) -> None:
        x, y = middle(self.page.locator(f'#sheet-{side} [data-handle="{name}"] .handle-target'))
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + dx, y + dy, steps=8)
        self.page.mouse.up()
        self.settle()

    def expect_numbers_of_the_readout(self) -> None:
        """Every number of both columns, by its place in the server's own answer."""
        for side in SIDES:
            readout = self.readout(side)
            for each in self.page.locator(f'[data-side="{side}"][data-path]').all():
                path = json.loads(each.get_attribute("data-path") or "")
                assert float(each.get_attribute("data-value") or "nan") == at(readout, path), path


@pytest.fixture
def pair(desk: Tabs, server: Server, watched: Watched) -> Iterator[Pair]:
    with afresh(desk, server, watched) as page:
        yield Pair(page, server.url)


def linked(a: Document, b: Document) -> str:
    return f"#a={packed(a)}&b={packed(b)}"


def with_load(mount: Document, newtons: float) -> Document:
    return {**mount, "load": {**mount["load"], "force": [0, newtons]}}


def test_it_opens_on_the_see_saw_and_the_twin_mount_with_the_servers_numbers(pair: Pair) -> None:
    pair.open()
    assert pair.question("a")["mount"]["title"] == shipped(PIVOT)["title"]
    assert pair.question("b")["mount"]["title"] == shipped(TWIN)["title"]
    for side in SIDES:
        assert pair.page.locator(f"[data-side={side}][data-path]").count() >= 9
    pair.expect_numbers_of_the_readout()


@pytest.mark.parametrize("side", SIDES)
def test_the_headline_numbers_are_the_worst_of_the_readout(pair: Pair, side: str) -> None:
    pair.open()
    readout = pair.readout(side)
    budget, cylinders = readout["budget"], readout["actuators"].values()
    steps = [abs(each["step"][way][end]) for each in cylinders for way in each["step"] for end in ("left", "right")]
    linear = max(budget[end]["worst"] for end in ("left", "right"))
    assert linear <= pair.value("worst", side) <= linear * 1.02
    assert pair.value("rss", side) == max(budget[end]["rss"] for end in ("left", "right"))
    assert pair.value("under-load", side) == max(budget[end]["worst_under_load"] for end in ("left", "right"))
    assert pair.value("load-ratio", side) == max(each["load_ratio"] for each in cylinders)
    assert pair.value("relief", side) == max(each["relief_share"] for each in cylinders)
    assert pair.value("joint-force", side) == max(each["worst"] for each in readout["forces"].values())
    assert abs(pair.value("step", side)) == max(steps)


@pytest.mark.parametrize(
    ("row", "noun"),
    [
        ("coupling", "the coupling"),
        ("worst", "the worst edge error"),
        ("load-ratio", "the load on the cylinder"),
        ("relief", "the use of the relief pressure"),
        ("joint-force", "the joint force"),
    ],
)
def test_the_ratio_is_said_in_words(pair: Pair, row: str, noun: str) -> None:
    pair.open()
    ratio = abs(pair.value(row, "a") / pair.value(row, "b"))
    times = f"{ratio:.1f}" if ratio < 9.95 else f"{ratio:.0f}"
    assert pair.words(row) == f"A has {times} times {noun}"
    assert pair.better(row) == "b"


def test_a_dial_reading_that_hangs_on_a_side_nothing_holds_is_not_ranked(pair: Pair) -> None:
    pair.open()
    assert pair.words("dial-right") == "not ranked: in A it hangs on a side that nothing holds"
    assert pair.better("dial-right") == ""


def test_the_load_on_the_short_lever_is_five_times_that_on_the_upright_cylinder(pair: Pair) -> None:
    pair.open()
    # By moments: 1200 mm / 200 mm against 2050 mm / 1700 mm.
    assert pair.value("load-ratio", "a") / pair.value("load-ratio", "b") == pytest.approx(6 / (2050 / 1700))
    assert pair.words("load-ratio") == "A has 5.0 times the load on the cylinder"


def test_a_number_that_is_not_there_is_a_dash_with_its_reason_and_no_verdict(pair: Pair) -> None:
    pair.open()
    expect(pair.figure("residual", "a")).to_have_text("–")
    assert pair.words("residual") == "A: needs exactly two cylinders"
    assert pair.better("residual") == ""


def test_each_is_judged_by_itself_before_the_two_are_compared(pair: Pair) -> None:
    pair.open()
    expect(pair.page.locator("#verdict-a")).to_contain_text("A fails The right end is up to 7.41\u00a0mm out")
    expect(pair.page.locator("#verdict-b")).to_contain_text("B passes as it stands The edge stays inside the tolerance")
    expect(pair.page.locator("#verdict-b")).to_contain_text(
        "With 18\u00a0% more load, at 1.18\u00a0kN, right cylinder, barrel"
    )
    expect(pair.page.locator("#verdict-a")).to_contain_text("The weight gives tilt cylinder, barrel end and tilt")
    squares = pair.page.locator(".verdict-key .swatch").evaluate_all("all => all.map(each => each.clientWidth)")
    assert set(squares) == {10}


def test_one_plain_sentence_each_way_says_where_each_is_better(pair: Pair) -> None:
    pair.open()
    expect(pair.page.locator("[data-sentence=a]")).to_have_text(
        re.compile("^Where A is better: cylinders 1 against 2; cross fall.* By itself A fails all the same.$")
    )
    expect(pair.page.locator("[data-sentence=b]")).to_contain_text(
        "Where B is better: it corrects each end alone, which A cannot; worst edge error 2.49\u00a0mm against 7.41"
    )


def test_where_the_rival_is_better_it_says_so(pair: Pair) -> None:
    pair.open()
    pair.replace("a", HINGE)
    assert pair.value("worst", "a") < pair.value("worst", "b")
    assert (pair.better("worst"), pair.words("worst")) == ("a", "B has 4 % more of the worst edge error")
    assert pair.value("joint-force", "a") > pair.value("joint-force", "b")
    assert (pair.better("joint-force"), pair.words("joint-force")) == ("b", "A has 2 % more of the joint force")
    assert (pair.better("coupling"), pair.words("coupling")) == ("", "not ranked: A cannot correct each end alone")


def test_a_correction_typed_at_one_end_is_timed_in_both(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_role("group", name="the end that is corrected").get_by_role("button", name="left").click()
    pair.page.get_by_label("correction asked of both, mm up").fill("15")
    pair.page.keyboard.press("Enter")
    pair.settle()
    asked = {"a": pair.question("a"), "b": pair.question("b"), "end": "left", "rise": 15}
    told = pair.page.request.post(f"{pair.url}/compare", data=asked).json()["corrections"]
    for side, each in zip(SIDES, told, strict=True):
        assert pair.value("time", side) == pytest.approx(each["time"], rel=1e-3)
        assert pair.value("oil", side) == pytest.approx(each["oil"], rel=1e-3)
    expect(pair.page.locator("#table")).to_contain_text("correction: left end 15.00\u00a0mm up")
    expect(pair.page).to_have_url(re.compile("&r=left,15$"))


def test_both_ends_of_both_mounts_go_where_they_are_asked_to(pair: Pair) -> None:
    pair.open()
    pair.replace("a", CRANK)
    pair.page.get_by_label("left end up or down").fill("-12.5")
    pair.page.get_by_label("right end up or down").fill("20")
    pair.settle()
    for side in SIDES:
        ends = pair.readout(side)["pose"]["ends"]
        assert ends["left"][1] == pytest.approx(-12.5, abs=0.001)
        assert ends["right"][1] == pytest.approx(20, abs=0.001)
        assert pair.value("lift-left", side) == ends["left"][1]
        assert pair.value("lift-right", side) == ends["right"][1]
    assert pair.question("a")["command"] != pair.question("b")["command"]
    pair.expect_numbers_of_the_readout()


def test_one_cylinder_brings_one_end_and_says_how_far_the_other_went(pair: Pair) -> None:
    pair.open()
    pair.page.locator('[data-end-typed="right"]').fill("4")
    pair.page.keyboard.press("Enter")
    pair.settle()
    assert pair.value("lift-right", "a") == pytest.approx(4, abs=0.001)
    assert pair.value("lift-left", "a") == pytest.approx(-4, abs=0.02)
    expect(pair.page.locator("[data-unmet=a]")).to_contain_text("The left end moves too, by −4.00 mm: tilt cylinder")
    expect(pair.page.locator("[data-unmet=b]")).to_have_count(0)
    assert pair.value("lift-left", "b") == pytest.approx(0, abs=0.001)


def test_an_end_that_nothing_moves_is_said_to_stay(pair: Pair) -> None:
    pair.open()
    pair.replace("a", HINGE)
    pair.page.get_by_label("left end up or down").fill("10")
    pair.settle()
    assert pair.value("lift-left", "a") == 0
    expect(pair.page.locator("[data-unmet=a]")).to_contain_text("Nothing can bring the left end to +10.00 mm")


def test_a_stroke_that_ends_is_said(pair: Pair) -> None:
    pair.open()
    for end in ("left", "right"):
        pair.page.locator(f'[data-end-typed="{end}"]').fill("140")
        pair.page.keyboard.press("Enter")
    pair.settle()
    assert pair.readout("b")["pose"]["stopped"]["code"] == "stroke-end"
    expect(pair.page.locator("[data-unmet=b]")).to_contain_text("fully in after 130.0 mm")


def test_as_drawn_brings_every_cylinder_back(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_label("right end up or down").fill("15")
    pair.settle()
    pair.page.get_by_role("button", name="as drawn").click()
    pair.settle()
    assert pair.question("a")["command"] == pair.question("b")["command"] == {}


def test_swap_changes_their_places_and_the_words_follow(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_role("button", name="swap").click()
    pair.settle()
    assert pair.question("a")["mount"]["title"] == shipped(TWIN)["title"]
    assert pair.words("load-ratio") == "B has 5.0 times the load on the cylinder"
    assert pair.better("load-ratio") == "a"
    pair.expect_numbers_of_the_readout()


def test_each_difference_is_said_and_what_hangs_on_it_gets_no_verdict(pair: Pair) -> None:
    pair.open(linked(with_load(shipped(PIVOT), 4500), {**shipped(WORN), "tolerance": 4}))
    listed = pair.page.locator("#differences .differing")
    expect(listed.locator("[data-difference=load]")).to_have_text(
        "Load: A 4.5 kN upward at the right end; B 1 kN upward at the right endA's in bothB's in both"
    )
    expect(listed.locator("[data-difference=tolerance]")).to_have_text(
        "Tolerance: A ±3 mm; B ±4 mmA's in bothB's in both"
    )
    expect(listed.locator("[data-difference=clearances]")).to_have_text(
        "Joint clearances: A 0.15 mm in every joint; B 0.6 mm to 1 mmA's in bothB's in both"
    )
    expect(listed.locator("li")).to_have_count(3)
    assert pair.words("worst") == "not ranked: load and joint clearances differ"
    assert pair.better("worst") == ""
    assert pair.better("coupling") == "b"


def test_clearances_that_differ_are_said_joint_by_joint(pair: Pair) -> None:
    worn = shipped(TWIN)
    worn["members"][1]["ends"][1]["clearance"] = 0.5
    pair.open(linked(shipped(TWIN), worn))
    expect(pair.page.locator("[data-difference=clearances]")).to_have_text(
        "Joint clearances: right cylinder, rod end A 0.15 mm, B 0.5 mmA's in bothB's in both"
    )


def test_taking_over_the_loads_says_what_it_changed_and_can_be_undone(pair: Pair) -> None:
    mine = with_load(shipped(PIVOT), 4500)
    mine["blade"] |= {"mass": 410}
    mine["allowances"] = []
    mine["tolerance"] = 5
    theirs = shipped(TWIN)
    pair.open(linked(mine, theirs))
    pair.page.get_by_role("button", name="take over A's loads").click()
    pair.settle()
    taken = pair.question("b")["mount"]
    assert taken["load"] == mine["load"]
    assert taken["blade"]["mass"] == 410
    assert taken["tolerance"] == 5
    assert "allowances" not in taken
    assert taken["members"] == theirs["members"]
    said = pair.page.locator("#differences [role=status]")
    expect(said).to_contain_text("B took over the loads of A.")
    expect(said).to_contain_text("Load: was 1 kN upward at the right end, now 4.5 kN upward at the right end")
    expect(said).to_contain_text("Mass: was 290 kg at 0, 190, now 410 kg at 0, 190")
    expect(said).to_contain_text("Allowances: was receiver reading ±1.5 mm at the sensors, now none")
    expect(pair.page.locator("#differences")).to_contain_text("Like for like")
    pair.expect_numbers_of_the_readout()
    pair.page.get_by_role("button", name="undo on B").click()
    pair.settle()
    assert pair.question("b")["mount"] == theirs


def test_a_load_is_carried_to_a_narrower_blade_at_the_same_share_of_its_width(pair: Pair) -> None:
    narrow = shipped(TWIN)
    narrow["blade"] |= {"left": [-1000, 0], "right": [1000, 0]}
    mine = shipped(PIVOT)
    mine["load"] = {"at": [600, 0], "force": [0, 2000]}
    pair.open(linked(mine, narrow))
    pair.page.get_by_role("button", name="take over A's loads").click()
    pair.settle()
    assert pair.question("b")["mount"]["load"] == {"at": [500, 0], "force": [0, 2000]}


def test_nothing_to_take_over_is_said(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_role("button", name="take over B's loads").click()
    expect(pair.page.locator("#differences [role=status]")).to_contain_text("Nothing to take over")


@pytest.mark.parametrize(("side", "handle"), [("a", "tilt cylinder / 2"), ("b", "right cylinder / 2")])
def test_a_joint_is_dragged_on_either_sheet(pair: Pair, side: str, handle: str) -> None:
    pair.open()
    other = "b" if side == "a" else "a"
    before, still = pair.value("coupling", side), pair.question(other)["mount"]
    pair.drag(side, handle, -12, 6)
    assert pair.question(side)["mount"] != shipped(PIVOT if side == "a" else TWIN)
    assert pair.question(other)["mount"] == still
    assert side == "a" or pair.value("coupling", side) != before
    pair.expect_numbers_of_the_readout()


def test_a_drag_keeps_the_ends_where_they_were_asked_to_be(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_label("right end up or down").fill("10")
    pair.settle()
    pair.drag("b", "right cylinder / 2", -30, 0)
    assert pair.value("lift-right", "b") == pytest.approx(10, abs=0.001)
    assert pair.value("lift-left", "b") == pytest.approx(0, abs=0.001)


def test_laid_over_one_another_the_hands_choose_whose_joints_move(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_role("button", name="laid over").click()
    boxes = [pair.page.locator(f"#sheet-{side}").bounding_box() for side in SIDES]
    assert boxes[0] == boxes[1]
    pair.page.get_by_role("group", name="whose joints are moved").get_by_role("button", name="B").click()
    pair.drag("b", "right cylinder / 1", 20, 0)
    assert pair.question("a")["mount"] == shipped(PIVOT)
    assert pair.question("b")["mount"] != shipped(TWIN)


def test_both_are_drawn_at_one_scale_and_one_magnification(pair: Pair) -> None:
    pair.open()
    widths = [middle_width(pair.page, side) for side in SIDES]
    assert widths[0] == pytest.approx(widths[1], abs=0.5)
    captions = [pair.page.locator(f"#sheet-{side} .staff-scale").first.text_content() for side in SIDES]
    assert captions[0] == captions[1]


def middle_width(page: Page, side: str) -> float:
    box = page.locator(f"#sheet-{side} .edge").bounding_box()
    assert box is not None
    return box["width"]


def test_inches_show_the_same_numbers(pair: Pair) -> None:
    pair.open()
    millimetres = pair.value("worst", "a")
    pair.page.get_by_role("button", name="in", exact=True).click()
    expect(pair.figure("worst", "a")).to_have_text(f"{millimetres / 25.4:.3f}\u00a0in")
    assert pair.value("worst", "a") == millimetres


def test_the_address_carries_both_mounts_where_they_stand(pair: Pair) -> None:
    pair.open()
    right = pair.page.get_by_label("right end up or down")
    right.fill("10")
    right.dispatch_event("change")
    pair.settle()
    expect(pair.page).to_have_url(re.compile("#a=.+&b=.+&e=0,10&r=right,20$"))
    link = pair.page.url
    assert read_back(link, "a") == pair.question("a")
    assert answered(pair.url, pair.question("a"))["pose"]["ends"] == pair.readout("a")["pose"]["ends"]
    pair.open(link[link.index("#") :])
    assert pair.value("lift-right", "a") == pytest.approx(10, abs=0.001)
    assert pair.value("lift-right", "b") == pytest.approx(10, abs=0.001)


def test_a_link_that_brings_one_mount_gets_a_rival_that_differs(pair: Pair) -> None:
    pair.open(f"#a={packed(shipped(TWIN))}")
    assert pair.question("b")["mount"]["title"] == shipped(PIVOT)["title"]
    pair.open(f"#a={packed(shipped(CRANK))}")
    assert pair.question("b")["mount"]["title"] == shipped(TWIN)["title"]


def test_a_link_that_cannot_be_read_is_said_and_shipped_mounts_stand_in(pair: Pair, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    broken = shipped(TWIN)
    broken["members"][0]["bore"] = -1
    pair.open(f"#a=garbage&b={packed(broken)}")
    said = pair.page.locator("#differences [role=status]")
    expect(said).to_contain_text("This link carries no mount that can be read")
    expect(said).to_contain_text("B was not opened. members[0].bore: found −1.0\u00a0mm")
    pair.expect_numbers_of_the_readout()


def test_the_handout_of_the_two_is_one_click_away(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_role("button", name="handout").click()
    expect(pair.page.locator("main")).to_have_attribute("data-state", "ready")
    expect(pair.page.locator("#title")).to_have_text(
        "Centre pivot, short lever and Two upright cylinders and a side stay, side by side"
    )


@pytest.mark.parametrize("scheme", ["dark", *the_rest("light")])
def test_neither_way_of_drawing_them_has_an_accessibility_violation(pair: Pair, scheme: str) -> None:
    pair.open()
    pair.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    assert violations(pair.page) == []
    pair.page.get_by_role("button", name="laid over").click()
    assert violations(pair.page) == []


# The customer's numbers


def put_into_both(pair: Pair, label: str, typed: str) -> None:
    pair.page.get_by_label(label, exact=True).fill(typed)
    pair.page.keyboard.press("Enter")
    pair.settle()


def test_the_customers_numbers_go_into_both_mounts_at_once(pair: Pair) -> None:
    pair.open()
    put_into_both(pair, "blade width of both mounts, mm", "3000")
    put_into_both(pair, "load of both mounts, kN", "2.5")
    put_into_both(pair, "tolerance ± of both mounts, mm", "5")
    put_into_both(pair, "clearance in every joint of both mounts, mm", "0.3")
    for side in SIDES:
        mount = pair.question(side)["mount"]
        assert (mount["blade"]["left"], mount["blade"]["right"]) == ([-1500, 0], [1500, 0])
        assert mount["load"] == {"at": [1500, 0], "force": [0, 2500]}
        assert mount["tolerance"] == 5
        assert {end["clearance"] for each in mount["members"] for end in each.get("ends", [each])} == {0.3}
    expect(pair.page.locator("#differences")).to_contain_text("Like for like")
    pair.expect_numbers_of_the_readout()


def test_another_width_says_what_was_scaled_and_what_stays_and_wear_shows_before_and_after(pair: Pair) -> None:
    pair.open()
    pair.page.get_by_label("sensors where the blade gets another width").select_option("stay")
    put_into_both(pair, "blade width of both mounts, mm", "3000")
    for side in SIDES:
        mount = pair.question(side)["mount"]
        assert mount["blade"]["mass"] == 362.5
        assert mount["sensors"] == shipped(PIVOT)["sensors"]
    expect(pair.page.locator("#differences [role=status]")).to_contain_text(
        "A: blade 2400.0\u00a0mm to 3000.0\u00a0mm wide. Mass by length: 290\u00a0kg to 363\u00a0kg. Sensors stay"
    )
    put_into_both(pair, "clearance the joints of both are worn to, mm", "0.8")
    worn = {side: pair.question(side) for side in SIDES}
    for question in worn.values():
        for joint in (each for member in question["mount"]["members"] for each in member.get("ends", [member])):
            joint["clearance"] = 0.8
    told = pair.page.request.post(f"{pair.url}/compare", data=worn).json()
    for side in SIDES:
        line = pair.page.locator(f"[data-worn-of={side}]")
        expect(line).to_contain_text(f"worn {told[side]['worst']:.2f}\u00a0mm, {told[side]['state']}.")


def test_a_number_that_one_of_the_two_cannot_take_is_refused_beside_its_field(pair: Pair, watched: Watched) -> None:
    pair.open()
    watched.expected = ["status of 422"]
    put_into_both(pair, "tolerance ± of both mounts, mm", "-2")
    expect(pair.page.get_by_role("alert")).to_contain_text("A: found −2.00\u00a0mm")
    assert pair.question("b")["mount"]["tolerance"] == 3


def test_any_difference_is_settled_either_way(pair: Pair) -> None:
    wide = shipped(PIVOT)
    wide["blade"] |= {"left": [-1500, 0], "right": [1500, 0]}
    wide["load"] = {"at": [1500, 0], "force": [0, 2000]}
    pair.open(linked(wide, shipped(WORN)))
    pair.page.get_by_role("button", name="Blade of A in both").click()
    pair.page.get_by_role("button", name="Load of A in both").click()
    pair.page.get_by_role("button", name="Joint clearances of A in both").click()
    pair.settle()
    expect(pair.page.locator("#differences .differing")).to_have_count(0)
    a, b = (pair.question(side)["mount"] for side in SIDES)
    assert a["blade"]["right"] == b["blade"]["right"] == [1500, 0]
    assert a["load"] == b["load"] == {"at": [1500, 0], "force": [0, 2000]}


def test_one_of_the_users_own_mounts_can_be_put_on_a_side(pair: Pair) -> None:
    pair.open()
    mine = {**shipped(CRANK), "title": "Customer's own"}
    kept = pair.page.request.post(f"{pair.url}/library", data={"mount": mine, "command": {}, "key": "compare-own"})
    assert kept.ok
    pair.open()
    pair.page.get_by_label("your own mounts for B").select_option(label="Customer's own")
    pair.settle()
    expect(pair.page.locator("#side-b h2")).to_have_text("Customer's own")
    assert pair.question("b")["mount"]["members"] == mine["members"]


def test_a_mount_file_can_be_put_on_a_side(pair: Pair, tmp_path: Path) -> None:
    pair.open()
    file = tmp_path / "rival.json"
    file.write_text(json.dumps({**shipped(HINGE), "title": "Rival"}))
    with pair.page.expect_file_chooser() as chosen:
        pair.page.get_by_label("your own mounts for A").select_option(label="a file…")
    chosen.value.set_files(file)
    expect(pair.page.locator("#side-a h2")).to_have_text("Rival")
    pair.settle()


def test_sketching_one_of_the_two_and_coming_back_finds_both_and_the_units(pair: Pair) -> None:
    pair.open(linked(shipped(CRANK), shipped(WORN)))
    pair.page.get_by_role("button", name="in", exact=True).click()
    pair.page.locator("#side-b").get_by_role("button", name="sketch it").click()
    expect(pair.page.locator("#mount-title")).to_have_text(shipped(WORN)["title"])
    expect(pair.page.locator("#readout")).to_have_attribute("data-state", "live")
    pair.asked.clear()
    pair.page.get_by_role("button", name="files").click()
    pair.page.get_by_role("button", name="side by side").click()
    pair.settle()
    expect(pair.page.locator("#side-a h2")).to_have_text(shipped(CRANK)["title"])
    expect(pair.page.locator("#side-b h2")).to_have_text(shipped(WORN)["title"])
    expect(pair.page.get_by_role("button", name="in", exact=True)).to_have_attribute("aria-pressed", "true")
