"""Outlines drawn by hand in a document: what they may be, and why they are refused."""

import pytest

from app.document.errors import BadDocument
from app.document.models import as_document
from app.document.reading import read_mount
from tests.answers import typed
from tests.mounts import Document, crank_on_carriage

PLATE: list[list[float]] = [[-700, 850], [-250, 850], [-250, 1300], [-400, 1300]]


def outlined(*points: list[float], body: str = "crank") -> Document:
    return {**crank_on_carriage(), "outlines": [{"body": body, "points": list(points)}]}


def refused(document: object) -> list[tuple[str, str]]:
    with pytest.raises(BadDocument) as refusal:
        read_mount(document)
    return [(fault.place, typed(fault.filled())) for fault in refusal.value.faults]


@pytest.mark.parametrize("body", ["crank", "blade", "frame"])
def test_an_outline_is_kept_as_it_came(body: str) -> None:
    document = outlined(*PLATE, body=body)
    assert as_document(read_mount(document)) == document


def test_an_outline_of_no_body_is_refused_with_the_bodies_there_are() -> None:
    sentence = "there is no body 'arm'; use one of blade, carriage, crank, frame"
    assert refused(outlined(*PLATE, body="arm")) == [("outlines[0].body", sentence)]


def test_two_corners_are_no_outline() -> None:
    sentence = "has too few entries; 3 are the least: its corners one after the other as drawn, [x, y] in mm"
    assert refused(outlined([0, 0], [1, 1])) == [("outlines[0].points", sentence)]


def test_corners_at_one_place_are_named_as_people_count_them() -> None:
    sentence = "corners 4 and 1 of the outline lie at one place; take one of them out"
    assert refused(outlined([0, 0], [100, 0], [100, 100], [0, 0])) == [("outlines[0].points[3]", sentence)]


@pytest.mark.parametrize(
    ("points", "sides"),
    [
        ([[0, 0], [100, 100], [100, 0], [0, 100]], (1, 3)),
        ([[0, 0], [200, 0], [200, 100], [100, 0], [0, 100]], (1, 3)),
    ],
    ids=["crossing", "touching"],
)
def test_an_outline_that_crosses_itself_says_where(points: list[list[float]], sides: tuple[int, int]) -> None:
    sentence = f"the outline crosses itself: the sides from corner {sides[0]} and from corner {sides[1]}; move a corner"
    assert refused(outlined(*points)) == [("outlines[0].points", sentence)]


def test_a_dent_is_no_crossing() -> None:
    assert read_mount(outlined([0, 0], [100, 40], [200, 0], [200, 100], [0, 100])).outlines[0].body == "crank"
