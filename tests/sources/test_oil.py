"""Oil squeezed by the load, against the definition of its bulk modulus."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.document.models import Oil, as_document
from app.document.parts import ENDS
from app.document.reading import read_mount
from app.shipped import shipped_mounts
from app.sources.oil import gives
from tests.answers import readout, reasons
from tests.loaded import ranges, without
from tests.mounts import Command, Document, hinge, law, member_of, worked_mounts

CAP = math.pi / 4 * 63**2
ANNULUS = math.pi / 4 * (63**2 - 36**2)
HOSE = 150 * 1000
"""150 mL in mm3."""
BULK = 1400

LIFTED = {"at": [1000, 0], "force": [0, 4500]}
LOWERED = {"at": [1000, 0], "force": [0, -4500]}
"""At 2000 mm from a hinge whose cylinder is 1800 mm from it: 5000 N in the cylinder, pushed or pulled."""
OIL = {"bulk_modulus": BULK}


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
    assert gives(cylinder, 5000, out, Oil(bulk_modulus=BULK)) == pytest.approx(-5000 * 400 / (BULK * CAP))
    assert gives(cylinder, 5000, closed, Oil(bulk_modulus=BULK)) == 0
    assert gives(cylinder, -5000, closed, Oil(bulk_modulus=BULK)) == pytest.approx(5000 * 400 / (BULK * ANNULUS))
    assert gives(cylinder, -5000, out, Oil(bulk_modulus=BULK)) == 0


def test_without_oil_or_without_load_no_squeeze_is_counted_and_the_reason_is_told() -> None:
    no_oil, no_load = readout(read_mount(hinge(load=LIFTED))), readout(read_mount(hinge(oil=OIL)))
    assert reasons(no_oil)["budget.oil"] == "needs the oil's bulk modulus"
    assert reasons(no_load)["budget.oil"] == "needs a load"
    assert [source["kind"] for source in no_oil["budget"]["right"]["sources"]] == []
    assert [source["kind"] for source in no_load["budget"]["right"]["sources"]] == []


def test_where_the_weight_keeps_the_annulus_pressed_the_annulus_gives_way() -> None:
    # Free body of mount 3: the load of 1 kN at 1200 lifts the right cylinder by 2050/1700 of it, less than the weight
    # of 1422 N that hangs there. The ring's oil, 130 mm and the hose, relaxes; the end rises 2050/1700 times as much.
    drawn = as_document(shipped_mounts()["3-twin-cylinders"])
    drawn["oil"]["bulk_modulus"] = BULK
    relaxed = 1000 * 2050 / 1700 / ANNULUS * (ANNULUS * 130 + HOSE) / (BULK * ANNULUS)
    assert ranges(drawn, "right")["right cylinder", "oil"] == pytest.approx((0, relaxed * 2050 / 1700))
    assert relaxed * 2050 / 1700 == pytest.approx(0.100, abs=5e-4)


def squeezed(drawn: Document, **oil: object) -> float:
    """The widest range of oil at the right end, mm."""
    found = ranges({**drawn, "oil": {**OIL, **oil}}, "right")
    return max(high - low for (_, kind), (low, high) in found.items() if kind == "oil")


@law
@given(worked_mounts(), st.sampled_from([-1, 1]))
def test_preloaded_oil_never_gives_way_more_than_one_side_alone(case: tuple[Document, Command], way: int) -> None:
    drawn = without(case[0], "blade.mass", "oil", "valve") | {"load": {"at": [1000, 0], "force": [100, way * 4000]}}
    found = {
        preloaded: {
            key: high - low
            for end in ENDS
            for key, (low, high) in ranges({**drawn, "oil": {**OIL, "preloaded": preloaded}}, end).items()
            if key[1] == "oil"
        }
        for preloaded in (True, False)
    }
    for key, width in found[True].items():
        assert width <= found[False][key] + 1e-12


def test_air_makes_the_oil_give_way_more() -> None:
    drawn = hinge(load=LIFTED)
    assert squeezed(drawn) < squeezed(drawn, entrained_air=0.01) < squeezed(drawn, entrained_air=0.05)
