"""The document as a thing: what a mount knows of itself, and that writing it down loses nothing."""

import json
import math
from typing import Any

import pytest
from pydantic import ValidationError

from app.document.models import Mount, as_document, as_text
from app.document.reading import decode, read_mount
from app.members import Cylinder, Rod
from tests.mounts import crank_and_drop_rod, extras, guided, pivot_on_carriage, twin


def test_the_least_a_document_needs_is_format_title_blade_and_members() -> None:
    least = {"format": 1, "title": "Bare", "blade": {"left": [0, 0], "right": [1, 0]}, "members": []}
    mount = read_mount(least)
    assert mount.moving == ("blade",)
    assert mount.cylinders == ()
    assert (mount.oil, mount.load, mount.sensors, mount.allowances, mount.tolerance) == (None, None, None, (), None)


def test_the_blade_comes_first_among_the_moving_bodies() -> None:
    assert read_mount(pivot_on_carriage()).moving == ("blade", "carriage")


def test_cylinders_come_in_document_order() -> None:
    assert [each.id for each in read_mount(crank_and_drop_rod()).cylinders] == ["crank cylinder", "right"]


def test_joints_are_named_after_their_member_and_the_ends_are_numbered() -> None:
    named = [(name, member.id) for name, member, _, _ in read_mount(guided()).joints]
    assert named == [
        ("left / 1", "left"),
        ("left / 2", "left"),
        ("right / 1", "right"),
        ("right / 2", "right"),
        ("guide", "guide"),
    ]


def test_a_member_joins_its_first_body_to_its_second() -> None:
    first, *_, last = read_mount(pivot_on_carriage()).members
    assert first.joined == ("frame", "carriage")
    assert last.joined == ("carriage", "blade")


def test_the_drawn_length_is_the_distance_of_the_pins() -> None:
    stay = read_mount(twin()).members[2]
    assert isinstance(stay, Rod)
    assert stay.drawn_length == 1800


def test_a_cylinder_pushes_with_the_whole_bore_and_pulls_with_the_ring_around_the_rod() -> None:
    cylinder = read_mount(twin()).cylinders[0]
    assert cylinder.cap_area == pytest.approx(math.pi * 63**2 / 4)
    assert cylinder.annulus_area == pytest.approx(math.pi * (63**2 - 36**2) / 4)


def test_a_mount_cannot_be_changed_once_read() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        read_mount(twin()).title = "Another"  # type: ignore[misc]


def test_spaces_around_names_are_dropped() -> None:
    document = twin()
    document["members"][0]["id"] = "  left "
    document["members"][0]["ends"][1]["on"] = " blade "
    left = read_mount(document).members[0]
    assert isinstance(left, Cylinder)
    assert (left.id, left.ends[1].on) == ("left", "blade")


def test_clearance_defaults_to_none_at_all() -> None:
    assert {part.clearance for _, _, part, _ in read_mount(twin()).joints} == {0.0}


@pytest.mark.parametrize("plain", [twin, guided, pivot_on_carriage, crank_and_drop_rod])
def test_writing_a_mount_and_reading_it_again_gives_the_same_mount(plain: Any) -> None:  # noqa: ANN401
    mount = read_mount(plain(**extras()))
    assert read_mount(decode(as_text(mount))) == mount


def test_a_written_document_holds_what_was_given_and_no_defaults() -> None:
    document = {**twin(), "note": "Stay \u00b1 level"}
    assert as_document(read_mount(document)) == document


def test_what_was_given_as_null_is_left_out() -> None:
    assert "tolerance" not in as_document(read_mount({**twin(), "tolerance": None}))


def test_whole_numbers_are_written_without_a_point_and_the_rest_in_full() -> None:
    document = twin(tolerance=4.0)
    document["blade"]["left"] = [-1000.125, 0.0]
    text = as_text(read_mount(document))
    assert '"tolerance": 4\n' in text
    assert json.loads(text)["blade"]["left"] == [-1000.125, 0]


def test_the_text_keeps_letters_as_they_are_and_ends_with_a_line_break() -> None:
    text = as_text(read_mount({**twin(), "title": "Planierschild für Höfe"}))
    assert "Planierschild für Höfe" in text
    assert text.endswith("}\n")


def test_equal_documents_give_equal_mounts_and_a_moved_pivot_does_not() -> None:
    moved = twin()
    moved["members"][2]["ends"][0]["at"] = [-900, 201]
    assert read_mount(twin()) == read_mount(twin())
    assert read_mount(moved) != read_mount(twin())


def test_every_field_of_the_document_says_what_it_means() -> None:
    schema = Mount.model_json_schema()
    told = {
        f"{name}.{field}": "description" in about or "$ref" in about or "const" in about
        for name, part in schema["$defs"].items()
        for field, about in part["properties"].items()
    }
    assert [field for field, has in told.items() if not has] == []
