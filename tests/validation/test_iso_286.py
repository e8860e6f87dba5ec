"""ISO 286 limits and fits.

IT grades 6 to 11 and shaft deviations c to f for nominal diameters over 18 to 80 mm: tables reprinted from ISO 286-1 at
engineersvault.blogspot.com/2007/02/index-of-iso-hole-and-shaft.html. Seen.
Formula behind the grades, ISO 286-1:1988 as given at engineersedge.com: i = 0.45 D^(1/3) + 0.001 D in micrometres, D
the geometric mean of the step in mm; IT6 to IT11 are 10, 16, 25, 40, 64, 100 times i. Rule seen in part (64 from
memory), values of i derived; where the table rounds otherwise it governs.
Wikipedia, "Engineering fit": 50 H8/f7 is 0/+39 and -50/-25, clearance 25 to 89. Seen.
Combined fits at 25, 30, 40, 50 and 60 mm: derived from the two tables.
Machinery's Handbook, Table 12 (ANSI B4.2), size 4 mm: seen, but below 18 mm, where nothing is tabulated here; left out.
Shafts g: from memory, not checked here.
"""

import math

import pytest

from app.standards.fits import GRADES, SHAFTS, fit_at

EXACT = 1e-12
"""Tables hold whole micrometres: clearances are sums of them."""

PRINTED = {
    30.0: (13, 21, 33, 52, 84, 130),
    50.0: (16, 25, 39, 62, 100, 160),
    80.0: (19, 30, 46, 74, 120, 190),
}
"""IT6 to IT11 as printed, by the upper end of the step, micrometres."""

STEPS = {30.0: (18, 30), 50.0: (30, 50), 80.0: (50, 80)}
MULTIPLES = {6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100}

ROUNDING_OF_THE_TABLE = 0.026
"""The standard rounds its grades by rules of its own, at the most by 2.5 %: 16 for 15.61, 160 for 156.12."""


def unit(step: tuple[float, float]) -> float:
    """The standard tolerance unit i of a step of nominal diameters, micrometres."""
    mean = math.sqrt(step[0] * step[1])
    return 0.45 * math.cbrt(mean) + 0.001 * mean


def micrometres(nominal: float, fit: str) -> tuple[float, float]:
    found = fit_at(nominal, fit)
    return found.least * 1000, found.greatest * 1000


@pytest.mark.parametrize("upper", PRINTED)
def test_grades_6_to_11_are_those_printed(upper: float) -> None:
    assert GRADES[upper] == dict(zip(range(6, 12), PRINTED[upper], strict=True))


@pytest.mark.parametrize(("upper", "printed"), [(30.0, 1.3074), (50.0, 1.5612), (80.0, 1.8561)])
def test_the_tolerance_unit_of_each_step_is_that_derived_from_the_formula(upper: float, printed: float) -> None:
    assert unit(STEPS[upper]) == pytest.approx(printed, abs=0.00005)


@pytest.mark.parametrize("grade", MULTIPLES)
@pytest.mark.parametrize("upper", STEPS)
def test_grades_follow_the_formula_to_the_rounding_of_the_table(upper: float, grade: int) -> None:
    assert GRADES[upper][grade] == pytest.approx(MULTIPLES[grade] * unit(STEPS[upper]), rel=ROUNDING_OF_THE_TABLE)


@pytest.mark.parametrize(
    ("upper", "deviations"),
    [
        (30.0, {"f": -20, "e": -40, "d": -65, "c": -110}),
        (40.0, {"f": -25, "e": -50, "d": -80, "c": -120}),
        (50.0, {"f": -25, "e": -50, "d": -80, "c": -130}),
        (65.0, {"f": -30, "e": -60, "d": -100, "c": -140}),
        (80.0, {"f": -30, "e": -60, "d": -100, "c": -150}),
    ],
)
def test_upper_deviations_of_shafts_c_to_f_are_those_printed(upper: float, deviations: dict[str, int]) -> None:
    assert {letter: SHAFTS[upper][letter] for letter in deviations} == deviations


def test_wikipedia_50_h8_f7_has_a_clearance_of_25_to_89() -> None:
    assert micrometres(50, "H8/f7") == pytest.approx((25, 89), rel=EXACT)


@pytest.mark.parametrize(
    ("nominal", "fit", "least", "greatest"),
    [
        (nominal, fit, least, greatest)
        for nominals, printed in (
            (
                (25, 30),
                {"H7/f7": (20, 62), "H8/f7": (20, 74), "H9/e8": (40, 125), "H9/d9": (65, 169), "H11/c11": (110, 370)},
            ),
            (
                (40,),
                {"H7/f7": (25, 75), "H8/f7": (25, 89), "H9/e8": (50, 151), "H9/d9": (80, 204), "H11/c11": (120, 440)},
            ),
            (
                (50,),
                {"H7/f7": (25, 75), "H8/f7": (25, 89), "H9/e8": (50, 151), "H9/d9": (80, 204), "H11/c11": (130, 450)},
            ),
            (
                (60,),
                {"H7/f7": (30, 90), "H8/f7": (30, 106), "H9/e8": (60, 180), "H9/d9": (100, 248), "H11/c11": (140, 520)},
            ),
        )
        for nominal in nominals
        for fit, (least, greatest) in printed.items()
    ],
)
def test_combined_fits_leave_the_clearance_derived_from_the_tables(
    nominal: float, fit: str, least: float, greatest: float
) -> None:
    assert micrometres(nominal, fit) == pytest.approx((least, greatest), rel=EXACT)


@pytest.mark.parametrize(("nominal", "greatest"), [(20, 34), (60, 49)])
def test_h7_h6_runs_from_no_clearance_to_the_sum_of_its_grades(nominal: float, greatest: float) -> None:
    assert micrometres(nominal, "H7/h6") == pytest.approx((0, greatest), rel=EXACT)
