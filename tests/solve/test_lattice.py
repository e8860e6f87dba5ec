"""A mount over a grid of its strokes: the same poses as one by one, and none beyond a dead centre."""

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from app.analysis import Analysis
from app.document.models import Mount
from app.document.reading import read_mount
from app.solve.assembly import side_of
from app.solve.equations import Array
from app.solve.lattice import Lattice, lattice
from tests.mounts import Document, cylinder, document, end, fewer, hinge, located_mounts, rod, twin

STEPS = 9


def lengths_of(mount: Mount) -> list[Array]:
    return [np.linspace(each.retracted, each.retracted + each.stroke, STEPS) for each in mount.cylinders]


def filled(mount: Mount, strokes: dict[str, float] | None = None) -> Lattice:
    analysis = Analysis(mount, strokes)
    axes = [*lengths_of(mount)[:2], np.zeros(1)]
    return lattice(analysis.assembly, analysis.pose, range(min(2, len(mount.cylinders))), (axes[0], axes[1]))


def at_cell(mount: Mount, found: Lattice, cell: int) -> Analysis:
    """The same cell by a readout of its own."""
    drawn = found.assembly.lengths
    moved = found.lengths[cell] - np.array(drawn)
    return Analysis(mount, {each.id: float(by) for each, by in zip(mount.cylinders, moved, strict=True)})


@fewer(0.5)
@given(drawn=located_mounts, seed=st.integers(0, 999))
def test_every_cell_stands_where_a_readout_of_its_own_stands(drawn: Document, seed: int) -> None:
    mount = read_mount(drawn)
    found = filled(mount)
    for cell in np.random.default_rng(seed).choice(len(found.q), 6).tolist():
        alone = at_cell(mount, found, cell)
        if not alone.pose.stopped:
            assert found.reached[cell]
            assert np.abs(found.q[cell] - alone.pose.q).max() < 1e-9


@fewer(0.5)
@given(drawn=located_mounts)
def test_the_adjoint_of_every_cell_is_that_of_a_readout_of_its_own(drawn: Document) -> None:
    mount = read_mount(drawn)
    found = filled(mount)
    poses, reached = found.poses, np.flatnonzero(found.reached)
    for place in {0, len(reached) // 2, len(reached) - 1}:
        alone = at_cell(mount, found, int(reached[place]))
        if not alone.pose.stopped:
            np.testing.assert_allclose(poses.by_length[place], alone.sensitivities.by_length, rtol=1e-7, atol=1e-7)
            np.testing.assert_allclose(poses.by_error[place], alone.sensitivities.by_error, rtol=1e-7, atol=1e-7)
            np.testing.assert_allclose(poses.condition[place], alone.pose.condition, rtol=1e-6)


def test_no_cell_is_reached_across_a_dead_centre() -> None:
    """A lever in line with its cylinder: at the distance of base and pivot less the lever (geometry)."""
    base, lever = math.hypot(1800, 1000), 1800
    lift = cylinder("lift", end("frame", (800, 1000)), end("blade", (800, 0)), inward=900, outward=500)
    mount = read_mount(hinge(members=[*hinge()["members"][:1], lift]))
    analysis = Analysis(mount)
    lengths = np.linspace(100, 1500, 141)
    found = lattice(analysis.assembly, analysis.pose, [0], (lengths, np.zeros(1)))
    assert found.reached.tolist() == (lengths > base - lever).tolist()


def test_all_cells_stand_on_the_side_they_were_drawn_on_wherever_one_begins() -> None:
    mount = read_mount(twin())
    drawn, moved = filled(mount), filled(mount, {"left": -150, "right": 120})
    assert drawn.reached.all()
    assert {side_of(each) for each in drawn.jacobian} == {drawn.assembly.side_at_rest}
    np.testing.assert_allclose(drawn.q, moved.q, atol=1e-9)


def test_a_grid_reaches_exactly_what_single_poses_reach_round_a_dead_centre() -> None:
    members = [
        cylinder("left", end("frame", (-900, 800)), end("blade", (-500, 200)), inward=350, outward=350),
        cylinder("right", end("frame", (900, 800)), end("blade", (500, 200)), inward=350, outward=350),
        rod("stay", end("frame", (-900, -150)), end("blade", (300, 250))),
    ]
    mount = read_mount(document(members))
    found = filled(mount)
    alone = [at_cell(mount, found, cell).pose.stopped is None for cell in range(len(found.q))]
    assert found.reached.tolist() == alone
    assert 0.2 < np.mean(alone) < 0.8
