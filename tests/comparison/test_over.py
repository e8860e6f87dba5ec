"""Two mounts over their travel: each against its tolerance first, then the worst of each number and where."""

import pytest

from app.analysis import Analysis
from app.comparison.over import ComparedOver, ComparisonOver, compare_over
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.results.readout import readout
from app.results.worst import true_worst
from app.shipped import shipped_mounts
from app.strokes.over import travel
from tests.answers import typed
from tests.comparison.test_ratios_hold import PAIRS, assert_ratios_hold, with_load
from tests.mounts import document, end, rod
from tests.samples import the_rest

SHIPPED = shipped_mounts()
PIVOT, CARRIAGE, TWIN, HINGE = (
    SHIPPED[name] for name in ("1-centre-pivot", "2-pivot-on-carriage", "3-twin-cylinders", "5-end-hinge")
)


def changed(mount: Mount, **parts: object) -> Mount:
    return read_mount({**as_document(mount), **parts})


def row(found: ComparisonOver, name: str) -> ComparedOver:
    return next(each for cause in found.causes for each in cause.rows if each.name == name)


def words(each: ComparedOver) -> str:
    assert each.why is not None
    return typed(each.why.filled())


def test_a_mount_that_is_inside_as_drawn_is_said_to_fail_where_its_travel_takes_it_out() -> None:
    found = compare_over(PIVOT, TWIN)
    budget = readout(TWIN).budget
    assert budget
    assert budget.inside
    assert found.b.state == "fails"
    assert typed(found.b.why[0].message.filled()) == (
        "the right end is up to 3.04 mm out on its travel, with ±3.00 mm allowed"
    )
    assert found.b.why[0].command == {"left cylinder": 130.0, "right cylinder": -130.0}
    assert found.b.inside == pytest.approx(1673 / 1681)


def test_a_mount_that_stays_inside_passes() -> None:
    found = compare_over(HINGE, TWIN)
    assert found.a.state == "passes"
    assert [each.message.code for each in found.a.why] == ["inside"]
    assert found.a.inside == 1


@pytest.mark.parametrize("mount", [PIVOT, CARRIAGE, TWIN, HINGE])
def test_every_worst_is_that_of_the_travel(mount: Mount) -> None:
    found, over = compare_over(mount, TWIN), travel(mount)
    assert found.a.linear == over.worst["worst"].value
    assert found.a.command == over.worst["worst"].command
    assert found.a.drawn == over.drawn["worst"]
    layers = {"over-load-ratio": "load_ratio", "over-residual": "residual", "over-relief": "relief"}
    for name, layer in layers.items():
        each = row(found, name)
        assert each.a == (over.worst[layer].value if layer in over.worst else None), name
        assert each.commands[0] == (over.worst[layer].command if layer in over.worst else None), name


def test_the_worst_is_solved_again_where_it_is_worst() -> None:
    found = compare_over(CARRIAGE, TWIN)
    there = true_worst(Analysis(CARRIAGE, found.a.command))
    assert found.a.worst == max(there.left.size or 0, there.right.size or 0)
    assert found.a.worst is not None
    assert found.a.linear is not None
    assert found.a.worst > found.a.linear
    assert row(found, "over-worst").a == found.a.worst


def test_the_bar_is_that_of_the_place_where_it_is_worst() -> None:
    for mount in SHIPPED.values():
        judged = compare_over(mount, TWIN).a
        assert judged.linear == pytest.approx(
            max(-sum(each.low for each in judged.shares), sum(each.high for each in judged.shares))
        )


def test_nothing_that_hangs_on_the_load_is_ranked_where_relief_is_passed_anywhere_on_the_travel() -> None:
    oil = {"bulk_modulus": 700, "relief_pressure": 2}
    found = compare_over(changed(PIVOT, oil=oil), changed(TWIN, oil=oil))
    budget = readout(changed(PIVOT, oil=oil)).budget
    assert budget
    assert budget.inside is not None
    assert found.a.why[0].message.code == "over-relief"
    for name in ("over-worst", "over-under-load", "over-inside", "over-load-ratio", "over-relief"):
        assert words(row(found, name)) == "the relief valve of A opens somewhere on its travel before the load is on"
    assert row(found, "over-coupling").better == "b"


def test_a_rating_that_is_passed_somewhere_fails_a_mount_and_says_where() -> None:
    weak = as_document(TWIN)
    weak["members"][0]["ends"][0]["rating"] = 100
    found = compare_over(PIVOT, read_mount(weak))
    [over, *_] = found.b.why
    assert over.message.code == "over-rating"
    assert over.command is not None
    assert words(row(found, "over-worst")) == "a joint of B is loaded past its rating somewhere on its travel"


def test_travel_that_is_out_of_reach_is_said_with_the_members_in_line() -> None:
    far = as_document(TWIN)
    far["members"][0] |= {"retracted": 200, "stroke": 1900}
    found = compare_over(read_mount(far), TWIN)
    assert found.a.reached < 1
    [short] = found.a.short
    share = f"{100 * (1 - found.a.reached):.2f} %"
    assert typed(short.filled()).startswith(f"it cannot go to {share} of its strokes")
    assert row(found, "over-reached").better == "b"
    assert found.b.short == []


def test_two_mounts_without_a_load_are_compared_all_the_same() -> None:
    found = compare_over(changed(PIVOT, load=None), changed(TWIN, load=None))
    assert row(found, "over-worst").better == "b"
    assert row(found, "over-load-ratio").missing[0] is not None


def test_a_mount_that_is_inside_nowhere_is_behind_one_that_is_nearly_everywhere() -> None:
    each = row(compare_over(PIVOT, TWIN), "over-inside")
    assert (each.a, each.better, each.times) == (0.0, "b", None)


def test_what_hangs_on_inputs_in_which_they_differ_is_not_ranked() -> None:
    found = compare_over(PIVOT, with_load(TWIN, 2000))
    assert words(row(found, "over-worst")) == "load differs"
    assert row(found, "over-coupling").better == "b"


def test_a_coupling_of_none_is_not_praised_where_the_other_end_can_never_be_corrected() -> None:
    assert words(row(compare_over(HINGE, TWIN), "over-coupling")) == "A cannot correct each end alone"


def test_swapped_mounts_swap_the_answer() -> None:
    one, other = compare_over(CARRIAGE, TWIN), compare_over(TWIN, CARRIAGE)
    assert (one.a_better, one.b_better) == (other.b_better, other.a_better)
    assert one.a == other.b
    assert one.b_better == ["over-worst", "over-coupling", "over-load-ratio"]


def test_a_mount_without_a_cylinder_or_that_hangs_loose_has_no_travel() -> None:
    loose = as_document(TWIN)
    loose["members"] = loose["members"][:2]
    found = compare_over(read_mount(loose), PIVOT)
    assert found.a.state == "fails"
    assert typed(found.a.why[0].message.filled()) == "the mount hangs loose: hold it first"
    assert all(each.better is None for cause in found.causes for each in cause.rows)
    stays = [rod(f"stay {x}", end("frame", (x, 1000)), end("blade", (x, 300))) for x in (-800, 800)]
    still = read_mount(document([*stays, rod("side stay", end("frame", (-900, 330)), end("blade", (900, 300)))]))
    assert compare_over(still, TWIN).a.state == "not judged"


QUICK = ("5-end-hinge", "3-twin-cylinders")


@pytest.mark.parametrize(("a", "b"), [QUICK, *the_rest(*[pair for pair in PAIRS if pair != QUICK])])
def test_no_ratio_over_the_travel_changes_by_more_than_twice_for_a_tenth_more_load(a: str, b: str) -> None:
    assert_ratios_hold(a, b, lambda *mounts: [each for cause in compare_over(*mounts).causes for each in cause.rows])
