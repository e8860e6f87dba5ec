"""Allowances: errors of known size at the ends, or at the sensors and carried to the ends along the blade."""

import pytest

from app.document.parts import ENDS
from app.sources.allowance import sensor_carry
from tests.loaded import both_ways, ranges
from tests.mounts import analysed, twin


def test_an_allowance_at_the_ends_counts_at_each_end_alone() -> None:
    document = twin(allowances=[{"label": "edge wear", "plus_minus": 0.5, "at": "ends"}])
    assert ranges(document, "left") == {
        ("edge wear / left", "allowance"): both_ways(0.5),
        ("edge wear / right", "allowance"): both_ways(0),
    }


def test_an_allowance_at_the_sensors_is_carried_to_the_ends_along_the_blade() -> None:
    document = twin(
        sensors={"left": [-800, 1700], "right": [800, 1700]},
        allowances=[{"label": "receiver", "plus_minus": 1.5, "at": "sensors"}],
    )
    assert ranges(document, "left") == {
        ("receiver / left", "allowance"): both_ways(1.5 * 1.125),
        ("receiver / right", "allowance"): both_ways(1.5 * 0.125),
    }


def test_both_sensors_a_millimetre_high_put_both_ends_a_millimetre_high() -> None:
    carried = sensor_carry(analysed(twin(sensors={"left": [-700, 1700], "right": [900, 1500]})))
    assert carried["left"] == pytest.approx({"left": 1900 / 1600, "right": -100 / 1600})
    assert [carried["left"][end] + carried["right"][end] for end in ENDS] == pytest.approx([1, 1])


def test_an_allowance_at_sensors_that_are_not_there_is_left_out() -> None:
    document = twin(allowances=[{"label": "receiver", "plus_minus": 1.5, "at": "sensors"}])
    assert ranges(document, "left") == {}
