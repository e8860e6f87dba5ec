"""A ratio that is given holds for a tenth more load, or the page says why it does not."""

from collections.abc import Callable, Iterable
from itertools import combinations

import pytest

from app.comparison.compare import Compared, compare
from app.document.models import Mount
from app.shipped import shipped_mounts
from tests.samples import the_rest

SHIPPED = shipped_mounts()
PAIRS = list(combinations(SHIPPED, 2))
QUICK = [("1-centre-pivot", "3-twin-cylinders"), ("5-end-hinge", "8-uprights-in-inches")]
LOADS = [500 * 1.1**step for step in range(33)]
"""From 0.5 kN to more than 10 kN, each a tenth more than the one before, N."""
MOST = 2.0


def with_load(mount: Mount, newtons: float) -> Mount:
    assert mount.load is not None
    return mount.model_copy(update={"load": mount.load.model_copy(update={"force": (0.0, newtons)})})


@pytest.mark.parametrize(("a", "b"), [*QUICK, *the_rest(*[pair for pair in PAIRS if pair not in QUICK])])
def test_no_ratio_changes_by_more_than_twice_for_a_tenth_more_load(a: str, b: str) -> None:
    assert_ratios_hold(a, b, lambda *mounts: [each for cause in compare(*mounts).causes for each in cause.rows])


def assert_ratios_hold(a: str, b: str, rows: Callable[[Mount, Mount], Iterable[Compared]]) -> None:
    before: dict[str, Compared] = {}
    for newtons in LOADS:
        now = {each.name: each for each in rows(with_load(SHIPPED[a], newtons), with_load(SHIPPED[b], newtons))}
        for name in before:
            once, again = ratio(before[name]), ratio(now[name])
            if once and again:
                assert max(once, again) <= MOST * min(once, again), (name, newtons)
        before = now


def ratio(each: Compared) -> float | None:
    """A over B, where a ratio is given."""
    if each.times is None:
        assert each.why or None in (each.a, each.b) or 0 in (each.a, each.b) or each.better, each.name
        return None
    return each.times if abs(each.a or 0.0) >= abs(each.b or 0.0) else 1 / each.times
