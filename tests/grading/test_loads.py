"""The load of a run over time, and readings with noise."""

import math
from typing import Any

import numpy as np
import pytest

from app.analysis import Analysis
from app.document.reading import read_mount
from app.grading.grade import run
from app.grading.loads import seats, shares
from app.shipped import shipped_mounts
from tests.mounts import twin

TIMES = 0.05 * np.arange(4001)


def test_a_wandering_load_goes_from_none_to_all_and_forgets_within_a_second() -> None:
    # White noise through a first-order filter of 1 s: after t s, what is left of a departure is exp(-t).
    drawn = shares("wandering", list(range(16)), TIMES)
    assert drawn.min() == 0
    assert drawn.max() == 1
    off = drawn - drawn.mean()
    alike = [float(np.mean(off[:, : -round(20 * t)] * off[:, round(20 * t) :]) / np.var(off)) for t in (0.5, 1.0, 2.0)]
    assert alike == pytest.approx([math.exp(-0.5), math.exp(-1), math.exp(-2)], abs=0.05)


def test_play_that_is_lost_motion_is_not_seated_as_well() -> None:
    drawn = twin(load={"at": [1000, 0], "force": [0, 9000]})
    drawn["blade"] = {**drawn["blade"], "mass": 300, "mass_centre": [0, 200]}
    drawn["members"][1]["ends"][1]["clearance"] = 0.4
    analysis = Analysis(read_mount(drawn))
    seated, loose = seats(analysis, set()), seats(analysis, {"right / 2"})
    assert np.abs(seated.errors).max() == pytest.approx(0.4)
    assert not loose.errors.any()


NOISY: dict[str, Any] = {"seconds": 8, "sensing": {"noise": 1.5, "period": 0.1}, "start": {"right": 10}}


@pytest.mark.parametrize("valve", ["proportional", "pulsed", "on/off"])
def test_noise_is_drawn_for_each_reading_however_fine_the_step(valve: str) -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    coarse, fine = (run(mount, {**NOISY, "step": step, "control": {"valve": valve}}) for step in (0.05, 0.01))
    assert fine.errors["right"][::5] == pytest.approx(coarse.errors["right"], abs=1e-6)
    assert run(mount, {**NOISY, "seed": 2}).errors["right"][-1] != pytest.approx(coarse.errors["right"][-1])
