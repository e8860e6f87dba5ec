"""Two mounts compared: each by itself first, and where one is the better and why."""

import math
from typing import Any

import pytest

from app.comparison.compare import Compared, Comparison, compare
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.results.readout import readout
from app.shipped import shipped_mounts
from tests.answers import typed

SHIPPED = shipped_mounts()
PIVOT, TWIN, HINGE, CARRIAGE = (
    SHIPPED[name] for name in ("1-centre-pivot", "3-twin-cylinders", "5-end-hinge", "2-pivot-on-carriage")
)


def changed(mount: Mount, **parts: object) -> Mount:
    return read_mount({**as_document(mount), **parts})


def with_load(mount: Mount, newtons: float) -> Mount:
    return changed(mount, load={"at": [1200, 0], "force": [0, newtons]})


def row(found: Comparison, name: str) -> Compared:
    return next(each for cause in found.causes for each in cause.rows if each.name == name)


def words(each: Compared) -> str:
    assert each.why is not None
    return typed(each.why.filled())


def test_each_mount_is_judged_by_itself_first() -> None:
    found = compare(PIVOT, TWIN)
    assert (found.a.state, found.b.state) == ("fails", "passes")
    assert typed(found.a.why[0].filled()) == "the right end is up to 7.41 mm out, with ±3.00 mm allowed"
    assert found.b.worst is not None
    assert found.b.worst < 3


def test_a_mount_that_is_better_and_fails_too_is_said_to_fail() -> None:
    found = compare(with_load(PIVOT, 8000), with_load(TWIN, 8000))
    assert found.b.worst is not None
    assert found.b.worst > 3
    assert (found.a.state, found.b.state) == ("fails", "fails")


def test_nothing_that_hangs_on_the_load_is_ranked_past_relief() -> None:
    small = changed(PIVOT, oil={"bulk_modulus": 700, "relief_pressure": 3})
    found = compare(
        with_load(small, 2000), changed(with_load(TWIN, 2000), oil={"bulk_modulus": 700, "relief_pressure": 3})
    )
    assert found.a.why[0].code == "over-relief"
    for name in ("worst", "rss", "under-load", "dial-right", "load-ratio", "relief", "joint-force"):
        each = row(found, name)
        assert (each.better, each.times) == (None, None)
        assert words(each) == "the relief valve of A opens before the load is on"
    assert row(found, "coupling").better == "b"


def test_nothing_that_hangs_on_the_load_is_ranked_past_a_rating() -> None:
    weak = as_document(TWIN)
    weak["members"][0]["ends"][0]["rating"] = 100
    found = compare(PIVOT, read_mount(weak))
    assert found.b.state == "fails"
    assert words(row(found, "worst")) == "a joint of B is loaded past its rating"


def test_nothing_is_ranked_where_a_stroke_ended_before_the_mount_got_there() -> None:
    found = compare(PIVOT, TWIN, None, {"left cylinder": -500})
    assert found.b.state == "fails"
    assert found.b.why[0].code == "stroke-end"
    assert words(row(found, "coupling")) == "B does not reach where the ends are asked to be"


def test_no_ratio_is_made_of_a_reading_that_hangs_on_a_side_nothing_holds() -> None:
    found = compare(PIVOT, TWIN)
    assert found.a.flips is not None
    assert found.a.flips.unheld == ["tilt cylinder / 1", "tilt cylinder / 2"]
    for name in ("under-load", "dial-left", "dial-right"):
        assert row(found, name).times is None
        assert words(row(found, name)) == "in A it hangs on a side that nothing holds"


def test_a_ratio_that_a_tenth_more_load_would_turn_over_is_not_given_and_the_flip_is_named() -> None:
    found = compare(with_load(HINGE, 1150), with_load(TWIN, 1150))
    each = row(found, "dial-right")
    assert each.times is None
    assert words(each) == (
        "it changes too much with a tenth more or less load: in B joint 'right cylinder / 1' turns over at 1.18 kN"
    )


def test_what_hangs_on_inputs_in_which_they_differ_is_not_ranked() -> None:
    found = compare(PIVOT, with_load(TWIN, 2000))
    assert found.unlike == ["load"]
    assert words(row(found, "worst")) == "load differs"
    assert row(found, "coupling").better == "b"


def test_the_levers_give_the_ratio_of_cylinder_load() -> None:
    each = row(compare(PIVOT, TWIN), "load-ratio")
    assert each.times == pytest.approx(6 / (2050 / 1700))
    assert each.better == "b"


def test_one_sentence_each_way_names_one_number_a_cause() -> None:
    found = compare(PIVOT, TWIN)
    assert found.a_better == ["cylinders", "tilt"]
    assert found.b_better == ["moves", "worst", "load-ratio", "other"]


def test_swapped_mounts_swap_the_answer() -> None:
    one, other = compare(PIVOT, TWIN), compare(TWIN, PIVOT)
    assert (one.a_better, one.b_better) == (other.b_better, other.a_better)
    assert one.a == other.b


def test_a_mount_that_moves_both_ends_is_not_praised_for_its_time() -> None:
    each = row(compare(PIVOT, TWIN), "time")
    assert each.a is not None
    assert each.b is not None
    assert each.a < each.b
    assert each.better is None
    assert words(each) == "A moves the other end too, by −19.88 mm"


def test_a_coupling_of_none_is_not_praised_where_the_other_end_can_never_be_corrected() -> None:
    each = row(compare(HINGE, TWIN), "coupling")
    assert each.better is None
    assert words(each) == "A cannot correct each end alone"


def test_what_each_kind_of_source_puts_on_the_worse_end_adds_up_to_the_linear_sum() -> None:
    for mount in SHIPPED.values():
        judged = compare(mount, TWIN).a
        assert judged.linear == pytest.approx(
            max(-sum(each.low for each in judged.shares), sum(each.high for each in judged.shares))
        )


def test_every_number_with_a_place_is_the_readouts() -> None:
    found = compare(CARRIAGE, TWIN)
    for mount, side in ((CARRIAGE, 0), (TWIN, 1)):
        answer = readout(mount)
        for each in (each for cause in found.causes for each in cause.rows if each.paths[side]):
            place: Any = answer
            for step in each.paths[side]:
                place = place[step] if isinstance(place, dict) else getattr(place, step)
            assert place == (each.a, each.b)[side], each.name


def test_a_mount_that_hangs_loose_is_not_compared() -> None:
    loose = as_document(TWIN)
    loose["members"] = loose["members"][:2]
    found = compare(read_mount(loose), PIVOT)
    assert found.a.state == "fails"
    assert typed(found.a.why[0].filled()) == "the mount hangs loose: hold it first"
    assert all(each.better is None for cause in found.causes for each in cause.rows if each.name not in ("cylinders",))


def test_two_mounts_without_a_load_are_compared_all_the_same() -> None:
    found = compare(changed(PIVOT, load=None), changed(TWIN, load=None))
    assert row(found, "worst").better == "b"
    assert row(found, "dial-right").a is None


def test_without_a_tolerance_a_mount_is_not_judged() -> None:
    found = compare(changed(PIVOT, tolerance=None), TWIN)
    assert found.a.state == "not judged"
    assert math.isfinite(found.a.worst or math.nan)
