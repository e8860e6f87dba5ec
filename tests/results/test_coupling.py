"""How far one end disturbs the other, and what corrects one end alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.document.parts import OTHER
from app.document.reading import read_mount
from app.results.coupling import lead_and_coupling, relative_gain
from tests.answers import readout, reasons
from tests.mounts import (
    Command,
    Document,
    analysed,
    centre_pivot,
    crank_and_drop_rod,
    cylinder,
    document,
    end,
    guided,
    hinge,
    law,
    located_mounts,
    member_of,
    pin,
    pivot_on_carriage,
    rod,
    twin,
    two_guides,
    worked_mounts,
)

# Lead and coupling


@pytest.mark.parametrize(
    ("left", "right", "lead", "coupling"),
    [
        (-1.2, 0.3, "left", -0.25),
        (0.3, -1.2, "right", -0.25),
        (2.0, -2.0, "right", -1),
        (-1.0, -1.0, "right", 1),
        (0.0, 1.5, "right", 0),
        (1.5, 0.0, "left", 0),
        (0.0, 0.0, "right", None),
        (1e-12, -1e-13, "left", None),
    ],
)
def test_the_lead_is_the_end_that_moves_more_and_the_right_one_when_equal(
    left: float, right: float, lead: str, coupling: float | None
) -> None:
    assert lead_and_coupling(left, right) == (lead, pytest.approx(coupling) if coupling is not None else None)


@given(st.floats(-100, 100), st.floats(-100, 100))
def test_a_coupling_lies_between_minus_one_and_one(left: float, right: float) -> None:
    _, coupling = lead_and_coupling(left, right)
    assert coupling is None or abs(coupling) <= 1 + 1e-8


def actuators(document: Document, command: Command | None = None) -> dict[str, Document]:
    found: dict[str, Document] = readout(read_mount(document), command)["actuators"]
    return found


def test_a_centre_pivot_is_a_see_saw_about_its_pin() -> None:
    tilt = actuators(centre_pivot())["tilt"]
    assert tilt["coupling"] == pytest.approx(-1)
    assert tilt["instant_centre"] == pytest.approx((0, 400))
    assert [line["member"] for line in tilt["centre_lines"]] == ["pivot"]


def test_a_blade_turns_where_the_held_cylinder_and_the_stay_cross() -> None:
    left = actuators(twin())["left"]
    assert left["instant_centre"] == pytest.approx((800, 200))
    assert left["coupling"] == pytest.approx((1000 - 800) / (-1000 - 800))
    assert left["lead"] == "left"
    assert [line["member"] for line in left["centre_lines"]] == ["right", "stay"]


def test_a_cylinder_over_an_end_leaves_it_still_when_the_other_is_worked() -> None:
    document = twin()
    for side, x in (("left", -1000), ("right", 1000)):
        for joint in member_of(document, side)["ends"]:
            joint["at"][0] = x
    assert actuators(document)["left"]["coupling"] == pytest.approx(0, abs=1e-12)


def test_a_blade_that_only_shifts_has_no_instant_centre_and_lifts_both_ends_alike() -> None:
    lift = actuators(two_guides())["lift"]
    assert lift["instant_centre"] is None
    assert lift["coupling"] == pytest.approx(1)
    assert lift["centre_lines"] == []


def test_a_cylinder_that_moves_a_loose_end_of_nothing_has_no_coupling() -> None:
    flap = [
        pin("flap pin", "frame", "flap", (0, 1500)),
        cylinder("flap cylinder", end("frame", (0, 2500)), end("flap", (300, 1500))),
    ]
    document = {**hinge(), "bodies": ["flap"], "members": [*hinge()["members"], *flap]}
    still = actuators(document)["flap cylinder"]
    assert (still["left"], still["right"], still["coupling"]) == (0, 0, None)
    assert still["instant_centre"] is None


def test_a_carriage_that_moves_with_the_blade_is_no_line_to_the_instant_centre() -> None:
    found = actuators(pivot_on_carriage())
    assert found["lift"]["centre_lines"] == []
    assert [line["member"] for line in found["tilt"]["centre_lines"]] == ["pivot"]


def test_a_guide_holds_square_to_its_way() -> None:
    line = actuators(guided())["left"]["centre_lines"][-1]
    assert line["member"] == "guide"
    assert line["through"] == pytest.approx((0, 500))
    assert line["toward"][1] == pytest.approx(500)


GUIDED_FROM_THE_FRAME = located_mounts.filter(
    lambda drawn: all(m.get("joins", [""])[0] != "blade" for m in drawn["members"])
)


@law
@given(worked_mounts(GUIDED_FROM_THE_FRAME))
def test_the_lines_of_the_instant_centre_pass_through_it(case: tuple[Document, Command]) -> None:
    drawn, command = case
    for entry in actuators(drawn, command).values():
        for line in entry["centre_lines"]:
            near, far, centre = (
                complex(*place) for place in (line["through"], line["toward"], entry["instant_centre"])
            )
            way = (far - near) / abs(far - near) if far != near else 0
            beside = (centre - near) - ((centre - near) * way.conjugate()).real * way
            assert abs(beside) < 1e-7 * (abs(centre - near) + 1000)


# At the sensors


def test_sensors_over_the_cylinders_see_two_channels_that_do_not_touch() -> None:
    found = actuators(twin(sensors={"left": [-800, 1500], "right": [800, 1500]}))
    assert found["left"]["sensors"]["coupling"] == pytest.approx(0, abs=1e-12)
    assert found["left"]["sensors"]["left"] == pytest.approx(-1)
    assert found["left"]["coupling"] == pytest.approx(-1 / 9)


def test_without_sensors_nothing_is_said_of_them() -> None:
    assert actuators(twin())["left"]["sensors"] is None


# Relative gain


@pytest.mark.parametrize(
    ("gains", "gain"),
    [
        ([[1, 0], [0, 1]], 1),
        ([[2, 0], [5, 3]], 1),
        ([[1, 1], [1, -1]], 0.5),
        ([[0, 1], [1, 0]], 0),
        ([[2, 1], [1, 2]], 4 / 3),
        ([[1, 2], [2, 1]], -1 / 3),
    ],
)
def test_the_relative_gain_is_bristols(gains: list[list[float]], gain: float) -> None:
    # Bristol, IEEE Trans. Automatic Control 11 (1966): 1 / (1 - g12 g21 / (g11 g22)), worked out here by hand.
    assert relative_gain(np.array(gains, dtype=float)) == pytest.approx(gain)


@given(st.lists(st.floats(0.1, 10), min_size=4, max_size=4), st.floats(0.01, 100), st.floats(0.01, 100))
def test_the_relative_gain_is_the_gain_times_the_inverse_and_blind_to_units(
    values: list[float], one: float, other: float
) -> None:
    gains = np.reshape(values, (2, 2)) + np.diag([20.0, 20.0])
    expected = gains[0, 0] * np.linalg.inv(gains)[0, 0]
    assert relative_gain(gains) == pytest.approx(expected)
    assert relative_gain(np.diag([one, other]) @ gains) == pytest.approx(expected)


@pytest.mark.parametrize("gains", [[[1, 1], [1, 1]], [[1, -1], [-2, 2]], [[0, 1], [0, 1]]])
def test_gains_in_one_proportion_have_no_relative_gain(gains: list[list[float]]) -> None:
    with pytest.raises(ZeroDivisionError, match="singular"):
        relative_gain(np.array(gains, dtype=float))


# Correcting one end


def together(document: Document) -> tuple[Document, dict[str, str]]:
    answer = readout(read_mount(document))
    return answer["coupling"], reasons(answer)


def test_lift_and_tilt_are_fully_entangled() -> None:
    found, _ = together(pivot_on_carriage())
    assert found["interaction"] == pytest.approx(0.5)


def test_twin_cylinders_are_nearly_independent_and_the_gain_follows_from_their_coupling() -> None:
    found, _ = together(twin())
    assert found["interaction"] == pytest.approx(1 / (1 - (1 / 9) ** 2))
    assert found["worst"] == pytest.approx(-1 / 9)


def test_the_worst_coupling_is_the_one_farthest_from_nought_with_its_sign() -> None:
    document = twin()
    member_of(document, "right")["ends"] = [end("frame", (400, 1000)), end("blade", (400, 200))]
    couplings = {name: entry["coupling"] for name, entry in actuators(document).items()}
    assert together(document)[0]["worst"] == couplings["left"] == pytest.approx(-600 / 1400)


def test_crossed_cylinders_take_the_better_pairing() -> None:
    swapped = twin()
    swapped["members"] = [swapped["members"][1], swapped["members"][0], swapped["members"][2]]
    assert together(swapped)[0]["interaction"] == pytest.approx(together(twin())[0]["interaction"])


@law
@given(located_mounts)
def test_the_moves_that_correct_one_end_do_so_when_the_pose_is_solved_again(drawn: Document) -> None:
    answer = readout(read_mount(drawn))
    moves = answer["coupling"]["moves"]
    if moves is None:
        assert answer["coupling"]["interaction"] is None
        return
    small = 1e-4
    for raised, kept in OTHER.items():
        up = analysed(drawn, {name: small * move for name, move in moves[raised].items()}).ends
        down = analysed(drawn, {name: -small * move for name, move in moves[raised].items()}).ends
        assert (up[raised][1] - down[raised][1]) / (2 * small) == pytest.approx(1, abs=1e-4)
        assert (up[kept][1] - down[kept][1]) / (2 * small) == pytest.approx(0, abs=1e-4)


@pytest.mark.parametrize(
    ("document", "reason"),
    [
        (centre_pivot(), "one cylinder moves both ends together: no move corrects one end alone"),
        (hinge(), "the one cylinder moves the right end alone: nothing corrects the other"),
        (
            {**twin(), "members": [rod(m["id"], *m["ends"]) for m in twin()["members"]]},
            "this mount has no cylinder",
        ),
        (
            {
                **twin(),
                "members": [
                    *twin()["members"][:2],
                    cylinder("stay", end("frame", (-900, 200)), end("blade", (900, 200))),
                ],
            },
            "with more than two cylinders many moves do it: none is the one",
        ),
    ],
    ids=["one", "one that leaves an end still", "none", "three"],
)
def test_with_other_than_two_cylinders_there_is_no_interaction_and_the_reason_is_told(
    document: Document, reason: str
) -> None:
    found, absent = together(document)
    assert (found["interaction"], found["moves"]) == (None, None)
    assert absent["coupling.interaction"] == "needs exactly two cylinders"
    assert absent["coupling.moves"] == reason


def test_two_cylinders_that_move_both_ends_in_one_proportion_correct_neither_alone() -> None:
    # The second cylinder works the rod's upper pivot: both turn the blade about the hinge.
    arm = [
        pin("arm pivot", "frame", "arm", (-200, 1000)),
        cylinder("arm cylinder", end("frame", (-900, 1400)), end("arm", (-200, 1400))),
        cylinder("drop cylinder", end("arm", (500, 1000)), end("blade", (500, 200))),
        pin("hinge", "frame", "blade", (-1000, 0)),
    ]
    found, absent = together({**twin(), "bodies": ["arm"], "members": arm})
    assert (found["interaction"], found["moves"]) == (None, None)
    assert (
        absent["coupling.interaction"]
        == absent["coupling.moves"]
        == ("the two cylinders move both ends in the same proportion: no move corrects one end alone")
    )


def test_a_crank_does_not_change_the_coupling_of_the_side_it_drives() -> None:
    assert actuators(crank_and_drop_rod())["crank cylinder"]["lead"] == "left"
    assert actuators(crank_and_drop_rod())["crank cylinder"]["coupling"] == pytest.approx((1000 - 850) / (-1000 - 850))


# Cylinders that hardly move the ends


def side_shift(lift: float = 0.0) -> tuple[Document, Command]:
    """A lift cylinder and a plumb rod carry the blade; a level cylinder shifts it sideways."""
    members = [
        cylinder("lift", end("frame", (850, 1300)), end("blade", (850, 300))),
        rod("hanger", end("frame", (-850, 1300)), end("blade", (-850, 300))),
        cylinder("shift", end("frame", (1900, 300)), end("blade", (1000, 300))),
    ]
    return document(members), {"lift": lift}


def test_a_cylinder_that_hardly_moves_either_end_gets_no_praise_and_no_move() -> None:
    drawn, command = side_shift(0.1)
    answer = readout(read_mount(drawn), command)
    assert answer["actuators"]["shift"]["coupling"] is None
    together = answer["coupling"]
    assert together["worst"] == answer["actuators"]["lift"]["coupling"]
    assert [together[key] for key in ("interaction", "residual", "rounds", "moves")] == [None] * 4
    assert reasons(answer)["coupling.residual"] == "'shift' hardly moves either end: it corrects neither"


def test_a_move_beyond_a_stroke_is_not_said() -> None:
    drawn, _ = side_shift()
    # The hanger leans by 2 in 1000: it lifts its end by 1/500 of the shift, by 0.8 mm in 400 mm of stroke.
    member_of(drawn, "hanger")["ends"][0]["at"] = [-848, 1300]
    found = readout(read_mount(drawn))
    assert found["coupling"]["moves"] is None
    assert "more than its stroke" in reasons(found)["coupling.moves"]
