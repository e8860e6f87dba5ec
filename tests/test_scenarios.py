"""The shipped mounts: each can be read, stands, and teaches what its note says."""

import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.document.models import Mount, as_document
from app.document.reading import read_file
from app.document.units import MM_PER_INCH
from tests.answers import readout, reasons

SCENARIOS = Path(__file__).parent.parent / "scenarios"
FILES = sorted(SCENARIOS.glob("*.json"))

CENTRE_PIVOT = "1-centre-pivot"
CARRIAGE = "2-pivot-on-carriage"
TWIN = "3-twin-cylinders"
OVER_SENSORS = "4-cylinders-over-sensors"
END_HINGE = "5-end-hinge"
CRANK = "6-crank-and-drop-rod"
WORN = "7-worn-twin-cylinders"
QUARTER_POINTS = "8-uprights-in-inches"
THIRD = "9-pivot-in-inches"


def mount_of(name: str) -> Mount:
    return read_file(SCENARIOS / f"{name}.json")


def answer_of(name: str, **command: float) -> dict[str, Any]:
    return readout(mount_of(name), command)


def clearances(mount: Mount) -> list[float]:
    return [part.clearance for _, _, part, _ in mount.joints]


def worst_errors(name: str) -> dict[str, float]:
    budget = answer_of(name)["budget"]
    return {side: budget[side]["worst"] for side in ("left", "right")}


def test_nine_mounts_are_shipped() -> None:
    shipped = [CENTRE_PIVOT, CARRIAGE, TWIN, OVER_SENSORS, END_HINGE, CRANK, WORN, QUARTER_POINTS, THIRD]
    assert [path.stem for path in FILES] == shipped


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_shipped_mount_is_located_and_gives_no_warning(path: Path) -> None:
    answer = readout(read_file(path))
    assert answer["mobility"]["state"] == "located"
    assert answer["warnings"] == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_shipped_mount_is_complete_so_that_only_a_lone_cylinder_leaves_numbers_out(path: Path) -> None:
    mount = read_file(path)
    lone = {f"coupling.{name}" for name in ("interaction", "residual", "rounds", "moves")}
    # Two cylinders of which one lifts both ends alike and the other tilts them never settle in turn.
    entangled = {"coupling.rounds"} if path.stem == CARRIAGE else set()
    assert set(readout(mount)["absent"]) == (entangled if len(mount.cylinders) == 2 else lone)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_shipped_mount_has_a_title_and_a_note_of_two_sentences(path: Path) -> None:
    mount = read_file(path)
    assert mount.note is not None
    assert len(re.findall(r"[.]( |$)", mount.note)) == 2
    assert 10 < len(mount.title) < 60


def test_titles_are_told_apart() -> None:
    titles = {read_file(path).title for path in FILES}
    assert len(titles) == len(FILES)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
@pytest.mark.parametrize("move", [-50, 50])
def test_every_cylinder_of_a_shipped_mount_can_be_worked_five_centimetres_either_way(path: Path, move: int) -> None:
    mount = read_file(path)
    for cylinder in mount.cylinders:
        assert readout(mount, {cylinder.id: move})["pose"]["stopped"] is None


# Like with like


@pytest.mark.parametrize("name", [CARRIAGE, TWIN, OVER_SENSORS])
def test_the_first_four_carry_the_same_blade_load_oil_sensors_and_tolerance(name: str) -> None:
    first, other = mount_of(CENTRE_PIVOT), mount_of(name)
    for part in ("blade", "load", "oil", "valve", "sensors", "allowances", "tolerance"):
        assert getattr(other, part) == getattr(first, part)


@pytest.mark.parametrize("name", [CENTRE_PIVOT, CARRIAGE, TWIN, OVER_SENSORS])
def test_the_first_four_have_the_same_clearance_at_every_joint(name: str) -> None:
    assert set(clearances(mount_of(name))) == {0.15}


@pytest.mark.parametrize("name", [CARRIAGE, TWIN, OVER_SENSORS])
def test_the_first_four_have_cylinders_of_one_size(name: str) -> None:
    first = mount_of(CENTRE_PIVOT).cylinders[0]
    assert {(each.bore, each.rod, each.hose_volume) for each in mount_of(name).cylinders} == {
        (first.bore, first.rod, first.hose_volume)
    }


# 1: centre pivot, short lever


def test_on_the_short_lever_every_movement_is_six_times_as_large_at_the_edge() -> None:
    tilt = answer_of(CENTRE_PIVOT)["actuators"]["tilt cylinder"]
    assert (tilt["left"], tilt["right"]) == pytest.approx((6, -6))


def test_on_the_short_lever_every_play_is_six_times_as_large_at_the_edge() -> None:
    sources = answer_of(CENTRE_PIVOT)["budget"]["right"]["sources"]
    play = {source["id"]: source["high"] for source in sources if source["kind"] == "clearance"}
    assert play["tilt cylinder / 1"] == play["tilt cylinder / 2"] == pytest.approx(6 * 0.15 / 2)


def test_the_centre_pivot_is_a_see_saw() -> None:
    tilt = answer_of(CENTRE_PIVOT)["actuators"]["tilt cylinder"]
    assert tilt["coupling"] == pytest.approx(-1)
    assert tilt["instant_centre"] == pytest.approx((0, 420))


def test_the_short_lever_loads_its_cylinder_six_times_over() -> None:
    assert answer_of(CENTRE_PIVOT)["actuators"]["tilt cylinder"]["load_ratio"] == pytest.approx(6)


def test_the_centre_pivot_is_far_outside_the_tolerance() -> None:
    assert answer_of(CENTRE_PIVOT)["budget"]["inside"] is False
    assert worst_errors(CENTRE_PIVOT)["right"] > 1.9 * 3


# 2: on a carriage


def test_the_carriage_lifts_both_ends_alike_and_the_tilt_is_a_see_saw_still() -> None:
    actuators = answer_of(CARRIAGE)["actuators"]
    assert actuators["lift cylinder"]["coupling"] == pytest.approx(1)
    assert actuators["tilt cylinder"]["coupling"] == pytest.approx(-1)


def test_on_the_carriage_both_cylinders_must_work_together_to_correct_one_end() -> None:
    coupling = answer_of(CARRIAGE)["coupling"]
    assert coupling["interaction"] == pytest.approx(0.5)
    assert coupling["moves"]["left"] == pytest.approx({"lift cylinder": -0.5, "tilt cylinder": 1 / 12})
    assert coupling["moves"]["right"] == pytest.approx({"lift cylinder": -0.5, "tilt cylinder": -1 / 12})


def test_on_the_carriage_the_short_lever_still_multiplies_the_play() -> None:
    assert answer_of(CARRIAGE)["actuators"]["tilt cylinder"]["left"] == pytest.approx(6)
    for side, worst in worst_errors(CARRIAGE).items():
        assert worst > worst_errors(CENTRE_PIVOT)[side]


def test_on_the_carriage_every_height_and_tilt_is_possible() -> None:
    flat = answer_of(CARRIAGE, **{"lift cylinder": -40})["pose"]
    assert flat["ends"]["left"][1] == flat["ends"]["right"][1] == pytest.approx(40)


# 3: twin cylinders


def test_working_one_upright_cylinder_turns_the_blade_about_a_point_near_the_other() -> None:
    left = answer_of(TWIN)["actuators"]["left cylinder"]
    x, y = left["instant_centre"]
    assert x == pytest.approx(850)
    assert 300 < y < 330


def test_on_twin_cylinders_the_far_end_hardly_moves() -> None:
    actuators = answer_of(TWIN)["actuators"]
    couplings = [entry["coupling"] for entry in actuators.values()]
    assert couplings == pytest.approx([-350 / 2050, -350 / 2050])
    assert couplings == pytest.approx([-0.171, -0.171], abs=5e-4)
    # Uprights at 850 under sensors at 1000: what is left of an error each round is ((1000 - 850) / (1000 + 850))^2.
    found = answer_of(TWIN)["coupling"]
    assert (found["at"], found["rounds"]) == ("sensors", 1)
    assert found["residual"] == pytest.approx((150 / 1850) ** 2)
    assert found["interaction"] == pytest.approx(1850**2 / (4 * 1000 * 850))


def test_the_twin_mount_is_inside_the_tolerance_that_the_centre_pivot_misses() -> None:
    assert answer_of(TWIN)["budget"]["inside"] is True
    for side, worst in worst_errors(TWIN).items():
        assert worst < worst_errors(CENTRE_PIVOT)[side] / 2


# 4: under the sensors


def test_under_the_sensors_each_cylinder_is_seen_by_its_own_sensor_only() -> None:
    actuators = answer_of(OVER_SENSORS)["actuators"]
    for side in ("left", "right"):
        seen = actuators[f"{side} cylinder"]["sensors"]
        assert seen["coupling"] == pytest.approx(0, abs=1e-12)
        assert seen["lead"] == side
        assert seen[side] == pytest.approx(-1)


def test_in_mount_three_each_cylinder_is_seen_by_both_sensors() -> None:
    actuators = answer_of(TWIN)["actuators"]
    assert [entry["sensors"]["coupling"] for entry in actuators.values()] == pytest.approx([-150 / 1850] * 2)


def test_the_longer_base_shrinks_the_load_and_the_play() -> None:
    wide, narrow = answer_of(OVER_SENSORS), answer_of(TWIN)
    for name in ("left cylinder", "right cylinder"):
        assert wide["actuators"][name]["load_ratio"] < narrow["actuators"][name]["load_ratio"]
    for side in ("left", "right"):
        assert worst_errors(OVER_SENSORS)[side] < worst_errors(TWIN)[side]
        play = [
            sum(source["high"] for source in answer["budget"][side]["sources"] if source["kind"] == "clearance")
            for answer in (wide, narrow)
        ]
        assert play[0] < play[1]


# 5: hinged at one end


@pytest.mark.parametrize("move", [-80, 0, 120])
def test_a_blade_hinged_at_its_left_end_never_moves_that_end_as_long_as_it_is_nearly_level(move: int) -> None:
    # The hinge stands 300 mm above the corner of the edge, so a tilt swings the corner sideways first.
    left = answer_of(END_HINGE, **{"lift cylinder": move})["pose"]["ends"]["left"]
    assert left[1] == pytest.approx(0, abs=2)


def test_a_blade_hinged_at_one_end_has_no_coupling() -> None:
    answer = answer_of(END_HINGE)
    lift = answer["actuators"]["lift cylinder"]
    assert lift["left"] == pytest.approx(0, abs=1e-12)
    assert lift["lead"] == "right"
    assert answer["coupling"]["worst"] == pytest.approx(0, abs=1e-12)


def test_nothing_can_correct_the_hinged_end() -> None:
    answer = answer_of(END_HINGE)
    assert answer["coupling"]["moves"] is None
    reason = "the one cylinder moves the right end alone: nothing corrects the other"
    assert reasons(answer)["coupling.moves"] == reason


# 6: crank and drop rod


def test_the_crank_passes_nearly_all_its_cylinder_does_on_to_the_drop_rod() -> None:
    actuators = answer_of(CRANK)["actuators"]
    crank_over_cylinder_arm = 250 / (280 * 620 / math.hypot(620, 150))
    straight = answer_of(TWIN)["actuators"]["left cylinder"]["left"]
    assert actuators["crank cylinder"]["left"] == pytest.approx(straight * crank_over_cylinder_arm)
    assert actuators["crank cylinder"]["coupling"] == pytest.approx(-350 / 2050)


def test_the_pins_between_cylinder_and_edge_cost_the_crank_side_more() -> None:
    errors = worst_errors(CRANK)
    assert errors["left"] > errors["right"]
    assert errors["left"] > worst_errors(TWIN)["left"]


def test_the_crank_mount_has_more_sources_of_play_on_the_left_than_on_the_right() -> None:
    sources = answer_of(CRANK)["budget"]["left"]["sources"]
    play = [source["member"] for source in sources if source["kind"] == "clearance" and source["high"] > 0.05]
    assert play.count("right cylinder") == 0
    assert sorted(play) == ["crank cylinder", "crank cylinder", "crank pivot", "drop rod", "drop rod"]


# 7: worn


def test_wear_leaves_coupling_and_loads_as_they_were() -> None:
    worn, new = answer_of(WORN), answer_of(TWIN)
    assert worn["coupling"] == new["coupling"]
    assert worn["actuators"] == new["actuators"]
    assert worn["forces"] == new["forces"]


def test_the_worn_mount_differs_from_the_new_one_only_in_clearance() -> None:
    worn, new = mount_of(WORN), mount_of(TWIN)
    for part in ("blade", "bodies", "oil", "valve", "load", "sensors", "allowances", "tolerance"):
        assert getattr(worn, part) == getattr(new, part)
    assert [part.model_copy(update={"clearance": 0}) for _, _, part, _ in worn.joints] == [
        part.model_copy(update={"clearance": 0}) for _, _, part, _ in new.joints
    ]


def test_every_pin_has_worn_to_four_to_seven_times_its_clearance_when_new() -> None:
    times = [worn / new for worn, new in zip(clearances(mount_of(WORN)), clearances(mount_of(TWIN)), strict=True)]
    assert (round(min(times)), round(max(times))) == (4, 7)


def test_wear_loses_the_tolerance() -> None:
    assert answer_of(TWIN)["budget"]["inside"] is True
    assert answer_of(WORN)["budget"]["inside"] is False


# 8 and 9: in inches


def lengths_of(part: Any) -> Iterator[float]:  # noqa: ANN401 - any JSON value
    """Every length of a document that stands on a drawing, mm."""
    if isinstance(part, dict):
        for key, value in part.items():
            if key in ("at", "left", "right", "mass_centre"):
                yield from value if isinstance(value, list) else lengths_of(value)
            elif key in ("bore", "rod", "retracted", "stroke"):
                yield value
            else:
                yield from lengths_of(value)
    elif isinstance(part, list):
        for each in part:
            yield from lengths_of(each)


@pytest.mark.parametrize("name", [QUARTER_POINTS, THIRD])
def test_a_mount_in_inches_is_drawn_in_round_halves_of_an_inch(name: str) -> None:
    mount = mount_of(name)
    assert mount.display == "inch"
    lengths = list(lengths_of(as_document(mount)))
    assert len(lengths) > 10
    for each in lengths:
        assert each / MM_PER_INCH * 2 == pytest.approx(round(each / MM_PER_INCH * 2), abs=1e-9)


def test_at_the_quarter_points_the_far_end_goes_a_third_as_far_twice_what_it_does_in_mount_three() -> None:
    quarter, twin = (answer_of(name)["actuators"]["left cylinder"]["coupling"] for name in (QUARTER_POINTS, TWIN))
    assert quarter == pytest.approx(-1 / 3)
    assert quarter / twin == pytest.approx(2, abs=0.05)


def test_from_a_pivot_at_a_third_the_short_side_goes_half_as_far_the_other_way() -> None:
    assert answer_of(THIRD)["actuators"]["tilt cylinder"]["coupling"] == pytest.approx(-1 / 2)
