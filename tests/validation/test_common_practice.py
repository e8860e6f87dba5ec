"""A 96 in blade worked through by hand on two mounts. Common practice, no source.

Centre pivot: the blade turns about a pin level with its edge and a tilt cylinder holds it by a lever of 8 in, square to
it, so that the edge multiplies what happens at the lever by 48 / 8 = 6.
Twin uprights: two upright cylinders 72 in apart and a level side stay, so that each end hangs 12 in beyond a cylinder.
"""

import math
from typing import Any

import pytest

from app.document.models import Mount
from app.document.parts import Point
from app.document.units import MM_PER_INCH, MPA_PER_PSI, NEWTON_PER_LBF
from tests.answers import readout

from .mechanisms import ROUNDING, cylinder, mount_of, pin, twin_uprights

HALF_BLADE = 48 * MM_PER_INCH
LEVER = 8 * MM_PER_INCH
COLUMN = 8 * MM_PER_INCH
CLEARANCE = 0.010 * MM_PER_INCH
LOAD = 1_000 * NEWTON_PER_LBF

HALF_A_TEN_THOUSANDTH = 0.00005
"""Half a unit of the last digit of a sum worked by hand, in."""

HALF_A_HUNDREDTH = 0.005
"""Half a unit of the last digit of an area worked by hand, in2."""

HALF_A_THOUSANDTH = 0.0005
"""Half a unit of the last digit of a length or ratio worked by hand."""

FIVE_PSI = 5.0
"""Half of the last digit that matters in 1630 psi."""


def centre_pivot(**more: Any) -> Mount:  # noqa: ANN401 - any key of the document
    """The blade on its pivot at the origin, the tilt cylinder level from the left to the top of the lever, half out.

    Bore 2.5 in, rod 1.25 in, 8 in of oil column to either side, 0.010 in of clearance in each of the three joints.
    """
    barrel: Point = (-30 * MM_PER_INCH, LEVER)
    tilt = cylinder(
        "tilt cylinder",
        ("frame", barrel),
        ("blade", (0, LEVER)),
        bore=2.5 * MM_PER_INCH,
        rod=1.25 * MM_PER_INCH,
        retracted=30 * MM_PER_INCH - COLUMN,
        stroke=2 * COLUMN,
        clearance=CLEARANCE,
    )
    members = [pin("pivot", "frame", "blade", (0, 0), clearance=CLEARANCE), tilt]
    return mount_of(members, (-HALF_BLADE, 0), (HALF_BLADE, 0), **more)


def up_at(x: float) -> dict[str, Any]:
    """1000 lbf up on the edge."""
    return {"at": [x, 0], "force": [0, LOAD]}


def twins(**more: Any) -> Mount:  # noqa: ANN401 - any key of the document
    """The blade on two upright cylinders of 3 in bore, 72 in apart, with a level side stay."""
    return twin_uprights(-36 * MM_PER_INCH, 36 * MM_PER_INCH, -HALF_BLADE, HALF_BLADE, **more)


def test_centre_pivot_moves_the_edge_six_times_as_far_as_the_cylinder_and_both_ends_against_each_other() -> None:
    tilt = readout(centre_pivot())["actuators"]["tilt cylinder"]

    assert (tilt["left"], tilt["right"]) == pytest.approx((6, -6), rel=ROUNDING)
    assert tilt["coupling"] == pytest.approx(-1, rel=ROUNDING)
    assert tilt["instant_centre"] == pytest.approx((0, 0), abs=ROUNDING)


def test_centre_pivot_with_0_010_in_of_play_in_each_joint_lets_the_edge_go_through_0_1808_in() -> None:
    found = readout(centre_pivot())["budget"]["right"]

    band = {source["id"]: (source["high"] - source["low"]) / MM_PER_INCH for source in found["sources"]}
    assert band["tilt cylinder / 1"] == pytest.approx(6 * 0.010, rel=ROUNDING)
    assert band["tilt cylinder / 2"] == pytest.approx(6 * 0.010, rel=ROUNDING)
    assert band["pivot"] == pytest.approx(math.hypot(6, 1) * 0.010, rel=ROUNDING)
    assert found["band"] / MM_PER_INCH == pytest.approx(0.1808, abs=HALF_A_TEN_THOUSANDTH)


def test_centre_pivot_plays_more_than_the_eighth_of_an_inch_wanted_in_all() -> None:
    wanted = MM_PER_INCH / 8

    answer = readout(centre_pivot(tolerance=wanted / 2))["budget"]

    assert answer["right"]["band"] > wanted
    assert answer["inside"] is False


def test_centre_pivot_puts_6000_lbf_on_the_cylinder_for_1000_lbf_at_the_blade_end() -> None:
    tilt = readout(centre_pivot(load=up_at(HALF_BLADE)))["actuators"]["tilt cylinder"]

    assert tilt["force"] / NEWTON_PER_LBF == pytest.approx(6_000, rel=ROUNDING)
    assert tilt["load_ratio"] == pytest.approx(6, rel=ROUNDING)
    assert tilt["side"] == "cap"


def test_centre_pivot_pulls_its_annulus_of_3_68_in2_to_1630_psi() -> None:
    mount = centre_pivot(load=up_at(-HALF_BLADE))
    tilt = readout(mount)["actuators"]["tilt cylinder"]

    assert mount.cylinders[0].annulus_area / MM_PER_INCH**2 == pytest.approx(3.68, abs=HALF_A_HUNDREDTH)
    assert tilt["force"] / NEWTON_PER_LBF == pytest.approx(-6_000, rel=ROUNDING)
    assert tilt["side"] == "annulus"
    assert tilt["pressure"] / MPA_PER_PSI == pytest.approx(1_630, abs=FIVE_PSI)


def test_centre_pivot_oil_gives_way_0_065_in_at_the_cylinder_and_six_times_that_at_the_edge() -> None:
    mount = centre_pivot(load=up_at(-HALF_BLADE), oil={"bulk_modulus": 200_000 * MPA_PER_PSI})
    annulus = math.pi / 4 * (2.5**2 - 1.25**2)

    sources = readout(mount)["budget"]["left"]["sources"]

    (oil,) = [source for source in sources if source["kind"] == "oil"]
    assert oil["low"] == 0
    assert oil["high"] / 6 / MM_PER_INCH == pytest.approx(0.065, abs=HALF_A_THOUSANDTH)
    assert oil["high"] / MM_PER_INCH == pytest.approx(6 * 8 * 6_000 / (annulus * 200_000), rel=ROUNDING)


def test_twin_uprights_put_1_167_of_a_load_at_the_blade_end_on_the_near_cylinder() -> None:
    near = readout(twins(load=up_at(HALF_BLADE)))["actuators"]["right cylinder"]

    assert near["load_ratio"] == pytest.approx((36 + 48) / 72, rel=ROUNDING)
    assert near["load_ratio"] == pytest.approx(1.167, abs=HALF_A_THOUSANDTH)


def test_twin_uprights_carry_1000_lbf_at_the_blade_end_on_less_than_200_psi_in_a_3_in_bore() -> None:
    near = readout(twins(load=up_at(HALF_BLADE)))["actuators"]["right cylinder"]
    bore_area = math.pi / 4 * 3**2

    assert near["side"] == "cap"
    assert near["pressure"] / MPA_PER_PSI == pytest.approx(1_000 * (36 + 48) / 72 / bore_area, rel=ROUNDING)
    assert near["pressure"] / MPA_PER_PSI < 200


def test_twin_uprights_far_cylinder_is_pulled_with_a_sixth_of_a_load_at_the_blade_end() -> None:
    far = readout(twins(load=up_at(HALF_BLADE)))["actuators"]["left cylinder"]

    assert far["force"] / LOAD == pytest.approx(-(48 - 36) / 72, rel=ROUNDING)


def test_twin_uprights_take_a_side_push_by_the_stay_and_a_couple_on_the_cylinders() -> None:
    stay, push = 300, 120  # mm above the edge
    answer = readout(twins(load={"at": [HALF_BLADE, push], "force": [LOAD, 0]}))

    couple = LOAD * (stay - push) / (72 * MM_PER_INCH)
    assert answer["forces"]["side stay / 2"]["load"] == pytest.approx((-LOAD, 0), rel=ROUNDING, abs=ROUNDING)
    # Pushed to the right below the stay, the blade turns counterclockwise: the right cylinder is pushed.
    assert answer["actuators"]["right cylinder"]["force"] == pytest.approx(couple, rel=ROUNDING)
    assert answer["actuators"]["left cylinder"]["force"] == pytest.approx(-couple, rel=ROUNDING)


@pytest.mark.parametrize(("near", "lead"), [("left cylinder", "left"), ("right cylinder", "right")])
def test_twin_uprights_move_the_far_end_back_by_a_seventh_of_the_near_one(near: str, lead: str) -> None:
    works = readout(twins())["actuators"][near]

    assert works["lead"] == lead
    assert works["coupling"] == pytest.approx(-12 / 84, rel=ROUNDING)
    assert works[lead] == pytest.approx(-84 / 72, rel=ROUNDING)
