"""Held dimensions in a document: what they may say, and why they are refused."""

from typing import Any

import pytest

from app.document.errors import BadDocument
from app.document.models import as_document
from app.document.reading import read_mount
from tests.answers import typed
from tests.mounts import Document, twin


def held(first: str, second: str, way: str = "along") -> dict[str, Any]:
    return {"between": [first, second], "way": way}


def with_dimensions(*dimensions: object) -> Document:
    return {**twin(), "dimensions": list(dimensions)}


def refused(document: object) -> list[tuple[str, str]]:
    with pytest.raises(BadDocument) as refusal:
        read_mount(document)
    return [(fault.place, typed(fault.filled())) for fault in refusal.value.faults]


LEFT = ("left / 1", "left / 2")
RIGHT = ("right / 1", "right / 2")


def test_a_document_without_dimensions_stays_as_it_is() -> None:
    assert as_document(read_mount(twin())) == twin()


def test_dimensions_are_kept_as_they_came() -> None:
    document = with_dimensions(held(*LEFT), held(LEFT[1], "blade / left", "level"), held(*RIGHT, "upright"))
    assert as_document(read_mount(document)) == document


def test_a_joint_that_is_not_there_is_named_with_those_that_are() -> None:
    [(place, sentence)] = refused(with_dimensions(held(*LEFT), held("left", "blade / left")))
    assert place == "dimensions[1].between[0]"
    assert sentence.startswith("there is no joint 'left'; use one of blade / left, blade / right, left / 1")


def test_a_joint_has_no_distance_from_itself() -> None:
    sentence = "'left / 1' stands twice; give two different joints"
    assert refused(with_dimensions(held(LEFT[0], LEFT[0]))) == [("dimensions[0].between[1]", sentence)]


def test_joints_at_one_place_are_held_level_and_upright_but_not_along() -> None:
    document = with_dimensions(held("left / 2", "stay / 1", "level"), held("left / 2", "stay / 1", "upright"))
    document["members"][2]["ends"][0]["at"] = document["members"][0]["ends"][1]["at"]
    assert len(read_mount(document).dimensions) == 2
    sentence = "'left / 2' and 'stay / 1' lie 0.0 mm apart, which has no direction; hold them level and upright"
    assert refused({**document, "dimensions": [held("left / 2", "stay / 1")]}) == [("dimensions[0]", sentence)]


def test_a_dimension_that_others_settle_is_refused_with_their_names() -> None:
    level = [held(LEFT[0], RIGHT[0], "level"), held(RIGHT[0], RIGHT[1], "level"), held(RIGHT[1], LEFT[0], "level")]
    assert refused(with_dimensions(*level)) == [
        (
            "dimensions[2]",
            "the level distance of 'right / 2' and 'left / 1' is settled already by the level "
            "distance of 'left / 1' and 'right / 1' and the level distance of "
            "'right / 1' and 'right / 2'; take one of them out",
        )
    ]


def test_the_same_dimension_is_held_once_whichever_joint_comes_first() -> None:
    [(place, sentence)] = refused(with_dimensions(held(*LEFT), held(LEFT[1], LEFT[0])))
    assert place == "dimensions[1]"
    assert "is settled already by the distance of 'left / 1' and 'left / 2'" in sentence


def test_a_triangle_and_the_upright_part_of_one_side_can_be_held_together() -> None:
    sides = [held(LEFT[0], RIGHT[0]), held(RIGHT[0], RIGHT[1]), held(RIGHT[1], LEFT[0])]
    mount = read_mount(with_dimensions(*sides, held(RIGHT[1], LEFT[0], "upright")))
    assert len(mount.dimensions) == 4


def test_an_unsound_member_is_not_reported_a_second_time_by_its_dimension() -> None:
    document = with_dimensions(held(*LEFT))
    del document["members"][0]["ends"]
    assert [place for place, _ in refused(document)] == ["members[0].ends"]


def test_a_member_renamed_by_a_script_keeps_its_dimensions() -> None:
    mount = read_mount(with_dimensions(held(*LEFT), held(LEFT[0], "blade / left", "level")))
    named = mount.with_value("left.id", "lift")
    assert [each.between for each in named.dimensions] == [("lift / 1", "lift / 2"), ("lift / 1", "blade / left")]


def test_a_script_moves_the_joint_it_names_and_no_other() -> None:
    mount = read_mount(with_dimensions(held(*LEFT)))
    moved = mount.with_joint("left / 2", dx=10)
    assert [each.name for each, was in zip(moved.joints, mount.joints, strict=True) if each.at != was.at] == [
        "left / 2"
    ]
    assert moved.dimensions == mount.dimensions
