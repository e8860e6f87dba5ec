"""The one adjoint solve: slopes against closed forms and against poses solved again, and the loads it takes."""

import numpy as np
import pytest
from hypothesis import given

from app.document.reading import read_mount
from app.solve.sensitivity import Sensitivities, weights_of
from tests.mounts import (
    Command,
    Document,
    analysed,
    centre_pivot,
    extras,
    guided,
    hinge,
    law,
    pivot_on_carriage,
    twin,
    worked_mounts,
)

GRAVITY = 9.80665
"""m/s2, NIST SP 811."""


def found_for(document: Document, command: Command | None = None) -> Sensitivities:
    return analysed(document, command).sensitivities


def test_the_edge_moves_by_the_lever_ratio_of_a_hinged_blade() -> None:
    found = found_for(hinge())
    assert found.of_length("right").tolist() == pytest.approx([-2000 / 1800])
    assert found.of_length("left").tolist() == pytest.approx([0])


@pytest.mark.parametrize("lever", [100, 200, 400])
def test_a_short_lever_multiplies_a_cylinder_by_half_the_blade_over_the_lever(lever: int) -> None:
    found = found_for(centre_pivot(lever))
    assert found.of_length("left").tolist() == pytest.approx([1000 / lever])
    assert found.of_length("right").tolist() == pytest.approx([-1000 / lever])


def test_a_hinge_that_rises_lifts_its_end_and_dips_what_overhangs_the_cylinder() -> None:
    across, up = found_for(hinge()).of_error("right")[:2]
    assert across == pytest.approx(0)
    assert up == pytest.approx(-200 / 1800)
    assert found_for(hinge()).of_error("left")[:2] == pytest.approx([0, 1])


def test_play_at_either_end_of_a_cylinder_counts_like_length() -> None:
    found = found_for(twin())
    by_length, by_error = found.of_length("left"), found.of_error("left")
    assert by_error[:4] == pytest.approx([by_length[0], by_length[0], by_length[1], by_length[1]])


def test_play_in_a_plumb_guide_moves_no_end_of_a_blade_on_upright_cylinders() -> None:
    assert found_for(guided()).of_error("left")[-1] == pytest.approx(0)


def test_sensors_load_and_weight_are_there_when_the_document_has_them() -> None:
    bare, full = twin(), twin(**extras())
    full["blade"] |= {"mass": 290, "mass_centre": [0, 190]}
    optional = {"sensor left", "sensor right", "load", "weight"}
    assert found_for(full).cases.keys() == {"left", "right", *optional}
    assert found_for(bare).cases.keys() & {"left", "right", *optional} == {"left", "right"}


def test_the_weight_is_mass_times_standard_gravity_downward_at_the_mass_centre() -> None:
    document = twin()
    document["blade"] |= {"mass": 290, "mass_centre": [10, 190]}
    (weight,) = weights_of(read_mount(document))
    assert (weight.body, weight.at) == (0, (10, 190))
    assert weight.force == pytest.approx((0, -290 * GRAVITY))


def test_every_body_that_has_a_mass_and_its_centre_weighs() -> None:
    document = pivot_on_carriage()
    document["bodies"] = [{"name": "carriage", "mass": 60, "mass_centre": [5, 600]}]
    (weight,) = weights_of(read_mount(document))
    assert (weight.body, weight.at) == (1, (5, 600))
    assert weight.force == pytest.approx((0, -60 * GRAVITY))


@pytest.mark.parametrize("part", [{"mass": 290}, {"mass_centre": [0, 190]}])
def test_a_mass_without_its_centre_and_a_centre_without_a_mass_weigh_nothing(part: Document) -> None:
    document = twin()
    document["blade"] |= part
    assert weights_of(read_mount(document)) == []


@law
@given(worked_mounts())
def test_velocities_are_how_the_bodies_of_a_pose_solved_again_move(case: tuple[Document, Command]) -> None:
    drawn, command = case
    velocities = analysed(drawn, command).velocities
    step = 0.01
    for number, name in enumerate(command):
        ahead = analysed(drawn, command | {name: command[name] + step}).pose
        behind = analysed(drawn, command | {name: command[name] - step}).pose
        moved = (ahead.q - behind.q) / (2 * step)
        np.testing.assert_allclose(velocities[:, number], moved, rtol=1e-5, atol=1e-7)


@law
@given(worked_mounts())
def test_the_adjoint_solve_and_the_forward_solve_give_the_same_slopes(case: tuple[Document, Command]) -> None:
    analysis = analysed(*case)
    forward = analysis.velocities
    for end, (x, _) in analysis.ends.items():
        rise = forward[1] + (x - analysis.pose.q[0]) * forward[2]
        np.testing.assert_allclose(analysis.sensitivities.of_length(end), rise, rtol=1e-9, atol=1e-9)
