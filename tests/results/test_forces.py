"""What load and weight put on joints and cylinders, against statics worked out by hand."""

import math

import pytest

from app.document.reading import read_mount
from app.results.forces import worst_force
from app.results.relief import stalls
from app.shipped import shipped_mounts
from tests.answers import readout, reasons
from tests.mounts import Document, analysed, guide_on_blade, guided, hinge, member_of, twin

GRAVITY = 9.80665
"""m/s2, NIST SP 811."""

CAP = math.pi / 4 * 63**2
ANNULUS = math.pi / 4 * (63**2 - 36**2)


def load(*force: float, at: tuple[float, float] = (1000, 0)) -> Document:
    return {"at": list(at), "force": list(force)}


def answer(document: Document) -> Document:
    return readout(read_mount(document))


def pushed_up() -> Document:
    """4500 N up at 2000 mm from the hinge, held by a cylinder at 1800 mm: 5000 N."""
    return hinge(load=load(0, 4500))


def test_a_load_that_pushes_a_cylinder_shorter_is_positive_and_carried_by_the_cap() -> None:
    lift = answer(pushed_up())["actuators"]["lift"]
    assert lift["force"] == pytest.approx(5000)
    assert lift["side"] == "cap"
    assert lift["pressure"] == pytest.approx(5000 / CAP)
    assert lift["load_ratio"] == pytest.approx(5000 / 4500)


def test_a_load_that_pulls_a_cylinder_is_negative_and_carried_by_the_ring_around_the_rod() -> None:
    lift = answer(hinge(load=load(0, -4500)))["actuators"]["lift"]
    assert lift["force"] == pytest.approx(-5000)
    assert lift["side"] == "annulus"
    assert lift["pressure"] == pytest.approx(5000 / ANNULUS)
    assert lift["load_ratio"] == pytest.approx(5000 / 4500)


def test_a_load_over_a_hinge_leaves_the_cylinder_without_force() -> None:
    lift = answer(hinge(load=load(0, 4500, at=(-1000, 0))))["actuators"]["lift"]
    assert lift["force"] == pytest.approx(0)
    assert lift["side"] == "none"


def test_a_hinge_feels_the_frame_push_the_blade_by_what_the_cylinder_overdoes() -> None:
    assert answer(pushed_up())["forces"]["hinge"]["load"] == pytest.approx((0, 500))


def test_a_pin_named_from_blade_to_frame_feels_the_blade_push_the_frame() -> None:
    document = pushed_up()
    member_of(document, "hinge")["joins"] = ["blade", "frame"]
    assert answer(document)["forces"]["hinge"]["load"] == pytest.approx((0, -500))


def test_the_ends_of_a_cylinder_push_apart_what_they_are_pinned_to() -> None:
    forces = answer(pushed_up())["forces"]
    assert forces["lift / 1"]["load"] == pytest.approx((0, 5000))
    assert forces["lift / 2"]["load"] == pytest.approx((0, -5000))


def test_a_beam_on_two_cylinders_and_a_stay_shares_the_load_by_its_levers() -> None:
    found = answer(twin(load=load(300, 4500)))
    beam, tipping = 4500 * 1800 / 1600, 300 * 200 / 1600
    assert found["actuators"]["right"]["force"] == pytest.approx(beam + tipping)
    assert found["actuators"]["left"]["force"] == pytest.approx(4500 - beam - tipping)
    assert found["forces"]["stay / 2"]["load"] == pytest.approx((-300, 0))
    assert found["forces"]["stay / 1"]["load"] == pytest.approx((300, 0))


def test_a_guide_pushes_its_block_back_square_to_its_way() -> None:
    assert answer(guided(load=load(300, 4500)))["forces"]["guide"]["load"] == pytest.approx((-300, 0))


def test_a_guide_on_the_blade_pushes_the_frame_the_way_the_load_goes() -> None:
    assert answer(guide_on_blade(load=load(300, 4500)))["forces"]["guide"]["load"] == pytest.approx((300, 0))


def test_the_weight_is_shared_like_a_load_and_kept_apart_from_it() -> None:
    document = pushed_up()
    document["blade"] |= {"mass": 100, "mass_centre": [0, 190]}
    entry = answer(document)["forces"]["lift / 2"]
    hung = 100 * GRAVITY * 1000 / 1800
    assert entry["weight"] == pytest.approx((0, hung))
    assert entry["load"] == pytest.approx((0, -5000))
    assert entry["worst"] == pytest.approx(5000 - hung)


def test_the_force_of_a_cylinder_is_from_the_load_alone() -> None:
    document = pushed_up()
    document["blade"] |= {"mass": 100, "mass_centre": [0, 190]}
    assert answer(document)["actuators"]["lift"]["force"] == pytest.approx(5000)


@pytest.mark.parametrize(
    ("pushes", "hangs", "worst"),
    [
        ((0, -5000), (0, 500), 4500),
        ((0, 300), (0, -500), 500),
        ((3, 0), (0, 4), 5),
        ((3, 4), None, 5),
        (None, (6, 8), 10),
        (None, None, None),
    ],
)
def test_the_worst_force_is_the_larger_of_weight_alone_and_weight_under_full_load(
    pushes: tuple[float, float] | None, hangs: tuple[float, float] | None, worst: float | None
) -> None:
    assert worst_force(pushes, hangs) == worst


def test_a_rated_joint_says_how_much_of_its_rating_is_used() -> None:
    document = pushed_up()
    member_of(document, "hinge")["rating"] = 2000
    entry = answer(document)["forces"]["hinge"]
    assert (entry["rating"], entry["use"]) == (2000, pytest.approx(0.25))
    assert answer(document)["forces"]["lift / 1"]["use"] is None


def test_without_load_and_weight_there_are_no_forces_and_the_reasons_are_told() -> None:
    found = answer(hinge())
    assert set(found["forces"]["hinge"].values()) == {None}
    lift = found["actuators"]["lift"]
    assert [lift[key] for key in ("force", "side", "pressure", "load_ratio")] == [None] * 4
    assert reasons(found)["actuators.force"] == reasons(found)["forces.load"] == "needs a load"
    assert reasons(found)["forces.weight"] == "needs a mass and its centre"


def test_a_load_of_no_size_has_no_ratio() -> None:
    found = answer(hinge(load=load(0, 0)))
    assert found["actuators"]["lift"]["force"] == 0
    assert found["actuators"]["lift"]["load_ratio"] is None
    assert reasons(found)["actuators.load_ratio"] == "needs a load of some size"


def test_a_load_rides_with_the_blade_and_keeps_its_direction() -> None:
    tipped = readout(read_mount(hinge(load=load(0, 4500))), {"lift": 150})
    (foot_x, _), (top_x, top_y) = tipped["pose"]["members"]["lift"]["ends"][1], (800, 1000)
    foot_y = tipped["pose"]["members"]["lift"]["ends"][1][1]
    arm = abs((foot_x + 1000) * (top_y - foot_y) - foot_y * (top_x - foot_x)) / 1150
    load_arm = tipped["pose"]["ends"]["right"][0] + 1000
    assert tipped["actuators"]["lift"]["force"] == pytest.approx(4500 * load_arm / arm)


# Stall


def test_a_joint_of_its_own_cylinder_sees_what_the_relief_lets_it_push() -> None:
    # 63 mm at 18 MPa push with 56.1 kN: of a barrel end rated for 60 kN that is 94 %, whatever the load.
    forces = readout(shipped_mounts()["3-twin-cylinders"])["forces"]
    barrel = forces["right cylinder / 1"]
    assert barrel["stall"] == pytest.approx(18 * CAP)
    assert barrel["use"] == pytest.approx(0.935, abs=5e-4)
    assert barrel["worst"] / barrel["rating"] < 0.03


def test_a_hinge_at_stall_carries_what_statics_say_when_the_cylinder_is_at_relief() -> None:
    oil = {"bulk_modulus": 1400, "relief_pressure": 10}
    found = answer(hinge(load=load(0, 4500), oil=oil))["forces"]["hinge"]
    # Pushed on the cap the cylinder holds 10 MPa x cap at 1800 mm; the load is 2000 mm out: a tenth of it on the hinge.
    lifted = 10 * CAP * (1 - 1800 / 2000)
    assert found["stall"] == pytest.approx(lifted)
    assert found["use"] is None


def test_weight_shifts_the_load_at_which_a_cylinder_stalls() -> None:
    drawn = hinge(load=load(0, 4500), oil={"bulk_modulus": 1400, "relief_pressure": 10})
    drawn["blade"] |= {"mass": 300, "mass_centre": [800, 0]}
    weight = 300 * GRAVITY
    found = answer(drawn)["forces"]["hinge"]
    # The weight hangs on the cylinder alone: pulled down to relief the ring holds so much less load, up so much more.
    up, down = (10 * CAP + weight) * 1800 / 2000, (10 * ANNULUS - weight) * 1800 / 2000
    assert found["stall"] == pytest.approx(max(up, down) / 9)


def test_a_weight_beyond_relief_leaves_no_load_either_way() -> None:
    drawn = hinge(load=load(0, 4500), oil={"bulk_modulus": 1400, "relief_pressure": 10})
    drawn["blade"] |= {"mass": 9000, "mass_centre": [800, 0]}
    assert [abs(each) for each in stalls(analysed(drawn))] == [0.0, 0.0]


def test_a_load_that_relief_cannot_carry_is_said_and_nothing_is_judged_by_it() -> None:
    found = answer(hinge(load=load(0, 45_000), oil={"bulk_modulus": 1400, "relief_pressure": 10}, tolerance=500))
    assert found["warnings"][0]["code"] == "over-relief"
    assert found["budget"]["inside"] is None
    assert reasons(found)["budget.inside"].startswith("the relief valve opens before the load is on")


def test_a_pressure_is_never_negative_and_says_its_side() -> None:
    lift = answer(hinge(load=load(0, -4500)))["actuators"]["lift"]
    assert lift["pressure"] > 0
    assert lift["side"] == "annulus"
