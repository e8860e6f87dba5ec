"""Ready-made fits: what is offered for a joint, where the tables end, and what is refused."""

import itertools

import pytest

from app.document.errors import BadCommand
from app.standards.fits import FITS, GRADES, SHAFTS, Fit, fit_at, fits


def test_every_fit_is_offered_closest_first() -> None:
    offered = fits(30)
    assert tuple(fit.fit for fit in offered) == FITS
    greatest = [fit.greatest for fit in offered]
    assert greatest == sorted(greatest)
    assert all(0 <= fit.least < fit.greatest for fit in offered)


def test_clearances_are_in_millimetres() -> None:
    assert fit_at(50, "H8/f7") == Fit("H8/f7", least=0.025, greatest=0.089)


@pytest.mark.parametrize(
    ("nominal", "step"), [(18.001, 30), (30, 30), (30.001, 50), (50, 50), (50.001, 80), (65.001, 80), (80, 80)]
)
def test_a_step_of_grades_holds_its_upper_end_and_not_its_lower(nominal: float, step: int) -> None:
    # H7/h6 has no deviation, so its clearance is the two grades.
    grades = {30: 21 + 13, 50: 25 + 16, 80: 30 + 19}
    assert fit_at(nominal, "H7/h6").greatest == pytest.approx(grades[step] / 1000)


@pytest.mark.parametrize(
    ("nominal", "least"), [(30, 110), (40, 120), (40.001, 130), (50, 130), (65, 140), (65.001, 150), (80, 150)]
)
def test_loose_shafts_have_finer_steps_than_grades(nominal: float, least: float) -> None:
    assert fit_at(nominal, "H11/c11").least == pytest.approx(least / 1000)


@pytest.mark.parametrize("letter", ["c", "d", "e", "f", "g", "h"])
def test_a_larger_joint_never_has_a_closer_fit(letter: str) -> None:
    deviations = [table[letter] for _, table in sorted(SHAFTS.items())]
    assert deviations == sorted(deviations, reverse=True)
    assert max(deviations) <= 0


def test_a_coarser_grade_and_a_larger_joint_are_wider() -> None:
    steps = [[table[grade] for grade in sorted(table)] for _, table in sorted(GRADES.items())]
    for grades in steps:
        assert grades == sorted(set(grades))
    for smaller, larger in itertools.pairwise(steps):
        assert all(a < b for a, b in zip(smaller, larger, strict=True))


@pytest.mark.parametrize("nominal", [0, 17.9, 18, 80.001, -30, 1e9, float("nan"), float("inf")])
def test_a_diameter_outside_the_tables_is_refused_with_their_limits(nominal: float) -> None:
    with pytest.raises(BadCommand, match="is not tabulated; give more than 18 and at most 80 mm"):
        fits(nominal)


@pytest.mark.parametrize(
    "fit", ["", "H7", "H7/", "/f7", "h7/f7", "F7/h6", "H7/x6", "H12/f7", "H7/f12", "H7/f7/g6", "H7/f", "H 7/f7"]
)
def test_a_fit_that_is_not_tabulated_is_refused_with_those_that_are(fit: str) -> None:
    with pytest.raises(BadCommand, match="is no tabulated fit; give one such as H7/h6"):
        fit_at(30, fit)


def test_any_hole_and_shaft_of_the_tables_make_a_fit() -> None:
    found = fit_at(30, "H10/d10")
    assert (found.least, found.greatest) == pytest.approx((0.065, 0.065 + 2 * 0.084))
