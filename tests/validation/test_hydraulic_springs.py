"""Trapped oil as a spring, and cylinder areas.

fluidpowerjournal.com/understanding-hydraulic-stiffness-system: hydrocarbon oil of 200 000 to 250 000 psi gives way by
0.5 to 0.4 % per 1000 psi. Seen.
A component maker's engineering page on MIL-H-83282 oil: 300 000 psi, 1.0 % at 3000 psi. Seen.
A worked example on a hydraulics forum, cylinder of 4 in bore, 2.5 in rod and 12 in stroke at mid-stroke: areas and
natural frequency seen; the stiffness behind it is derived.
R. L. Mott, Applied Fluid Mechanics: machine oil, 189 000 psi = 1303 MPa. From memory, supported by the conversion.
H. E. Merritt, Hydraulic Control Systems (Wiley): design value of 100 000 psi. From memory.
Stiffness of a locked cylinder along its stroke, and the areas of common bores and rods: derived, not published.
Free air in oil, isothermal: 1/Ke = 1/K + x p0/p^2 at p absolute. Derived from Boyle's law; Merritt, and N. Manring,
Hydraulic Control Systems (Wiley), give the idea. From memory.
"""

import math

import pytest

from app.document.models import Oil
from app.document.units import KG_PER_POUND, MM_PER_INCH, MPA_PER_PSI, NEWTON_PER_LBF
from app.members import Cylinder
from app.sources.oil import gives

from .mechanisms import ROUNDING, bare_cylinder

FORUM = bare_cylinder(bore=4 * MM_PER_INCH, rod=2.5 * MM_PER_INCH, stroke=12 * MM_PER_INCH)
LOCKED = bare_cylinder(bore=50, rod=28, stroke=200)

HALF_A_THOUSANDTH = 0.0005
"""Half a unit of the last printed digit of areas and derived stiffnesses."""

FREQUENCY_DIGIT = 0.005
"""The forum prints 77.033 Hz from rounded areas; unrounded they give 77.030."""

HALF_A_POUND_PER_INCH = 0.5
"""Half a unit of the last digit of the derived stiffness, lbf/in."""

HALF_A_MEGAPASCAL = 0.5
"""Half a unit of the last printed digit of Mott's table, MPa."""


def stiffness(cylinder: Cylinder, extension: float, bulk_modulus: float) -> float:
    """Stiffness of a cylinder locked on both sides, N/mm: the pushed side and the pulled side add up."""
    length = cylinder.retracted + extension
    pushed, pulled = (
        -force / gives(cylinder, force, length, Oil(bulk_modulus=bulk_modulus)) for force in (1_000.0, -1_000.0)
    )
    return pushed + pulled


@pytest.mark.parametrize(
    ("bulk_modulus_psi", "pressure_psi", "percent"),
    [
        pytest.param(200_000, 1_000, 0.5, id="fluid power journal, low"),
        pytest.param(250_000, 1_000, 0.4, id="fluid power journal, high"),
        pytest.param(300_000, 3_000, 1.0, id="component maker, MIL-H-83282"),
    ],
)
def test_oil_column_under_a_push_shortens_by_the_printed_percentage(
    bulk_modulus_psi: float, pressure_psi: float, percent: float
) -> None:
    column = 100.0
    push = pressure_psi * MPA_PER_PSI * LOCKED.cap_area

    change = gives(LOCKED, push, LOCKED.retracted + column, Oil(bulk_modulus=bulk_modulus_psi * MPA_PER_PSI))

    assert change == pytest.approx(-column * percent / 100, rel=ROUNDING)


def test_oil_column_under_a_pull_lengthens_by_the_printed_half_percent_of_the_annulus_side() -> None:
    pull = 1_000 * MPA_PER_PSI * LOCKED.annulus_area

    change = gives(LOCKED, -pull, LOCKED.retracted + 120, Oil(bulk_modulus=200_000 * MPA_PER_PSI))

    assert change == pytest.approx((LOCKED.stroke - 120) * 0.5 / 100, rel=ROUNDING)


def test_forum_example_4_in_bore_with_2_5_in_rod_has_the_printed_areas() -> None:
    assert FORUM.cap_area / MM_PER_INCH**2 == pytest.approx(12.566, abs=HALF_A_THOUSANDTH)
    assert FORUM.annulus_area / MM_PER_INCH**2 == pytest.approx(7.658, abs=HALF_A_THOUSANDTH)


def test_forum_example_at_mid_stroke_is_a_spring_of_606_720_lbf_per_inch_derived() -> None:
    spring = stiffness(FORUM, FORUM.stroke / 2, 180_000 * MPA_PER_PSI)

    assert spring * MM_PER_INCH / NEWTON_PER_LBF == pytest.approx(606_720, abs=HALF_A_POUND_PER_INCH)


def test_forum_example_carries_1000_lb_at_77_033_hz() -> None:
    newton_per_metre = 1_000 * stiffness(FORUM, FORUM.stroke / 2, 180_000 * MPA_PER_PSI)

    frequency = math.sqrt(newton_per_metre / (1_000 * KG_PER_POUND)) / (2 * math.pi)

    assert frequency == pytest.approx(77.033, abs=FREQUENCY_DIGIT)


@pytest.mark.parametrize(
    ("extension", "kilonewton_per_mm"),
    [
        pytest.param(50, 67.557, id="a quarter out"),
        pytest.param(100, 46.357, id="half out"),
        pytest.param(150, 56.063, id="three quarters out"),
        pytest.param(109.380, 45.953, id="softest, at L / (1 + sqrt(annulus / cap))"),
    ],
)
def test_locked_cylinder_of_50_by_28_by_200_mm_has_its_stiffness_along_the_stroke_derived(
    extension: float, kilonewton_per_mm: float
) -> None:
    spring = stiffness(LOCKED, extension, bulk_modulus=1_400)

    assert spring / 1_000 == pytest.approx(kilonewton_per_mm, abs=HALF_A_THOUSANDTH)


@pytest.mark.parametrize("beside", [-5, 5])
def test_locked_cylinder_is_stiffer_to_either_side_of_its_softest_extension_derived(beside: float) -> None:
    softest = LOCKED.stroke / (1 + math.sqrt(LOCKED.annulus_area / LOCKED.cap_area))

    assert stiffness(LOCKED, softest + beside, 1_400) > stiffness(LOCKED, softest, 1_400)


def test_mott_machine_oil_of_189_000_psi_is_1303_mpa() -> None:
    megapascal = 189_000 * MPA_PER_PSI

    assert megapascal == pytest.approx(1303, abs=HALF_A_MEGAPASCAL)


def test_merritt_design_bulk_modulus_of_100_000_psi_is_0_689_gpa() -> None:
    gigapascal = 100_000 * MPA_PER_PSI / 1_000

    assert gigapascal == pytest.approx(0.689, abs=HALF_A_THOUSANDTH)


@pytest.mark.parametrize(
    ("bore", "rod", "piston", "annulus", "ratio"),
    [
        (25, 14, 4.909, 3.369, 1.457),
        (32, 18, 8.042, 5.498, 1.463),
        (40, 22, 12.566, 8.765, 1.434),
        (40, 28, 12.566, 6.409, 1.961),
        (50, 28, 19.635, 13.477, 1.457),
        (50, 36, 19.635, 9.456, 2.076),
        (63, 36, 31.172, 20.994, 1.485),
        (63, 45, 31.172, 15.268, 2.042),
        (80, 45, 50.265, 34.361, 1.463),
        (80, 56, 50.265, 25.635, 1.961),
        (100, 56, 78.540, 53.910, 1.457),
        (100, 70, 78.540, 40.055, 1.961),
    ],
)
def test_common_bores_and_rods_have_their_areas_in_square_centimetres_derived(
    bore: float, rod: float, piston: float, annulus: float, ratio: float
) -> None:
    cylinder = bare_cylinder(bore, rod, stroke=200)

    assert cylinder.cap_area / 100 == pytest.approx(piston, abs=HALF_A_THOUSANDTH)
    assert cylinder.annulus_area / 100 == pytest.approx(annulus, abs=HALF_A_THOUSANDTH)
    assert cylinder.cap_area / cylinder.annulus_area == pytest.approx(ratio, abs=HALF_A_THOUSANDTH)


def test_one_percent_of_air_at_1_mpa_leaves_579_of_1400_mpa() -> None:
    aerated = Oil(bulk_modulus=1_400, entrained_air=0.01, preloaded=True, trapped_pressure=1.0)
    effective = 1 / (1 / 1_400 + 0.01 * 0.1013 / 1.0**2)
    assert effective == pytest.approx(578.9, abs=0.05)

    given = gives(LOCKED, 1_000, LOCKED.retracted + 100, aerated)
    as_stiff = gives(LOCKED, 1_000, LOCKED.retracted + 100, Oil(bulk_modulus=effective, preloaded=True))

    assert given == pytest.approx(as_stiff, rel=ROUNDING)


def test_air_on_the_pressed_side_loses_volume_by_boyles_law() -> None:
    # 1 % of 100 mm of oil at 0.1013 MPa; pressed by 0.9 MPa it shrinks in the proportion of the absolute pressures.
    push, column = 0.9 * LOCKED.cap_area, 100.0
    without, aerated = (
        -gives(LOCKED, push, LOCKED.retracted + column, Oil(bulk_modulus=1_400, entrained_air=air))
        for air in (None, 0.01)
    )

    assert aerated - without == pytest.approx(0.01 * column * (1 - 0.1013 / (0.1013 + 0.9)), rel=ROUNDING)


def test_preloaded_oil_on_both_sides_is_the_two_springs_beside_each_other() -> None:
    given = gives(LOCKED, 1_000, LOCKED.retracted + 109.38, Oil(bulk_modulus=1_400, preloaded=True))

    assert 1_000 / -given / 1_000 == pytest.approx(45.953, abs=HALF_A_THOUSANDTH)
