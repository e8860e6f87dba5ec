"""How near a mount is to its flip: the closed forms against the readout on either side."""

import pytest

from app.analysis import Analysis
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.results.budget import budget
from app.results.flips import flips
from app.shipped import shipped_mounts
from tests.mounts import centre_pivot
from tests.mounts import extras as everything

SHIPPED = shipped_mounts()
TWIN = SHIPPED["3-twin-cylinders"]


def loaded(mount: Mount, share: float) -> Mount:
    assert mount.load is not None
    x, y = mount.load.force
    return mount.model_copy(update={"load": mount.load.model_copy(update={"force": (x * share, y * share)})})


def words_of_play(mount: Mount, joint: str) -> str | None:
    return next(each.play for each in budget(Analysis(mount)).right.sources if each.id == joint)


@pytest.mark.parametrize("name", list(SHIPPED))
def test_at_the_next_flip_the_play_turns_over_in_the_readout(name: str) -> None:
    flip = flips(Analysis(SHIPPED[name])).more
    assert flip is not None
    assert flip.kind == "joint"
    assert words_of_play(loaded(SHIPPED[name], flip.multiple * 0.999), flip.of) != "turns over"
    assert words_of_play(loaded(SHIPPED[name], flip.multiple * 1.001), flip.of) == "turns over"


def test_the_flip_found_by_halving_the_load_is_the_one_that_is_said() -> None:
    said = flips(Analysis(TWIN)).more
    assert said is not None
    low, high = 1.0, 2.0
    for _ in range(40):
        middle = (low + high) / 2
        over = words_of_play(loaded(TWIN, middle), said.of) == "turns over"
        low, high = (low, middle) if over else (middle, high)
    assert said.multiple == pytest.approx(high, rel=1e-9)


def test_past_a_flip_it_is_told_as_the_one_within_the_load() -> None:
    found = flips(Analysis(loaded(TWIN, 1.25)))
    assert found.less is not None
    assert found.less.multiple == pytest.approx(1.1791898658536586 / 1.25)


def test_a_cylinders_oil_goes_over_where_weight_and_load_cancel() -> None:
    # Moments about the foot of the left cylinder: 290 kg at 850 mm against the load at 2050 mm.
    bare = without_play(TWIN)
    flip = flips(Analysis(bare)).more
    assert flip is not None
    assert (flip.of, flip.kind) == ("right cylinder", "cylinder")
    assert flip.multiple == pytest.approx(290 * 9.80665 * 850 / 2050 / 1000, rel=0.02)
    forces = [Analysis(loaded(bare, flip.multiple * share)) for share in (0.999, 1.001)]
    below, above = (each.weight_forces[flip.of] + each.load_forces[flip.of] for each in forces)
    assert below * above < 0


def without_play(mount: Mount) -> Mount:
    plain = as_document(mount)
    for member in plain["members"]:
        for joint in member.get("ends", [member]):
            joint["clearance"] = 0.0
    return read_mount(plain)


def test_a_load_that_just_takes_the_push_off_a_slide_or_rod_end_has_its_answer() -> None:
    flip = flips(Analysis(TWIN)).more
    assert flip is not None
    found = budget(Analysis(loaded(TWIN, flip.multiple)))
    assert found.right.worst_under_load is not None


def test_joints_that_the_weight_gives_no_side_are_named() -> None:
    found = flips(Analysis(SHIPPED["1-centre-pivot"]))
    assert found.unheld == ["tilt cylinder / 1", "tilt cylinder / 2"]


def test_without_a_load_there_is_no_flip() -> None:
    plain = read_mount({**centre_pivot(), **{key: each for key, each in everything().items() if key != "load"}})
    found = flips(Analysis(plain))
    assert (found.more, found.less, found.unheld) == (None, None, [])
