"""Where a mount stands: the pose a command brings it to, and where and why it stops."""

import cmath
import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import optimize

from app.document.errors import BadCommand
from app.document.reading import read_mount
from app.shipped import shipped_mounts
from app.solve.assembly import assemble
from app.solve.pose import Pose, moves_of, settle, solve
from tests.answers import readout, said
from tests.mounts import (
    Command,
    Document,
    analysed,
    centre_pivot,
    commanded,
    crank_and_drop_rod,
    crank_on_carriage,
    cylinder,
    end,
    extras,
    guided,
    hinge,
    law,
    located_mounts,
    member_of,
    openings,
    pin,
    three_bodies,
    twin,
    two_bodies,
    worked_mounts,
)

CLOSED_MM = 1e-9

# Poses with a closed form


@pytest.mark.parametrize("move", [-150.0, -40.0, 0.0, 75.0, 199.0])
def test_a_hinged_blade_stands_where_the_law_of_cosines_puts_it(move: float) -> None:
    answer = readout(read_mount(hinge()), {"lift": move})
    base_arm, blade_arm, length = math.hypot(1800, 1000), 1800, 1000 + move
    between = math.acos((base_arm**2 + blade_arm**2 - length**2) / (2 * base_arm * blade_arm))
    turn = math.atan2(1000, 1800) - between
    right = cmath.rect(2000, turn) - 1000
    assert answer["pose"]["ends"]["right"] == pytest.approx((right.real, right.imag))
    assert answer["pose"]["ends"]["left"] == pytest.approx((-1000, 0))
    assert answer["pose"]["slope"] == pytest.approx(math.tan(turn))
    assert answer["pose"]["bodies"]["blade"]["angle"] == pytest.approx(math.degrees(turn))


def test_a_blade_in_plumb_guides_goes_straight_down_by_what_both_cylinders_lengthen() -> None:
    answer = readout(read_mount(guided()), {"left": 60, "right": 60})
    assert answer["pose"]["ends"]["left"] == pytest.approx((-1000, -60))
    assert answer["pose"]["ends"]["right"] == pytest.approx((1000, -60))
    assert answer["pose"]["slope"] == pytest.approx(0)


def test_no_command_leaves_a_mount_as_it_is_drawn() -> None:
    answer = readout(read_mount(crank_on_carriage()))
    assert answer["pose"]["ends"] == {"left": pytest.approx((-1000, 0)), "right": pytest.approx((1000, 0))}
    assert answer["pose"]["fraction"] == 1
    assert answer["pose"]["stopped"] is None


def test_a_cylinder_reports_its_length_and_how_far_it_is_out() -> None:
    lift = readout(read_mount(hinge()), {"lift": 30})["pose"]["members"]["lift"]
    assert (lift["length"], lift["extension"]) == pytest.approx((1030, 230))
    assert math.dist(*lift["ends"]) == pytest.approx(1030)


# The same poses by another way: loops written by hand for scipy


def arm(of: tuple[float, float], pivot: tuple[float, float], turn: float) -> complex:
    """A point turned about a pivot, both as drawn."""
    return complex(*pivot) + cmath.rect(1, turn) * (complex(*of) - complex(*pivot))


def ends_at(member: Document) -> tuple[tuple[float, float], tuple[float, float]]:
    (ax, ay), (bx, by) = (part["at"] for part in member["ends"])
    return (ax, ay), (bx, by)


def blade_by_crank(drawn: Document, command: Command) -> dict[str, complex]:
    """Ends of the blade of a crank and drop rod: unknown are the crank's turn and the blade's shift and turn."""
    pivot = member_of(drawn, "crank pivot")["at"]
    base, crank_pin = ends_at(member_of(drawn, "crank cylinder"))
    hung, drop = ends_at(member_of(drawn, "drop rod"))
    right_base, right_foot = ends_at(member_of(drawn, "right"))
    anchor, far = ends_at(member_of(drawn, "stay"))
    length = commanded(drawn, command)

    def blade(at: tuple[float, float], unknown: list[float]) -> complex:
        return complex(unknown[1], unknown[2]) + cmath.rect(1, unknown[3]) * complex(*at)

    def loops(unknown: list[float]) -> list[float]:
        crank_end, hook = (arm(point, pivot, unknown[0]) for point in (crank_pin, hung))
        return [
            abs(crank_end - complex(*base)) - length["crank cylinder"],
            abs(blade(drop, unknown) - hook) - math.dist(hung, drop),
            abs(blade(right_foot, unknown) - complex(*right_base)) - length["right"],
            abs(blade(far, unknown) - complex(*anchor)) - math.dist(anchor, far),
        ]

    found = optimize.root(loops, [0.0, 0.0, 0.0, 0.0], tol=1e-13)
    assert max(abs(gap) for gap in loops(found.x)) < 1e-8
    return {side: blade(drawn["blade"][side], found.x) for side in ("left", "right")}


def on_guides(unknown: list[float]) -> Callable[[tuple[float, float]], complex]:
    """Where the carriage carries a point: it is shifted and turned until both its runners are on their guides."""
    return lambda at: complex(unknown[0], unknown[1]) + cmath.rect(1, unknown[2]) * complex(*at)


def off_guide(drawn: Document, name: str, carried: Callable[[tuple[float, float]], complex]) -> float:
    guide = member_of(drawn, name)
    return ((carried(guide["at"]) - complex(*guide["at"])) * complex(*guide["direction"]).conjugate()).imag


def blade_on_carriage(drawn: Document, command: Command) -> dict[str, complex]:
    """Ends of a blade pivoted on a lifted carriage and tilted from it, by a cylinder or through a crank."""
    by_crank = "crank" in drawn["bodies"]
    pivot = member_of(drawn, "pivot")["at"]
    base, foot = ends_at(member_of(drawn, "lift"))
    tilt_base, tilt_end = ends_at(member_of(drawn, "tilt"))
    length = commanded(drawn, command)

    def blade(at: tuple[float, float], tilt: float) -> complex:
        return arm(at, pivot, tilt)

    # Everything above the carriage is solved in the carriage's own axes, where the frame does not appear.
    def tilting(unknown: list[float]) -> list[float]:
        if not by_crank:
            return [abs(blade(tilt_end, unknown[0]) - complex(*tilt_base)) - length["tilt"]]
        crank_pivot = member_of(drawn, "crank pivot")["at"]
        hung, drop = ends_at(member_of(drawn, "drop rod"))
        return [
            abs(arm(tilt_end, crank_pivot, unknown[1]) - complex(*tilt_base)) - length["tilt"],
            abs(arm(hung, crank_pivot, unknown[1]) - blade(drop, unknown[0])) - math.dist(hung, drop),
        ]

    def lifting(unknown: list[float]) -> list[float]:
        carried = on_guides(unknown)
        guides = [off_guide(drawn, name, carried) for name in ("upper guide", "lower guide")]
        return [*guides, abs(carried(foot) - complex(*base)) - length["lift"]]

    tilt = optimize.root(tilting, [0.0, 0.0] if by_crank else [0.0], tol=1e-13).x
    lift = optimize.root(lifting, [0.0, 0.0, 0.0], tol=1e-13).x
    assert max(map(abs, [*tilting(tilt), *lifting(lift)])) < 1e-8
    shift, turn = complex(lift[0], lift[1]), cmath.rect(1, lift[2])
    return {side: shift + turn * blade(drawn["blade"][side], tilt[0]) for side in ("left", "right")}


def by_hand(drawn: Document, command: Command) -> dict[str, complex]:
    return (blade_on_carriage if "carriage" in drawn["bodies"] else blade_by_crank)(drawn, command)


@law
@given(worked_mounts(two_bodies | three_bodies, reach=40))
def test_a_mount_of_two_or_three_bodies_stands_where_loops_written_by_hand_put_it(
    case: tuple[Document, Command],
) -> None:
    drawn, command = case
    ends = readout(read_mount(drawn), command)["pose"]["ends"]
    expected = by_hand(drawn, command)
    for side in ("left", "right"):
        assert complex(*ends[side]) == pytest.approx(expected[side], abs=1e-6)


@law
@given(worked_mounts(two_bodies | three_bodies, reach=40))
def test_millimetres_of_edge_per_millimetre_of_cylinder_agree_with_those_loops(
    case: tuple[Document, Command],
) -> None:
    drawn, command = case
    step = 0.01
    actuators = readout(read_mount(drawn), command)["actuators"]
    for name, entry in actuators.items():
        ahead = by_hand(drawn, command | {name: command[name] + step})
        behind = by_hand(drawn, command | {name: command[name] - step})
        for side in ("left", "right"):
            slope = (ahead[side] - behind[side]).imag / (2 * step)
            assert entry[side] == pytest.approx(slope, rel=1e-5, abs=1e-5)


# Closure and branch


@law
@given(located_mounts, st.lists(st.integers(-1500, 1500), min_size=2, max_size=2))
def test_wherever_a_command_leads_or_stops_every_joint_is_closed(drawn: Document, moves: list[int]) -> None:
    names = [member["id"] for member in drawn["members"] if member["kind"] == "cylinder"]
    mount = read_mount(drawn)
    answer = readout(mount, dict(zip(names, moves, strict=False)))
    followed = commanded(drawn, answer["pose"]["command"])
    assert max(openings(drawn, answer, followed).values()) < CLOSED_MM
    assert 0 <= answer["pose"]["fraction"] <= 1
    assert (answer["pose"]["stopped"] is None) == (answer["pose"]["fraction"] == 1)
    for each in mount.cylinders:
        entry = answer["actuators"][each.id]
        assert -1e-5 <= entry["extension"] <= each.stroke + 1e-5


@law
@given(worked_mounts(reach=150))
def test_one_long_command_ends_where_many_small_steps_do(case: tuple[Document, Command]) -> None:
    drawn, command = case
    arrived = analysed(drawn, command)
    assembly = arrived.assembly
    errors = [0.0] * assembly.equations.by_error.shape[1]
    start, moves = solve(assembly, [0.0] * len(command)), np.array(list(command.values()))
    q = start.q
    for part in np.linspace(0.01, 1, 100):
        lengths = (np.array(assembly.lengths) + part * moves).tolist()
        q = settle(assembly, Pose(q, start.jacobian, tuple(lengths)), lengths, errors)
    np.testing.assert_allclose(q, arrived.pose.q, atol=1e-7)


@law
@given(
    st.integers(300, 1500),
    st.integers(300, 1500),
    st.integers(20, 160),
    st.sampled_from([1, -1]),
    st.sampled_from(["out", "in"]),
    st.floats(0.3, 3),
)
def test_a_command_to_close_by_a_dead_centre_arrives_on_the_side_it_was_drawn(
    base: int, arm_length: int, opening: int, side: int, way: str, short_of: float
) -> None:
    assume(abs(base - arm_length) > 100)
    foot = cmath.rect(arm_length, side * math.radians(opening))
    members = [
        pin("hinge", "frame", "blade", (0, 0)),
        cylinder("lift", end("frame", (base, 0)), end("blade", (foot.real, foot.imag))),
    ]
    members[1].update(retracted=1, stroke=5000)
    drawn = math.dist((base, 0), (foot.real, foot.imag))
    in_line = base + arm_length if way == "out" else abs(base - arm_length)
    move = in_line - short_of - drawn if way == "out" else in_line + short_of - drawn
    answer = readout(read_mount({**hinge(), "members": members}), {"lift": move})
    if answer["pose"]["fraction"] == 1:
        x, y = answer["pose"]["members"]["lift"]["ends"][1]
        angle = math.acos((base**2 + arm_length**2 - (drawn + move) ** 2) / (2 * base * arm_length))
        assert math.atan2(y, x) == pytest.approx(side * angle, abs=1e-6)
    else:
        assert answer["pose"]["stopped"]["code"] == "dead-centre"
        assert answer["pose"]["fraction"] > 1 - 1 / 2000


# Dead centre: a blade hinged at the origin and a cylinder that lies in line with it when it is 1800 mm long


def elbow() -> Document:
    """Base 1000 mm from the hinge, foot 800 mm from it, square to each other."""
    members = [
        pin("hinge", "frame", "blade", (0, 0)),
        cylinder("lift", end("frame", (0, 1000)), end("blade", (800, 0)), outward=1200),
    ]
    return {**hinge(), "blade": {"left": [0, 0], "right": [1000, 0]}, "members": members}


DRAWN = math.hypot(1000, 800)
IN_LINE = 1800.0


def test_a_mount_pushed_past_its_dead_centre_stops_just_before_it() -> None:
    asked = 600.0
    answer = readout(read_mount(elbow()), {"lift": asked})
    length = answer["pose"]["members"]["lift"]["length"]
    assert IN_LINE - asked / 1000 < length < IN_LINE
    assert answer["pose"]["fraction"] == pytest.approx((length - DRAWN) / asked)
    assert answer["pose"]["command"] == {"lift": pytest.approx(length - DRAWN)}


def test_at_a_dead_centre_the_last_good_pose_is_closed_and_says_why_it_stopped() -> None:
    document = elbow()
    answer = readout(read_mount(document), {"lift": 600})
    stopped = answer["pose"]["stopped"]
    assert (stopped["code"], stopped["members"]) == ("dead-centre", ["hinge", "lift"])
    assert said(stopped) == "the mount comes to a dead centre and can be pushed no further: see 'hinge', 'lift'"
    assert max(openings(document, answer, commanded(document, answer["pose"]["command"])).values()) < CLOSED_MM


def test_a_dead_centre_on_the_way_in_stops_too() -> None:
    document = elbow()
    member_of(document, "lift").update(retracted=100, stroke=2000)
    answer = readout(read_mount(document), {"lift": -1150})
    folded = 1000 - 800
    assert folded < answer["pose"]["members"]["lift"]["length"] < folded + 1.5
    assert answer["pose"]["stopped"]["code"] == "dead-centre"


def test_a_crank_pushed_past_what_its_cylinder_can_do_stops_at_its_own_dead_centre() -> None:
    document = crank_and_drop_rod()
    crank = member_of(document, "crank cylinder")
    crank.update(retracted=600, stroke=1000)
    answer = readout(read_mount(document), {"crank cylinder": 800})
    in_line = math.dist((200, 1500), (-500, 1050)) + math.dist((-500, 1400), (-500, 1050))
    assert in_line - 1 < answer["pose"]["members"]["crank cylinder"]["length"] < in_line
    assert answer["pose"]["stopped"]["members"] == ["crank pivot", "crank cylinder"]
    assert answer["warnings"][0]["code"] == "dead-centre"


# Stroke ends


def test_a_command_beyond_the_stroke_is_followed_to_its_end() -> None:
    pose = readout(read_mount(twin()), {"left": 250})["pose"]
    assert (pose["stopped"]["code"], pose["stopped"]["members"]) == ("stroke-end", ["left"])
    assert pose["stopped"]["values"] == {
        "name": ["left", "word"],
        "gone": [pytest.approx(200), "fine"],
        "asked": [250, "fine"],
    }
    assert said(pose["stopped"]) == "'left' is fully out after 200.0 mm of the 250.0 mm asked for"
    assert pose["fraction"] == pytest.approx(0.8)
    assert pose["command"] == pytest.approx({"left": 200, "right": 0})


def test_a_command_to_shorten_stops_fully_in() -> None:
    pose = readout(read_mount(twin()), {"right": -400})["pose"]
    assert said(pose["stopped"]) == "'right' is fully in after 200.0 mm of the 400.0 mm asked for"
    assert pose["members"]["right"]["extension"] == pytest.approx(0)


def test_the_cylinder_that_runs_out_first_stops_them_all() -> None:
    pose = readout(read_mount(twin()), {"left": 250, "right": -400})["pose"]
    assert pose["stopped"]["members"] == ["right"]
    assert pose["command"] == pytest.approx({"left": 125, "right": -200})


def test_a_command_to_the_very_end_of_the_stroke_is_followed_in_full() -> None:
    pose = readout(read_mount(twin()), {"left": 200})["pose"]
    assert (pose["fraction"], pose["stopped"]) == (1, None)


def test_a_cylinder_drawn_fully_out_goes_no_further_and_stays_as_drawn() -> None:
    document = twin()
    member_of(document, "left").update(retracted=400, stroke=400)
    pose = readout(read_mount(document), {"left": 5})["pose"]
    assert pose["fraction"] == 0
    assert said(pose["stopped"]) == "'left' is fully out after 0.0 mm of the 5.0 mm asked for"
    assert pose["ends"]["left"] == pytest.approx((-1000, 0))


def test_a_dead_centre_before_the_stroke_end_is_what_stops_a_mount() -> None:
    document = elbow()
    member_of(document, "lift")["stroke"] = 800
    assert DRAWN + 600 > IN_LINE
    assert readout(read_mount(document), {"lift": 5000})["pose"]["stopped"]["code"] == "dead-centre"


# Commands


def faults_of(command: dict[str, object], document: Document) -> list[tuple[str, str]]:
    with pytest.raises(BadCommand) as refusal:
        readout(read_mount(document), command)
    return [(fault.place, fault.filled()) for fault in refusal.value.faults]


def test_a_command_for_no_cylinder_names_those_there_are() -> None:
    assert faults_of({"middle": 5}, twin()) == [
        ('command["middle"]', "there is no cylinder of that name; the cylinders are 'left', 'right'")
    ]
    assert faults_of({"stay": 5}, twin())[0][0] == 'command["stay"]'


def test_a_command_for_a_mount_without_cylinders_says_so() -> None:
    bare = {**twin(), "members": [pin("pivot", "frame", "blade", (0, 0))]}
    assert faults_of({"lift": 5}, bare) == [
        (
            'command["lift"]',
            "there is no cylinder of that name; the cylinders are none: this mount has no cylinder",
        )
    ]


@pytest.mark.parametrize("value", [True, None, "5", [5], math.nan, math.inf, 1e6, -(10**400)], ids=str)
def test_a_command_that_is_no_number_of_millimetres_is_refused(value: object) -> None:
    assert faults_of({"left": value}, twin()) == [
        ('command["left"]', "is not a number of mm; give how much longer (+) or shorter (-) than drawn")
    ]


def test_all_faults_of_a_command_come_in_one_answer() -> None:
    places = [place for place, _ in faults_of({"middle": 5, "left": "5", "right": 3}, twin())]
    assert places == ['command["middle"]', 'command["left"]']


def test_a_bad_command_is_refused_for_a_loose_mount_too() -> None:
    loose = twin()
    loose["members"].pop()
    assert faults_of({"middle": 5}, loose)


def test_a_command_is_laid_out_in_document_order_with_the_rest_held() -> None:
    mount = read_mount(crank_and_drop_rod())
    assert moves_of(mount, {"right": 7}) == (0, 7)


# Poses with errors put in


def test_play_that_lets_a_hinge_drop_lets_the_blade_turn_about_the_other_end() -> None:
    analysis = analysed(hinge())
    pose = analysis.pose
    dropped = settle(analysis.assembly, pose, pose.lengths, [0, -1, 0, 0])
    left = Pose(dropped, pose.jacobian, pose.lengths).point(0, analysis.assembly.local(0, (-1000, 0)))
    assert left == pytest.approx((-1000, -1), abs=1e-9)


def test_lengths_that_cannot_close_a_mount_are_no_pose() -> None:
    analysis = analysed(hinge())
    with pytest.raises(ArithmeticError, match="no pose near by closes the mount"):
        settle(analysis.assembly, analysis.pose, [10_000.0], [0.0] * 4)


def test_the_condition_grows_without_end_toward_a_dead_centre() -> None:
    mount = read_mount(elbow())
    assembly = assemble(mount)
    far, near, nearer = (solve(assembly, [move]).condition for move in (0.0, 515.0, 519.0))
    assert far < 5 < 10 < near < nearer


def test_a_short_lever_is_followed_through_thirty_degrees_and_stays_closed() -> None:
    document = centre_pivot(**extras())
    answer = readout(read_mount(document), {"tilt": 120})
    assert abs(answer["pose"]["bodies"]["blade"]["angle"]) > 30
    assert max(openings(document, answer, commanded(document, {"tilt": 120})).values()) < CLOSED_MM


def test_a_command_that_takes_too_many_steps_is_followed_part_of_the_way_and_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("app.solve.pose._MOST_STEPS", 3)
    mount = shipped_mounts()["1-centre-pivot"]
    pose = readout(mount, {"tilt cylinder": 130})["pose"]
    assert pose["stopped"]["code"] == "too-far"
    assert said(pose["stopped"]) == (
        "the strokes turn the mount farther than is followed in one go; give them in smaller pieces"
    )
    assert 0 < pose["fraction"] < 1
