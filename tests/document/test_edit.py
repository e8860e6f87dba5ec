"""Changing one number of a mount, as a script or a search does: that number and no other, within what is allowed."""

from typing import Any

import pytest

from app.document.edit import CHANGES, middle_of, pairs_of, with_change
from app.document.errors import BadDocument, NoSuchName
from app.document.models import as_document
from app.document.reading import read_mount
from tests.mounts import Document, extras, guided, hinge, member_of, pin, twin


def full() -> Document:
    """A twin mount with everything optional, an elastic stay and a guide."""
    document = twin(**extras())
    member_of(document, "stay").update(section_area=600, elastic_modulus=205000)
    member_of(document, "left").update(hose_volume=100)
    member_of(document, "left")["ends"][1]["clearance"] = 0.3
    member_of(document, "stay")["ends"][0]["stiffness"] = 20000
    return document | {"tyres": {"left": -850, "right": 850, "stiffness": 350}}


def changed(document: Document, what: str, name: str, by: float) -> Document:
    return as_document(with_change(read_mount(document), what, name, by))


def parts_that_differ(before: Any, after: Any, path: str = "") -> dict[str, tuple[Any, Any]]:  # noqa: ANN401
    """Every number that is not the same in two documents, by its place."""
    if isinstance(before, dict | list):
        keys = before.keys() | after.keys() if isinstance(before, dict) else range(len(before))
        pairs = [(key, before[key], after[key]) for key in keys]
        found = [parts_that_differ(old, new, f"{path}.{key}".lstrip(".")) for key, old, new in pairs]
        return {place: each for part in found for place, each in part.items()}
    return {} if before == after else {path: (before, after)}


@pytest.mark.parametrize(
    ("what", "name", "by", "difference"),
    [
        ("pivot x", "left / 1", 2.5, {"members.0.ends.0.at.0": (-800, -797.5)}),
        ("pivot y", "stay / 2", -3, {"members.2.ends.1.at.1": (200, 197)}),
        ("clearance", "left / 2", 0.05, {"members.0.ends.1.clearance": (0.3, 0.35)}),
        ("bore", "right", 5, {"members.1.bore": (63, 68)}),
        ("hose volume", "left", -50, {"members.0.hose_volume": (100, 50)}),
        ("section area", "stay", 100, {"members.2.section_area": (600, 700)}),
        ("lug stiffness", "stay / 1", 5000, {"members.2.ends.0.stiffness": (20000, 25000)}),
        ("tyre stiffness", "tyres", -50, {"tyres.stiffness": (350, 300)}),
        ("bulk modulus", "oil", 100, {"oil.bulk_modulus": (1400, 1500)}),
        (
            "spacing",
            "left and right",
            10,
            {
                "members.0.ends.0.at.0": (-800, -810),
                "members.0.ends.1.at.0": (-800, -810),
                "members.1.ends.0.at.0": (800, 810),
                "members.1.ends.1.at.0": (800, 810),
            },
        ),
    ],
)
def test_a_change_changes_its_number_and_nothing_else(
    what: str, name: str, by: float, difference: dict[str, tuple[float, float]]
) -> None:
    assert parts_that_differ(as_document(read_mount(full())), changed(full(), what, name, by)) == {
        place: (old, pytest.approx(new)) for place, (old, new) in difference.items()
    }


def test_every_change_there_is_stands_in_the_table_above() -> None:
    (marks,) = test_a_change_changes_its_number_and_nothing_else.pytestmark  # type: ignore[attr-defined]
    assert {what for what, *_ in marks.args[1]} == CHANGES.keys()


def test_a_pin_is_moved_and_loosened_as_the_joint_it_is() -> None:
    assert member_of(changed(hinge(), "pivot x", "hinge", 4), "hinge")["at"] == [-996, 0]
    assert member_of(changed(hinge(), "clearance", "hinge", 0.2), "hinge")["clearance"] == 0.2


def test_oil_taken_out_of_a_hose_and_more_leaves_it_empty() -> None:
    assert member_of(changed(full(), "hose volume", "left", -1000), "left")["hose_volume"] == 0


def test_a_clearance_taken_away_and_more_is_none() -> None:
    assert member_of(changed(full(), "clearance", "left / 2", -1), "left")["ends"][1]["clearance"] == 0


def test_a_change_the_document_does_not_allow_is_refused() -> None:
    with pytest.raises(BadDocument, match="is drawn 1300"):
        changed(twin(), "pivot y", "left / 1", 500)
    with pytest.raises(BadDocument, match=r"expected 0\.001"):
        changed(twin(), "bore", "left", -1000)


def test_a_change_that_is_not_there_is_a_mistake_of_the_script() -> None:
    with pytest.raises(NoSuchName, match="there is no change 'bores'; did you mean 'bore'"):
        changed(twin(), "bores", "left", 1)
    with pytest.raises(NoSuchName, match="there is no member 'middle'; known are 'left', 'right', 'stay'"):
        changed(twin(), "bore", "middle", 1)
    with pytest.raises(NoSuchName, match="there is no joint 'left / 3'; did you mean 'left / "):
        changed(twin(), "pivot x", "left / 3", 1)
    with pytest.raises(NoSuchName, match="there is no pair of cylinders 'left and stay'"):
        changed(twin(), "spacing", "left and stay", 1)


def test_the_mount_that_was_changed_is_left_as_it_was() -> None:
    mount = read_mount(full())
    with_change(mount, "bore", "left", 5)
    assert mount == read_mount(full())


# Pairs


def test_cylinders_that_mirror_one_another_are_a_pair() -> None:
    assert [(first.id, second.id) for first, second in pairs_of(read_mount(twin()))] == [("left", "right")]
    assert [(first.id, second.id) for first, second in pairs_of(read_mount(guided()))] == [("left", "right")]


def test_a_cylinder_a_little_off_its_mirror_image_is_still_one_of_a_pair_and_farther_off_is_not() -> None:
    near, off = twin(), twin()
    member_of(near, "right")["ends"][0]["at"] = [800.9, 1000]
    member_of(off, "right")["ends"][0]["at"] = [801.1, 1000]
    assert len(list(pairs_of(read_mount(near)))) == 1
    assert list(pairs_of(read_mount(off))) == []


def test_pairs_mirror_about_the_middle_of_the_edge_and_not_about_the_origin() -> None:
    document = {**twin(), "blade": {"left": [-1000, 0], "right": [1400, 0]}}
    assert middle_of(read_mount(document)) == 200
    assert list(pairs_of(read_mount(document))) == []


def test_a_mount_with_one_cylinder_or_none_has_no_pair() -> None:
    assert list(pairs_of(read_mount(hinge()))) == []
    assert list(pairs_of(read_mount({**twin(), "members": [pin("pivot", "frame", "blade", (0, 0))]}))) == []
