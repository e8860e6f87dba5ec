"""Two mounts over the same run: in what either is the better, and when neither is said to be."""

import pytest

from app.comparison import runside
from app.comparison.compare import Compared
from app.comparison.runs import RunsCompared, compare_runs
from app.document.errors import BadSettings
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.grading.best import best_of
from app.grading.grade import Run, run
from app.grading.reading import read_settings
from app.grading.settings import RunSettings
from app.shipped import shipped_mounts
from tests.answers import typed
from tests.comparison.test_ratios_hold import with_load

SHIPPED = shipped_mounts()
PIVOT, CARRIAGE, TWIN, OVER = (
    SHIPPED[name] for name in ("1-centre-pivot", "2-pivot-on-carriage", "3-twin-cylinders", "4-cylinders-over-sensors")
)
DISTURBED = {"seconds": 12, "start": {"right": 20}}
UNLOADED = {**DISTURBED, "load": "none"}
"""Each run is made once, not once more with a tenth less and a tenth more of the load."""


def changed(mount: Mount, **parts: object) -> Mount:
    return read_mount({**as_document(mount), **parts})


def row(found: RunsCompared, name: str) -> Compared:
    return named(found.rows, name)


def named(rows: list[Compared], name: str) -> Compared:
    return next(each for each in rows if each.name == name)


def words(each: Compared) -> str:
    assert each.why is not None
    return typed(each.why.filled())


def test_the_numbers_are_those_of_each_run_alone() -> None:
    found = compare_runs(CARRIAGE, TWIN, DISTURBED)
    for mount, side in ((CARRIAGE, "a"), (TWIN, "b")):
        alone = run(mount, DISTURBED).summary
        both = (alone.left, alone.right)
        assert getattr(row(found, "run-time"), side) == max(each.time_to_grade or 0 for each in both)
        assert getattr(row(found, "run-other"), side) == alone.left.disturbed
        assert getattr(row(found, "run-rms"), side) ** 2 == pytest.approx(sum(each.rms**2 for each in both) / 2)
        assert getattr(row(found, "run-inside"), side) == min(each.inside or 0 for each in both)


def test_a_mount_that_is_set_against_another_is_not_run_again(monkeypatch: pytest.MonkeyPatch) -> None:
    driven: list[str] = []

    def counted(mount: Mount, settings: RunSettings) -> Run:
        driven.append(mount.title)
        return run(mount, settings)

    monkeypatch.setattr(runside, "run", counted)
    asked = {**UNLOADED, "seconds": 3, "start": {"right": 7}}
    first = compare_runs(CARRIAGE, TWIN, asked)
    assert compare_runs(CARRIAGE, OVER, asked).a == first.a
    assert sorted(driven) == sorted([CARRIAGE.title, TWIN.title, OVER.title])


def test_the_coupled_mount_takes_about_four_times_as_long() -> None:
    found = compare_runs(CARRIAGE, TWIN, DISTURBED)
    assert found.b_better == ["run-time", "run-other", "run-rms", "run-inside"]
    assert row(found, "run-time").times == pytest.approx(3.8, abs=0.1)
    assert (found.a.state, found.b.state) == ("comes to grade", "comes to grade")
    assert found.off == "right"


def test_one_cylinder_that_cannot_start_so_is_not_praised_for_its_time() -> None:
    found = compare_runs(PIVOT, TWIN, DISTURBED)
    each = row(found, "run-time")
    assert each.a is not None
    assert each.b is not None
    assert each.a < each.b
    assert words(each) == (
        "they do not start alike: left and right end are −9.93 mm and 10.07 mm off in A, 0.00 mm and 20.00 mm in B"
    )


def test_a_mount_that_never_comes_to_grade_is_behind_one_that_does() -> None:
    settings = {**DISTURBED, "control": {"way": "one after the other"}}
    found = compare_runs(CARRIAGE, TWIN, settings)
    assert found.a.state == "never stays at grade"
    assert row(found, "run-time").missing[0] is not None
    assert (row(found, "run-time").better, row(found, "run-time").times) == ("b", None)


def test_a_mount_without_a_valve_makes_no_run_and_says_why() -> None:
    found = compare_runs(changed(TWIN, valve=None), OVER, DISTURBED)
    assert found.a.state == "not made"
    assert found.a.why is not None
    assert found.a.why.filled() == "needs the valve's flow and smallest pulse"
    assert found.ran[0] is None
    assert all(each.better is None for each in found.rows)


def test_what_differs_in_the_machine_is_not_ranked() -> None:
    assert words(row(compare_runs(CARRIAGE, changed(TWIN, tolerance=4), DISTURBED), "run-time")) == "tolerance differs"
    assert words(row(compare_runs(CARRIAGE, with_load(TWIN, 2000), DISTURBED), "run-rms")) == "load differs"
    unloaded = compare_runs(CARRIAGE, with_load(TWIN, 2000), {**DISTURBED, "load": "none"})
    assert row(unloaded, "run-rms").better == "b"


def test_nothing_is_ranked_past_relief_while_the_load_is_on() -> None:
    oil = {"bulk_modulus": 700, "relief_pressure": 0.3}
    found = compare_runs(changed(OVER, oil=oil), changed(CARRIAGE, oil=oil), DISTURBED)
    assert words(row(found, "run-time")) == "the relief valve of A and B opens before the load is on"


def test_seeds_that_do_not_tell_two_mounts_apart_rank_neither() -> None:
    rough = {"seconds": 10, "ground": {"kind": "rough"}, "seeds": 4}
    found = compare_runs(TWIN, OVER, rough)
    assert (found.a.seeds, found.b.seeds) == (4, 4)
    assert words(row(found, "run-rms")) == "the seeds do not tell them apart"
    assert compare_runs(TWIN, TWIN, rough).a_better == []


def test_settings_that_cannot_be_are_refused() -> None:
    with pytest.raises(BadSettings):
        compare_runs(TWIN, OVER, {"seconds": 0})


def test_both_cylinders_are_worked_together_only_where_both_mounts_have_two() -> None:
    pivot = SHIPPED["1-centre-pivot"]
    assert [each.way for each in compare_runs(pivot, TWIN, UNLOADED, best=True).own_best] == ["each its own"]
    one = {"a": [CARRIAGE.cylinders[0].id], "b": None}
    assert [each.way for each in compare_runs(CARRIAGE, TWIN, UNLOADED, one, best=True).own_best] == ["each its own"]


def test_at_its_own_best_the_coupled_mount_stays_behind_until_both_cylinders_are_worked_together() -> None:
    found = compare_runs(CARRIAGE, TWIN, UNLOADED, best=True)
    alone, together = found.own_best
    assert (alone.way, together.way) == ("each its own", "decoupled")
    assert named(alone.rows, "run-time").times == pytest.approx(4.8, abs=0.2)
    assert named(together.rows, "run-time").better == "same"
    for at in found.own_best:
        for mount, own, side in ((CARRIAGE, at.best[0], "a"), (TWIN, at.best[1], "b")):
            swept = best_of(mount, read_settings(UNLOADED), at.valve, at.way)
            assert (own.setting, own.time_to_grade) == (swept.setting, swept.time_to_grade)
            alike = run(mount, {**UNLOADED, "control": {"way": at.way, "gain": own.setting}}).summary
            assert getattr(named(at.rows, "run-other"), side) == alike.left.disturbed


def test_on_off_valves_have_a_flow_of_their_own_each_and_pulsed_ones_nothing_to_tune() -> None:
    switched = compare_runs(CARRIAGE, TWIN, {**UNLOADED, "control": {"valve": "on/off"}}, best=True)
    (at,) = switched.own_best
    slow, quick = (each.setting for each in at.best)
    assert slow is not None
    assert quick is not None
    assert slow < 1.5 < 4 < quick
    assert (switched.a.state, at.a.state) == ("never stays at grade", "comes to grade")
    (pulsed,) = compare_runs(CARRIAGE, TWIN, {**UNLOADED, "control": {"valve": "pulsed"}}, best=True).own_best
    assert pulsed.a.why is not None
    assert pulsed.a.why.filled() == "pulsed valves have no gain to be tuned"


def test_a_mount_that_rests_with_no_setting_is_said_to_have_none() -> None:
    settings = {**UNLOADED, "control": {"way": "one after the other"}}
    at = compare_runs(CARRIAGE, TWIN, settings, best=True).own_best[0]
    assert (at.best[0].setting, at.a.state) == (None, "not made")
    assert at.a.why is not None
    assert at.a.why.code == "never-rests"
    assert at.b.state == "comes to grade"
    assert compare_runs(CARRIAGE, TWIN, settings).own_best == []
