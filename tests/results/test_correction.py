"""A correction typed at one end, against the levers and areas it follows from."""

import math

import pytest

from app.document.models import Mount
from app.document.reading import read_mount
from app.results.correction import correction
from app.results.readout import readout
from app.shipped import shipped_mounts

SHIPPED = shipped_mounts()
TWIN = SHIPPED["3-twin-cylinders"]
CAP, ANNULUS = math.pi / 4 * 63**2, math.pi / 4 * (63**2 - 36**2)


def test_the_end_goes_there_and_the_other_stays() -> None:
    found = correction(TWIN, {}, "right", 20)
    ends = readout(TWIN, found.strokes).pose
    assert ends is not None
    assert ends.ends.right[1] == pytest.approx(20, abs=0.001)
    assert ends.ends.left[1] == pytest.approx(0, abs=0.001)
    assert found.met
    assert found.alone


def test_oil_and_time_are_those_of_the_sides_that_fill() -> None:
    found = correction(TWIN, {}, "right", 20)
    volumes = [abs(move) * (CAP if move > 0 else ANNULUS) for move in found.strokes.values()]
    assert found.oil == pytest.approx(sum(volumes) / 1000)
    assert found.time == pytest.approx(max(volumes) / (12e6 / 60))


def test_down_fills_the_other_side_than_up() -> None:
    up, down = correction(TWIN, {}, "right", 20), correction(TWIN, {}, "right", -20)
    assert down.oil > up.oil


def test_a_see_saw_moves_the_other_end_as_far() -> None:
    found = correction(SHIPPED["1-centre-pivot"], {}, "right", 20)
    assert found.met
    assert not found.alone
    assert found.other == pytest.approx(-20, rel=0.01)


def test_it_begins_where_the_mount_stands() -> None:
    strokes = {"left cylinder": 30.0, "right cylinder": -40.0}
    found = correction(TWIN, strokes, "left", 5)
    before, after = (readout(TWIN, each).pose for each in (strokes, add(strokes, found.strokes)))
    assert before is not None
    assert after is not None
    assert after.ends.left[1] - before.ends.left[1] == pytest.approx(5, abs=0.001)
    assert after.ends.right[1] == pytest.approx(before.ends.right[1], abs=0.001)


def add(one: dict[str, float], other: dict[str, float]) -> dict[str, float]:
    return {name: one[name] + other[name] for name in one}


def test_beyond_the_stroke_it_says_which_cylinder_ends() -> None:
    found = correction(TWIN, {}, "right", 300)
    assert not found.met
    assert found.time is None
    assert found.why is not None
    assert found.why.code == "stroke-end"


def test_an_end_that_nothing_moves_is_out_of_reach() -> None:
    found = correction(SHIPPED["5-end-hinge"], {}, "left", 20)
    assert not found.met
    assert found.why is not None
    assert found.why.code == "correction-out-of-reach"


def test_without_a_valve_there_is_no_time() -> None:
    plain: Mount = read_mount(TWIN.model_copy(update={"valve": None}).model_dump(exclude_none=True, by_alias=True))
    found = correction(plain, {}, "right", 20)
    assert found.met
    assert found.why is not None
    assert (found.time, found.why.code) == (None, "no-valve")
