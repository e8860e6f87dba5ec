"""Runs of real mounts: the house's own kinematics, ground, load and lost motion, and what is refused or said."""

import math
from typing import Any

import numpy as np
import pytest

from app.analysis import Analysis
from app.document.errors import BadSettings, NotLocated
from app.document.models import Mount
from app.document.reading import read_mount
from app.grading.grade import Run, run
from app.grading.lost_motion import loose_joints, lost_motion
from app.results.dial import load_test
from app.shipped import shipped_mounts
from tests.mounts import Document, document, end, hinge, rod, twin

VALVE = {"flow": 12, "smallest_pulse": 0.8}
SENSORS = {"left": [-900, 1500], "right": [900, 1500]}
PLAIN: dict[str, Any] = {"valve": VALVE, "tolerance": 3, "sensors": SENSORS}
OFF_RIGHT: dict[str, Any] = {"seconds": 12, "start": {"right": 20}}


def graded(drawn: Document, settings: dict[str, Any] | None = None) -> Run:
    return run(read_mount(drawn), settings)


def with_settings(**more: Any) -> dict[str, Any]:  # noqa: ANN401 - any setting
    return {**OFF_RIGHT, **more}


def series(ran: Run) -> list[list[float]]:
    return [*(each.tolist() for each in ran.errors.values()), *(each.tolist() for each in ran.lengths.values())]


# Kinematics


def test_the_ends_stand_where_a_readout_of_the_same_strokes_has_them() -> None:
    drawn = twin(**PLAIN)
    ran = graded(drawn, with_settings(load="none"))
    mount = read_mount(drawn)
    lengths = {each.id: each.drawn_length for each in mount.cylinders}
    for step in (0, 20, 45, 900):
        ends = Analysis(mount, {name: float(ran.lengths[name][step]) - own for name, own in lengths.items()}).ends
        assert ran.errors["left"][step] == pytest.approx(ends["left"][1], abs=1e-7)
        assert ran.errors["right"][step] == pytest.approx(ends["right"][1], abs=1e-7)


def test_a_run_begins_as_far_off_grade_as_it_is_told() -> None:
    ran = graded(twin(**PLAIN), {"seconds": 2, "start": {"left": -7, "right": 12}})
    assert [ran.errors["left"][0], ran.errors["right"][0]] == pytest.approx([-7, 12], abs=1e-8)


def test_a_cylinder_stops_at_the_end_of_its_stroke_and_the_answer_says_so() -> None:
    drawn = twin(**PLAIN)
    for member in drawn["members"][:2]:
        member["stroke"] = 205.0
    ran = graded(drawn, {"seconds": 10, "ground": {"kind": "step", "height": -40, "side": "both", "at": 0.5}})
    assert "stroke-end" in [each.code for each in ran.notes]
    assert ran.lengths["left"].max() == pytest.approx(read_mount(drawn).cylinders[0].retracted + 205)


# Nothing, the same, mirrored


def test_without_play_oil_ground_and_start_there_is_no_error() -> None:
    ran = graded(twin(**PLAIN), {"seconds": 5, "load": "none"})
    assert max(float(np.abs(each).max()) for each in ran.errors.values()) < 1e-9


ROUGH: dict[str, Any] = {
    "seconds": 8, "ground": {"kind": "rough", "class": "B"}, "load": "wandering", "sensing": {"noise": 1.0}
}  # fmt: skip


def test_the_same_seed_is_the_same_run_alone_or_among_others() -> None:
    mount = shipped_mounts()["7-worn-twin-cylinders"]
    alone, again = run(mount, {**ROUGH, "seed": 4}), run(mount, {**ROUGH, "seed": 4})
    among = run(mount, {**ROUGH, "seed": 3, "seeds": 3})
    assert series(alone) == series(again)
    assert among.summaries[1].right.rms == pytest.approx(alone.summary.right.rms, rel=1e-9)
    assert run(mount, {**ROUGH, "seed": 5}).summary.right.rms != alone.summary.right.rms


def mirrored(drawn: Document) -> Document:
    """The mount seen from the other side: x the other way, left and right changed over."""
    other = {**drawn, "members": []}
    for part in ("blade", "sensors"):
        places = drawn[part]
        other[part] = {**places, "left": _over(places["right"]), "right": _over(places["left"])}
    for member in drawn["members"]:
        if "ends" in member:
            other["members"].append({**member, "ends": [{**each, "at": _over(each["at"])} for each in member["ends"]]})
        else:
            other["members"].append({**member, "at": _over(member["at"])})
    return other


def _over(at: list[float]) -> list[float]:
    return [-at[0], at[1]]


@pytest.mark.parametrize("way", ["each its own", "decoupled"])
@pytest.mark.parametrize("valve", ["proportional", "pulsed", "on/off"])
def test_the_mirrored_mount_on_mirrored_ground_makes_the_mirrored_run(way: str, valve: str) -> None:
    drawn = twin(**PLAIN)
    drawn["members"][0]["ends"][1]["at"][0] -= 60  # so that it is not its own mirror image
    given: dict[str, Any] = {"seconds": 15, "control": {"way": way, "valve": valve, "dead_band": 2.0}}
    bump = {"kind": "bump", "height": 30, "at": 2}
    ran = graded(drawn, {**given, "start": {"left": 4, "right": 9}, "ground": {**bump, "side": "left"}})
    other = graded(mirrored(drawn), {**given, "start": {"left": 9, "right": 4}, "ground": {**bump, "side": "right"}})
    assert other.errors["left"] == pytest.approx(ran.errors["right"], abs=1e-6)
    assert other.errors["right"] == pytest.approx(ran.errors["left"], abs=1e-6)


# Step


def test_half_the_step_gives_the_same_summary_with_proportional_valves() -> None:
    mount = shipped_mounts()["2-pivot-on-carriage"]
    given = {"seconds": 20, "ground": {"kind": "rough", "class": "B"}, "start": {"right": 15}}
    whole, half = (run(mount, {**given, "step": step}).summary for step in (0.01, 0.005))
    for end_name in ("left", "right"):
        one, other = whole.of(end_name), half.of(end_name)
        for name in ("rms", "p95", "worst", "inside", "disturbed"):
            assert getattr(other, name) == pytest.approx(getattr(one, name), rel=0.01, abs=1e-3), name


@pytest.mark.parametrize("valve", ["on/off", "pulsed"])
def test_half_the_step_keeps_the_means_of_many_seeds_within_their_intervals(valve: str) -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    given = {"seconds": 12, "seeds": 16, "ground": {"kind": "rough", "class": "B"}, "control": {"valve": valve}}
    whole, half = (run(mount, {**given, "step": step}).mean.right.rms for step in (0.01, 0.005))
    assert whole is not None
    assert half is not None
    assert whole.low <= half.mean <= whole.high


# Ground


def test_a_rut_reaches_the_blade_as_the_frame_between_its_axles_carries_it() -> None:
    # 30 mm down under the left rear wheel: 30 + 30 x 1500/2500 = 48 mm at the blade's left track.
    drawn = twin(valve=VALVE)
    given = {"seconds": 6, "speed": 1.0, "control": {"gain": 0.001}, "machine": {"track": 1800},
             "ground": {"kind": "bump", "height": -30, "side": "left", "at": 4}}  # fmt: skip
    ran = graded(drawn, given)
    at_rear = np.argmin(np.abs(ran.travel - 4.3))
    # The left end is 1000 mm from the middle, the track 900: the frame turns about its right wheel.
    assert ran.errors["left"][at_rear] == pytest.approx(-48 * 1900 / 1800, rel=0.01)
    at_front = np.argmin(np.abs(ran.travel - 1.8))
    assert ran.errors["left"][at_front] == pytest.approx(18 * 1900 / 1800, rel=0.01)


def test_a_second_pass_runs_on_what_the_first_one_left() -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    given = {"seconds": 25, "ground": {"kind": "waves", "height": 40, "length": 6}}
    one, two = run(mount, given), run(mount, {**given, "passes": 2})
    assert len(two.passes) == 1
    assert two.passes[0].left.rms == pytest.approx(one.summary.left.rms, rel=0.25)
    assert two.summary.left.rms < 0.8 * one.summary.left.rms
    assert np.abs(two.ground["left"]).max() < np.abs(one.ground["left"]).max()


# Load and lost motion


def test_a_steady_load_moves_the_ends_as_the_load_test_of_the_budget_does() -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    settings = {"seconds": 2, "control": {"gain": 0.0001}}
    lengths = {name: own[0] for name, own in run(mount, {**settings, "load": "none"}).lengths.items()}
    ran = run(mount, {**settings, "load": "steady"})
    # Both begin on grade, so under the load the cylinders have to be longer by what gives way.
    moved = load_test(Analysis(mount))
    gains = Analysis(mount).sensitivities
    for end_name in ("left", "right"):
        by_length = gains.of_length(end_name) @ np.array([ran.lengths[name][0] - lengths[name] for name in lengths])
        assert -float(by_length) == pytest.approx(getattr(moved, end_name), rel=0.03)


def test_lost_motion_is_the_play_nothing_holds_as_the_paired_end_sees_it() -> None:
    # Two upright cylinders, play of 0.4 mm at a foot of one: no weight and no load, so nothing holds it.
    drawn = twin(**PLAIN)
    drawn["members"][0]["ends"][1]["clearance"] = 0.4
    analysis = Analysis(read_mount(drawn))
    loose = loose_joints(analysis, "none")
    assert loose == {"left / 2"}
    assert lost_motion(analysis, loose, [0, 1], ["left", "right"]).tolist() == pytest.approx([0.4, 0.0])


def test_weight_holds_what_a_wandering_load_turns_over() -> None:
    drawn = twin(**PLAIN, load={"at": [1000, 0], "force": [0, 9000]})
    drawn["blade"] = {**drawn["blade"], "mass": 300, "mass_centre": [0, 200]}
    drawn["members"][1]["ends"][1]["clearance"] = 0.4
    analysis = Analysis(read_mount(drawn))
    assert loose_joints(analysis, "none") == set()
    assert loose_joints(analysis, "wandering") == {"right / 2"}


# What is refused


@pytest.mark.parametrize(
    ("settings", "place", "words"),
    [
        ({"speed": "fast"}, "run.speed", "found fast, expected a finite number"),
        ({"speed": -1}, "run.speed", "expected 0 or more"),
        ({"tempo": 1}, "run.tempo", "is no setting of a run here; known are seconds, step"),
        ({"ground": {"kind": "hilly"}}, "run.ground", "give one of 'flat', 'step', 'bump', 'waves', 'rough'"),
        ({"ground": {"kind": "rough", "class": "E"}}, "run.ground.class", "found E, expected 'A', 'B', 'C' or 'D'"),
        ({"control": {"valve": "open"}}, "run.control.valve", "expected 'on/off', 'pulsed' or 'proportional'"),
        ({"control": {"cylinders": ["nobody"]}}, "run.control.cylinders[0]", "the cylinders are 'left', 'right'"),
        ({"seconds": 600, "step": 0.001}, "run.step", "is too fine for a run of 600.00 s; give 0.01 s or more"),
        ({"sensing": {"period": 0}, "control": {"valve": "pulsed"}}, "run.sensing.period", "such as 0.05 s"),
        ({"speed": 0, "passes": 2}, "run.speed", "makes no second pass"),
        ({"start": {"left": math.nan}}, "run.start.left", "finite number"),
    ],
)
def test_settings_are_refused_with_place_and_remedy(settings: dict[str, Any], place: str, words: str) -> None:
    with pytest.raises(BadSettings) as refused:
        graded(twin(**PLAIN), settings)
    assert refused.value.faults[0].place == place
    assert words in refused.value.faults[0].filled().replace("\N{NO-BREAK SPACE}", " ")


def test_every_fault_of_settings_is_told_at_once() -> None:
    with pytest.raises(BadSettings) as refused:
        graded(twin(**PLAIN), {"speed": -1, "seeds": 0, "load": "heavy"})
    assert [each.place for each in refused.value.faults] == ["run.seeds", "run.speed", "run.load"]


def test_a_mount_without_valve_or_cylinder_or_hold_is_refused() -> None:
    with pytest.raises(BadSettings, match="needs the valve's flow and smallest pulse"):
        graded(twin())
    legs = [rod(name, end("frame", (x, 900)), end("blade", (x, 300))) for name, x in (("a", -500), ("b", 500))]
    with pytest.raises(BadSettings, match="no cylinder"):
        graded(document([*legs, rod("c", end("frame", (-900, 200)), end("blade", (900, 200)))]))
    with pytest.raises(NotLocated):
        graded({**twin(**PLAIN), "members": twin()["members"][:2]})


# What is said before a run


def codes(drawn: Document, settings: dict[str, Any] | None = None) -> list[str]:
    return [each.code for each in graded(drawn, {"seconds": 1, **(settings or {})}).notes]


def test_one_cylinder_cannot_hold_two_ends() -> None:
    assert codes(hinge(**PLAIN)) == ["one-cylinder"]


def test_what_never_settles_is_said_before_the_run_and_shown_by_it() -> None:
    pivot = shipped_mounts()["2-pivot-on-carriage"]
    ran = run(pivot, with_settings(control={"way": "one after the other"}))
    assert [each.code for each in ran.notes] == ["never-in-turn"]
    assert ran.summary.right.time_to_grade is None
    ran = run(pivot, with_settings(control={"gain": 12.0}))
    assert [each.code for each in ran.notes] == ["gain-too-high"]
    assert ran.summary.right.time_to_grade is None


def test_on_off_valves_that_will_hunt_are_named_with_what_would_do() -> None:
    drawn = twin(**PLAIN)
    given = {"seconds": 20, "start": {"right": 20}, "load": "none", "sensing": {"period": 0}}
    ran = graded(drawn, {**given, "control": {"valve": "on/off", "dead_band": 1.0}})
    assert "never-rests" in [each.code for each in ran.notes]
    assert ran.summary.right.hunting is not None
    rests = graded(drawn, {**given, "control": {"valve": "on/off"}})
    assert "never-rests" not in [each.code for each in rests.notes]
    assert rests.summary.right.hunting is None


def test_a_mount_without_a_tolerance_says_what_it_lacks() -> None:
    ran = graded(twin(valve=VALVE), {"seconds": 2})
    assert [each.code for each in ran.notes] == ["no-tolerance"]
    assert ran.summary.left.time_to_grade is None
    assert ran.summary.left.inside is None


# The honest sentence, with an independent plain simulation's numbers beside it


def plain_mount(name: str) -> Mount:
    """Uprights at +-850 under a half blade of 1200, or lift and tilt with 1 and some 6 mm per mm."""
    return shipped_mounts()[{"uprights": "3-twin-cylinders", "pivot": "2-pivot-on-carriage"}[name]]


def test_on_plain_channels_the_coupled_mount_is_much_slower_and_decoupled_it_is_not() -> None:
    plain = {name: run(plain_mount(name), OFF_RIGHT).summary.right for name in ("uprights", "pivot")}
    both = {"way": "decoupled"}
    together = {name: run(plain_mount(name), {**OFF_RIGHT, "control": both}).summary.right for name in plain}
    times = {name: each.time_to_grade or math.inf for name, each in plain.items()}
    decoupled = {name: each.time_to_grade or math.inf for name, each in together.items()}
    assert times["pivot"] > 3 * times["uprights"]
    assert decoupled["pivot"] == pytest.approx(decoupled["uprights"], rel=0.05)
