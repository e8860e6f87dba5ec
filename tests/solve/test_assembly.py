"""A mount laid out for its equations: reference points, numbers and scales in their places."""

import math

import numpy as np
import pytest

from app.document.reading import read_mount
from app.solve.assembly import assemble, body_numbers, topology_of
from app.solve.equations import FIXED, Link
from tests.mounts import crank_and_drop_rod, guided, hinge, member_of, pivot_on_carriage, twin


def test_the_blade_is_number_nought_and_the_frame_stands_fixed() -> None:
    assert body_numbers(read_mount(pivot_on_carriage())) == {"frame": FIXED, "blade": 0, "carriage": 1}


def test_a_topology_keeps_kinds_and_bodies_and_no_coordinates() -> None:
    topology = topology_of(read_mount(hinge()))
    assert topology.bodies == 1
    assert topology.links == (Link("pin", FIXED, 0), Link("cylinder", FIXED, 0))


def test_the_blade_is_measured_from_the_middle_of_its_edge() -> None:
    document = twin()
    document["blade"] = {"left": [-1000, 10], "right": [1200, 30]}
    assembly = assemble(read_mount(document))
    assert assembly.references[0] == (100, 20)
    assert assembly.drawn.tolist() == [100, 20, 0]


def test_another_body_is_measured_from_the_mean_of_its_joints() -> None:
    crank_pins = [(-500, 1050), (-500, 1400), (-850, 1050)]
    x, y = (sum(values) / 3 for values in zip(*crank_pins, strict=True))
    assert assemble(read_mount(crank_and_drop_rod())).references[1] == pytest.approx((x, y))


def test_a_point_is_given_from_its_bodys_reference_and_from_the_origin_on_the_frame() -> None:
    document = twin()
    document["blade"] = {"left": [-1000, 0], "right": [1200, 0]}
    assembly = assemble(read_mount(document))
    assert assembly.local(0, (500, 300)) == (400, 300)
    assert assembly.local(FIXED, (500, 300)) == (500, 300)


def test_numbers_of_a_rod_end_with_its_length() -> None:
    assert assemble(read_mount(twin())).numbers[-5:] == (-900, 200, 900, 200, 1800)


def test_only_the_way_of_a_guide_counts_and_not_the_size_of_its_direction() -> None:
    longer = guided()
    member_of(longer, "guide")["direction"] = [0, 2500]
    assert assemble(read_mount(longer)).numbers == assemble(read_mount(guided())).numbers


def test_a_guide_is_kept_as_its_unit_normal_to_the_left_of_its_way() -> None:
    document = guided()
    member_of(document, "guide")["direction"] = [3, 4]
    assert assemble(read_mount(document)).numbers[-6:] == pytest.approx((0, 500, -0.8, 0.6, 0, 500))


def test_lengths_are_those_drawn() -> None:
    assert assemble(read_mount(crank_and_drop_rod())).lengths == pytest.approx((math.hypot(700, 100), 850))


def test_an_angle_is_scaled_by_the_reach_of_its_bodys_joints() -> None:
    root_mean_square = math.sqrt((1000**2 + 800**2) / 2)
    assert assemble(read_mount(hinge())).scale.tolist() == pytest.approx([1, 1, root_mean_square])


def test_a_blade_that_nothing_holds_is_scaled_by_half_its_width() -> None:
    assert assemble(read_mount({**twin(), "members": []})).scale.tolist() == [1, 1, 1000]


def test_a_body_that_nothing_holds_stands_at_the_origin() -> None:
    assembly = assemble(read_mount({**twin(), "bodies": ["spare"]}))
    assert assembly.references[1] == (0, 0)
    assert np.isfinite(assembly.scale).all()


def test_a_member_takes_hold_at_its_pins_and_a_slide_at_its_running_point() -> None:
    left, _, guide = read_mount(guided()).members
    assert left.holds == ((-700, 1100), (-700, 200))
    assert guide.holds == ((0, 500), (0, 500))
