"""The working in short: its sentences say numbers of the readout, and each sum in it comes out."""

from typing import Any

import pytest

from app.analysis import Analysis
from app.document.messages import filled
from app.document.models import as_document
from app.document.parts import BLADE
from app.document.reading import read_mount
from app.shipped import shipped_mounts
from app.working.short import ShortLine, short_working
from tests.answers import readout, typed
from tests.mounts import Document, crank_and_drop_rod, document, end, extras, rod, twin, two_guides

SHIPPED = sorted(shipped_mounts())


@pytest.mark.parametrize("name", SHIPPED)
def test_every_value_with_a_place_is_the_readouts(name: str) -> None:
    mount = shipped_mounts()[name]
    answer = readout(mount)
    for line in short_working(Analysis(mount)):
        for value, path in line.paths.items():
            found: Any = answer
            for step in path:
                found = found[step]
            assert abs(float(line.values[value][0])) == abs(found), (line.key, value)


@pytest.mark.parametrize("name", SHIPPED)
def test_every_sum_comes_out(name: str) -> None:
    lines = {line.key: numbers(line) for line in short_working(Analysis(shipped_mounts()[name]))}
    coupling, load, play = lines["coupling"], lines["load"], lines["play"]
    assert coupling["top"] / coupling["bottom"] == pytest.approx(coupling["coupling"])
    assert load["size"] * load["ratio"] == pytest.approx(load["force"])
    if "arm" in load:
        assert load["load_arm"] / load["arm"] == pytest.approx(load["ratio"])
    assert play["clearance"] / 2 * play["times"] == pytest.approx(play["moved"])
    if "pressure" in lines:
        pressure = lines["pressure"]
        assert pressure["force"] / pressure["area"] == pytest.approx(pressure["pressure"])


def test_the_sentences_of_a_mount_drawn_by_hand() -> None:
    """Upright cylinders 800 mm out, ends 1000 mm out, 4500 N up at the right end.

    Each turns the blade about the other's foot: 1800 mm from the load, 1600 mm from the cylinder, 200 mm from the end.
    """
    load = {"at": [1000, 0], "force": [0, 4500]}
    lines = said(twin(load=load, oil={"bulk_modulus": 1400}))
    assert lines["coupling"].startswith("When right moves, the blade turns about a point 200 mm from the left end")
    assert "the load on an arm of 1800 mm, the cylinder on 1600 mm" in lines["load"]
    assert "4.50 kN × 1.12 = 5.06 kN" in lines["load"]
    assert lines["pressure"].endswith(" = 1.6 MPa.")


def test_what_dials_read_and_what_stall_uses_stand_among_the_sentences() -> None:
    words = said(as_document(shipped_mounts()["1-centre-pivot"]))
    assert (
        "read −4.38 mm left and 4.49 mm right under the load, ±0.90 mm at most for play whose side is not"
        in words["dials"]
    )
    words = said(as_document(shipped_mounts()["3-twin-cylinders"]))
    assert words["dials"].endswith("read −0.068 mm left and 0.21 mm right under the load.")
    # 63 mm at 18 MPa push with 56.11 kN.
    assert words["stall"].endswith("carries 56.11 kN of the 60.00 kN it is rated for, if the port relief is set so.")


def test_relief_stands_beside_the_pressure_where_there_is_one() -> None:
    assert said(twin(**extras()))["pressure"].endswith(" of 18.0 MPa relief.")


def test_a_cylinder_that_does_not_turn_the_blade_shifts_it() -> None:
    assert said(two_guides())["coupling"] == "lift shifts the blade without turning it: coupling 1.00."


def test_a_cylinder_that_holds_the_blade_by_way_of_others_is_worked_by_how_far_the_load_moves() -> None:
    load = said(crank_and_drop_rod(load={"at": [-1000, 0], "force": [0, 4500]}))["load"]
    assert load.startswith("While crank cylinder lengthens, the load's point moves ")


def test_a_mount_without_a_cylinder_has_no_sentence_but_of_its_play_and_the_dials() -> None:
    held = twin(**extras())
    for number, name in enumerate(("left", "right")):
        held["members"][number] = rod(name, *held["members"][number]["ends"])
    held["members"][0]["ends"][0]["clearance"] = 0.2
    assert set(said(held)) == {"play", "dials"}


def test_what_a_mount_lacks_has_no_sentence() -> None:
    assert set(said(twin())) == {"coupling"}


def test_a_mount_that_hangs_loose_has_no_working() -> None:
    loose = document([rod("stay", end("frame", (-900, 200)), end(BLADE, (900, 200)))])
    assert said(loose) == {}


def numbers(line: ShortLine) -> dict[str, float]:
    return {name: float(value[0]) for name, value in line.values.items() if not isinstance(value[0], str)}


def said(drawn: Document) -> dict[str, str]:
    return {line.key: typed(filled(line.text, line.values)) for line in short_working(Analysis(read_mount(drawn)))}
