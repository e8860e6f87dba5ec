"""Why documents are refused: the exact place, the exact sentence, and all faults of a document in one answer."""

import copy
import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.document.errors import BadDocument, Fault, SketcherError, Unreadable
from app.document.messages import Value
from app.document.models import Mount, as_document, as_text
from app.document.reading import decode, read_file, read_mount
from tests.answers import typed
from tests.mounts import Document, crank_on_carriage, end, extras, guided, hinge, law, pin, rod, slide, twin

TOP_KEYS = (
    "format, title, note, blade, bodies, members, oil, valve, load, tyres, sensors, allowances, construction, "
    "outlines, dimensions, alike, tolerance, display"
)
CYLINDER_KEYS = "kind, id, ends, bore, rod, retracted, stroke, hose_volume"


def refused(document: object, at: str = "") -> list[tuple[str, str]]:
    """The faults a document is refused with, as (place, sentence)."""
    with pytest.raises(BadDocument) as refusal:
        read_mount(document, at)
    return [(fault.place, typed(fault.filled())) for fault in refusal.value.faults]


def with_member(member: Document) -> Document:
    """A sound mount with one more member, number 3."""
    return {**twin(), "members": [*twin()["members"], member]}


# What is missing and what is not known


@pytest.mark.parametrize(
    ("key", "sentence"),
    [
        ("format", "is missing; give it: version of this document format: 1"),
        ("title", "is missing; give it: title, 1 to 120 characters"),
        ("blade", "is missing; give it: the blade and its cutting edge"),
        ("members", "is missing; give it: pins, rods, cylinders and slides"),
    ],
)
def test_a_missing_key_is_named_with_what_it_means(key: str, sentence: str) -> None:
    document = twin()
    del document[key]
    assert refused(document) == [(key, sentence)]


@pytest.mark.parametrize(
    ("key", "meaning"),
    [
        ("id", "name of the member, used once"),
        ("ends", "its two pinned ends; a cylinder's first end is the barrel"),
        ("bore", "bore diameter"),
        ("rod", "piston rod diameter"),
        ("retracted", "pin to pin length fully closed"),
        ("stroke", "stroke"),
    ],
)
def test_a_missing_key_of_a_cylinder_is_placed_in_its_member(key: str, meaning: str) -> None:
    document = twin()
    del document["members"][1][key]
    assert refused(document) == [(f"members[1].{key}", f"is missing; give it: {meaning}")]


def test_a_missing_body_of_an_end_is_placed_in_that_end() -> None:
    document = twin()
    del document["members"][2]["ends"][1]["on"]
    meaning = "the body it is pinned to: 'frame', 'blade' or a name from bodies"
    assert refused(document) == [("members[2].ends[1].on", f"is missing; give it: {meaning}")]


def test_a_missing_second_end_is_named() -> None:
    document = twin()
    del document["members"][2]["ends"][1]
    meaning = "its two pinned ends; a cylinder's first end is the barrel"
    assert refused(document) == [("members[2].ends[1]", f"is missing; give it: {meaning}")]


def test_an_unknown_key_at_the_top_lists_the_known_ones() -> None:
    assert refused({**twin(), "colour": "red"}) == [
        ("colour", f"is no key of a mount document here; known keys are {TOP_KEYS}")
    ]


@pytest.mark.parametrize(
    ("path", "place", "known"),
    [
        (("blade",), "blade.colour", "left, right, mass, mass_centre"),
        (("members", 0), "members[0].colour", CYLINDER_KEYS),
        (("members", 2), "members[2].colour", "kind, id, ends, section_area, elastic_modulus"),
        (("members", 0, "ends", 1), "members[0].ends[1].colour", "on, at, clearance, rating, stiffness"),
        (("oil",), "oil.colour", "bulk_modulus, relief_pressure, entrained_air, preloaded, trapped_pressure"),
        (("load",), "load.colour", "at, force, reversing"),
        (("sensors",), "sensors.colour", "left, right"),
        (("allowances", 0), "allowances[0].colour", "label, plus_minus, at"),
    ],
)
def test_an_unknown_key_inside_a_part_lists_the_keys_of_that_part(
    path: tuple[str | int, ...], place: str, known: str
) -> None:
    document = twin(**extras())
    part: Any = document
    for step in path:
        part = part[step]
    part["colour"] = "red"
    assert refused(document) == [(place, f"is no key of a mount document here; known keys are {known}")]


def test_a_kind_that_is_not_there_and_one_that_is_unknown_are_told_apart() -> None:
    assert refused(with_member({"id": "mystery"})) == [
        ("members[3]", "has no kind; give kind: 'cylinder', 'rod', 'pin' or 'slide'")
    ]
    assert refused(with_member({"kind": "spring", "id": "mystery"})) == [
        ("members[3]", "has an unknown kind; give 'cylinder', 'rod', 'pin' or 'slide'")
    ]


# Wrong types and numbers out of range


@pytest.mark.parametrize("document", [None, [], "a mount", 7, True, math.nan])
def test_a_document_that_is_no_object_is_refused_as_a_whole(document: object) -> None:
    shown = json.dumps(document)
    assert refused(document) == [("", f"found {shown}, expected an object {{ }}")]


@pytest.mark.parametrize(
    ("number", "shown"), [(math.nan, "NaN"), (math.inf, "Infinity"), (-math.inf, "-Infinity")], ids=str
)
def test_a_number_that_is_not_finite_is_refused(number: float, shown: str) -> None:
    document = twin()
    document["blade"]["right"] = [number, 0]
    meaning = "right end of the cutting edge, [x, y]"
    assert refused(document) == [("blade.right[0]", f"found {shown}, expected a finite number: {meaning}")]


@pytest.mark.parametrize(
    ("key", "value", "sentence"),
    [
        ("bore", True, "found true, expected a number: bore diameter"),
        ("bore", "63", 'found "63", expected a number: bore diameter'),
        ("bore", None, "found null, expected a number: bore diameter"),
        ("rod", [36], "found [36], expected a number: piston rod diameter"),
        ("stroke", 0, "found 0.0 mm, expected 0.001 mm or more: stroke"),
        ("retracted", -5, "found −5.0 mm, expected 0.001 mm or more: pin to pin length fully closed"),
        ("hose_volume", -1, "found −1.0 mL, expected 0.0 mL or more: trapped oil in hose and ports on each side"),
        ("bore", 100001, "found 100001.0 mm, expected 100000.0 mm or less: bore diameter"),
        ("id", 3, "found 3, expected text in quotes: name of the member, used once"),
        ("id", "", "is empty; give at least one character: name of the member, used once"),
        ("id", "  ", "is empty; give at least one character: name of the member, used once"),
        ("id", "a / b", "found \"a / b\"; use no '/' and no control characters: name of the member, used once"),
        ("id", "a\tb", "found \"a\\tb\"; use no '/' and no control characters: name of the member, used once"),
        ("id", "a" * 61, "has too many characters; 60 are the most: name of the member, used once"),
    ],
)
def test_a_value_that_does_not_fit_is_shown_with_what_would(key: str, value: object, sentence: str) -> None:
    document = twin()
    document["members"][0][key] = value
    assert (f"members[0].{key}", sentence) in refused(document)


def test_a_number_too_large_for_the_machine_is_refused_and_not_shown_in_full() -> None:
    document = twin(tolerance=10**400)
    ((place, sentence),) = refused(document)
    assert place == "tolerance"
    assert sentence == f"found 1{'0' * 56}..., expected a number: grading tolerance at the edge, either way"


def test_a_negative_clearance_is_refused() -> None:
    document = twin()
    document["members"][0]["ends"][0]["clearance"] = -0.1
    meaning = (
        "the whole gap: bore minus pin, both gaps added where the pin floats in eye and lug, where one pin carries "
        "several members the gap in the common bore entered at one of them only; of a slide across it"
    )
    assert refused(document) == [
        ("members[0].ends[0].clearance", f"found −0.10 mm, expected 0.00 mm or more: {meaning}")
    ]


@pytest.mark.parametrize(
    ("place", "value", "sentence"),
    [
        ("members", {}, "found {}, expected a list [ ]: pins, rods, cylinders and slides"),
        (
            "bodies",
            "crank",
            'found "crank", expected a list [ ]: the moving bodies besides the blade, by name or with a mass',
        ),
        ("blade", [], "found [], expected an object { }: the blade and its cutting edge"),
        ("load", 4500, "found 4500, expected an object { }: working load; without it forces are not counted"),
        ("format", 2, "found 2, expected 1: version of this document format: 1"),
        ("display", "feet", "found \"feet\", expected 'metric' or 'inch': units the page starts in"),
        ("tolerance", 0, "found 0.00 mm, expected 0.001 mm or more: grading tolerance at the edge, either way"),
        ("title", "", "is empty; give at least one character: title, 1 to 120 characters"),
        ("title", "t" * 121, "has too many characters; 120 are the most: title, 1 to 120 characters"),
        ("note", "n" * 2001, "has too many characters; 2000 are the most: free text"),
    ],
)
def test_a_part_at_the_top_that_does_not_fit_is_shown_with_what_would(place: str, value: object, sentence: str) -> None:
    assert refused({**twin(), place: value}) == [(place, sentence)]


def test_a_coordinate_beyond_a_hundred_metres_is_refused() -> None:
    document = twin(load={"at": [100_001, 0], "force": [0, 1]})
    meaning = "where it acts on the blade as drawn, [x, y]"
    assert refused(document) == [("load.at[0]", f"found 100001.0 mm, expected 100000.0 mm or less: {meaning}")]


def test_a_point_of_three_numbers_is_refused() -> None:
    document = twin()
    document["blade"]["left"] = [-1000, 0, 0]
    ((place, sentence),) = refused(document)
    assert place == "blade.left"
    assert sentence.endswith("left end of the cutting edge, [x, y]")


def test_thirteen_bodies_and_sixty_one_members_are_too_many() -> None:
    bodies = [f"body {number}" for number in range(13)]
    members = [pin(f"pin {number}", "frame", "blade", (0, 0)) for number in range(61)]
    assert refused({**twin(), "bodies": bodies, "members": members}) == [
        (
            "bodies",
            "has too many entries; 12 are the most: the moving bodies besides the blade, by name or with a mass",
        ),
        ("members", "has too many entries; 60 are the most: pins, rods, cylinders and slides"),
    ]


def test_twelve_bodies_and_sixty_members_are_read() -> None:
    bodies = [f"body {number}" for number in range(12)]
    members = [pin(f"pin {number}", "frame", "blade", (0, 0)) for number in range(60)]
    mount = read_mount({**twin(), "bodies": bodies, "members": members})
    assert (len(mount.bodies), len(mount.members)) == (12, 60)


# Faults of meaning


def test_an_id_used_twice_is_placed_at_the_second_use() -> None:
    document = with_member(pin(" left ", "frame", "blade", (0, 0)))
    assert refused(document) == [("members[3].id", "the member id 'left' is used twice; give each its own name")]


def test_a_body_named_twice_or_after_the_frame_or_blade_is_refused() -> None:
    assert refused({**twin(), "bodies": ["crank", "crank", "frame", "blade"]}) == [
        ("bodies[1]", "the body 'crank' is used twice; give each its own name"),
        ("bodies[2]", "the body 'frame' is used twice; give each its own name"),
        ("bodies[3]", "the body 'blade' is used twice; give each its own name"),
    ]


def test_an_allowance_named_twice_is_refused() -> None:
    allowance = {"label": "receiver", "plus_minus": 1, "at": "ends"}
    assert refused(twin(allowances=[allowance, allowance])) == [
        ("allowances[1].label", "the label 'receiver' is used twice; give each its own name")
    ]


def test_a_body_that_is_not_there_is_refused_with_those_that_are() -> None:
    document = {**with_member(pin("odd", "frame", "crnk", (0, 0))), "bodies": ["crank"]}
    assert refused(document) == [("members[3].joins[1]", "there is no body 'crnk'; use one of blade, crank, frame")]


def test_an_end_on_a_body_that_is_not_there_is_refused_at_that_end() -> None:
    document = with_member(rod("odd", end("arm", (0, 0)), end("blade", (9, 0))))
    assert refused(document) == [("members[3].ends[0].on", "there is no body 'arm'; use one of blade, frame")]


def test_a_member_that_joins_a_body_to_itself_is_refused() -> None:
    document = with_member(pin("odd", "blade", "blade", (0, 0)))
    assert refused(document) == [("members[3].joins[1]", "'odd' joins 'blade' to itself; give two different bodies")]
    document = with_member(rod("odd", end("frame", (0, 0)), end("frame", (9, 0))))
    assert refused(document) == [("members[3].ends[1].on", "'odd' joins 'frame' to itself; give two different bodies")]


def test_ends_that_coincide_are_refused_even_when_a_thousandth_of_a_millimetre_is_all_there_is() -> None:
    near = with_member(rod("odd", end("frame", (5, 5)), end("blade", (5, 5.0009))))
    apart = with_member(rod("odd", end("frame", (5, 5)), end("blade", (5, 5.0011))))
    assert refused(near) == [
        ("members[3].ends", "the two ends of 'odd' coincide; move one, or join the bodies with a pin")
    ]
    assert len(read_mount(apart).members) == 4


def test_a_guide_without_a_direction_is_refused() -> None:
    document = with_member(slide("odd", "frame", "blade", (0, 0), (0, 0)))
    assert refused(document) == [
        ("members[3].direction", "has no length; give the way the guide runs, such as [0, 1] for plumb")
    ]


@pytest.mark.parametrize("place", ["blade", "sensors"])
def test_a_left_end_that_is_not_left_of_the_right_end_is_refused(place: str) -> None:
    document = {**twin(**extras()), place: {"left": [500, 0], "right": [-500, 0]}}
    found = "the left end at x = 500.0 mm is not to the left of the right end at x = −500.0 mm"
    assert refused(document) == [(f"{place}.left", f"{found}; swap them or move them apart")]


@pytest.mark.parametrize("bore", [36, 20])
def test_a_bore_no_larger_than_its_rod_is_refused(bore: int) -> None:
    document = twin()
    document["members"][0]["bore"] = bore
    assert refused(document) == [
        ("members[0].bore", f"the bore of {bore}.0 mm is not larger than the piston rod of 36.0 mm; make it larger")
    ]


@pytest.mark.parametrize(
    ("retracted", "side"),
    [
        (850, "shorter than its closed length of 850.0 mm; move an end or change that"),
        (300, "longer than its full reach of 700.0 mm (300.0 mm closed + 400.0 mm stroke); move an end or change them"),
    ],
)
def test_a_cylinder_drawn_outside_its_reach_is_refused_with_its_closed_length_and_stroke(
    retracted: int, side: str
) -> None:
    document = twin()
    document["members"][0]["retracted"] = retracted
    assert refused(document) == [("members[0].ends", f"'left' is drawn 800.0 mm long, {side}")]


@pytest.mark.parametrize("retracted", [800, 400])
def test_a_cylinder_drawn_fully_in_or_fully_out_is_read(retracted: int) -> None:
    document = twin()
    document["members"][0]["retracted"] = retracted
    assert read_mount(document).cylinders[0].retracted == retracted


# What a sentence carries for readers in other units


@pytest.mark.parametrize(
    ("change", "place", "code", "values"),
    [
        ({"bore": 30}, "bore", "bore-not-larger", {"bore": (30, "fine"), "rod": (36, "fine")}),
        (
            {"retracted": 850},
            "ends",
            "outside-stroke",
            {"name": ("left", "word"), "length": (800, "fine"), "shortest": (850, "fine"), "longest": (1250, "fine")},
        ),
        (
            {"stroke": 0},
            "stroke",
            "greater-than-equal",
            {"found": (0, "fine"), "limit": (0.001, "fine"), "meaning": ("stroke", "word")},
        ),
        (
            {"hose_volume": -1},
            "hose_volume",
            "greater-than-equal",
            {
                "found": (-1, "volume"),
                "limit": (0, "volume"),
                "meaning": ("trapped oil in hose and ports on each side", "word"),
            },
        ),
        ({"id": "a" * 61}, "id", "string-too-long", {"most": (60, "count")}),
        ({"kind": "spring"}, "", "union-tag-invalid", {}),
        ({"colour": "red"}, "colour", "extra-forbidden", {"known": (CYLINDER_KEYS, "word")}),
    ],
)
def test_a_fault_keeps_its_code_and_its_numbers_with_what_they_measure(
    change: Document, place: str, code: str, values: dict[str, Value]
) -> None:
    document = twin()
    document["members"][0] |= change
    with pytest.raises(BadDocument) as refusal:
        read_mount(document)
    (fault,) = [each for each in refusal.value.faults if each.place == f"members[0].{place}".rstrip(".")]
    assert fault.code == code
    assert fault.values.items() >= values.items()


def test_a_refusal_reads_in_inches_for_who_works_in_inches() -> None:
    document = twin()
    document["members"][0]["bore"] = 25.4
    with pytest.raises(BadDocument) as refusal:
        read_mount(document)
    (fault,) = refusal.value.faults
    expected = "the bore of 1.00 in is not larger than the piston rod of 1.42 in; make it larger"
    assert typed(fault.filled("inch")) == expected


def test_a_name_with_braces_stands_in_the_sentence_as_it_is() -> None:
    document = with_member(rod("{body} {0}", end("frame", (0, 0)), end("frame", (9, 0))))
    assert refused(document) == [
        ("members[3].ends[1].on", "'{body} {0}' joins 'frame' to itself; give two different bodies")
    ]


# All in one answer


def test_all_faults_of_a_document_come_in_one_answer() -> None:
    document = {**guided(), "bodies": ["crank", "crank"], "colour": "red", "tolerance": -4}
    left, right, guide = document["members"]
    del left["stroke"]
    left["ends"][0]["clearance"] = -1
    right |= {"bore": 30, "id": "left", "weight": 12}
    right["ends"][1]["on"] = "carriage"
    guide |= {"direction": [0, 0], "joins": ["blade", "blade"]}
    document["blade"]["left"] = [1000, 0]
    places = [place for place, _ in refused(document)]
    assert sorted(places) == sorted(
        [
            "colour",
            "tolerance",
            "bodies[1]",
            "blade.left",
            "members[0].stroke",
            "members[0].ends[0].clearance",
            "members[1].id",
            "members[1].bore",
            "members[1].weight",
            "members[1].ends[1].on",
            "members[2].direction",
            "members[2].joins[1]",
        ]
    )


def test_the_error_reads_as_one_line_a_fault() -> None:
    with pytest.raises(SketcherError) as refusal:
        read_mount({**twin(), "format": 2, "title": ""})
    assert str(refusal.value).splitlines() == [
        "format: found 2, expected 1: version of this document format: 1",
        "title: is empty; give at least one character: title, 1 to 120 characters",
    ]
    assert refusal.value.code == "bad-document"


def test_places_stand_under_the_message_that_carries_the_document() -> None:
    document = {**twin(), "format": 2}
    del document["members"][0]["bore"]
    places = [place for place, _ in refused(document, at="mount")]
    assert places == ["mount.format", "mount.members[0].bore"]
    assert refused([], at="mount")[0][0] == "mount"
    assert str(Fault("", "all of it is wrong")) == "all of it is wrong"


def test_a_refused_document_is_left_as_it_was() -> None:
    document = {**twin(), "colour": "red"}
    document["members"][0] |= {"weight": 12, "bore": 30}
    before = copy.deepcopy(document)
    refused(document)
    assert document == before


# Text and files


def test_text_that_is_no_json_is_placed_by_line_and_column() -> None:
    with pytest.raises(Unreadable) as failure:
        decode('{"format": 1,\n "title": }', "mine.json")
    assert failure.value.faults == [
        Fault("mine.json, line 2, column 11", "not valid JSON (Expecting value); mend the text there")
    ]


def test_a_key_that_stands_twice_in_one_object_is_refused() -> None:
    with pytest.raises(Unreadable, match="the key 'title' stands twice in one object; keep one"):
        decode('{"title": "a", "title": "b"}')


@pytest.mark.parametrize(
    "text", ["[" * 100_000, "9" * 5000, b"\xff\xfe{"], ids=["nested too deep", "number too long", "not UTF-8"]
)
def test_text_that_no_reader_can_take_is_refused_in_words(text: str | bytes) -> None:
    with pytest.raises(Unreadable, match="not a document that can be read: too deeply nested"):
        decode(text)


def test_parts_that_lie_too_deep_within_one_another_are_refused_in_words() -> None:
    deep: dict[str, object] = {}
    for _ in range(100_000):
        deep = {"blade": deep}
    with pytest.raises(BadDocument, match="is nested too deeply to be a mount document"):
        read_mount(deep)


def test_a_file_is_read_and_one_that_cannot_be_says_so(tmp_path: Path) -> None:
    there, not_text, not_there = tmp_path / "there.json", tmp_path / "not_text.json", tmp_path / "none.json"
    there.write_text(json.dumps(twin()), encoding="utf-8")
    not_text.write_bytes(b"\xff\xfe\x00")
    assert read_file(there) == read_mount(twin())
    with pytest.raises(Unreadable, match="is not text in UTF-8; save the document as UTF-8 JSON"):
        read_file(not_text)
    with pytest.raises(Unreadable, match=r"cannot be read \(.*\); give the path of a mount document"):
        read_file(not_there)


# Any JSON value at any place

WORDS = ["kind", "id", "ends", "at", "on", "joins", "direction", "frame", "blade", "pin", "rod", "cylinder", "left"]
NUMBERS = st.integers(-(10**6), 10**6) | st.sampled_from([10**400, -(10**30), 1e308, -0.0, 1e-9]) | st.floats()
LEAVES = (
    st.none() | st.booleans() | NUMBERS | st.sampled_from(WORDS) | st.text(st.characters(codec="utf-8"), max_size=5)
)
KEYS = st.sampled_from(WORDS) | st.text(st.characters(codec="utf-8"), max_size=5)
JSON_VALUES = st.recursive(
    LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3), max_leaves=8
)


def _spots(value: object) -> list[tuple[Any, Any]]:
    """Every (container, key) in a document."""
    found: list[tuple[Any, Any]] = []
    if isinstance(value, dict | list):
        keys = list(value) if isinstance(value, dict) else list(range(len(value)))
        for key in keys:
            found += [(value, key), *_spots(value[key])]
    return found


@st.composite
def spoilt_documents(draw: st.DrawFn) -> object:
    """A sound document with one to three values replaced, taken away or added, anywhere in it."""
    document = copy.deepcopy(draw(st.sampled_from([twin, guided, crank_on_carriage]))(**extras()))
    for _ in range(draw(st.integers(1, 3))):
        spots = _spots(document)
        where, key = spots[draw(st.integers(0, len(spots) - 1))]
        match draw(st.sampled_from(["replace", "take away", "add"])):
            case "replace":
                where[key] = draw(JSON_VALUES)
            case "take away":
                del where[key]
            case _ if isinstance(where, dict):
                where[draw(KEYS)] = draw(JSON_VALUES)
            case _:
                where.append(draw(JSON_VALUES))
    return document


def faults_or_mount(document: object) -> list[Fault] | Mount:
    try:
        return read_mount(document, at="mount")
    except BadDocument as refusal:
        return refusal.faults


@settings(law, max_examples=3 * law.max_examples)
@given(spoilt_documents() | JSON_VALUES)
def test_any_value_at_any_place_gives_a_mount_or_a_refusal_with_place_and_sentence(document: object) -> None:
    answer = faults_or_mount(document)
    if isinstance(answer, Mount):
        assert read_mount(decode(as_text(answer))) == answer
    else:
        assert answer
        assert all(fault.place.startswith("mount") and fault.filled() for fault in answer)


# Bodies with a mass, tyres, air in the oil


def test_a_body_may_stand_as_its_name_or_with_its_mass() -> None:
    drawn = hinge(bodies=["spare", {"name": "ballast", "mass": 60, "mass_centre": [0, 500]}])
    mount = read_mount(drawn)
    assert mount.moving == ("blade", "spare", "ballast")
    assert mount.weights == (("ballast", (0, 500), 60),)
    assert as_document(mount)["bodies"] == ["spare", {"name": "ballast", "mass": 60, "mass_centre": [0, 500]}]


@pytest.mark.parametrize(
    ("body", "fault"),
    [
        (
            {"name": "b", "mass": 5},
            ("bodies[0].mass_centre", "'b' has mass without mass_centre; give both, or neither"),
        ),
        (
            {"name": "b", "mass_centre": [0, 0]},
            ("bodies[0].mass", "'b' has mass_centre without mass; give both, or neither"),
        ),
        ({"mass": 5}, ("bodies[0].name", "is missing; give it: its name, used once")),
        (
            7,
            (
                "bodies[0]",
                "found 7, expected text in quotes: the moving bodies besides the blade, by name or with a mass",
            ),
        ),
    ],
)
def test_half_a_weight_and_a_body_without_a_name_are_refused_in_place(body: object, fault: tuple[str, str]) -> None:
    assert fault in refused(hinge(bodies=[body]))


def test_the_same_name_for_a_plain_and_a_weighed_body_is_refused() -> None:
    drawn = hinge(bodies=["b", {"name": "b", "mass": 5, "mass_centre": [0, 0]}])
    assert refused(drawn) == [("bodies[1]", "the body 'b' is used twice; give each its own name")]


def test_tyres_the_wrong_way_round_are_refused() -> None:
    (fault,) = refused(hinge(tyres={"left": 850, "right": -850, "stiffness": 350}))
    assert fault[0] == "tyres.left"
    assert "swap them" in fault[1]


def test_air_in_preloaded_oil_needs_the_pressure_it_is_trapped_at() -> None:
    oil = {"bulk_modulus": 1400, "entrained_air": 0.01, "preloaded": True}
    (fault,) = refused(hinge(oil=oil))
    assert fault[0] == "oil.trapped_pressure"
    assert read_mount(hinge(oil=oil | {"trapped_pressure": 1})).oil is not None


@pytest.mark.parametrize(("key", "value"), [("entrained_air", 0.3), ("entrained_air", -0.1), ("preloaded", 1)])
def test_oil_that_cannot_be_is_refused(key: str, value: object) -> None:
    assert [place for place, _ in refused(hinge(oil={"bulk_modulus": 1400, key: value}))] == [f"oil.{key}"]
