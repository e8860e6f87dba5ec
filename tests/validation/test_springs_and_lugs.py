"""A frame on two springs and a joint on a lug: what the load lifts and bends, from statics and the theory of beams.

Two springs of k at the ends of a track t: a vertical force F at x from the middle lowers the point x' by F [1/(2k) +
2 x x' / (k t^2)], from the sum of forces and moments. Derived; 350 N/mm each, 1700 mm, 1 kN at 1200 mm: 4.2758 and
-1.4187.
Overhanging beam, tquigley.com/T310.htm and becalc.com: the free end sinks by F a^2 (l + a) / (3 E I). Formula seen; 10
kN, l 3 m, a 1 m, 200 GPa and 1e-5 m4 put in: 6.6667 mm. Such an overhang is a lug of F over that.
"""

import pytest

from app.document.models import Mount, as_document
from app.document.reading import read_mount
from tests.answers import readout
from tests.mounts import member_of

from .mechanisms import ROUNDING, twin_uprights

FIVE_DIGITS = 5e-5
"""Half a unit of the last digit of the derived values, mm."""


def range_of(mount: Mount, kind: str, end: str) -> tuple[float, float]:
    """What the sources of a kind do to an end together, mm."""
    sources = [each for each in readout(mount)["budget"][end]["sources"] if each["kind"] == kind]
    return sum(each["low"] for each in sources), sum(each["high"] for each in sources)


def on_tyres(load_at: float, newtons: float) -> Mount:
    """A blade 2.4 m wide on two uprights, the frame on two tyres of 350 N/mm, 1700 mm apart."""
    return twin_uprights(
        -850,
        850,
        -1200,
        1200,
        load={"at": [load_at, 0], "force": [0, newtons]},
        tyres={"left": -850, "right": 850, "stiffness": 350},
    )


def test_a_kilonewton_at_one_end_lifts_it_by_4_2758_mm_and_lowers_the_other_by_1_4187_mm_on_the_tyres() -> None:
    mount = on_tyres(1200, 1000)

    assert range_of(mount, "tyres", "right") == pytest.approx((0, 4.2758), abs=FIVE_DIGITS)
    assert range_of(mount, "tyres", "left") == pytest.approx((-1.4187, 0), abs=FIVE_DIGITS)


@pytest.mark.parametrize("load_at", [-1200, -300, 0, 850, 1200])
def test_a_frame_on_two_springs_stands_in_balance(load_at: float) -> None:
    mount = on_tyres(load_at, -2000)
    down = {end: -sum(range_of(mount, "tyres", end)) for end in ("left", "right")}
    slope = (down["right"] - down["left"]) / 2400
    middle = (down["right"] + down["left"]) / 2

    # Each spring pushes with how far it is pressed: together the load, about the middle its moment.
    left, right = 350 * (middle - 850 * slope), 350 * (middle + 850 * slope)

    assert left + right == pytest.approx(2000, rel=ROUNDING)
    assert (right - left) * 850 == pytest.approx(2000 * load_at, rel=ROUNDING, abs=1e-6)


def test_an_overhanging_beam_as_a_lug_sinks_by_6_6667_mm_under_10_kn() -> None:
    sinks = 10_000 * 1_000**2 * (3_000 + 1_000) / (3 * 200_000 * 1e-5 * 1_000**4)
    assert sinks == pytest.approx(6.6667, abs=FIVE_DIGITS)
    drawn = as_document(
        twin_uprights(-850, 850, -850, 850, load={"at": [850, 0], "force": [0, -10_000]}),
    )
    member_of(drawn, "right cylinder")["ends"][0]["stiffness"] = 10_000 / sinks

    mount = read_mount(drawn)

    assert range_of(mount, "bracket", "right") == pytest.approx((-sinks, 0), rel=ROUNDING)
    assert range_of(mount, "bracket", "left") == pytest.approx((0, 0), abs=1e-9)


def test_a_lug_under_a_pin_bends_along_both_axes() -> None:
    # A pin carries half of 6 kN down and 2 kN across: a lug of 1000 N/mm gives 3 mm and 2 mm, the edge sinks by 3.
    members = [
        {"kind": "pin", "id": "hinge", "joins": ["frame", "blade"], "at": [-1000, 0], "stiffness": 1000},
        {"kind": "rod", "id": "hanger", "ends": [{"on": "frame", "at": [1000, 900]}, {"on": "blade", "at": [1000, 0]}]},
    ]
    drawn = {
        "format": 1,
        "title": "lug",
        "blade": {"left": [-1000, 0], "right": [1000, 0]},
        "members": members,
        "load": {"at": [0, 0], "force": [2000, -6000]},
    }

    mount = read_mount(drawn)

    assert range_of(mount, "bracket", "left") == pytest.approx((-3, 0), rel=ROUNDING)
    assert range_of(mount, "bracket", "right") == pytest.approx((0, 0), abs=1e-9)
