"""Relative gain of two inputs on two outputs, from the process control texts that print it.

E. H. Bristol, "On a new measure of interaction for multivariable process control", IEEE Trans. AC-11, 1966: the
definition and the 2x2 formula. Identities, no printed number.
S. Skogestad and I. Postlethwaite, Multivariable Feedback Control (Wiley): the distillation column and Example 3.12.
Matrices seen in public reproductions of the text (github.com/alchemyst/Skogestad-Python); printed gains from memory,
supported by the recomputed digits in brackets.
robustcontrol/utils.py in the same place: the docstring of its gain array, matrix and result seen.
R. K. Wood and M. W. Berry's column, Chem. Eng. Sci. 28, 1973, and D. E. Seborg et al., Process Dynamics and Control
(Wiley): references, gains and results from memory, supported by recomputation.

Ends in turn: with uprights at +-a under a half length L each round leaves r = ((L - a) / (L + a))^2 of an error,
Bristol's 1 - 1/lambda. Derived; r of 0.605 takes 10 rounds to 1 %, 0.846 takes 28, -1 never comes there.

A blade on two upright cylinders can stand in for any of these matrices, up to the scale of each row, which does not
change the relative gain: see ``blade_with_gains``.
"""

import numpy as np
import pytest

from app.document.models import Mount
from app.results.coupling import relative_gain
from app.shipped import shipped_mounts
from app.solve.equations import Array
from tests.answers import readout

from .mechanisms import ROUNDING, twin_uprights

DISTILLATION = np.array([[87.8, -86.4], [108.2, -109.6]])
DOCSTRING = np.array([[1.0, 2.0], [3.0, 4.0]])
WOOD_BERRY = np.array([[12.8, -18.9], [6.6, -19.4]])
SEBORG = np.array([[2.0, 1.5], [1.5, 2.0]])
EXAMPLE_3_12 = np.array([[100.0, 0.0], [0.0, 1.0]])
ALL = [DISTILLATION, DOCSTRING, WOOD_BERRY, SEBORG, EXAMPLE_3_12]
NAMES = ["distillation", "docstring", "wood-berry", "seborg", "example 3.12"]

HALF_A_TENTH = 0.05
"""Half a unit of the last printed digit of the distillation column's gains."""

HALF_A_HUNDREDTH = 0.005
"""Half a unit of the last printed digit of the other gains."""

DIFFERENCE = 1e-5
"""Of a central difference over 0.01 mm: 1e-4 rad squared, times the 78 spacings that the longest blade reaches out."""

PRINTED = [
    pytest.param(DISTILLATION, 35.1, HALF_A_TENTH, id="skogestad distillation (35.0688)"),
    pytest.param(DOCSTRING, -2.0, ROUNDING, id="robustcontrol docstring, exact"),
    pytest.param(WOOD_BERRY, 2.01, HALF_A_HUNDREDTH, id="wood and berry (2.00939)"),
    pytest.param(SEBORG, 2.29, HALF_A_HUNDREDTH, id="seborg (16/7)"),
    pytest.param(EXAMPLE_3_12, 1.0, ROUNDING, id="skogestad example 3.12, exact"),
]


def blade_with_gains(gains: Array) -> Mount:
    """A blade on two upright cylinders 100 mm apart whose ends move in the proportion of each row.

    Where the blade is a share s of the way from the first cylinder to the second, they lift it by 1 - s and by s.
    """
    shares = sorted(float(second / (first + second)) for first, second in gains)
    return twin_uprights(0, 100, 100 * shares[0], 100 * shares[1])


@pytest.mark.parametrize(("gains", "printed", "tolerance"), PRINTED)
def test_relative_gain_is_the_printed_one(gains: Array, printed: float, tolerance: float) -> None:
    assert relative_gain(gains) == pytest.approx(printed, abs=tolerance)


@pytest.mark.parametrize(("gains", "printed", "tolerance"), PRINTED)
def test_interaction_of_a_blade_with_the_published_gains_is_the_printed_one_of_the_better_pairing(
    gains: Array, printed: float, tolerance: float
) -> None:
    answer = readout(blade_with_gains(gains))

    # The rows of a gain array sum to 1, so the other pairing has what is left.
    assert answer["coupling"]["interaction"] == pytest.approx(max(printed, 1 - printed), abs=tolerance)


def test_skogestad_distillation_pairs_the_other_way_round_at_minus_34_1() -> None:
    assert relative_gain(DISTILLATION[:, ::-1]) == pytest.approx(-34.1, abs=HALF_A_TENTH)


def test_skogestad_distillation_turns_singular_where_one_gain_shifts_by_its_relative_gain() -> None:
    shifted = DISTILLATION.copy()
    shifted[0, 1] *= 1 - 1 / relative_gain(DISTILLATION[:, ::-1])

    assert shifted[0, 1] == pytest.approx(-88.9, abs=HALF_A_TENTH)
    with pytest.raises(ZeroDivisionError, match="singular"):
        relative_gain(shifted)


@pytest.mark.parametrize("gains", ALL, ids=NAMES)
def test_bristols_two_pairings_sum_to_1(gains: Array) -> None:
    assert relative_gain(gains) + relative_gain(gains[:, ::-1]) == pytest.approx(1, rel=ROUNDING)


@pytest.mark.parametrize("gains", ALL, ids=NAMES)
def test_bristols_relative_gain_does_not_depend_on_the_units_of_inputs_and_outputs(gains: Array) -> None:
    in_other_units = np.diag([25.4, 0.3]) @ gains @ np.diag([7.0, 1e-3])

    assert relative_gain(in_other_units) == pytest.approx(relative_gain(gains), rel=ROUNDING)


@pytest.mark.parametrize("gains", ALL, ids=NAMES)
def test_bristols_definition_open_over_closed_loop_gain_holds_for_a_blade(gains: Array) -> None:
    answer = readout(blade_with_gains(gains))
    first, second = answer["actuators"].values()
    moves = answer["coupling"]["moves"]

    # Gain of a cylinder on an end with the other cylinder still, times what it must do with the other end still.
    direct = first["left"] * moves["left"]["left cylinder"]
    crossed = second["left"] * moves["left"]["right cylinder"]

    assert direct + crossed == pytest.approx(1, rel=ROUNDING)
    assert max(direct, crossed) == pytest.approx(answer["coupling"]["interaction"], rel=ROUNDING)


@pytest.mark.parametrize("gains", ALL, ids=NAMES)
def test_cylinders_moved_as_told_raise_one_end_and_leave_the_other_on_the_solved_pose(gains: Array) -> None:
    mount = blade_with_gains(gains)
    told = readout(mount)["coupling"]["moves"]["left"]
    small = 0.01 / max(abs(move) for move in told.values())

    up, down = (
        readout(mount, {name: way * small * move for name, move in told.items()})["pose"]["ends"] for way in (1, -1)
    )

    assert (up["left"][1] - down["left"][1]) / (2 * small) == pytest.approx(1, abs=DIFFERENCE)
    assert (up["right"][1] - down["right"][1]) / (2 * small) == pytest.approx(0, abs=DIFFERENCE)


@pytest.mark.parametrize(
    ("half_length", "at", "left_over", "rounds"),
    [(9, 1, 0.64, 11), (8, 1, 0.605, 10), (24, 1, 0.846, 28), (1200, 850, 0.02915, 2)],
)
def test_uprights_inside_the_ends_leave_a_known_share_after_each_round(
    half_length: float, at: float, left_over: float, rounds: int
) -> None:
    scale = 1200 / half_length
    mount = twin_uprights(-at * scale, at * scale, -1200, 1200)

    found = readout(mount)["coupling"]

    assert found["residual"] == pytest.approx(((half_length - at) / (half_length + at)) ** 2, rel=ROUNDING)
    assert found["residual"] == pytest.approx(left_over, abs=5e-4)
    assert found["residual"] == pytest.approx(1 - 1 / found["interaction"], rel=ROUNDING)
    assert found["rounds"] == rounds
    assert found["worst"] == pytest.approx(-(half_length - at) / (half_length + at), rel=ROUNDING)


def test_correcting_the_ends_in_turn_on_the_solved_pose_leaves_the_share_that_is_said() -> None:
    mount = twin_uprights(-400, 400, -1200, 1200)
    said = readout(mount)["coupling"]["residual"]
    by_end = {"left": "left cylinder", "right": "right cylinder"}
    strokes, aimed = dict.fromkeys(by_end.values(), 0.0), {"left": 0.2, "right": 0.0}
    gain = {end: readout(mount)["actuators"][name][end] for end, name in by_end.items()}

    errors = []
    for _ in range(3):
        for end, name in by_end.items():
            stands = readout(mount, strokes)["pose"]["ends"][end][1]
            strokes[name] += (aimed[end] - stands) / gain[end]
        errors.append(aimed["left"] - readout(mount, strokes)["pose"]["ends"]["left"][1])

    assert errors[1] / errors[0] == pytest.approx(said, abs=1e-3)
    assert errors[2] / errors[1] == pytest.approx(said, abs=1e-3)


def test_lift_and_tilt_on_a_see_saw_never_settle_in_turn() -> None:
    found = readout(shipped_mounts()["2-pivot-on-carriage"])["coupling"]

    assert found["residual"] == pytest.approx(-1)
    assert found["rounds"] is None
