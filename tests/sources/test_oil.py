"""Oil squeezed by the load, against the definition of its bulk modulus."""

import math

import pytest

from app.document.models import Oil
from app.document.reading import read_mount
from app.sources.oil import gives
from tests.answers import readout, reasons
from tests.loaded import ranges
from tests.mounts import Document, hinge, member_of

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
