"""A mount with one value or joint changed by name, as a script does it; what is not there is said with what is."""

from typing import Any

import numpy as np
import pytest

from app import Mount, NoSuchName
from app.document.errors import BadDocument
from app.document.models import as_document
from app.document.reading import read_mount
from tests.document.test_edit import full, parts_that_differ
from tests.mounts import hinge, member_of, pin, twin

MOUNT = read_mount(full())


def differences(mount: Mount, before: Mount = MOUNT) -> dict[str, tuple[Any, Any]]:
    return parts_that_differ(as_document(before), as_document(mount))


@pytest.mark.parametrize(
    ("place", "value", "difference"),
    [
        ("oil.bulk_modulus", 900, {"oil.bulk_modulus": (1400, 900)}),
        ("tolerance", 2.5, {"tolerance": (4, 2.5)}),
        ("blade.left[0]", -1100, {"blade.left.0": (-1000, -1100)}),
        ("blade.left", (-1100, 5), {"blade.left.0": (-1000, -1100), "blade.left.1": (0, 5)}),
        ("left.bore", 80, {"members.0.bore": (63, 80)}),
        ("members[1].bore", 80, {"members.1.bore": (63, 80)}),
        ("left / 2.clearance", 0.5, {"members.0.ends.1.clearance": (0.3, 0.5)}),
        ("left/2.at[1]", 190, {"members.0.ends.1.at.1": (200, 190)}),
        ("stay.id", "side stay", {"members.2.id": ("stay", "side stay")}),
        ("title", "Another", {"title": ("Test mount", "Another")}),
    ],
)
def test_a_value_is_changed_by_its_place_and_nothing_else(
    place: str, value: object, difference: dict[str, tuple[Any, Any]]
) -> None:
    assert differences(MOUNT.with_value(place, value)) == difference


@pytest.mark.parametrize(
    ("place", "value", "in_document_units"),
    [
        ("oil.bulk_modulus", "130 ksi", 896.3184),  # psi: NIST SP 811, appendix B
        ("left / 2.clearance", "1/64 in", 0.396875),
        ("load.force[1]", "150 lbf", 667.233242),
        ("oil.bulk_modulus", np.float64(900), 900),
        ("oil.bulk_modulus", np.int64(900), 900),
    ],
)
def test_a_value_may_come_with_its_unit_or_from_numpy(place: str, value: object, in_document_units: float) -> None:
    [(_, new)] = differences(MOUNT.with_value(place, value)).values()
    assert new == pytest.approx(in_document_units, rel=1e-6)
    assert type(new) in (int, float)


def test_a_value_that_is_none_is_left_out_and_a_part_that_is_not_there_is_begun() -> None:
    without = MOUNT.with_value("oil", None)
    assert without.oil is None
    begun = without.with_value("oil.bulk_modulus", 900).oil
    assert begun is not None
    assert begun.bulk_modulus == 900
    with pytest.raises(BadDocument, match=r"valve\.smallest_pulse: is missing"):
        MOUNT.with_value("valve", None).with_value("valve.flow", 10)


def test_a_joint_is_moved_by_or_to_and_each_change_gives_a_mount_of_its_own() -> None:
    moved = MOUNT.with_joint("left / 2", dx=10).with_joint("right/1", x=790, dy="-1/2 in")
    assert differences(moved) == {
        "members.0.ends.1.at.0": (-800, -790),
        "members.1.ends.0.at.0": (800, 790),
        "members.1.ends.0.at.1": (1000, pytest.approx(987.3)),
    }
    assert differences(MOUNT) == {}
    hinged = read_mount(hinge())
    assert differences(hinged.with_joint("hinge", y="3 mm"), hinged) == {"members.0.at.1": (0, 3)}


def test_a_name_with_dots_is_a_name_and_a_part_of_the_document_comes_before_a_member() -> None:
    named = read_mount({**twin(), "members": [*twin()["members"][:2], pin("no. 3", "frame", "blade", (0, 0))]})
    changed = as_document(named.with_value("no. 3.clearance", 0.2))
    assert member_of(changed, "no. 3")["clearance"] == 0.2
    both = named.with_value("no. 3.id", "oil")
    assert both.with_value("oil.bulk_modulus", 900).oil is not None
    assert as_document(both.with_joint("oil", dx=1))["members"][2]["at"] == [1, 0]


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (
            "oil.bulk_modulos",
            "oil.bulk_modulos: there is no value 'bulk_modulos'; did you mean 'bulk_modulus'? Known are",
        ),
        ("lefd.bore", "lefd.bore: there is no part or name 'lefd'; did you mean 'left'"),
        ("nobody.bore", "nobody.bore: there is no part or name 'nobody'; known are 'left', 'right', 'stay', 'format'"),
        ("left.clearance", "left.clearance: there is no value 'clearance'; known are 'kind', 'id', 'ends', 'bore'"),
        ("left", "left: is a whole member or joint; say which value of it, such as 'left.clearance'"),
        ("members[7].bore", "members[7].bore: there is no entry [7]; there are 3, [0] to [2]"),
        ("tolerance[0]", "tolerance[0]: there is no entry [0]; there is none"),
        ("oil.]", "oil.]: cannot be read from '.]' on; write it like oil.bulk_modulus"),
    ],
)
def test_a_place_that_is_not_there_is_refused_with_those_that_are(place: str, said: str) -> None:
    with pytest.raises(NoSuchName) as refused:
        MOUNT.with_value(place, 1)
    assert str(refused.value).startswith(said)


def test_a_joint_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(NoSuchName, match="there is no joint 'left / 3'; did you mean 'left / 2' or 'left / 1'"):
        MOUNT.with_joint("left / 3", dx=1)
    with pytest.raises(NoSuchName, match="there is no joint 'left', nor any other"):
        read_mount({**twin(), "members": []}).with_joint("left", dx=1)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda: MOUNT.with_value("left.bore", "far"), 'found "far", expected a number: bore diameter'),
        (lambda: MOUNT.with_value("left.bore", 20), "is not larger than the piston rod"),
        (lambda: MOUNT.with_value("tolerance", np.arange(3.0)), r"tolerance: found 3 numbers; give one, .* sweep\("),
        (lambda: MOUNT.with_joint("left / 2", dx="far"), "left / 2, dx: found 'far', expected a number of mm"),
        (lambda: MOUNT.with_joint("left / 2", y=np.arange(5)), r"left / 2, y: found 5 numbers; give one"),  # type: ignore[arg-type]
        (lambda: MOUNT.with_joint("left / 2", x=True), "left / 2, x: found 'True', expected a number of mm"),
        (lambda: MOUNT.with_joint("left / 1", dy=5000), "longer than its full reach"),
    ],
)
def test_a_value_the_document_does_not_allow_is_refused(change: Any, said: str) -> None:  # noqa: ANN401
    with pytest.raises(BadDocument, match=said):
        change()
