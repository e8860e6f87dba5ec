"""A family of mounts: every member as it is when it is made by itself."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.document.errors import BadDocument
from app.document.reading import read_mount
from app.search.family import Family, Free, member_of
from app.shipped import shipped_mounts
from app.strokes.layers import layers_of
from app.strokes.over import travel
from tests.mounts import Document, fewer, joints_of, located_mounts

STEPS = 3


def same_as_alone(drawn: Document, seed: int) -> None:
    """Free every joint of two members, a clearance and a bore; compare members with mounts made by themselves."""
    mount, chance = read_mount(drawn), np.random.default_rng(seed)
    free = []
    for each in [mount.joints[place] for place in chance.choice(len(mount.joints), 2, replace=False)]:
        for axis in (0, 1):
            place = f"{each.name}.at[{axis}]"
            free.append(
                Free(place, ((place, each.at[axis], 1.0),), each.at[axis], each.at[axis] - 30, each.at[axis] + 30)
            )
    gap = mount.joints[0]
    free.append(Free("gap", ((f"{gap.name}.clearance", gap.part.clearance, 1.0),), gap.part.clearance, 0.0, 1.0))
    bore = mount.cylinders[0]
    free.append(Free("bore", ((f"{bore.id}.bore", bore.bore, 1.0),), bore.bore, bore.bore, bore.bore + 30))
    low, high = np.array([(each.low, each.high) for each in free]).T
    values = low + chance.random((4, len(free))) * (high - low)
    family = Family(mount, tuple(free), values)
    over = family.over_travel(STEPS)
    layers = layers_of(over.poses) if len(over.poses) else {}
    for row, own in enumerate(values):
        try:
            alone = travel(member_of(mount, free, own.tolist()), steps=STEPS)
        except BadDocument:
            continue
        if not over.reached[row].all() or not alone.reached.all():
            assert over.reached[row].sum() <= alone.reached.sum()  # a family takes no small steps
            continue
        for name, worst in alone.worst.items():
            if alone.layers[name].count() == alone.layers[name].size:
                assert over.largest(layers[name])[row] == pytest.approx(abs(worst.value), rel=1e-6, abs=1e-8), name


@fewer(0.5)
@given(drawn=located_mounts, seed=st.integers(0, 999))
def test_every_member_has_the_numbers_of_the_same_mount_made_by_itself(drawn: Document, seed: int) -> None:
    for member in drawn["members"]:
        for _, joint in joints_of(member):
            joint |= {"stiffness": 40000, "rating": 20000}
    same_as_alone(drawn, seed)


def test_a_member_is_the_mount_with_its_numbers() -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    x = mount.cylinders[0].ends[1].at[0]
    places = (("left cylinder / 2.at[0]", x, 1.0), ("right cylinder / 2.at[0]", -x, -1.0))
    made = member_of(mount, [Free("x", places, x, x - 50, x + 50)], [x + 20])
    assert [each.ends[1].at[0] for each in made.cylinders] == [x + 20, -x - 20]
