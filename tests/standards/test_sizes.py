"""Usual bores, piston rods and pins: round in either system, each with its source, and pins with a fit of their own."""

import pytest

from app.document.units import MM_PER_INCH, System
from app.standards.fits import fit_at
from app.standards.sizes import SERIES, UsualPin, inches
from tests.web.client import client

EITHER = pytest.mark.parametrize("system", ["metric", "inch"])


def likely_pin(system: System, width: float) -> UsualPin:
    """Of those for a blade of a width in mm."""
    return min(SERIES[system].pins, key=lambda pin: abs(pin.blade - width))


@EITHER
def test_every_series_stands_once_and_smallest_first(system: System) -> None:
    series = SERIES[system]
    for listed in (series.bores, series.rods, series.pins):
        sizes = [each.size for each in listed]
        assert sizes == sorted(set(sizes))
        assert sizes[0] > 0


def test_the_metric_series_are_those_of_iso_3320() -> None:
    bores = [each.size for each in SERIES["metric"].bores]
    rods = [each.size for each in SERIES["metric"].rods]
    assert (len(bores), bores[0], bores[-1]) == (27, 8, 500)
    assert (len(rods), rods[0], rods[-1]) == (35, 4, 360)
    assert {63, 80, 100, 125} <= set(bores)
    assert {36, 45, 56, 70} <= set(rods)


@EITHER
def test_every_bore_takes_a_rod_of_its_own_series(system: System) -> None:
    series = SERIES[system]
    for bore in series.bores:
        assert any(0.3 < rod.size / bore.size < 0.8 for rod in series.rods)


@EITHER
def test_a_size_is_written_as_it_is_bought(system: System) -> None:
    written = [each.label for each in SERIES[system].bores]
    assert ("63 mm" if system == "metric" else "2 1/2 in") in written


@pytest.mark.parametrize(
    ("size", "words"),
    [(2, "2 in"), (2.5, "2 1/2 in"), (0.625, "5/8 in"), (1.375, "1 3/8 in"), (0.0625, "1/16 in"), (0, "0 in")],
)
def test_inches_are_written_with_the_fraction_a_rule_has(size: float, words: str) -> None:
    assert inches(size) == words


@EITHER
def test_a_source_says_where_it_comes_from_and_that_it_is_from_memory(system: System) -> None:
    assert SERIES[system].source.endswith("from memory")


@EITHER
def test_a_pin_has_the_middle_of_its_fit_round_in_its_own_units(system: System) -> None:
    step = 0.01 if system == "metric" else MM_PER_INCH / 1000
    for pin in SERIES[system].pins:
        fit = fit_at(pin.size, pin.fit)
        assert pin.clearance == pytest.approx((fit.least + fit.greatest) / 2, abs=step / 2 + 1e-9)
        assert pin.clearance / step == pytest.approx(round(pin.clearance / step), abs=1e-4)


def test_a_usual_blade_is_likely_to_have_pins_of_forty_millimetres_or_an_inch_and_a_half() -> None:
    assert likely_pin("metric", 2400).label == "40 mm"
    assert likely_pin("inch", 96 * MM_PER_INCH).label == "1 1/2 in"


def test_both_series_are_served() -> None:
    served = client().get("/sizes").json()
    assert list(served) == ["metric", "inch"]
    assert served["inch"]["bores"][2] == {"label": "2 1/2 in", "size": 63.5}
    assert served["metric"]["pins"][3]["clearance"] == 0.28
