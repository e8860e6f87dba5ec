"""Reactions of beams and levers from elementary statics.

civilengineer.webinfolist.com/mech/prob42.htm: overhanging beam under a point load and a spread load. Seen.
math.drel.us, engr_03: simple beam under one load, and a lever in balance. Seen.
tquigley.com/T310.htm and the overhanging beam page of becalc.com: R1 = -F a / l and R2 = F (l + a) / l. Formulas seen;
the numbers put in are this project's.

The beam is the blade; a spread load is the blade's mass at its centre. Reactions are up on the beam, in N.
"""

from typing import Any

import pytest

from app.document.models import Mount
from app.document.units import STANDARD_GRAVITY
from tests.answers import readout

from .mechanisms import ROUNDING, cylinder, mount_of, pin, rod

HALF_A_HUNDREDTH = 0.005
"""Half a unit of the last printed digit of the balance distance, m."""

any_supports = pytest.mark.parametrize("supports", ["pin and rod", "rods and stay", "cylinders and stay"])


def beam(supports: str, *, span: float, length: float, down: dict[float, float], **more: Any) -> Mount:  # noqa: ANN401
    """A beam from x = 0 to ``length`` mm, on 'left' at x = 0 and 'right' at x = ``span``.

    ``down`` holds one load in N by its place in mm.
    """
    foot, head = ("frame", (0.0, -900.0)), ("blade", (0.0, 0.0))
    far_foot, far_head = ("frame", (span, -900.0)), ("blade", (span, 0.0))
    stay = rod("stay", ("frame", (-500.0, 0.0)), head)
    members = {
        "pin and rod": [pin("left", "frame", "blade", (0, 0)), rod("right", far_foot, far_head)],
        "rods and stay": [rod("left", foot, head), rod("right", far_foot, far_head), stay],
        "cylinders and stay": [cylinder("left", foot, head), cylinder("right", far_foot, far_head), stay],
    }
    ((place, force),) = down.items()
    load = {"at": [place, 0], "force": [0, -force]}
    return mount_of(members[supports], (0, 0), (length, 0), load=load, **more)


def reactions(mount: Mount, *cases: str) -> tuple[float, float]:
    """What 'left' and 'right' push up with under the cases named, N."""
    forces = readout(mount)["forces"]
    at_left = forces["left" if "left" in forces else "left / 2"]
    return sum(at_left[case][1] for case in cases), sum(forces["right / 2"][case][1] for case in cases)


@any_supports
def test_civilengineer_problem_42_overhanging_beam_lifts_at_a_with_10_kn_and_bears_on_b_with_55_kn(
    supports: str,
) -> None:
    spread = (5_000 * 4 / STANDARD_GRAVITY, (4_000, 0))

    overhanging = beam(supports, span=6_000, length=10_000, down={10_000: 25_000}, mass=spread)

    assert reactions(overhanging, "load", "weight") == pytest.approx((-10_000, 55_000), rel=ROUNDING)


@any_supports
def test_drel_engr_03_simple_beam_shares_600_n_at_a_third_of_its_span_as_400_and_200_n(supports: str) -> None:
    simple = beam(supports, span=6_000, length=6_000, down={2_000: 600})

    assert reactions(simple, "load") == pytest.approx((400, 200), rel=ROUNDING)


def test_drel_engr_03_lever_with_40_kg_at_2_m_balances_30_kg_at_2_67_m() -> None:
    far_side = {"at": [1_000, 0], "force": [0, -30 * STANDARD_GRAVITY]}
    members = [pin("fulcrum", "frame", "blade", (0, 0)), rod("prop", ("frame", (500, -900)), ("blade", (500, 0)))]
    lever = mount_of(members, (-2_000, 0), (3_000, 0), mass=(40, (-2_000, 0)), load=far_side)

    prop = readout(lever)["forces"]["prop / 2"]
    # 30 kg at 1 m unloads the prop by so much; at so many metres it takes the prop's whole force.
    balance = -prop["weight"][1] / prop["load"][1]

    assert balance == pytest.approx(2.67, abs=HALF_A_HUNDREDTH)


@any_supports
def test_overhang_formulas_give_the_reactions_of_10_kn_at_1_m_beyond_a_span_of_3_m(supports: str) -> None:
    force, span, overhang = 10_000, 3_000, 1_000

    overhanging = beam(supports, span=span, length=span + overhang, down={span + overhang: force})

    expected = (-force * overhang / span, force * (span + overhang) / span)
    assert reactions(overhanging, "load") == pytest.approx(expected, rel=ROUNDING)


def test_overhang_formulas_pull_the_far_cylinder_and_push_the_near_one() -> None:
    force, span, overhang = 10_000, 3_000, 1_000

    overhanging = beam("cylinders and stay", span=span, length=span + overhang, down={span + overhang: force})

    actuators = readout(overhanging)["actuators"]
    assert actuators["left"]["force"] == pytest.approx(-force * overhang / span, rel=ROUNDING)
    assert actuators["left"]["side"] == "annulus"
    assert actuators["right"]["force"] == pytest.approx(force * (span + overhang) / span, rel=ROUNDING)
    assert actuators["right"]["side"] == "cap"
