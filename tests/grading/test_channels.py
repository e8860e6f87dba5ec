"""Which reading works which cylinder, and a height with a cross fall instead of two heights."""

import math
from typing import Any

import numpy as np
import pytest

from app.analysis import Analysis
from app.document.errors import BadSettings
from app.document.reading import read_mount
from app.grading.channels import channels
from app.grading.grade import run
from app.shipped import shipped_mounts
from tests.grading.plants import run as run_ends
from tests.grading.plants import settles
from tests.mounts import Document, cylinder, end, twin

CROSSED = ((0.5, 1.0), (1.0, 0.5))
"""Each cylinder moves the far end more than its own."""


def test_cylinders_are_paired_with_the_ends_they_move_more() -> None:
    # Niederlinski (Automatica 1971, recalled): straight, 1 - c1 c2 = 1 - 4 is below nought and cannot work.
    matrix = np.array(CROSSED)
    assert np.linalg.det(matrix) / (matrix[0, 0] * matrix[1, 1]) == pytest.approx(-3)
    assert channels(matrix, "each its own").paired == (1, 0)
    assert settles(run_ends("proportional", gains=CROSSED, gain=2.0, every=5)) == [True]


def test_the_wrong_pairing_would_run_away() -> None:
    # The same ends by the straight pairing: its closed matrix has an eigenvalue below nought, so errors grow.
    matrix = np.array(CROSSED)
    straight = matrix @ np.diag(1 / np.diag(matrix))
    assert np.linalg.eigvals(straight).min() == pytest.approx(-1)


CROSS_FALL: dict[str, Any] = {
    "seconds": 12, "start": {"right": 20}, "load": "none", "sensing": {"what": "height and cross fall"}
}  # fmt: skip


@pytest.mark.parametrize("way", ["each its own", "decoupled"])
@pytest.mark.parametrize("name", ["3-twin-cylinders", "2-pivot-on-carriage"])
def test_a_height_and_a_cross_fall_bring_both_ends_to_grade(name: str, way: str) -> None:
    ran = run(shipped_mounts()[name], {**CROSS_FALL, "control": {"way": way}})
    assert ran.summary.left.time_to_grade is not None
    assert ran.summary.right.time_to_grade is not None


def test_a_cross_fall_is_the_slope_of_the_blade_over_the_distance_of_what_is_read() -> None:
    # 20 mm over a blade of 2400 mm with a level on it: what it is out by between the sensors.
    mount = shipped_mounts()["3-twin-cylinders"]
    ran = run(mount, CROSS_FALL)
    places = mount.sensors or mount.blade
    slope = math.asin(20 / math.dist(mount.blade.left, mount.blade.right))
    expected = math.dist(places.left, places.right) * math.sin(slope)
    assert ran.sensors["right"][0] == pytest.approx(expected, rel=1e-6)


def test_lift_and_tilt_of_a_pivot_are_what_a_height_and_a_cross_fall_ask_for() -> None:
    # A tilt that turns the blade about its middle leaves half the change of height; a lift leaves the cross fall alone.
    mount = shipped_mounts()["2-pivot-on-carriage"]
    gains = Analysis(mount).velocities[2]
    assert abs(gains[0]) < 1e-6 * abs(gains[1])
    ran = run(mount, CROSS_FALL)
    assert ran.rig.channels.paired == (0, 1)
    assert ran.rig.channels.left == pytest.approx(0, abs=1e-6)


def three() -> Document:
    """Two uprights and a cylinder in place of the level stay, which shifts the blade sideways."""
    drawn = twin(valve={"flow": 12, "smallest_pulse": 0.8}, tolerance=3)
    drawn["members"][2] = cylinder("shift", end("frame", (-900, 200)), end("blade", (900, 200)))
    return drawn


def test_of_three_cylinders_the_first_two_work_unless_others_are_chosen() -> None:
    ran = run(read_mount(three()), {"seconds": 8, "start": {"right": 20}})
    assert list(ran.lengths) == ["left", "right"]
    assert [each.code for each in ran.notes] == ["chosen"]
    other = run(
        read_mount(three()), {"seconds": 8, "start": {"right": 20}, "control": {"cylinders": ["right", "left"]}}
    )
    assert list(other.lengths) == ["right", "left"]
    assert other.notes == []
    assert other.errors["right"] == pytest.approx(ran.errors["right"], abs=1e-6)


def test_a_cylinder_that_moves_no_end_is_refused_as_a_channel() -> None:
    with pytest.raises(BadSettings, match="'shift' cannot bring what is read to grade"):
        run(read_mount(three()), {"control": {"cylinders": ["shift"]}})
