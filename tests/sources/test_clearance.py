"""Play of the joints in the budget, against levers and circles worked out by hand."""

import math

from tests.loaded import both_ways, ranges
from tests.mounts import hinge, member_of


def test_play_in_a_hinge_counts_in_its_worst_direction() -> None:
    document = hinge()
    member_of(document, "hinge")["clearance"] = 0.2
    assert ranges(document, "left")["hinge", "clearance"] == both_ways(0.1)
    assert ranges(document, "right")["hinge", "clearance"] == both_ways(0.1 * 200 / 1800)


def test_play_at_a_cylinder_end_counts_along_the_cylinder() -> None:
    document = hinge()
    member_of(document, "lift")["ends"][1]["clearance"] = 0.3
    assert ranges(document, "right") == {("lift / 2", "clearance"): both_ways(0.15 * 2000 / 1800)}


def test_a_slanting_hinge_offset_adds_both_axes_by_pythagoras() -> None:
    # A level cylinder 1 m above a hinge at the left end: an offset across turns the blade, one up lifts it.
    members = [
        {"kind": "pin", "id": "hinge", "joins": ["frame", "blade"], "at": [-1000, 0], "clearance": 0.2},
        {
            "kind": "cylinder",
            "id": "tilt",
            "ends": [{"on": "frame", "at": [0, 1000]}, {"on": "blade", "at": [-1000, 1000]}],
            "bore": 63,
            "rod": 36,
            "retracted": 800,
            "stroke": 400,
        },
    ]
    document = {**hinge(), "members": members}
    across, up = 2000 / 1000, 1
    assert ranges(document, "right")["hinge", "clearance"] == both_ways(0.1 * math.hypot(across, up))
    assert ranges(document, "left")["hinge", "clearance"] == both_ways(0.1)


def test_a_tight_joint_is_no_source() -> None:
    assert ranges(hinge(), "right") == {}
