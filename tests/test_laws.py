"""What holds for every located mount, tried on random mounts of one, two and three moving bodies.

Each law ties two answers together that are found in different ways: slopes to poses solved again, joint forces to the
play of the same joint, a mount to its mirror image, a part to the sum. None of them repeats the engine's formulas.
"""

import copy
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from app.analysis import Analysis
from app.document.reading import read_mount
from app.solve.equations import Array
from tests.answers import readout
from tests.loaded import given_way, without
from tests.mounts import (
    Command,
    Document,
    analysed,
    commanded,
    heights,
    joints_of,
    law,
    located_mounts,
    openings,
    worked_mounts,
)

ENDS = ("left", "right")
OTHER = {"left": "right", "right": "left"}
STEP = 0.01
"""Step of a central difference, mm: its own error stays near 1e-6 of a slope at the conditions looked at."""


def answer_of(drawn: Document, command: Command | None = None) -> Document:
    return readout(read_mount(drawn), command)


def same(got: object, expected: object, rel: float = 1e-6, absolute: float = 1e-6) -> bool:
    """Whether two parts of answers agree, numbers within rounding and all else exactly."""
    if isinstance(expected, dict):
        assert isinstance(got, dict)
        assert got.keys() == expected.keys()
        return all(same(got[key], expected[key], rel, absolute) for key in expected)
    if isinstance(expected, list | tuple):
        assert isinstance(got, list | tuple)
        return len(got) == len(expected) and all(
            same(one, other, rel, absolute) for one, other in zip(got, expected, strict=True)
        )
    if isinstance(expected, float) and isinstance(got, float):
        assert got == pytest.approx(expected, rel=rel, abs=absolute)
        return True
    assert got == expected
    return True


def by_source(end: Document) -> dict[tuple[str, str], Document]:
    return {(entry["id"], entry["kind"]): entry for entry in end["sources"]}


def size_of_worst(answer: Document) -> Document:
    """The coupling without the sign of its worst: rounding chooses between a +1 and a -1 in one mount."""
    return {**answer["coupling"], "worst": abs(answer["coupling"]["worst"])}


# Closure


@law
@given(worked_mounts(reach=150))
def test_every_joint_of_a_pose_is_closed_to_a_millionth_of_a_thousandth(case: tuple[Document, Command]) -> None:
    drawn, command = case
    assert max(openings(drawn, answer_of(drawn, command), commanded(drawn, command)).values()) < 1e-9


# Slopes against poses solved again


@law
@given(worked_mounts())
def test_the_slope_by_any_error_agrees_with_poses_solved_again(case: tuple[Document, Command]) -> None:
    analysis = analysed(*case)
    found = analysis.sensitivities
    for number, step in enumerate(np.eye(found.by_error.shape[0]) * STEP):
        ahead, behind = heights(analysis, step), heights(analysis, -step)
        slopes = [found.of_error(side)[number] for side in ENDS]
        np.testing.assert_allclose(slopes, (ahead - behind) / (2 * STEP), rtol=1e-5, atol=1e-6)


@law
@given(worked_mounts())
def test_millimetres_of_edge_per_millimetre_of_cylinder_agree_with_readouts_a_little_apart(
    case: tuple[Document, Command],
) -> None:
    drawn, command = case
    for name, entry in answer_of(drawn, command)["actuators"].items():
        ahead = answer_of(drawn, command | {name: command[name] + STEP})["pose"]["ends"]
        behind = answer_of(drawn, command | {name: command[name] - STEP})["pose"]["ends"]
        for side in ENDS:
            slope = (ahead[side][1] - behind[side][1]) / (2 * STEP)
            assert entry[side] == pytest.approx(slope, rel=1e-5, abs=1e-6)


@law
@given(worked_mounts())
def test_what_the_sensors_see_is_the_straight_line_through_the_ends(case: tuple[Document, Command]) -> None:
    # Holds for any height of the sensor when the blade turns by d: dy = dy_left + d * (x_sensor - x_left).
    drawn, command = case
    answer = answer_of(drawn, command)
    ends, blade = answer["pose"]["ends"], answer["pose"]["bodies"]["blade"]
    turn = complex(math.cos(math.radians(blade["angle"])), math.sin(math.radians(blade["angle"])))
    for entry in answer["actuators"].values():
        turning = (entry["right"] - entry["left"]) / (ends["right"][0] - ends["left"][0])
        for side in ENDS:
            sensor = complex(*blade["at"]) + turn * (complex(*drawn["sensors"][side]) - complex(*blade["drawn"]))
            expected = entry["left"] + turning * (sensor.real - ends["left"][0])
            assert entry["sensors"][side] == pytest.approx(expected, abs=1e-9)


# Virtual work


@law
@given(worked_mounts(), st.sampled_from(ENDS), st.floats(0.01, 0.5))
def test_the_force_a_unit_load_at_an_end_puts_on_a_joint_is_what_the_play_there_costs_that_end(
    case: tuple[Document, Command], side: str, clearance: float
) -> None:
    drawn, command = case
    drawn["load"] = {"at": drawn["blade"][side], "force": [0, 1]}
    for member in drawn["members"]:
        for _, joint in joints_of(member):
            joint["clearance"] = clearance
    answer = answer_of(drawn, command)
    play = by_source(answer["budget"][side])
    for joint_name, force in answer["forces"].items():
        reach = play[joint_name, "clearance"]
        assert reach["high"] == -reach["low"]
        assert reach["high"] == pytest.approx(clearance / 2 * math.hypot(*force["load"]), rel=1e-9, abs=1e-12)


@law
@given(worked_mounts(), st.sampled_from(ENDS))
def test_the_force_a_unit_load_at_an_end_puts_in_a_cylinder_is_minus_what_it_moves_that_end(
    case: tuple[Document, Command], side: str
) -> None:
    drawn, command = case
    drawn["load"] = {"at": drawn["blade"][side], "force": [0, 1]}
    for entry in answer_of(drawn, command)["actuators"].values():
        assert entry["force"] == pytest.approx(-entry[side], rel=1e-9, abs=1e-12)
        assert entry["load_ratio"] == pytest.approx(abs(entry[side]), rel=1e-9, abs=1e-12)


# Equilibrium


def standing(answer: Document, body: str, at: Any) -> complex:  # noqa: ANN401
    """Where a point of a body stands."""
    if body == "frame":
        return complex(*at)
    where = answer["pose"]["bodies"][body]
    turn = math.radians(where["angle"])
    return complex(*where["at"]) + complex(math.cos(turn), math.sin(turn)) * (complex(*at) - complex(*where["drawn"]))


def forces_on(drawn: Document, answer: Document, body: str, case: str) -> list[tuple[complex, complex]]:
    """Every (place, force) of the joints on a body."""
    found = []
    for member in drawn["members"]:
        for joint_name, joint in joints_of(member):
            force = complex(*answer["forces"][joint_name][case])
            if "ends" in member:
                if joint["on"] == body:
                    found.append((standing(answer, body, joint["at"]), force))
                continue
            # Both feel it where the joint is: at the pin, or at the block of a slide, which the second body carries.
            place = standing(answer, member["joins"][1], member["at"])
            found += [(place, force)] * (member["joins"][1] == body)
            found += [(place, -force)] * (member["joins"][0] == body)
    return found


@law
@given(worked_mounts(), st.sampled_from(["load", "weight"]))
def test_the_forces_on_every_body_balance_in_both_directions_and_about_the_origin(
    case: tuple[Document, Command], kind: str
) -> None:
    drawn, command = case
    answer = answer_of(drawn, command)
    blade = drawn["blade"]
    applied = {
        "load": (drawn["load"]["at"], complex(*drawn["load"]["force"])),
        "weight": (blade["mass_centre"], complex(0, -blade["mass"] * 9.80665)),
    }[kind]
    for body in ("blade", *drawn["bodies"]):
        acting = forces_on(drawn, answer, body, kind)
        if body == "blade":
            acting.append((standing(answer, "blade", applied[0]), applied[1]))
        size = abs(applied[1]) + sum(abs(force) for _, force in acting)
        assert abs(sum(force for _, force in acting)) < 1e-9 * size
        moment = sum((place.conjugate() * force).imag for place, force in acting)
        assert abs(moment) < 1e-9 * size * (1 + max(abs(place) for place, _ in acting))


# Coupling


@law
@given(worked_mounts())
def test_the_coupling_follows_from_where_the_instant_centre_stands(case: tuple[Document, Command]) -> None:
    answer = answer_of(*case)
    for entry in answer["actuators"].values():
        if entry["instant_centre"] is None:
            assert entry["coupling"] == pytest.approx(1)
            continue
        centre, lead = entry["instant_centre"][0], entry["lead"]
        from_centre = {side: answer["pose"]["ends"][side][0] - centre for side in ENDS}
        assert entry["coupling"] * from_centre[lead] == pytest.approx(
            from_centre[OTHER[lead]], rel=1e-7, abs=1e-7 * abs(centre)
        )
        assert abs(entry[lead]) >= abs(entry[OTHER[lead]]) * (1 - 1e-8)


@law
@given(worked_mounts())
def test_the_instant_centre_is_the_point_of_the_blade_that_stands_still(case: tuple[Document, Command]) -> None:
    drawn, command = case
    for name, entry in answer_of(drawn, command)["actuators"].items():
        assume(entry["instant_centre"] is not None and math.hypot(*entry["instant_centre"]) < 1e5)
        before = answer_of(drawn, command | {name: command[name] - STEP})["pose"]["bodies"]["blade"]
        after = answer_of(drawn, command | {name: command[name] + STEP})["pose"]["bodies"]["blade"]
        centre = complex(*entry["instant_centre"])
        halfway = (complex(*before["at"]) + complex(*after["at"])) / 2
        turning = math.radians(after["angle"] - before["angle"]) / (2 * STEP)
        moving = (complex(*after["at"]) - complex(*before["at"])) / (2 * STEP)
        assert abs(moving + 1j * turning * (centre - halfway)) < 1e-5 * (1 + abs(turning * (centre - halfway)))


# Budget


@law
@given(worked_mounts())
def test_a_budget_is_the_sum_of_its_sources_and_nothing_else(case: tuple[Document, Command]) -> None:
    whole = answer_of(*case)
    answer = whole["budget"]
    for side in ENDS:
        end = answer[side]
        lows, highs = ([source[key] for source in end["sources"]] for key in ("low", "high"))
        assert all(low <= 0 <= high for low, high in zip(lows, highs, strict=True))
        assert end["low"] == pytest.approx(sum(lows))
        assert end["high"] == pytest.approx(sum(highs))
        assert end["worst"] == max(abs(end["low"]), abs(end["high"]))
        assert end["band"] == pytest.approx(end["high"] - end["low"])
        middle = (end["low"] + end["high"]) / 2
        half_widths = [(high - low) / 2 for low, high in zip(lows, highs, strict=True)]
        assert end["rss"] == pytest.approx(abs(middle) + math.hypot(*half_widths))
        assert end["rss"] <= end["worst"] * (1 + 1e-12)
        shares = [source["share"] for source in end["sources"]]
        assert sum(shares) == pytest.approx(1)
        assert shares == sorted(shares, reverse=True)
    over = any(each["relief_share"] > 1 for each in whole["actuators"].values())
    within = max(answer[side]["worst"] for side in ENDS) <= answer["tolerance"]
    assert answer["inside"] == (None if over else within)


@law
@given(worked_mounts(), st.sampled_from(ENDS))
def test_with_one_end_at_its_limit_the_other_end_is_within_its_own(case: tuple[Document, Command], side: str) -> None:
    answer = answer_of(*case)["budget"]
    there = answer[OTHER[side]]
    for key, limit in (("blade_at_low", "low"), ("blade_at_high", "high")):
        assert answer[side][key][side] == answer[side][limit]
        assert there["low"] - 1e-9 <= answer[side][key][OTHER[side]] <= there["high"] + 1e-9


def worst_errors(drawn: Document, analysis: Analysis, side: int, sign: int) -> Array:
    """Every joint pushed to the edge of its play, the way that moves one end most; slopes from poses solved again."""
    size = analysis.assembly.equations.by_error.shape[1]
    steps = np.eye(size) * STEP
    slopes = np.array([heights(analysis, step)[side] - heights(analysis, -step)[side] for step in steps])
    slopes[abs(slopes) < 1e-9] = 0  # What is left of a difference by rounding must not push a joint.
    pushed = np.zeros(size)
    for member, part in zip(drawn["members"], analysis.assembly.equations.error_of, strict=True):
        clearances = [joint["clearance"] for _, joint in joints_of(member)]
        if member["kind"] == "pin":
            pushed[part] = sign * clearances[0] / 2 * slopes[part] / (np.hypot(*slopes[part]) or 1)
        else:
            pushed[part] = sign * np.array(clearances) / 2 * np.sign(slopes[part])
    return pushed


@law
@given(worked_mounts(), st.sampled_from([0, 1]), st.sampled_from([-1, 1]))
def test_a_mount_with_every_joint_at_the_edge_of_its_play_stands_where_the_budget_says(
    case: tuple[Document, Command], side: int, sign: int
) -> None:
    drawn, command = case
    for part in ("oil", "valve", "load", "allowances"):
        drawn.pop(part)
    for member in drawn["members"]:
        for _, joint in joints_of(member):
            joint["clearance"] /= 100
    analysis = analysed(drawn, command)
    pushed = worst_errors(drawn, analysis, side, sign)
    moved = heights(analysis, pushed) - heights(analysis, 0 * pushed)
    end = answer_of(drawn, command)["budget"][ENDS[side]]
    # Play of hundredths over levers of hundreds: the sums are linear to about a thousandth of themselves.
    assert moved[side] == pytest.approx(end["high" if sign > 0 else "low"], rel=2e-3, abs=1e-6)
    together = end["blade_at_high" if sign > 0 else "blade_at_low"]
    assert moved == pytest.approx([together[each] for each in ENDS], rel=2e-3, abs=2e-3 * end["worst"] + 1e-6)


@law
@given(worked_mounts())
def test_a_mount_whose_oil_and_rods_give_way_stands_where_the_budget_says(case: tuple[Document, Command]) -> None:
    drawn, command = case
    drawn.pop("allowances")
    for member in drawn["members"]:
        for _, joint in joints_of(member):
            joint["clearance"] = 0
    answer = answer_of(drawn, command)
    analysis = analysed(drawn, command)
    oil, rods = given_way(drawn, command)
    give = np.array([oil[cylinder.id] for cylinder in analysis.mount.cylinders])
    errors = np.zeros(analysis.assembly.equations.by_error.shape[1])
    for member, part in zip(analysis.mount.members, analysis.assembly.equations.error_of, strict=True):
        errors[part.start] = rods.get(member.id, 0.0)
    scale = 0.01
    moved = (heights(analysis, scale * errors, scale * give) - heights(analysis, -scale * errors, -scale * give)) / (
        2 * scale
    )
    budgets = [answer["budget"][side] for side in ENDS]
    expected = [budget["low"] + budget["high"] for budget in budgets]
    assert moved == pytest.approx(expected, rel=1e-4, abs=1e-5 * max(budget["band"] for budget in budgets) + 1e-8)


# Mirror, size, place and order


def mirrored(drawn: Document) -> Document:
    """The mount seen from the front: x to the other side, the blade's and sensors' ends exchanged."""

    def flip(point: list[float]) -> list[float]:
        return [-point[0], point[1]]

    image = copy.deepcopy(drawn)
    for member in image["members"]:
        for _, joint in joints_of(member):
            joint["at"] = flip(joint["at"])
        if "direction" in member:
            member["direction"] = flip(member["direction"])
    for part in (image["blade"], image["sensors"]):
        part["left"], part["right"] = flip(part["right"]), flip(part["left"])
    image["blade"]["mass_centre"] = flip(image["blade"]["mass_centre"])
    image["load"] = {"at": flip(image["load"]["at"]), "force": flip(image["load"]["force"])}
    return image


@law
@given(worked_mounts())
def test_a_mirrored_mount_gives_mirrored_numbers(case: tuple[Document, Command]) -> None:
    drawn, command = case
    plain, image = answer_of(drawn, command), answer_of(mirrored(drawn), command)
    for name, entry in plain["actuators"].items():
        seen = image["actuators"][name]
        assert same([seen["left"], seen["right"]], [entry["right"], entry["left"]])
        assert same([seen[key] for key in ("coupling", "force")], [entry[key] for key in ("coupling", "force")])
        if abs(abs(entry["left"]) - abs(entry["right"])) > 1e-6:
            assert seen["lead"] == OTHER[entry["lead"]]
        if entry["instant_centre"] and abs(entry["instant_centre"][0]) < 1e6:
            assert same(seen["instant_centre"], [-entry["instant_centre"][0], entry["instant_centre"][1]], rel=1e-5)
    for name, force in plain["forces"].items():
        assert same(image["forces"][name]["load"], [-force["load"][0], force["load"][1]])
        assert same(image["forces"][name]["worst"], force["worst"])
    for side in ENDS:
        assert same(
            [image["budget"][OTHER[side]][key] for key in ("low", "high", "worst", "band", "rss")],
            [plain["budget"][side][key] for key in ("low", "high", "worst", "band", "rss")],
        )
        assert same(
            image["pose"]["ends"][OTHER[side]], [-plain["pose"]["ends"][side][0], plain["pose"]["ends"][side][1]]
        )
    assert image["pose"]["slope"] == pytest.approx(-plain["pose"]["slope"], abs=1e-9)
    assert same(image["coupling"]["interaction"], plain["coupling"]["interaction"])


LENGTHS = {"at", "left", "right", "mass_centre", "clearance", "bore", "rod", "retracted", "stroke", "plus_minus"}
POWERS = {
    "hose_volume": 3,
    "flow": 3,
    "smallest_pulse": 3,
    "section_area": 2,
    "elastic_modulus": -2,
    "bulk_modulus": -2,
    "tolerance": 1,
}


def scaled(value: Any, factor: float) -> Any:  # noqa: ANN401
    """A document with every length times ``factor``, and stiffness made up so that strains stay the same."""
    if isinstance(value, list):
        return [scaled(item, factor) for item in value]
    if not isinstance(value, dict):
        return value
    grown: Document = {}
    for key, item in value.items():
        power = 1 if key in LENGTHS else POWERS.get(key, 0)
        if isinstance(item, int | float) and not isinstance(item, bool):
            grown[key] = item * factor**power
        elif isinstance(item, list) and power and not isinstance(item[0], dict):
            grown[key] = [number * factor for number in item]
        else:
            grown[key] = scaled(item, factor)
    return grown


@law
@given(worked_mounts(), st.sampled_from([0.2, 0.7, 3.0, 8.0]))
def test_a_mount_of_another_size_gives_lengths_of_that_size_and_the_same_ratios(
    case: tuple[Document, Command], factor: float
) -> None:
    drawn, command = case
    plain = answer_of(drawn, command)
    grown = answer_of(scaled(drawn, factor), {name: factor * move for name, move in command.items()})
    for name, entry in plain["actuators"].items():
        ratios = ("left", "right", "lead", "coupling", "force", "load_ratio")
        assert same([grown["actuators"][name][key] for key in ratios], [entry[key] for key in ratios])
    assert same(size_of_worst(grown), size_of_worst(plain))
    # The relief pressure stays, so a cylinder of another size stalls at another force.
    for name, force in plain["forces"].items():
        kept = ("load", "weight", "together", "worst")
        assert same([grown["forces"][name][key] for key in kept], [force[key] for key in kept])
    assert grown["pose"]["slope"] == pytest.approx(plain["pose"]["slope"], abs=1e-9)
    for side in ENDS:
        assert same(grown["pose"]["ends"][side], [factor * part for part in plain["pose"]["ends"][side]])
        for key in ("low", "high", "worst", "band", "rss"):
            assert grown["budget"][side][key] == pytest.approx(factor * plain["budget"][side][key])
    if None not in (verdicts := (grown["budget"]["inside"], plain["budget"]["inside"])):
        assert verdicts[0] == verdicts[1]


@law
@given(worked_mounts(), st.integers(-2000, 2000), st.integers(-2000, 2000))
def test_a_mount_drawn_elsewhere_on_the_sheet_only_stands_elsewhere(
    case: tuple[Document, Command], across: int, up: int
) -> None:
    drawn, command = case
    shifted = copy.deepcopy(drawn)
    joints = [joint for member in shifted["members"] for _, joint in joints_of(member)]
    places = [(joint, "at") for joint in joints] + [(shifted["load"], "at"), (shifted["blade"], "mass_centre")]
    places += [(shifted[part], side) for part in ("blade", "sensors") for side in ENDS]
    for holder, key in places:
        holder[key] = [holder[key][0] + across, holder[key][1] + up]
    plain, moved = answer_of(drawn, command), answer_of(shifted, command)
    assert same(moved["forces"], plain["forces"])
    assert same(size_of_worst(moved), size_of_worst(plain))
    for side in ENDS:
        x, y = plain["pose"]["ends"][side]
        assert same(moved["pose"]["ends"][side], [x + across, y + up])
        assert by_source(moved["budget"][side]).keys() == by_source(plain["budget"][side]).keys()
        assert moved["budget"][side]["worst"] == pytest.approx(plain["budget"][side]["worst"])
    for name, entry in plain["actuators"].items():
        still = ("left", "right", "coupling", "force", "pressure", "extension")
        assert same([moved["actuators"][name][key] for key in still], [entry[key] for key in still])


@law
@given(worked_mounts())
def test_what_the_mechanics_do_not_see_changes_nothing(case: tuple[Document, Command]) -> None:
    drawn, command = case
    other = copy.deepcopy(drawn) | {"title": "Another title", "note": "A note", "display": "inch"}
    for member in other["members"]:
        if "direction" in member:
            member["direction"] = [4 * part for part in member["direction"]]
    assert same(answer_of(other, command), answer_of(drawn, command), rel=1e-12, absolute=1e-9)


@law
@given(worked_mounts())
def test_a_guide_that_points_the_other_way_is_the_same_guide(case: tuple[Document, Command]) -> None:
    drawn, command = case
    turned = copy.deepcopy(drawn)
    for member in turned["members"]:
        if "direction" in member:
            member["direction"] = [-part for part in member["direction"]]
    plain, other = answer_of(drawn, command), answer_of(turned, command)
    assert same(other["forces"], plain["forces"])
    assert same(other["pose"], plain["pose"])
    assert same([other["budget"][side]["worst"] for side in ENDS], [plain["budget"][side]["worst"] for side in ENDS])


@law
@given(worked_mounts())
def test_the_order_of_the_members_changes_nothing(case: tuple[Document, Command]) -> None:
    drawn, command = case
    backward = {**drawn, "members": drawn["members"][::-1]}
    plain, other = answer_of(drawn, command), answer_of(backward, command)
    assert same(size_of_worst(other), size_of_worst(plain))
    for part in ("pose", "forces"):
        assert same(other[part], plain[part])
    for name, entry in plain["actuators"].items():
        numbers = [key for key in entry if key not in ("lead", "centre_lines", "instant_centre")]
        assert same([other["actuators"][name][key] for key in numbers], [entry[key] for key in numbers])
    for side in ENDS:
        assert same(by_source(other["budget"][side]), by_source(plain["budget"][side]))


@law
@given(located_mounts)
def test_ends_of_a_member_exchanged_and_bodies_of_a_pin_exchanged_change_only_the_names_of_the_ends(
    drawn: Document,
) -> None:
    exchanged = copy.deepcopy(drawn)
    for member in exchanged["members"]:
        if "ends" in member:
            member["ends"].reverse()
        if member["kind"] == "pin":
            member["joins"].reverse()
    plain, other = answer_of(drawn), answer_of(exchanged)
    assert same(size_of_worst(other), size_of_worst(plain))
    for member in drawn["members"]:
        name, force = member["id"], other["forces"]
        if "ends" in member:
            assert same(force[f"{name} / 1"]["load"], plain["forces"][f"{name} / 2"]["load"])
        else:
            assert force[name]["worst"] == pytest.approx(plain["forces"][name]["worst"])
    for side in ENDS:
        assert same(
            [other["budget"][side][key] for key in ("low", "high", "rss")],
            [plain["budget"][side][key] for key in ("low", "high", "rss")],
        )


@law
@given(worked_mounts(), st.floats(0.1, 5))
def test_forces_and_give_grow_with_the_load_and_play_does_not(case: tuple[Document, Command], factor: float) -> None:
    drawn, command = case
    heavier = copy.deepcopy(drawn)
    heavier["load"]["force"] = [factor * part for part in drawn["load"]["force"]]
    plain, loaded = answer_of(drawn, command), answer_of(heavier, command)
    for name, force in plain["forces"].items():
        assert same(loaded["forces"][name]["load"], [factor * part for part in force["load"]])
    weightless = [without(each, "blade.mass") for each in (drawn, heavier)]
    plain, loaded = (answer_of(each, command) for each in weightless)
    for side in ENDS:
        grown = by_source(loaded["budget"][side])
        for (name, kind), source in by_source(plain["budget"][side]).items():
            # With a weight the side that is pressed may change on the way.
            times = factor if kind in ("oil", "stretch") else 1
            assert grown[name, kind]["high"] == pytest.approx(times * source["high"], abs=1e-12)
            assert grown[name, kind]["low"] == pytest.approx(times * source["low"], abs=1e-12)
