"""The error budget: every kind of source against a closed form, and how they add up."""

import math

import pytest

from app.document.reading import read_mount
from app.members import Rod
from app.results.budget import Source, budget, oil_squeeze, rod_stretch, sensor_carry, statistical
from tests.answers import readout
from tests.mounts import Document, extras, guide_on_blade, hinge, member_of, posed, twin

CAP = math.pi / 4 * 63**2
ANNULUS = math.pi / 4 * (63**2 - 36**2)
HOSE = 150 * 1000
BULK = 1400

LIFTED = {"at": [1000, 0], "force": [0, 4500]}
LOWERED = {"at": [1000, 0], "force": [0, -4500]}
OIL = {"bulk_modulus": BULK}


def budget_of(document: Document) -> Document:
    found: Document = readout(read_mount(document))["budget"]
    return found


def ranges(document: Document, side: str) -> dict[tuple[str, str], tuple[float, float]]:
    """The range of every source at one end, by id and kind."""
    sources = budget_of(document)[side]["sources"]
    return {(source["id"], source["kind"]): (source["low"], source["high"]) for source in sources}


def both_ways(size: float) -> object:
    return pytest.approx((-size, size))


# Clearance


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


# Oil


@pytest.mark.parametrize(("load", "area"), [(LIFTED, CAP), (LOWERED, ANNULUS)], ids=["pushed", "pulled"])
def test_oil_gives_way_by_pressure_times_trapped_volume_over_stiffness_and_area(load: Document, area: float) -> None:
    document = hinge(oil=OIL, load=load)
    member_of(document, "lift")["hose_volume"] = 150
    give = 5000 / area * (area * 200 + HOSE) / (BULK * area) * 2000 / 1800
    expected = (0, give) if load is LIFTED else (-give, 0)
    assert ranges(document, "right")["lift", "oil"] == pytest.approx(expected)


def test_a_pushed_cylinder_gives_more_the_farther_it_is_out_and_a_pulled_one_less() -> None:
    cylinder = read_mount(hinge()).cylinders[0]
    closed, out = cylinder.retracted, cylinder.retracted + cylinder.stroke
    assert oil_squeeze(cylinder, 5000, out, BULK) == pytest.approx(-5000 * 400 / (BULK * CAP))
    assert oil_squeeze(cylinder, 5000, closed, BULK) == 0
    assert oil_squeeze(cylinder, -5000, closed, BULK) == pytest.approx(5000 * 400 / (BULK * ANNULUS))
    assert oil_squeeze(cylinder, -5000, out, BULK) == 0


def test_without_oil_or_without_load_no_squeeze_is_counted_and_the_reason_is_told() -> None:
    no_oil, no_load = readout(read_mount(hinge(load=LIFTED))), readout(read_mount(hinge(oil=OIL)))
    assert no_oil["absent"]["budget.oil"] == "needs the oil's bulk modulus"
    assert no_load["absent"]["budget.oil"] == "needs a load"
    assert [source["kind"] for source in no_oil["budget"]["right"]["sources"]] == []
    assert [source["kind"] for source in no_load["budget"]["right"]["sources"]] == []


# Stretch


def stiff_rod(**more: float) -> Rod:
    ends = [{"on": "frame", "at": [0, 0]}, {"on": "blade", "at": [0, 800]}]
    return Rod.model_validate({"kind": "rod", "id": "rod", "ends": ends, **more})


def test_a_pulled_rod_stretches_by_hookes_law() -> None:
    assert rod_stretch(stiff_rod(section_area=620, elastic_modulus=205000), 900) == pytest.approx(
        900 * 800 / (205000 * 620)
    )


@pytest.mark.parametrize("known", [{}, {"section_area": 620}, {"elastic_modulus": 205000}])
def test_a_rod_without_section_and_modulus_is_stiff(known: dict[str, float]) -> None:
    assert rod_stretch(stiff_rod(**known), 900) == 0


def test_a_drop_rod_that_stretches_lets_its_end_down_and_never_up() -> None:
    document = guide_on_blade(load=LIFTED)
    member_of(document, "drop rod").update(section_area=620, elastic_modulus=205000)
    pull = 4500 * 300 / 1500
    drop = pull * 800 / (205000 * 620) * 1700 / 1500
    assert ranges(document, "left")["drop rod", "stretch"] == pytest.approx((-drop, 0))
    assert ranges(document, "right")["drop rod", "stretch"] == pytest.approx((0, drop * 300 / 1700))


# Allowances


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
    carried = sensor_carry(*posed(twin(sensors={"left": [-700, 1700], "right": [900, 1500]})))
    assert carried["left"] == pytest.approx({"left": 1900 / 1600, "right": -100 / 1600})
    assert [carried["left"][end] + carried["right"][end] for end in ("left", "right")] == pytest.approx([1, 1])


def test_an_allowance_at_sensors_that_are_not_there_is_left_out() -> None:
    document = twin(allowances=[{"label": "receiver", "plus_minus": 1.5, "at": "sensors"}])
    assert ranges(document, "left") == {}


# Adding up


def source(kind: str, left: tuple[float, ...], right: tuple[float, ...], *, one_sided: bool = False) -> Source:
    return Source(kind, None, kind, {"left": left, "right": right}, one_sided)


def test_the_budget_of_three_sources_adds_up_as_it_is_defined() -> None:
    found = budget(
        [
            source("pin", (0.3, 0.4), (0.0, -0.1)),
            source("rod", (-0.2,), (0.2,)),
            source("oil", (0.6,), (-0.1,), one_sided=True),
        ],
        tolerance=1.3,
    )
    left = found["left"]
    assert (left["low"], left["high"]) == pytest.approx((-0.7, 1.3))
    assert left["worst"] == pytest.approx(1.3)
    assert left["band"] == pytest.approx(2.0)
    assert left["rss"] == pytest.approx(0.3 + math.sqrt(0.5**2 + 0.2**2 + 0.3**2))
    assert [entry["id"] for entry in left["sources"]] == ["oil", "pin", "rod"]
    assert [entry["share"] for entry in left["sources"]] == pytest.approx([0.6 / 1.3, 0.5 / 1.3, 0.2 / 1.3])


def test_the_worst_is_on_the_side_that_reaches_farther() -> None:
    found = budget([source("oil", (-2.0,), (0.0,), one_sided=True), source("rod", (0.5,), (0.5,))], None)["left"]
    assert (found["low"], found["high"], found["worst"]) == (-2.5, 0.5, 2.5)
    assert [entry["share"] for entry in found["sources"]] == pytest.approx([0.8, 0.2])


def test_while_one_end_is_lowest_the_other_stands_where_the_same_errors_put_it() -> None:
    found = budget(
        [
            source("pin", (0.3, 0.4), (0.5, 0.0)),
            source("rod", (-0.2,), (0.2,)),
            source("oil", (0.6,), (-0.1,), one_sided=True),
        ],
        None,
    )
    assert found["left"]["blade_at_low"] == pytest.approx({"left": -0.7, "right": -0.5 * 0.6 + 0.2})
    assert found["left"]["blade_at_high"] == pytest.approx({"left": 1.3, "right": 0.5 * 0.6 - 0.2 - 0.1})
    assert found["right"]["blade_at_low"] == pytest.approx({"right": -0.8, "left": -0.3 + 0.2 + 0.6})
    assert found["right"]["blade_at_high"] == pytest.approx({"right": 0.7, "left": 0.3 - 0.2})


def test_the_statistical_sum_is_the_middle_plus_the_root_of_the_squared_half_widths() -> None:
    assert statistical([(-1, 1), (0, 2)]) == pytest.approx(1 + math.sqrt(2))
    assert statistical([(-3, 0)]) == pytest.approx(3)
    assert statistical([]) == 0


@pytest.mark.parametrize(("tolerance", "inside"), [(0.7, True), (0.4999, False), (0.5, True), (None, None)])
def test_a_budget_is_inside_when_the_worst_of_both_ends_is_no_more_than_the_tolerance(
    tolerance: float | None, inside: bool | None
) -> None:
    found = budget([source("rod", (0.1,), (0.5,))], tolerance)
    assert (found["tolerance"], found["inside"]) == (tolerance, inside)


def test_a_mount_without_errors_has_a_budget_of_nought() -> None:
    found = budget_of(twin(tolerance=4))
    assert found["left"]["worst"] == found["left"]["band"] == found["left"]["rss"] == 0
    assert found["inside"] is True


def test_a_source_names_its_member_and_an_allowance_has_none() -> None:
    document = twin(**extras())
    member_of(document, "left")["ends"][0]["clearance"] = 0.4
    named = {entry["id"]: entry["member"] for entry in budget_of(document)["left"]["sources"]}
    assert named["left / 1"] == named["left"] == "left"
    assert named["receiver reading / left"] is None


def test_a_source_that_does_not_move_an_end_leaves_the_other_where_it_is_too() -> None:
    # Play of the cylinder of a hinged blade: nothing at the hinge itself, whatever rounding says of its sign.
    for shift in (0.0, 0.001, -0.001):
        drawn = hinge()
        drawn["blade"]["left"] = [-1000 + shift * 1e-9, 0]
        member_of(drawn, "lift")["ends"][1]["clearance"] = 0.3
        assert readout(read_mount(drawn))["budget"]["left"]["blade_at_low"]["right"] == 0
