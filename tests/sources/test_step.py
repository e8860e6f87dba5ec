"""The smallest step of the valve in the budget: half of it, either way, for every cylinder."""

import math

import pytest
from hypothesis import given

from tests.loaded import ENDS, answer_of, by_source, few, full, without
from tests.mounts import Command, Document, hinge, member_of, twin, worked_mounts

VALVE = {"flow": 12, "smallest_pulse": 1.5}
PULSE = 1500
"""1.5 mL in mm3."""
ANNULUS = math.pi / 4 * (63**2 - 36**2)


def test_half_the_coarser_step_joins_the_budget_either_way() -> None:
    budget = answer_of(twin(valve=VALVE))["budget"]
    half = PULSE / ANNULUS / 2
    right = {key: (source["low"], source["high"]) for key, source in by_source(budget["right"]["sources"]).items()}
    assert right == {
        ("right", "step"): pytest.approx((-half * 9 / 8, half * 9 / 8)),
        ("left", "step"): pytest.approx((-half / 8, half / 8)),
    }
    assert budget["right"]["worst"] == pytest.approx(half * 10 / 8)


def test_a_step_needs_no_oil_load_or_mass() -> None:
    drawn = without(full(hinge), "oil", "load", "blade.mass", "allowances")
    for joint in member_of(drawn, "lift")["ends"]:
        joint["clearance"] = 0
    assert ("lift", "step") in by_source(answer_of(drawn)["budget"]["right"]["sources"])


# Law


@few
@given(worked_mounts())
def test_the_budget_holds_half_the_larger_step_of_each_cylinder(case: tuple[Document, Command]) -> None:
    answer = answer_of(*case)
    for end in ENDS:
        sources = by_source(answer["budget"][end]["sources"])
        for name, entry in answer["actuators"].items():
            larger = max(abs(entry["step"][way][end]) for way in ("lengthen", "shorten"))
            assert sources[name, "step"]["high"] == pytest.approx(larger / 2)
            assert sources[name, "step"]["low"] == pytest.approx(-larger / 2)
