"""What is left on the customer's table: one printed page, tried in Chromium's own print."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Server, Tabs, Watched, afresh
from tests.browser.papers import (
    BODIES,
    answered,
    as_many_members_as_fit,
    at,
    numbers_with_places,
    open_handout,
    packed,
    print_to,
    shipped,
    squeezed,
)
from tests.browser.test_accessibility import violations
from tests.mounts import Document
from tests.samples import crossed, the_rest

SHIPPED = (
    "1-centre-pivot",
    "2-pivot-on-carriage",
    "3-twin-cylinders",
    "4-cylinders-over-sensors",
    "5-end-hinge",
    "6-crank-and-drop-rod",
    "7-worn-twin-cylinders",
    "9-pivot-in-inches",
)
SYSTEMS = ("metric", "inch")
CUSTOMS = (("metric", "A4"), ("inch", "Letter"))
"""Units with the paper that goes with them."""


@pytest.fixture
def page(desk: Tabs, server: Server, watched: Watched) -> Iterator[Page]:
    with afresh(desk, server, watched) as opened:
        opened.set_viewport_size({"width": 1280, "height": 900})
        yield opened


def fragment(system: str, **mounts: Document) -> str:
    parts = [f"{name}={packed(mount)}" for name, mount in mounts.items()]
    return "#" + "&".join([*parts, f"u={system}"])


@pytest.mark.parametrize(
    ("name", "system"),
    [
        (SHIPPED[0], "metric"),
        (SHIPPED[2], "metric"),
        (SHIPPED[5], "inch"),
        *the_rest(*((name, "metric") for name in SHIPPED if name not in (SHIPPED[0], SHIPPED[2]))),
    ],
)
def test_every_number_is_the_readouts_own(page: Page, server: Server, name: str, system: str) -> None:
    open_handout(page, server.url, fragment(system, m=shipped(name)))
    readout = answered(server.url, {"mount": shipped(name), "command": {}})
    shown = numbers_with_places(page, "#leaf [data-path]")
    assert len(shown) > 20
    for path, value in shown:
        assert value == at(readout, path), path


def test_a_worked_mount_is_printed_where_it_stands(page: Page, server: Server) -> None:
    command = {"left cylinder": -20.0, "right cylinder": 12.5}
    twin = shipped("3-twin-cylinders")
    open_handout(page, server.url, f"#m={packed(twin, command)}")
    readout = answered(server.url, {"mount": twin, "command": command})
    for path, value in numbers_with_places(page):
        assert value == at(readout, path), path
    expect(page.locator(".inputs")).to_contain_text("left cylinder 20.00 mm shorter than drawn")


@pytest.mark.parametrize(("system", "per_mm", "digits"), [("metric", 1, 2), ("inch", 1 / 25.4, 3)])
def test_what_is_printed_is_the_number_in_the_chosen_unit(
    page: Page, server: Server, system: str, per_mm: float, digits: int
) -> None:
    open_handout(page, server.url, fragment(system, m=shipped("1-centre-pivot")))
    worst = page.locator("[data-handout=worst] .number output")
    value = float(worst.get_attribute("data-value") or "nan")
    unit = "mm" if system == "metric" else "in"
    expect(worst).to_have_text(f"{value * per_mm:.{digits}f}\u00a0{unit}")


@pytest.mark.parametrize(("end", "system"), crossed(["left", "right"], list(SYSTEMS)))
def test_the_printed_budget_adds_up_to_the_printed_worst(page: Page, server: Server, end: str, system: str) -> None:
    open_handout(page, server.url, fragment(system, m=shipped("6-crank-and-drop-rod")))
    column = 2 if end == "left" else 4
    parts = page.locator(f"[data-source] > :nth-child({column})").all_inner_texts()
    total = page.locator(f".budget .total > :nth-child({column})").first.inner_text()
    assert sum(round(1000 * float(part)) for part in parts) == round(1000 * float(total))


def test_the_working_is_plain_sums_that_come_out(page: Page, server: Server) -> None:
    open_handout(page, server.url, fragment("metric", m=shipped("3-twin-cylinders")))
    lines = page.locator(".working li").all_inner_texts()
    assert lines[0] == (
        "When right cylinder moves, the blade turns about a point 350\u00a0mm from the left end and 2050\u00a0mm from "
        "the right end on the level: coupling = −350\u00a0mm / 2050\u00a0mm = −0.17."
    )
    assert "2050\u00a0mm / 1700\u00a0mm = 1.21 times the load, 1.00\u00a0kN × 1.21 = 1.21\u00a0kN." in lines[1]
    # Piston of 63 mm bore: pi / 4 * 63^2 = 3117 mm2.
    assert "1.21\u00a0kN / 3117\u00a0mm² = 0.39\u00a0MPa" in lines[2]
    [summed] = [line for line in lines if line.startswith("All at their worst")]
    terms = [float(term) for term in re.findall(r"(\d\.\d\d) \(", summed)]
    total = re.search(r"= (\d\.\d\d)\u00a0mm against ±3\.00", summed)
    assert total
    assert sum(terms) == pytest.approx(float(total.group(1)))


def test_a_crank_is_worked_by_how_far_the_loads_point_moves(page: Page, server: Server) -> None:
    mount = shipped("6-crank-and-drop-rod")
    mount["load"]["at"] = mount["blade"]["left"]
    open_handout(page, server.url, fragment("metric", m=mount))
    words = "While crank cylinder lengthens, the load's point moves 1.11 times as far along the load"
    expect(page.locator(".working li").nth(1)).to_contain_text(words)


@pytest.mark.parametrize(
    ("name", "system", "paper"),
    [
        *((name, *CUSTOMS[number % 2]) for number, name in enumerate(SHIPPED[:2])),
        *the_rest(*((name, *CUSTOMS[number % 2]) for number, name in enumerate(SHIPPED) if number > 1)),
        *the_rest(*((name, *CUSTOMS[1 - number % 2]) for number, name in enumerate(SHIPPED))),
    ],
)
def test_a_shipped_mount_prints_on_one_page(
    page: Page, server: Server, tmp_path: Path, name: str, system: str, paper: str
) -> None:
    open_handout(page, server.url, fragment(system, m=shipped(name)))
    text = print_to(page, tmp_path / "handout.pdf", paper)
    assert len(text) == 1
    assert "checked by a licensed engineer" in " ".join(text[0].split())
    assert "local codes" in " ".join(text[0].split())


def test_the_worst_over_the_travel_stands_on_the_same_page_when_asked_for(
    page: Page, server: Server, tmp_path: Path
) -> None:
    open_handout(page, server.url, fragment("metric", m=shipped(SHIPPED[1])))
    page.get_by_label("over the travel").check()
    expect(page.locator("#travel svg.curves")).to_have_count(2, timeout=30_000)
    expect(page.get_by_role("heading", name="Over the whole travel")).to_contain_text("✗ outside the tolerance")
    (printed,) = print_to(page, tmp_path / "handout.pdf", "A4")
    assert "worst edge error 18.74 mm, outside the tolerance, with both fully in (8.26 mm as drawn)" in " ".join(
        printed.split()
    )
    page.reload()
    expect(page.get_by_label("over the travel")).to_be_checked(timeout=30_000)


def test_a_mount_that_passes_is_said_to_pass_as_it_stands_and_its_key_keeps_clear_of_its_words(
    page: Page, server: Server
) -> None:
    open_handout(page, server.url, fragment("metric", m=shipped(SHIPPED[2])))
    expect(page.locator("[data-verdict]")).to_contain_text("✓ passes as it stands")
    for part in page.locator(".verdict-part").all():
        square, words = (part.locator(each).bounding_box() for each in (".swatch", "span"))
        assert square is not None
        assert words is not None
        assert square["x"] + square["width"] < words["x"]


@pytest.mark.parametrize(("system", "paper"), [CUSTOMS[1], *the_rest(CUSTOMS[0])])
@pytest.mark.parametrize(("a", "b"), [(0, 2), *the_rest((5, 6), (1, 5), (6, 7))])
def test_two_mounts_print_on_two_pages(
    page: Page, server: Server, tmp_path: Path, a: int, b: int, system: str, paper: str
) -> None:
    open_handout(page, server.url, fragment(system, a=shipped(SHIPPED[a]), b=shipped(SHIPPED[b])))
    text = print_to(page, tmp_path / "handout.pdf", paper)
    assert len(text) == 2
    assert "Cylinderloadforedgeload" in squeezed(text[0])
    assert "checked by a licensed engineer" in " ".join(text[1].split())


def test_both_stand_worn_beside_as_they_are_at_one_scale(page: Page, server: Server) -> None:
    mounts = {"a": shipped(SHIPPED[0]), "b": shipped(SHIPPED[6])}
    open_handout(page, server.url, fragment("metric", **mounts) + "&x=1.5,metre,ends,stay")
    for mount in mounts.values():
        for joint in (each for member in mount["members"] for each in member.get("ends", [member])):
            joint["clearance"] = max(joint.get("clearance", 0), 1.5)
    told = page.request.post(f"{server.url}/compare", data={name: {"mount": each} for name, each in mounts.items()})
    for side, verdict in ((each, told.json()[each]) for each in mounts):
        line = page.locator(f"[data-worn-of={side}]")
        expect(line).to_contain_text(f"{side.upper()} {verdict['state']} with pins worn to 1.50\u00a0mm")
        expect(line).to_contain_text(f"{verdict['worst']:.2f}\u00a0mm after")
    limits = page.locator(".verdict-bar .limit").evaluate_all("all => all.map((each) => each.getAttribute('d'))")
    assert len(limits) == 8
    assert len(set(limits)) == 2


@pytest.mark.parametrize(("a", "b"), [(1, 2), *the_rest((0, 2), (5, 6), (6, 7))])
def test_two_mounts_with_their_travel_and_a_run_print_on_two_pages(
    page: Page, server: Server, tmp_path: Path, a: int, b: int
) -> None:
    open_handout(page, server.url, fragment("metric", a=shipped(SHIPPED[a]), b=shipped(SHIPPED[b])) + "&o=1")
    page.get_by_label("a run").check()
    expect(page.locator("[data-best-sentence=decoupled]")).to_contain_text("at gain", timeout=60_000)
    for paper in ("A4", "Letter"):
        text = print_to(page, tmp_path / "handout.pdf", paper)
        assert len(text) == 2
        assert "checked by a licensed engineer" in " ".join(text[1].split())


@pytest.mark.parametrize(("members", "paper"), [(60, "Letter"), *the_rest((39, "A4"), (39, "Letter"), (60, "A4"))])
def test_two_mounts_with_many_members_print_on_two_pages_and_what_is_summed_up_is_said(
    page: Page, server: Server, tmp_path: Path, members: int, paper: str
) -> None:
    mount = as_many_members_as_fit(members)
    open_handout(page, server.url, fragment("metric", a=mount, b=shipped(SHIPPED[2])))
    text = print_to(page, tmp_path / "handout.pdf", paper)
    assert len(text) == 2
    assert f"{members - 6} more" in " ".join(text[1].split())
    assert_nothing_sticks_out(page)


@pytest.mark.parametrize("side", ["a", "b"])
def test_the_comparison_is_the_readouts_own(page: Page, server: Server, side: str) -> None:
    mounts = {"a": shipped("1-centre-pivot"), "b": shipped("3-twin-cylinders")}
    open_handout(page, server.url, fragment("metric", **mounts))
    readout = answered(server.url, {"mount": mounts[side], "command": {}})
    half = 1 if side == "a" else 2
    in_table = numbers_with_places(page, f".comparison [data-side={side}][data-path]")
    beside = numbers_with_places(page, f".half:nth-child({half}) [data-path]")
    assert len(in_table) >= 10
    assert len(beside) > 20
    for path, value in in_table + beside:
        assert value == at(readout, path), path
    expect(page.locator("[data-ratio=load-ratio]")).to_have_text("A has 5.0 times the load on the cylinder")


@pytest.mark.parametrize("paper", ["A4", *the_rest("Letter")])
def test_nothing_is_cut_off_with_sixty_members(page: Page, server: Server, tmp_path: Path, paper: str) -> None:
    mount = as_many_members_as_fit(60)
    assert len(mount["members"]) == 60
    open_handout(page, server.url, fragment("metric", m=mount))
    pages = print_to(page, tmp_path / "handout.pdf", paper)
    text = squeezed("".join(pages))
    assert 2 <= len(pages) <= 3
    assert [each["id"] for each in mount["members"] if squeezed(each["id"]) not in text] == []
    assert "fight one another" in " ".join(" ".join(pages).split())
    assert_nothing_sticks_out(page)


@pytest.mark.parametrize("paper", ["Letter", *the_rest("A4")])
def test_a_budget_of_a_hundred_sources_goes_on_tidily(page: Page, server: Server, tmp_path: Path, paper: str) -> None:
    mount = as_many_members_as_fit(39)
    open_handout(page, server.url, fragment("inch", m=mount))
    readout = answered(server.url, {"mount": mount, "command": {}})
    rows = page.locator("[data-source]")
    assert rows.count() == len(readout["budget"]["left"]["sources"]) > 75
    pages = print_to(page, tmp_path / "handout.pdf", paper)
    text = squeezed("".join(pages))
    missing = [label for label in rows.locator("th").all_inner_texts() if squeezed(label) not in text]
    assert missing == []
    assert len(pages) <= 4
    assert_nothing_sticks_out(page)
    assert all(body in " ".join(" ".join(pages).split()) for body in BODIES)


def assert_nothing_sticks_out(page: Page) -> None:
    """No text of the printed leaf reaches past its edge or is clipped by its own box."""
    page.emulate_media(media="print")
    out = page.evaluate(
        """() => {
            const leaf = document.querySelector(".leaf").getBoundingClientRect();
            const all = [...document.querySelectorAll(".leaf :is(p, th, td, li, h1, h2, h3)")];
            const wide = (e) => e.getBoundingClientRect().right > leaf.right + 1 || e.scrollWidth > e.clientWidth + 1;
            return all.filter(wide)
                .map((e) => e.textContent.slice(0, 60));
        }"""
    )
    page.emulate_media(media="screen")
    assert out == []


def test_the_title_and_the_note_are_the_users_own(page: Page, server: Server, tmp_path: Path) -> None:
    open_handout(page, server.url)
    page.get_by_role("textbox", name="title of the handout").fill("Arena blade for the riding school")
    page.get_by_role("textbox", name="note").fill("Shown on 12 May.\nPlay to be measured again after the winter.")
    text = " ".join(print_to(page, tmp_path / "handout.pdf", "A4")[0].split())
    assert "Arena blade for the riding school" in text
    assert "Shown on 12 May. Play to be measured again after the winter." in text
    assert "Your note" not in text


def test_markup_in_a_title_stays_words(page: Page, server: Server) -> None:
    mount = {**shipped("3-twin-cylinders"), "title": "<b onmouseover=alert(1)>bold</b>"}
    open_handout(page, server.url, fragment("metric", m=mount))
    expect(page.locator("#title")).to_have_text(mount["title"])
    expect(page.locator("main b")).to_have_count(0)


def test_a_long_note_makes_the_drawing_give_way_before_a_second_page(
    page: Page, server: Server, tmp_path: Path
) -> None:
    open_handout(page, server.url)
    before = drawn_height(page)
    page.get_by_role("textbox", name="note").fill("\n".join(f"line {number}" for number in range(5)))
    assert drawn_height(page) < before
    assert len(print_to(page, tmp_path / "handout.pdf", "Letter")) == 1


def drawn_height(page: Page) -> float:
    box = page.locator(".drawing svg").bounding_box()
    assert box is not None
    return box["height"]


def test_bar_and_handles_stay_off_the_paper(page: Page, server: Server) -> None:
    open_handout(page, server.url)
    expect(page.get_by_role("button", name="Print")).to_be_visible()
    page.emulate_media(media="print")
    expect(page.locator("header.bar")).to_be_hidden()
    expect(page.locator(".layer-handles").first).to_be_hidden()


def test_print_is_the_browsers_own(page: Page, server: Server) -> None:
    page.add_init_script("window.printed = 0; window.print = () => { window.printed += 1; };")
    open_handout(page, server.url)
    page.get_by_role("button", name="Print").click()
    assert page.evaluate("window.printed") == 1


def test_the_units_are_switched_and_stay_in_the_address(page: Page, server: Server) -> None:
    open_handout(page, server.url)
    page.get_by_role("button", name="in", exact=True).click()
    expect(page).to_have_url(re.compile("&u=inch$"))
    expect(page.locator(".block")).to_contain_text("in, lbf, psi")
    open_handout(page, server.url, page.url[page.url.index("#") :])
    expect(page.locator(".block")).to_contain_text("in, lbf, psi")


def test_a_mount_that_shows_in_inches_is_printed_in_inches(page: Page, server: Server) -> None:
    open_handout(page, server.url, f"#m={packed({**shipped('3-twin-cylinders'), 'display': 'inch'})}")
    expect(page.locator(".block")).to_contain_text("in, lbf, psi")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_leaf_is_ink_on_white_whatever_the_page_wears(page: Page, server: Server, scheme: str) -> None:
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    open_handout(page, server.url)
    colours = page.locator(".leaf").evaluate("e => [getComputedStyle(e).backgroundColor, getComputedStyle(e).color]")
    assert colours == ["rgb(255, 255, 255)", "rgb(0, 0, 0)"]


def test_every_kind_of_source_has_a_hatch_of_its_own_for_black_and_white(page: Page, server: Server) -> None:
    open_handout(page, server.url)
    kinds = ("clearance", "oil", "step", "stretch", "allowance")
    cues = [page.locator(f".cue-{kind}").first.evaluate("e => getComputedStyle(e).fill") for kind in kinds]
    swatches = [page.locator(f".key .swatch-{kind} .cue").evaluate("e => getComputedStyle(e).fill") for kind in kinds]
    assert len(set(cues)) == len(kinds)
    assert len(set(swatches)) == len(kinds)


def test_what_is_not_counted_is_said_with_its_reason(page: Page, server: Server) -> None:
    mount = {key: value for key, value in shipped("3-twin-cylinders").items() if key not in ("oil", "valve")}
    open_handout(page, server.url, fragment("metric", m=mount))
    expect(page.locator("#assumptions")).to_contain_text("oil squeezed by the load (needs the oil's bulk modulus)")
    expect(page.locator("#assumptions")).to_contain_text("smallest step of the valve (needs the valve's flow")


def test_a_refused_mount_is_said_and_nothing_is_printed_for_it(page: Page, server: Server, watched: Watched) -> None:
    watched.expected = ["status of 422"]
    broken = shipped("3-twin-cylinders")
    broken["members"][0]["bore"] = -1
    page.goto(f"{server.url}/handout#m={packed(broken)}")
    expect(page.locator("main")).to_have_attribute("data-state", "refused")
    expect(page.locator("#title")).to_contain_text("This mount was refused. members[0].bore: found −1.0\u00a0mm")
    expect(page.locator("#leaf")).to_be_empty()


@pytest.mark.parametrize("scheme", ["dark", *the_rest("light")])
def test_the_handout_has_no_accessibility_violation(page: Page, server: Server, scheme: str) -> None:
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    open_handout(page, server.url)
    assert violations(page) == []
