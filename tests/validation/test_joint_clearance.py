"""What a joint's take-up does to the rest of a linkage. Derived for this project: no published number.

No published example with full inputs and outputs was readable. The values are virtual work and the closed four-bar put
into numbers, on the links of R. L. Norton, Design of Machinery, Example 4-1 (from memory), and each linear value stands
beside the pose solved again with the error put in.
"""

import math

import pytest

from app.document.models import Mount
from app.document.parts import Point
from app.solve.assembly import assemble
from app.solve.pose import settle, solve
from app.solve.sensitivity import sensitivities
from tests.answers import readout

from .mechanisms import NORTON_EXAMPLE_4_1, ROUNDING, Linkage, cylinder, mount_of, pin, polar, rod, slide

HALF_A_UNIT_OF_5_PLACES = 0.000005
"""Half a unit of the last digit of the derived values, mm or degrees (per mm)."""

STEP = 0.001
"""Link length error of a central difference, mm: small enough to be good to a millionth of itself."""


def in_line_slider_crank(clearance: float) -> Mount:
    """Crank of 150 mm at 45 degrees to an upright guide, rod of 600 mm, the blade as the slider."""
    crank_pin = polar(150, 45)
    block = (0.0, crank_pin[1] + math.sqrt(600**2 - crank_pin[0] ** 2))
    members = [
        pin("crank pivot", "frame", "crank", (0, 0)),
        cylinder("driver", ("frame", polar(450, -45)), ("crank", crank_pin)),
        rod("connecting rod", ("crank", crank_pin), ("blade", block), clearance),
        slide("guide", "frame", "blade", block, (0, 1)),
        slide("guide above", "frame", "blade", (0, block[1] + 300), (0, 1)),
    ]
    edge = ((-500, block[1]), (500, block[1]))
    return mount_of(members, *edge, bodies=["crank"], load={"at": block, "force": [0, -1_000]})


def example_4_1_with_a_rod_as_coupler(clearance: float = 0.0) -> Mount:
    """The crank at 40 degrees, the coupler a rod, the rocker the blade with a level edge as long as the rocker."""
    a, b = NORTON_EXAMPLE_4_1.closed(40, "open")
    members = [
        pin("crank pivot", "frame", "crank", (0, 0)),
        pin("rocker pivot", "frame", "blade", (100, 0)),
        rod("coupler", ("crank", a), ("blade", b), clearance),
        cylinder("driver", ("frame", polar(120, -50)), ("crank", a)),
    ]
    return mount_of(members, (100, 0), (180, 0), bodies=["crank"])


def resolved(mount: Mount, member: str, error: float, end: int = 1) -> list[float]:
    """The unknowns of the blade, (x, y, angle in radians), with an error at end 1 or 2 of a member, mm."""
    assembly = assemble(mount)
    start = solve(assembly, [0.0] * len(assembly.lengths))
    errors = [0.0] * assembly.equations.by_error.shape[1]
    number = [each.id for each in mount.members].index(member)
    errors[assembly.equations.error_of[number].start + end - 1] = error
    return [float(value) for value in settle(assembly, start, start.lengths, errors)[:3]]


def test_in_line_slider_crank_tenth_of_take_up_along_the_rod_shifts_the_slider_by_0_10160_mm() -> None:
    lean = math.asin(150 * math.sin(math.radians(45)) / 600)

    sources = readout(in_line_slider_crank(clearance=0.2))["budget"]["left"]["sources"]

    high = {source["id"]: source["high"] for source in sources}
    assert high["connecting rod / 1"] == pytest.approx(0.1 / math.cos(lean), rel=ROUNDING)
    assert high["connecting rod / 2"] == pytest.approx(0.10160, abs=HALF_A_UNIT_OF_5_PLACES)


@pytest.mark.parametrize("end", [1, 2])
def test_in_line_slider_crank_solved_again_with_the_take_up_at_either_end_shifts_its_slider_as_far(end: int) -> None:
    mount = in_line_slider_crank(clearance=0)

    shift = resolved(mount, "connecting rod", 0.1, end)[1] - resolved(mount, "connecting rod", 0.0, end)[1]

    assert shift == pytest.approx(0.10160, abs=HALF_A_UNIT_OF_5_PLACES)


def test_in_line_slider_crank_rod_pushes_with_1_01600_times_the_slider_force() -> None:
    force = readout(in_line_slider_crank(clearance=0))["forces"]["connecting rod / 2"]["load"]

    assert math.hypot(*force) / 1_000 == pytest.approx(1.01600, abs=HALF_A_UNIT_OF_5_PLACES)


def test_four_bar_with_its_coupler_0_1_mm_longer_turns_its_rocker_by_0_11893_degrees_in_the_linear_budget() -> None:
    ends = readout(example_4_1_with_a_rod_as_coupler(clearance=0.2))["budget"]["right"]["sources"]

    rise = {source["id"]: source["high"] for source in ends}
    turn = math.degrees(rise["coupler / 1"] / NORTON_EXAMPLE_4_1.rocker)

    assert turn == pytest.approx(0.11893, abs=HALF_A_UNIT_OF_5_PLACES)


def test_four_bar_with_its_coupler_0_1_mm_longer_turns_its_rocker_by_minus_0_11901_degrees_solved_again() -> None:
    turn = resolved(example_4_1_with_a_rod_as_coupler(), "coupler", 0.1)[2]

    assert math.degrees(turn) == pytest.approx(-0.11901, abs=HALF_A_UNIT_OF_5_PLACES)


# A link that is longer is a pin that is off along it: the pin's offset is from its first body to its second.
LENGTHS = [
    pytest.param("crank pin", "crank", 1, -1.11969, id="crank"),
    pytest.param("rocker pin", "coupler", -1, -1.18932, id="coupler"),
    pytest.param("rocker pin", "blade", 1, 0.94949, id="rocker"),
    pytest.param("rocker pivot", "ground", 1, 1.11546, id="ground"),
]


def along(linkage: Linkage, link: str) -> Point:
    """The direction of a link as drawn; the ground is level."""
    return polar(1, linkage.drawn.get(link, 0.0))


def degrees_per_mm(linkage: Linkage, joint: str, link: str, sign: int) -> float:
    """The turn of the rocker per mm of a link's length, by the adjoint solve."""
    assembly, pose = linkage.posed_at(40)
    number = [member.id for member in linkage.mount.members].index(joint)
    offset = sensitivities(assembly, pose).of_error("right")[assembly.equations.error_of[number]]
    ux, uy = along(linkage, link)
    return math.degrees(sign * float(offset[0] * ux + offset[1] * uy) / NORTON_EXAMPLE_4_1.rocker)


@pytest.mark.parametrize(("joint", "link", "sign", "expected"), LENGTHS)
def test_four_bar_rocker_turns_per_mm_of_a_link_as_derived(joint: str, link: str, sign: int, expected: float) -> None:
    linkage = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40, blade="rocker")

    assert degrees_per_mm(linkage, joint, link, sign) == pytest.approx(expected, abs=HALF_A_UNIT_OF_5_PLACES)


@pytest.mark.parametrize(("joint", "link", "sign", "expected"), LENGTHS)
def test_four_bar_solved_again_turns_its_rocker_per_mm_of_a_link_as_derived(
    joint: str, link: str, sign: int, expected: float
) -> None:
    linkage = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40, blade="rocker")
    assembly, pose = linkage.posed_at(40)
    place = assembly.equations.error_of[[member.id for member in linkage.mount.members].index(joint)].start
    ux, uy = along(linkage, link)

    def rocker_at(error: float) -> float:
        errors = [0.0] * assembly.equations.by_error.shape[1]
        errors[place : place + 2] = [sign * error * ux, sign * error * uy]
        return math.degrees(float(settle(assembly, pose, pose.lengths, errors)[2]))

    per_mm = (rocker_at(STEP) - rocker_at(-STEP)) / (2 * STEP)

    assert per_mm == pytest.approx(expected, abs=HALF_A_UNIT_OF_5_PLACES)


def test_four_bar_scaled_as_a_whole_does_not_turn_its_rocker() -> None:
    linkage = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40, blade="rocker")

    scaled = math.fsum(
        [
            NORTON_EXAMPLE_4_1.crank * degrees_per_mm(linkage, "crank pin", "crank", 1),
            NORTON_EXAMPLE_4_1.coupler * degrees_per_mm(linkage, "rocker pin", "coupler", -1),
            NORTON_EXAMPLE_4_1.rocker * degrees_per_mm(linkage, "rocker pin", "blade", 1),
            NORTON_EXAMPLE_4_1.ground * degrees_per_mm(linkage, "rocker pivot", "ground", 1),
        ]
    )

    assert scaled == pytest.approx(0, abs=1e-9)  # of terms of about 100 degrees


@pytest.mark.parametrize("joint", ["crank pin", "rocker pin"])
def test_four_bar_play_in_either_coupler_pin_counts_along_the_coupler_alone(joint: str) -> None:
    linkage = NORTON_EXAMPLE_4_1.linkage("open", drawn_at=40, blade="rocker")
    assembly, pose = linkage.posed_at(40)
    number = [member.id for member in linkage.mount.members].index(joint)

    worst = math.hypot(*sensitivities(assembly, pose).of_error("right")[assembly.equations.error_of[number]])

    assert math.degrees(worst / NORTON_EXAMPLE_4_1.rocker) == pytest.approx(1.18932, abs=HALF_A_UNIT_OF_5_PLACES)
