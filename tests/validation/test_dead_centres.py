"""Dead centres against geometry: a lever in line, linkages at their limits, three lines through a point."""

import math

import numpy as np
import pytest

from app.analysis import Analysis
from app.document.reading import read_mount
from app.strokes.over import travel
from tests.mounts import Document, centre_pivot, cylinder, document, end, hinge, pin, rod


def test_a_lever_has_its_dead_centre_where_it_comes_into_line_with_its_cylinder() -> None:
    """Cylinder length = distance of base to pivot plus lever (geometry): 632.456 + 200 mm, 232.456 beyond as drawn."""
    tilt = cylinder("tilt", end("frame", (-600, 200)), end("blade", (0, 200)), inward=250, outward=400)
    drawn = centre_pivot(members=[pin("pivot", "frame", "blade", (0, 0)), tilt])
    (found,) = travel(read_mount(drawn), steps=40).dead_centres
    assert found.members == ["pivot", "tilt"]
    base, lever = math.hypot(600, 200), 200
    assert found.points == [[pytest.approx(base - lever - 600)], [pytest.approx(base + lever - 600)]]


def test_a_dead_centre_within_the_inward_stroke_is_found_too() -> None:
    lift = cylinder("lift", end("frame", (800, 1000)), end("blade", (800, 0)), inward=900, outward=500)
    (found,) = travel(read_mount(hinge(members=[hinge()["members"][0], lift])), steps=30).dead_centres
    assert found.points == [[pytest.approx(math.hypot(1800, 1000) - 1800 - 1000, abs=1e-6)]]


def slider_crank(crank: float, rod_length: float) -> Document:
    """A crank on the frame drawn upright, its connecting rod, and a block in a level guide pushed by a cylinder.

    The block is the blade: it slides along y = 0 without turning, in two guides.
    """
    reach = math.sqrt(rod_length**2 - crank**2)
    members = [
        pin("crank pivot", "frame", "crank", (0, 0)),
        rod("connecting rod", end("crank", (0, crank)), end("blade", (reach, 0))),
        {"kind": "slide", "id": "guide 1", "joins": ["frame", "blade"], "at": [reach - 50, 0], "direction": [1, 0]},
        {"kind": "slide", "id": "guide 2", "joins": ["frame", "blade"], "at": [reach + 50, 0], "direction": [1, 0]},
        cylinder("ram", end("frame", (reach + 1000, 0)), end("blade", (reach, 0)), inward=600, outward=600),
    ]
    return document(members, ["crank"], blade={"left": [reach - 50, 0], "right": [reach + 50, 0]})


def test_a_slider_crank_ends_where_crank_and_rod_are_in_line() -> None:
    """Slider at rod plus crank and, drawn on this side, at rod less crank (Norton, Design of Machinery: a slider-crank
    is at its limits where crank and coupler are collinear; recalled). Crank 40, rod 120 as in his example 4-2, inline.
    """
    crank, coupler = 40.0, 120.0
    over = travel(read_mount(slider_crank(crank, coupler)), steps=200)
    reach = math.sqrt(coupler**2 - crank**2)
    ends = sorted(point for each in over.dead_centres for (point,) in each.points)
    assert ends == pytest.approx([reach - (coupler + crank), reach - (coupler - crank)], abs=1e-6)
    assert all("connecting rod" in each.members for each in over.dead_centres)


def test_a_four_bar_driven_at_its_rocker_ends_where_crank_and_coupler_are_in_line() -> None:
    """Norton's example 4-1: crank 40, coupler 120, rocker 80, ground 100: toggles where the distance from crank pivot
    to rocker pin is 120 + 40 or 120 - 40 (geometry of a triangle)."""
    a, c, d = 40.0, 80.0, 100.0
    theta2, theta4 = math.radians(40), math.radians(57.325)
    crank_pin = (a * math.cos(theta2), a * math.sin(theta2))
    rocker_pin = (d + c * math.cos(theta4), c * math.sin(theta4))
    base = (d + 400.0, 0.0)
    members = [
        pin("crank pivot", "frame", "crank", (0, 0)),
        rod("coupler", end("crank", crank_pin), end("blade", rocker_pin)),
        pin("rocker pivot", "frame", "blade", (d, 0)),
        cylinder("ram", end("frame", base), end("blade", rocker_pin), inward=350, outward=350),
    ]
    drawn = document(members, ["crank"], blade={"left": [d - 10, 0], "right": [d + 10, 0]})
    over = travel(read_mount(drawn), steps=400)
    drawn_coupler = math.dist(crank_pin, rocker_pin)

    def stroke_at(distance: float) -> float:
        """How much longer the ram is where the rocker pin is so far from the crank pivot."""
        angle = math.pi - math.acos((c**2 + d**2 - distance**2) / (2 * c * d))
        return math.dist(base, (d + c * math.cos(angle), c * math.sin(angle))) - math.dist(base, rocker_pin)

    expected = sorted(stroke_at(each) for each in (drawn_coupler + a, drawn_coupler - a))
    found = sorted(point for each in over.dead_centres for (point,) in each.points)
    inside = [each for each in expected if over.strokes["ram"][0] < each < over.strokes["ram"][-1]]
    assert inside
    assert found == pytest.approx(inside, abs=1e-6)


def test_a_blade_on_three_members_is_singular_where_their_lines_meet_in_a_point() -> None:
    """Hunt, Kinematic Geometry of Mechanisms (1978), recalled: three two-force members, three lines through a point."""
    members = [
        cylinder("left", end("frame", (-900, 800)), end("blade", (-500, 200)), inward=350, outward=350),
        cylinder("right", end("frame", (900, 800)), end("blade", (500, 200)), inward=350, outward=350),
        rod("stay", end("frame", (-900, -150)), end("blade", (300, 250))),
    ]
    over = travel(read_mount(document(members)), steps=31)
    points = [point for each in over.dead_centres for point in each.points]
    assert len(points) > 5
    for point in points:
        # Just short of the dead centre, where the readout still stands.
        command = dict(zip(over.cylinders, point, strict=True))
        near = Analysis(over.mount, command)
        lines = [(np.array(each.second), np.array(each.second) - np.array(each.first)) for each in near.standing]
        rows = [
            (*(way / np.linalg.norm(way)), (at[0] * way[1] - at[1] * way[0]) / np.linalg.norm(way)) for at, way in lines
        ]
        sizes = np.linalg.svd(np.array(rows) / [1, 1, 500], compute_uv=False)
        assert sizes[-1] < 0.02 * sizes[0]
