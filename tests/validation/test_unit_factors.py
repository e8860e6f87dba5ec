"""Unit factors.

NIST Special Publication 811, appendix B, and the 1959 yard and pound agreement: inch, foot, pound. The HUD metric guide
(appendix B, a copy at allslide.net) prints 0.0254 and 0.3048 m, 4.448222 N and 6 894.757 Pa. Seen.
pint, default_en.txt and constants_en.txt: grain = 64.79891 mg, standard gravity = 9.80665 m/s2, both exact. Seen.
All digits of the pound-force and the psi: from memory, supported by the product of the exact factors.
"""

import pytest

from app.document.units import KG_PER_POUND, MM_PER_INCH, MPA_PER_PSI, NEWTON_PER_LBF, STANDARD_GRAVITY

LAST_BIT = 1e-15
"""Relative tolerance of an exact factor: one rounding of a double in each product."""

HALF_THE_GUIDES_DIGIT_N = 0.0005
"""Half a unit of the last digit of the guide's 4.448222 N, per 1000 lbf."""

HALF_THE_GUIDES_DIGIT_MPA = 0.0000005
"""Half a unit of the last digit of the guide's 6 894.757 Pa, as MPa per 1000 psi."""


def test_nist_inch_is_25_4_mm_and_foot_0_3048_m_exactly() -> None:
    foot_in_metres = 12 * MM_PER_INCH / 1_000

    assert MM_PER_INCH == 25.4
    assert foot_in_metres == pytest.approx(0.3048, rel=LAST_BIT)


def test_pint_pound_is_7000_grains_of_64_79891_mg() -> None:
    grains_in_kg = 7_000 * 64.79891e-6

    assert grains_in_kg == pytest.approx(KG_PER_POUND, rel=LAST_BIT)


def test_pint_standard_gravity_is_9_80665() -> None:
    assert STANDARD_GRAVITY == 9.80665


def test_nist_pound_force_has_all_its_digits_and_the_guides_rounding() -> None:
    thousand_lbf = 1_000 * NEWTON_PER_LBF

    assert thousand_lbf == pytest.approx(4448.2216152605, rel=LAST_BIT)
    assert thousand_lbf == pytest.approx(4448.222, abs=HALF_THE_GUIDES_DIGIT_N)


def test_nist_psi_has_all_its_digits_and_the_guides_rounding() -> None:
    psi_in_pascals, ksi_in_megapascals = 1e6 * MPA_PER_PSI, 1e3 * MPA_PER_PSI

    assert psi_in_pascals == pytest.approx(6894.757293168361, rel=LAST_BIT)
    assert ksi_in_megapascals == pytest.approx(6.894757, abs=HALF_THE_GUIDES_DIGIT_MPA)


def test_square_inch_is_645_16_mm2() -> None:
    square_inch = MM_PER_INCH**2

    assert square_inch == pytest.approx(645.16, rel=LAST_BIT)


def test_hundredth_of_a_foot_is_3_048_mm() -> None:
    hundredth_of_a_foot = 12 * MM_PER_INCH / 100

    assert hundredth_of_a_foot == pytest.approx(3.048, rel=LAST_BIT)
