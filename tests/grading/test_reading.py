"""Settings that cannot go together: what is found, and the number that would do, which then does."""

from typing import Any

import pytest

from app.document.errors import BadSettings
from app.grading.reading import read_settings
from app.grading.settings import grid


def said(settings: dict[str, Any]) -> tuple[str, str]:
    """Place and words of the one fault."""
    with pytest.raises(BadSettings) as refused:
        read_settings(settings)
    (fault,) = refused.value.faults
    return fault.place, fault.filled().replace("\N{NO-BREAK SPACE}", " ")


ALWAYS: dict[str, Any] = {"sensing": {"period": 0, "delay": 0.004}, "control": {"on_delay": 0.002}}


@pytest.mark.parametrize("valve", ["proportional", "on/off"])
def test_a_step_too_coarse_for_a_valve_is_refused_with_the_step_that_would_do(valve: str) -> None:
    settings = {**ALWAYS, "control": {"valve": valve, "on_delay": 0.0023, "off_delay": 0.02}}
    place, words = said(settings)
    assert place == "run.step"
    assert "follows a reading after 0.0063 s; give 0.0063 s or less, or a time between readings" in words
    assert read_settings({**settings, "step": 0.0063})
    assert read_settings({**settings, "sensing": {"period": 0.05, "delay": 0.004}})


def test_no_step_is_too_coarse_for_a_valve_between_readings() -> None:
    settings = read_settings({"step": 0.25, "sensing": {"period": 0.05, "delay": 0}, "control": {"on_delay": 0}})
    assert grid(settings) == (1, 0.05)


def test_a_valve_that_is_not_late_at_all_needs_a_time_between_readings() -> None:
    settings = {"sensing": {"period": 0, "delay": 0}, "control": {"on_delay": 0}}
    place, words = said(settings)
    assert place == "run.sensing.period"
    assert "give a time between readings, such as 0.05 s" in words
    assert read_settings({**settings, "sensing": {"period": 0.05, "delay": 0}})


def test_readings_too_close_for_a_long_run_are_refused_with_a_period_that_would_do() -> None:
    place, words = said({"seconds": 61, "sensing": {"period": 1e-6}})
    assert place == "run.sensing.period"
    assert "give 0.0011 s or more, 0 to read all the time, or a shorter run" in words
    assert read_settings({"seconds": 61, "sensing": {"period": 0.0011}})


def test_a_second_pass_at_a_crawl_is_refused() -> None:
    # The first pass goes on until the blade is where the front wheels stood: 4 m at 1 mm/s, an hour and more.
    place, words = said({"passes": 2, "speed": 0.001})
    assert place == "run.speed"
    assert "takes 4000.00 s; give more speed or one pass" in words
    assert read_settings({"passes": 2, "speed": 0.1})


def test_a_delay_of_more_readings_than_are_kept_is_refused_with_the_most() -> None:
    place, words = said({"seconds": 5, "sensing": {"period": 0.001, "delay": 2}})
    assert place == "run.sensing.delay"
    assert "give 1.00 s in all or less" in words
    assert read_settings({"seconds": 5, "sensing": {"period": 0.001, "delay": 0.9}})
