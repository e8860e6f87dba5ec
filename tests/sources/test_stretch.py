"""Rods stretched by the load, against Hooke's law."""

import pytest

from app.members import Rod
from tests.loaded import ranges
from tests.mounts import guide_on_blade, member_of

LIFTED = {"at": [1000, 0], "force": [0, 4500]}


def stiff_rod(**more: float) -> Rod:
    ends = [{"on": "frame", "at": [0, 0]}, {"on": "blade", "at": [0, 800]}]
    return Rod.model_validate({"kind": "rod", "id": "rod", "ends": ends, **more})


def test_a_pulled_rod_stretches_by_hookes_law() -> None:
    assert stiff_rod(section_area=620, elastic_modulus=205000).stretch(900) == pytest.approx(900 * 800 / (205000 * 620))


@pytest.mark.parametrize("known", [{}, {"section_area": 620}, {"elastic_modulus": 205000}])
def test_a_rod_without_section_and_modulus_is_stiff(known: dict[str, float]) -> None:
    assert stiff_rod(**known).stretch(900) == 0


def test_a_drop_rod_that_stretches_lets_its_end_down_and_never_up() -> None:
    document = guide_on_blade(load=LIFTED)
    member_of(document, "drop rod").update(section_area=620, elastic_modulus=205000)
    pull = 4500 * 300 / 1500
    drop = pull * 800 / (205000 * 620) * 1700 / 1500
    assert ranges(document, "left")["drop rod", "stretch"] == pytest.approx((-drop, 0))
    assert ranges(document, "right")["drop rod", "stretch"] == pytest.approx((0, drop * 300 / 1700))
