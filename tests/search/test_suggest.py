"""Suggestions: each lowers the failing goal when the mount is made and read out again."""

import pytest

from app.document.errors import BadCommand
from app.document.models import Mount, as_document
from app.document.reading import read_mount
from app.search.boxes import read_free
from app.search.goals import Goal, judged, read_goals
from app.search.suggest import suggest
from app.shipped import shipped_mounts
from tests.answers import readout
from tests.samples import the_rest

NARROW_GOALS = (Goal("coupling", 0.1), Goal("error", 3.0), Goal("load ratio", 1.3))


def narrow() -> Mount:
    mount = shipped_mounts()["3-twin-cylinders"]
    for each in mount.cylinders:
        for name, _, at in each.joints:
            mount = mount.with_joint(name, x=400 if at[0] > 0 else -400)
    return mount


def test_two_suggestions_lead_from_a_narrow_mount_to_its_goals() -> None:
    mount = narrow()
    for _ in range(2):
        first = suggest(mount, {}, NARROW_GOALS, "metric").suggestions[0]
        mount = read_mount(first.mount)
    assert all(each.met for each in judged(mount, {}, NARROW_GOALS))
    answer = readout(mount)
    assert abs(answer["coupling"]["worst"]) <= 0.1
    assert max(answer["budget"][end]["worst"] for end in ("left", "right")) <= 3


def test_a_suggestion_about_coupling_says_where_the_blade_turns() -> None:
    first = suggest(narrow(), {}, NARROW_GOALS, "metric").suggestions[0]
    assert first.says.filled() == "move 'left cylinder' and 'right cylinder' whole 320.0\xa0mm out each"
    assert first.centre is not None
    assert first.centre.filled().startswith("under 'left cylinder' the blade then turns about a point 480")
    assert [first.before, first.after] == pytest.approx([0.5, 0.25])


@pytest.mark.parametrize("name", ["2-pivot-on-carriage", "3-twin-cylinders", *the_rest(*shipped_mounts())])
@pytest.mark.parametrize("what", ["error", "coupling", *the_rest("load ratio", "pressure")])
def test_every_suggestion_does_what_it_says(name: str, what: str) -> None:
    mount = shipped_mounts()[name]
    (now,) = judged(mount, {}, read_goals([{"what": what, "most": 0}]))
    goals = read_goals(
        [{"what": what, "most": 0.8 * (now.value or 0.0)}, {"what": "error", "most": 99, "over": "travel"}]
    )
    for each in suggest(mount, {}, goals, "metric").suggestions:
        again = judged(read_mount(each.mount), {}, goals)
        assert again[0].value == each.after < each.before
        assert [goal.value for goal in again] == [goal.value for goal in each.goals]


def test_one_cylinder_is_said_to_have_one_movement_and_another_kind_of_mount_is_offered() -> None:
    found = suggest(shipped_mounts()["1-centre-pivot"], {}, [Goal("coupling", 0.2)], "metric")
    assert found.says[0].code == "one-cylinder"
    assert "no move of them lets it correct one end and leave the other" in found.says[0].filled()
    assert "3-twin-cylinders" in found.kinds
    for name in found.kinds:
        assert abs(readout(shipped_mounts()[name])["coupling"]["worst"]) <= 0.2


def test_what_is_locked_stays_and_inches_go_in_round_inches() -> None:
    found = suggest(narrow(), {}, NARROW_GOALS, "inch", locked=["left cylinder"])
    assert all("left cylinder" not in str(each.says.values) for each in found.suggestions)
    free = suggest(narrow(), {}, NARROW_GOALS, "inch").suggestions[0]
    assert free.says.filled("inch") == "move 'left cylinder' and 'right cylinder' whole 12.00\xa0in out each"


def test_goals_that_are_met_need_no_change() -> None:
    found = suggest(shipped_mounts()["3-twin-cylinders"], {}, [Goal("error", 50.0)], "metric")
    assert (found.worst, found.suggestions) == (None, [])
    assert found.says[0].filled() == "every goal is met"


def test_a_goal_over_the_travel_is_the_worst_of_it() -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    pose, whole = judged(mount, {}, [Goal("coupling", 1.0), Goal("coupling", 1.0, "travel")])
    assert pose.value == pytest.approx(abs(readout(mount)["coupling"]["worst"]))
    assert whole.value == pytest.approx(0.199, abs=1e-3)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ([], "goals: is no list of goals"),
        ([{"what": "height", "most": 3}], "goals[0].what: is none of error, coupling"),
        ([{"what": "error", "most": -1}], "goals[0].most: is no number from 0 on"),
        ([{"what": "error", "most": float("nan")}], "goals[0].most: is no number from 0 on"),
        ([{"what": "error", "most": 1, "over": "night"}], "goals[0].over: is neither 'pose' nor 'travel'"),
        ([{"what": "error", "most": 1}, {"what": "error", "most": 2}], "goals[1]: is there twice"),
        ([{"what": "error", "most": 1, "least": 0}], "goals[0].least: is no part of a goal"),
    ],
    ids=str,
)
def test_a_bad_goal_is_refused_with_its_place(given: object, said: str) -> None:
    with pytest.raises(BadCommand) as refused:
        read_goals(given)
    assert str(refused.value).startswith(said)


def test_no_suggestion_moves_a_joint_out_of_a_held_dimension() -> None:
    mount = held(("left cylinder / 2", "left cylinder / 1"), "level")
    moved = {
        name
        for each in suggest(mount, {}, NARROW_GOALS, "metric").suggestions
        if each.says.code == "move"
        for name in (str(each.says.values["joint"][0]), *map(str, each.says.values.get("image", ("",))))
    }
    assert not any(name.startswith("left cylinder") for name in moved)


def test_a_box_of_a_held_joint_is_refused_with_what_holds_it_unless_both_go_along() -> None:
    mount = held(("left cylinder / 2", "left cylinder / 1"), "level")
    box = {"joint": "left cylinder / 2", "x": [-900, -300]}
    with pytest.raises(BadCommand, match=r"the level distance of .* and 'left cylinder / 1'; free both"):
        read_free(mount, [box])
    assert len(read_free(mount, [{**box, "with": ["left cylinder / 1"]}])) == 1


def held(between: tuple[str, str], way: str) -> Mount:
    return read_mount({**as_document(narrow()), "dimensions": [{"between": list(between), "way": way}]})
