"""Searches with known answers, and what a front must be."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest

from app.document.models import Mount
from app.document.reading import read_mount
from app.search.boxes import read_free
from app.search.front import beaten, spread_out
from app.search.goals import Goal, judged
from app.search.search import Problem, Progress, search_front
from app.shipped import shipped_mounts
from tests.mounts import Document, centre_pivot, cylinder, document, end, rod

HALF_BLADE, CLEARANCE = 1200.0, 0.4


def uprights(apart: float) -> Document:
    """Two plumb cylinders at plus and minus ``apart`` under a blade of 2400, play at their tops only, a load midway."""
    members = [
        cylinder("left", end("frame", (-apart, 1000), clearance=CLEARANCE), end("blade", (-apart, 200))),
        cylinder("right", end("frame", (apart, 1000), clearance=CLEARANCE), end("blade", (apart, 200))),
        rod("stay", end("frame", (-900, 200)), end("blade", (900, 200))),
    ]
    blade = {"left": [-HALF_BLADE, 0], "right": [HALF_BLADE, 0]}
    return document(members, blade=blade, load={"at": [0, 0], "force": [0, 1000]})


def apart_problem(goals: tuple[Goal, ...]) -> Problem:
    mount = read_mount(uprights(700))
    box = {"joint": "right / 1", "with": ["right / 2"], "x": [300, 1800], "alike": True}
    return Problem(mount, {}, goals, read_free(mount, [box]))


def test_uprights_do_best_where_they_stand_under_the_ends_of_the_blade() -> None:
    """Play c max(1, L/a), coupling (L-a)/(L+a) by size (statics of a beam on two props): both least at a = L."""
    found = search_front(apart_problem((Goal("coupling", 0.5),)), budget=1500, seed=3)
    (best,) = found.front
    assert best.values == [pytest.approx(HALF_BLADE, abs=0.1)]
    assert best.objectives[:2] == pytest.approx([CLEARANCE / 2, 0.0], abs=1e-4)
    assert best.meets


def test_a_lever_with_one_pivot_does_best_in_the_corner_of_its_box() -> None:
    """The blade's play is the clearance over the lever times half the blade: least at the longest lever."""
    drawn = centre_pivot(400, load={"at": [1000, 0], "force": [0, 1000]})
    drawn["members"][1]["ends"][0]["clearance"] = 0.5
    mount = read_mount(drawn)
    box = {"joint": "tilt / 1", "with": ["tilt / 2"], "y": [600, 1100]}
    found = search_front(Problem(mount, {}, (Goal("error", 9.0),), read_free(mount, [box])), budget=1000, seed=1)
    assert found.front[0].values == [pytest.approx(1100, abs=0.1)]


def test_the_same_seed_gives_the_same_front_however_the_work_is_split() -> None:
    problem = apart_problem((Goal("coupling", 0.3),))
    alone = search_front(problem, budget=600, seed=7)
    with ThreadPoolExecutor(3) as pool:
        split = search_front(problem, budget=600, seed=7, executor=pool, pieces=3)
    assert [each.values for each in split.front] == [each.values for each in alone.front]
    assert alone.tried == split.tried <= 600


@pytest.fixture
def narrow() -> Mount:
    """The shipped pair of cylinders drawn in to 400 mm either side of the middle: coupling -0.5, load ratio 2."""
    mount = shipped_mounts()["3-twin-cylinders"]
    for each in mount.cylinders:
        for name, _, at in each.joints:
            mount = mount.with_joint(name, x=400 if at[0] > 0 else -400)
    return mount


def test_a_search_finds_the_way_out_of_a_narrow_mount_and_claims_no_goal_it_misses(narrow: Mount) -> None:
    goals = (Goal("coupling", 0.1), Goal("error", 3.0), Goal("load ratio", 1.3))
    box = {"joint": "right cylinder / 1", "with": ["right cylinder / 2"], "x": [250, 1150], "alike": True}
    top = {"joint": "right cylinder / 1", "y": [900, 1100], "alike": True}
    assert [each.met for each in judged(narrow, {}, goals)] == [False, False, False]
    found = search_front(Problem(narrow, {}, goals, read_free(narrow, [box, top])), budget=1500, seed=2)
    assert found.front[0].meets
    for each in found.front:
        again = judged(read_mount(each.mount), {}, goals)
        assert each.meets == all(goal.met for goal in again)
        assert [goal.value for goal in again] == [goal.value for goal in each.goals]


def test_progress_is_told_and_a_search_that_is_ended_keeps_what_it_has() -> None:
    told: list[Progress] = []

    def tell(progress: Progress) -> bool:
        told.append(progress)
        return False

    found = search_front(apart_problem((Goal("coupling", 0.9),)), budget=5000, seed=1, tell=tell)
    assert found.cancelled
    assert 0 < found.tried < 5000
    assert found.front
    assert told[0].budget == 5000


def fronts() -> Iterator[np.ndarray]:
    chance = np.random.default_rng(5)
    for columns in (2, 3):
        yield chance.random((200, columns))
        yield np.round(chance.random((200, columns)), 1)


@pytest.mark.parametrize("objectives", list(fronts()))
def test_nothing_of_a_front_is_beaten_and_all_else_is(objectives: np.ndarray) -> None:
    lost = beaten(objectives)
    for row, own in enumerate(objectives):
        better = (objectives <= own).all(axis=1) & (objectives < own).any(axis=1)
        same = (objectives == own).all(axis=1)
        assert lost[row] == (better.any() or bool(same[:row].any()))


def test_a_few_of_a_front_hold_its_ends_and_lie_apart() -> None:
    """The first test front of Zitzler, Deb and Thiele (2000, recalled): f2 = 1 - sqrt(f1)."""
    first = np.linspace(0, 1, 400)
    few = spread_out(np.stack([first, 1 - np.sqrt(first)], axis=1), 12)
    assert len(few) == 12
    assert {0, 399} <= set(few)
    assert np.diff(np.sort(first[few])).min() > 0.01
