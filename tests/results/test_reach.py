"""Where the ends are asked to be, against the pose solved again with the strokes that were found."""

import pytest

from app.document.parts import ENDS, EndName
from app.document.reading import read_mount
from app.results.reach import MET_MM, reach
from tests.mounts import Document, centre_pivot, cylinder, document, end, heights_above_drawn, rod, twin

LEVEL = {"left": 0.0, "right": 0.0}


def test_both_ends_come_where_they_are_asked_to_be_with_two_cylinders() -> None:
    asked: dict[EndName, float] = {"left": -12.0, "right": 25.0}
    analysis, found = reach(read_mount(twin()), {}, asked)
    assert (found.served, found.met) == (["left", "right"], True)
    assert heights_above_drawn(analysis) == pytest.approx(asked, abs=MET_MM)


@pytest.mark.parametrize(("asked", "served"), [((-5.0, 20.0), "right"), ((-20.0, 5.0), "left"), ((5.0, 5.0), "right")])
def test_a_see_saw_brings_the_end_that_is_asked_farther(asked: tuple[float, float], served: EndName) -> None:
    wanted = dict(zip(ENDS, asked, strict=True))
    analysis, found = reach(read_mount(centre_pivot()), {}, wanted)
    assert (found.served, found.met) == ([served], True)
    assert heights_above_drawn(analysis)[served] == pytest.approx(wanted[served], abs=MET_MM)


def test_three_cylinders_bring_both_ends_with_the_least_strokes() -> None:
    asked: dict[EndName, float] = {"left": 10.0, "right": 10.0}
    analysis, found = reach(read_mount(three_cylinders()), {}, asked)
    assert (found.served, found.met) == (["left", "right"], True)
    strokes = dict(zip(("left", "middle", "right"), analysis.moves, strict=True))
    assert strokes["left"] == pytest.approx(strokes["right"], rel=1e-3), "a lift of both ends alike is shared alike"


def test_asked_for_nothing_a_mount_stands_as_drawn_wherever_it_was() -> None:
    analysis, found = reach(read_mount(twin()), {"left": 30.0}, dict(zip(ENDS, (0.0, 0.0), strict=True)))
    assert (found.served, found.met) == (["left", "right"], True)
    assert heights_above_drawn(analysis) == LEVEL


def test_where_a_stroke_ends_the_ends_stand_short_and_it_is_said() -> None:
    asked: dict[EndName, float] = {"left": 0.0, "right": 900.0}
    analysis, found = reach(read_mount(twin()), {}, asked)
    assert not found.met
    assert analysis.pose.stopped
    assert heights_above_drawn(analysis)["right"] < 900


def test_a_mount_without_a_cylinder_serves_no_end() -> None:
    held = document(
        [
            rod("left", end("frame", (-800, 1000)), end("blade", (-800, 200))),
            rod("right", end("frame", (800, 1000)), end("blade", (800, 200))),
            rod("stay", end("frame", (-900, 200)), end("blade", (900, 200))),
        ]
    )
    analysis, found = reach(read_mount(held), {}, dict(zip(ENDS, (5.0, 5.0), strict=True)))
    assert (found.served, found.met) == ([], True)
    assert heights_above_drawn(analysis) == LEVEL


def three_cylinders() -> Document:
    """Upright cylinders at both sides and, on a lever, in the middle: more than two ends need."""
    members = [
        cylinder("left", end("frame", (-800, 1000)), end("blade", (-800, 200))),
        cylinder("middle", end("frame", (-900, 210)), end("blade", (900, 200))),
        cylinder("right", end("frame", (800, 1000)), end("blade", (800, 200))),
    ]
    return document(members)
