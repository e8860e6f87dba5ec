"""Other ways to assemble the same lengths: known counts, the lengths put back, and where play carries across."""

import json
import math
from collections.abc import Sequence

import numpy as np
import pytest

from app.document.errors import NotLocated
from app.document.models import Mount, as_document
from app.document.parts import FRAME, Point
from app.document.reading import read_mount
from app.shipped import shipped_mounts
from app.strokes.assemblies import OtherAssembly, assemblies
from app.strokes.over import travel
from tests.mounts import Place, cylinder, document, end, pin, rod

KNOWN = {"1-centre-pivot": 2, "2-pivot-on-carriage": 8, "3-twin-cylinders": 4, "6-crank-and-drop-rod": 6}
"""Found by an independent search."""

MOST_ON_THREE_LEGS = 6
"""Hunt, Structural kinematics of in-parallel-actuated robot arms, 1983 (recalled)."""


def place_of(other: OtherAssembly, body: str, at: Point) -> Point:
    if body == FRAME:
        return at
    stands = other.bodies[body]
    turn = math.radians(stands.angle)
    x, y = at[0] - stands.drawn[0], at[1] - stands.drawn[1]
    cos, sin = math.cos(turn), math.sin(turn)
    return stands.at[0] + cos * x - sin * y, stands.at[1] + sin * x + cos * y


def lengths_in(mount: Mount, other: OtherAssembly) -> list[float]:
    """Of every rod and cylinder, mm."""
    ends = [each.ends for each in mount.members if hasattr(each, "ends")]
    return [math.dist(*(place_of(other, each.on, each.at) for each in pair)) for pair in ends]


@pytest.mark.parametrize("name", KNOWN)
def test_a_shipped_mount_has_as_many_assemblies_as_an_independent_search_found(name: str) -> None:
    assert assemblies(shipped_mounts()[name]).count == KNOWN[name]


@pytest.mark.parametrize("name", KNOWN)
def test_every_assembly_has_the_lengths_of_the_drawing_and_stands_elsewhere(name: str) -> None:
    mount = shipped_mounts()[name]
    drawn = [math.dist(*(each.at for each in member.ends)) for member in mount.members if hasattr(member, "ends")]
    for other in assemblies(mount).others:
        assert lengths_in(mount, other) == pytest.approx(drawn, abs=1e-7)
        assert other.apart > 1


def test_a_four_bar_with_its_crank_held_closes_in_two_ways_mirrored_about_the_line_of_its_pivots() -> None:
    members = [
        pin("crank pin", "frame", "blade", (-1000, 400)),
        rod("rocker", end("frame", (600, 900)), end("blade", (500, 0))),
    ]
    found = assemblies(read_mount(document(members)))
    (other,) = found.others
    along = np.array([1600.0, 500.0]) / math.hypot(1600, 500)
    away = np.array([500.0, 0.0]) - (-1000, 400)
    mirrored = 2 * (away @ along) * along - away + (-1000, 400)
    assert place_of(other, "blade", (500, 0)) == pytest.approx(tuple(mirrored), abs=1e-6)


def on_three_legs(feet: Sequence[Place], eyes: Sequence[Place]) -> Mount:
    legs = [cylinder(f"leg {n}", end("frame", feet[n]), end("blade", eyes[n])) for n in range(3)]
    return read_mount(document(legs))


def test_a_blade_on_three_legs_has_at_most_six_assemblies_an_even_number_of_them() -> None:
    random = np.random.default_rng(6)
    feet, eyes = random.uniform(-1000, 1000, (6, 3, 2)), random.uniform(-900, 900, (6, 3, 2))
    counts = [assemblies(on_three_legs(*each)).count for each in zip(feet.tolist(), eyes.tolist(), strict=True)]
    assert all(count <= MOST_ON_THREE_LEGS and count % 2 == 0 for count in counts)


def test_some_blades_on_three_legs_have_all_six() -> None:
    mount = on_three_legs([(610, 616), (31, -428), (-892, -233)], [(-165, -819), (-812, 899), (274, -478)])
    assert assemblies(mount).count == MOST_ON_THREE_LEGS


def test_play_carries_a_lever_across_at_its_dead_centre_and_not_away_from_it() -> None:
    drawn = json.loads(json.dumps(as_document(shipped_mounts()["1-centre-pivot"])))
    dead = travel(read_mount(drawn), steps=2).beyond[0].stroke
    (tilt,) = [each for each in drawn["members"] if each["kind"] == "cylinder"]
    tilt["retracted"] -= 40
    tilt["stroke"] += 40
    mount = read_mount(drawn)
    (near,) = assemblies(mount, {"tilt cylinder": dead + 0.02}).others
    (away,) = assemblies(mount, {"tilt cylinder": dead + 20}).others
    assert near.carried
    assert not away.carried
    assert near.apart < away.apart


def test_the_same_seed_finds_the_same_assemblies() -> None:
    mount = shipped_mounts()["2-pivot-on-carriage"]
    assert assemblies(mount) == assemblies(mount)


def test_a_loose_mount_is_refused() -> None:
    with pytest.raises(NotLocated, match="loose"):
        assemblies(read_mount(document([pin("hinge", "frame", "blade", (0, 0))])))
