"""A search over a Dask cluster; run where the extra ``dask`` is installed."""

import pytest

from app.search.boxes import read_free
from app.search.goals import Goal
from app.search.search import Problem, search_front
from app.shipped import shipped_mounts


def test_a_search_over_a_cluster_finds_the_front_of_one_process() -> None:
    distributed = pytest.importorskip("distributed")
    mount = shipped_mounts()["3-twin-cylinders"]
    box = {"joint": "left cylinder / 2", "x": [-1150, -400], "with": ["left cylinder / 1"], "alike": True}
    problem = Problem(mount, {}, (Goal("coupling", 0.1),), read_free(mount, [box]))
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        distributed.Client(cluster) as client,
    ):
        found = search_front(problem, budget=500, seed=7, executor=client.get_executor(), pieces=2)
    assert found.front == search_front(problem, budget=500, seed=7).front
