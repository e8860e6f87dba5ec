"""How far a mount tilts and lifts, against single poses at the ends of its strokes."""

import pytest

from app.analysis import Analysis
from app.document.reading import read_mount
from app.results.readout import readout
from app.shipped import shipped_mounts
from app.strokes.extremes import extremes
from tests.mounts import end, pin, rod

SHIPPED = shipped_mounts()
TWIN = SHIPPED["3-twin-cylinders"]


def test_the_steepest_edge_is_that_with_one_cylinder_in_and_the_other_out() -> None:
    found = extremes(Analysis(TWIN))
    assert found is not None
    (left, right), width = TWIN.cylinders, 2400
    strokes = {}
    for cylinder, out in ((left, False), (right, True)):
        drawn = Analysis(TWIN).pose.lengths[[each.id for each in TWIN.cylinders].index(cylinder.id)]
        strokes[cylinder.id] = cylinder.retracted + (cylinder.stroke if out else 0) - drawn
    pose = readout(TWIN, strokes).pose
    assert pose is not None
    assert found.tilt_low == pytest.approx((pose.ends.right[1] - pose.ends.left[1]) / width, abs=1e-9)


def test_the_level_lift_is_that_of_both_cylinders_at_their_ends() -> None:
    found = extremes(Analysis(TWIN))
    assert found is not None
    assert found.lift_low == pytest.approx(-130, abs=0.1)
    assert found.lift_high == pytest.approx(130, abs=0.1)


@pytest.mark.parametrize("name", ["1-centre-pivot", "5-end-hinge", "9-pivot-in-inches"])
def test_one_cylinder_that_tilts_lifts_nothing_level(name: str) -> None:
    found = extremes(Analysis(SHIPPED[name]))
    assert found is not None
    assert found.lift == pytest.approx(0, abs=1e-9)


def test_without_a_cylinder_there_is_nothing_to_say() -> None:
    members = [pin("pivot", "frame", "blade", (0, 400)), rod("link", end("frame", (-700, 600)), end("blade", (0, 600)))]
    blade = {"left": [-1000, 0], "right": [1000, 0]}
    assert extremes(Analysis(read_mount({"format": 1, "title": "Held", "blade": blade, "members": members}))) is None
