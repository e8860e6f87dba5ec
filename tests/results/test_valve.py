"""Speed and step: how fast a cylinder moves each end and the smallest step it can make there."""

import math

import pytest
from hypothesis import given

from tests.answers import reasons
from tests.loaded import ENDS, answer_of, few, full, without
from tests.mounts import Command, Document, centre_pivot, hinge, twin, worked_mounts

CAP = math.pi / 4 * 63**2
ANNULUS = math.pi / 4 * (63**2 - 36**2)
VALVE = {"flow": 12, "smallest_pulse": 1.5}
FLOW = 12 * 1_000_000 / 60
"""12 L/min in mm3/s."""
PULSE = 1500
"""1.5 mL in mm3."""


def entry_of(drawn: Document, name: str) -> Document:
    found: Document = answer_of(drawn)["actuators"][name]
    return found


# By hand


def test_a_cylinder_goes_at_flow_over_area_and_faster_in_than_out() -> None:
    # Right end 2000 of 1800 mm from the hinge: a longer cylinder lowers it by 10/9.
    speed = entry_of(hinge(valve=VALVE), "lift")["speed"]
    assert speed["lengthen"] == {
        "left": pytest.approx(0, abs=1e-9),
        "right": pytest.approx(-FLOW / CAP * 2000 / 1800),
    }
    assert speed["shorten"]["right"] == pytest.approx(FLOW / ANNULUS * 2000 / 1800)
    assert round(FLOW / CAP, 1) == 64.2
    assert round(FLOW / ANNULUS, 1) == 95.3


def test_the_smallest_step_is_a_pulse_over_the_area_and_coarser_in_than_out() -> None:
    step = entry_of(hinge(valve=VALVE), "lift")["step"]
    assert step["lengthen"]["right"] == pytest.approx(-PULSE / CAP * 2000 / 1800)
    assert step["shorten"]["right"] == pytest.approx(PULSE / ANNULUS * 2000 / 1800)


def test_a_see_saw_moves_both_ends_alike_and_opposite() -> None:
    entry = entry_of(centre_pivot(valve=VALVE), "tilt")
    for way, area in (("lengthen", CAP), ("shorten", -ANNULUS)):
        assert entry["speed"][way] == pytest.approx({"left": 5 * FLOW / area, "right": -5 * FLOW / area})
        assert entry["step"][way] == pytest.approx({"left": 5 * PULSE / area, "right": -5 * PULSE / area})


def test_a_shorter_lever_makes_the_edge_quick_and_coarse_in_the_same_ratio() -> None:
    long, short = (entry_of(centre_pivot(lever=lever, valve=VALVE), "tilt") for lever in (400, 100))
    for what in ("speed", "step"):
        assert short[what]["lengthen"]["right"] / long[what]["lengthen"]["right"] == pytest.approx(4)


@pytest.mark.parametrize("name", ["left", "right"])
def test_each_of_two_cylinders_takes_the_whole_flow(name: str) -> None:
    entry = entry_of(twin(valve=VALVE), name)
    own, other = (name, "right" if name == "left" else "left")
    assert entry["speed"]["lengthen"] == pytest.approx({own: -FLOW / CAP * 9 / 8, other: FLOW / CAP / 8})


def test_without_valve_there_is_neither_speed_nor_step_and_the_reason_is_said() -> None:
    answer = answer_of(without(full(twin), "valve"))
    for entry in answer["actuators"].values():
        assert (entry["speed"], entry["step"]) == (None, None)
    missing = {reasons(answer)[path] for path in ("actuators.speed", "actuators.step", "budget.step")}
    assert missing == {"needs the valve's flow and smallest pulse"}
    assert "step" not in {source["kind"] for source in answer["budget"]["left"]["sources"]}


def test_a_finer_pulse_makes_a_finer_step_and_leaves_the_speed() -> None:
    coarse, fine = (
        entry_of(hinge(valve={"flow": 12, "smallest_pulse": pulse}), "lift") for pulse in (VALVE["smallest_pulse"], 0.5)
    )
    assert fine["speed"] == coarse["speed"]
    assert fine["step"]["shorten"]["right"] == pytest.approx(coarse["step"]["shorten"]["right"] / 3)


# Laws


@few
@given(worked_mounts())
def test_speed_and_step_are_the_cylinders_own_times_what_it_moves_each_end(case: tuple[Document, Command]) -> None:
    drawn, command = case
    answer = answer_of(drawn, command)
    for member in drawn["members"]:
        if member["kind"] != "cylinder":
            continue
        entry = answer["actuators"][member["id"]]
        ratio = member["bore"] ** 2 / (member["bore"] ** 2 - member["rod"] ** 2)
        for end in ENDS:
            for what, own in (("speed", FLOW), ("step", PULSE)):
                out, back = entry[what]["lengthen"][end], entry[what]["shorten"][end]
                assert out == pytest.approx(own / (math.pi / 4 * member["bore"] ** 2) * entry[end])
                assert back == pytest.approx(-ratio * out)
