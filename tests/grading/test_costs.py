"""What costs a run most, ranked; and each mount at its own best, beside the numbers of a plain simulation."""

from typing import Any

import pytest

from app.document.models import as_document
from app.document.reading import read_mount
from app.grading.best import Best, best, best_of
from app.grading.costs import costs
from app.grading.grade import run
from app.grading.reading import read_settings
from app.shipped import shipped_mounts
from tests.mounts import twin

UPRIGHTS, PIVOT = shipped_mounts()["3-twin-cylinders"], shipped_mounts()["2-pivot-on-carriage"]
OFF: dict[str, Any] = {"seconds": 12, "start": {"right": 20}}


def test_what_is_halved_is_run_again_with_half_of_it() -> None:
    # Half the delays by hand: 0.025 s of reading and valve each; the gain follows where it is left open.
    found = {each.what: each for each in costs(UPRIGHTS, read_settings(OFF))}
    half = {**OFF, "sensing": {"delay": 0.025}, "control": {"on_delay": 0.025, "off_delay": 0.025}}
    again = run(UPRIGHTS, half).summary
    slower = max(again.left.time_to_grade or 0, again.right.time_to_grade or 0)
    assert found["dead time"].time_to_grade == pytest.approx(slower, rel=1e-6)
    both = run(UPRIGHTS, {**OFF, "control": {"way": "decoupled"}}).summary
    slower = max(both.left.time_to_grade or 0, both.right.time_to_grade or 0)
    assert found["coupled channels"].time_to_grade == pytest.approx(slower, rel=1e-6)


def test_the_coupling_costs_a_pivot_most_and_uprights_little() -> None:
    pivot, uprights = costs(PIVOT, read_settings(OFF)), costs(UPRIGHTS, read_settings(OFF))
    assert pivot[0].what == "coupled channels"
    assert (pivot[0].time_to_grade or 0) < 0.4 * (pivot[0].time_before or 0)
    assert uprights[0].what == "dead time"


def test_everything_that_has_a_size_is_halved_and_ranked_by_what_it_gains() -> None:
    drawn = twin(valve={"flow": 12, "smallest_pulse": 0.8}, tolerance=3)
    drawn["members"][0]["ends"][1]["clearance"] = 0.4  # nothing holds it: neither weight nor load
    settings = {**OFF, "control": {"valve": "pulsed", "dead_band": 1.5}}
    found = costs(read_mount(drawn), read_settings(settings))
    assert {each.what for each in found} == {
        "dead time", "dead band", "smallest pulse", "lost motion", "coupled channels"
    }  # fmt: skip
    gained = [
        1.0 - (each.time_to_grade / each.time_before) if each.time_to_grade and each.time_before else None
        for each in found
    ]
    known = [each for each in gained if each is not None]
    assert known == sorted(known, reverse=True)


# An independent plain simulation (20 mm at one end, 0.1 s late, read each 0.05 s, dead band 2 mm): in proportion 0.33 s
# against 1.34 s with each its own, 0.33 s against 0.28 s decoupled; on/off uprights rest with up to 5 L/min, lift and
# tilt only up to 1 L/min; at 0.5 L/min lift and tilt is the quicker; at 12 L/min neither rests.


def at(tried: Best, flow: float) -> float | None:
    """The time at the tried setting next to a flow."""
    return tried.times[min(range(len(tried.tried)), key=lambda each: abs(tried.tried[each] - flow))]


def test_at_its_own_best_the_coupled_mount_is_slower_unless_both_cylinders_are_worked_together() -> None:
    settings = read_settings({"step": 0.05, "control": {"dead_band": 2}})  # coarse, to be quick: no reading is lost
    uprights, pivot = ({(each.valve, each.way): each for each in best(mount, settings)} for mount in (UPRIGHTS, PIVOT))
    plain = [each["proportional", "each its own"].time_to_grade or 0 for each in (uprights, pivot)]
    both = [each["proportional", "decoupled"].time_to_grade for each in (uprights, pivot)]
    assert 3 < plain[1] / plain[0] < 7
    assert both[1] == pytest.approx(both[0], rel=0.1)

    in_turn = [each["proportional", "one after the other"].time_to_grade for each in (uprights, pivot)]
    assert in_turn[0] is not None
    assert in_turn[0] > plain[0]
    assert in_turn[1] is None  # lift and tilt undo each other's corrections for ever

    switched = [each["on/off", "each its own"] for each in (uprights, pivot)]
    rests = [max(flow for flow, time in zip(each.tried, each.times, strict=True) if time) for each in switched]
    assert 4 < rests[0] < 6
    assert 0.75 < rests[1] < 1.5
    assert [at(each, 12) for each in switched] == [None, None]


def test_the_best_settings_are_found_once_whatever_ground_load_start_and_seconds_a_run_has() -> None:
    plain = read_settings({"step": 0.05})
    rut = read_settings(
        {"step": 0.05, "seconds": 30, "start": {"left": 5}, "ground": {"kind": "bump", "height": -30, "at": 4}}
    )
    found = best_of(UPRIGHTS, plain, "on/off", "each its own")
    assert best_of(UPRIGHTS, rut, "on/off", "each its own") is found
    late = read_settings({"step": 0.05, "control": {"on_delay": 0.5}})
    assert best_of(UPRIGHTS, late, "on/off", "each its own").times != found.times


def test_at_little_equal_flow_lift_and_tilt_is_the_quicker() -> None:
    settings = {"seconds": 20, "start": {"right": 20}, "load": "none", "control": {"valve": "on/off", "dead_band": 2}}
    slow = {"flow": 0.5, "smallest_pulse": 0.001}
    uprights, pivot = (
        run(read_mount(as_document(mount) | {"valve": slow}), settings).summary.right.time_to_grade
        for mount in (UPRIGHTS, PIVOT)
    )
    assert uprights is not None
    assert pivot is not None
    assert pivot < 0.8 * uprights
