"""Sweeps: as many answers as values, in their shape, with a gap and its reason where there is no number."""

import numpy as np
import pytest

from app import BadDocument, NoSuchName, detail, readout, shipped_mounts, sweep

TWIN = shipped_mounts()["3-twin-cylinders"]
SEE_SAW = shipped_mounts()["1-centre-pivot"]


def test_a_sweep_gives_what_each_readout_gives() -> None:
    inward = [0.0, 100.0, 200.0]
    swept = sweep(lambda dx: TWIN.with_joint("right cylinder / 2", dx=-dx), inward)
    for number, dx in enumerate(inward):
        one = readout(TWIN.with_joint("right cylinder / 2", dx=-dx))
        assert one.budget
        assert one.coupling
        assert swept["budget.right.worst"][number] == one.budget.right.worst
        assert swept["coupling.worst"][number] == one.coupling.worst


def test_values_broadcast_together_give_a_grid() -> None:
    moduli = np.array([700.0, 1400.0, 2800.0])
    grid = sweep(
        lambda dx, modulus: TWIN.with_joint("right cylinder / 2", dx=-dx).with_value("oil.bulk_modulus", modulus),
        np.array([[0.0], [100.0]]),
        moduli,
    )
    squeezed = grid["budget.right.worst"]
    assert grid.shape == squeezed.shape == (2, 3)
    assert (np.diff(squeezed, axis=1) < 0).all()  # stiffer oil, smaller error


def test_strokes_and_other_answers_are_swept_by_the_function_that_gives_them() -> None:
    strokes = np.linspace(-50, 50, 3)
    swept = sweep(lambda each: readout(TWIN, {"left cylinder": each}), strokes)
    lengths = swept["pose.members.left cylinder.length"]
    assert lengths.tolist() == pytest.approx((TWIN.cylinders[0].drawn_length + strokes).tolist())
    assert swept["pose.ends.left[1]"][1] == pytest.approx(0, abs=1e-9)
    clearances = sweep(lambda each: detail(TWIN.with_value("left cylinder / 1.clearance", each)), [0.2, 0.4])
    assert clearances["spread.left.deviation"].argmax() == 1


def test_a_sweep_of_nothing_but_one_value_has_no_axes() -> None:
    assert float(sweep(lambda each: TWIN.with_value("tolerance", each), 2.0)["budget.tolerance"]) == 2.0


def test_what_the_document_does_not_allow_is_a_gap_with_its_reason() -> None:
    swept = sweep(lambda dx: TWIN.with_joint("right cylinder / 2", dx=-dx), [0.0, 1000.0])
    worst = swept["coupling.worst"]
    assert worst.mask.tolist() == [False, True]
    assert swept.answers[1] is None
    [(index, reason)] = swept.why("coupling.worst").items()
    assert index == (1,)
    assert "longer than its full reach" in reason
    assert isinstance(swept.refused[1,], BadDocument)


def test_a_number_the_answer_does_not_have_is_a_gap_with_the_answers_own_reason() -> None:
    swept = sweep(lambda each: SEE_SAW.with_value("tolerance", each), [2.0, 3.0])
    assert swept["coupling.interaction"].mask.all()
    assert swept.why("coupling.interaction") == {
        (0,): "needs exactly two cylinders",
        (1,): "needs exactly two cylinders",
    }
    unloaded = sweep(lambda each: SEE_SAW.with_value("load", None).with_value("tolerance", each), [2.0])
    [cylinder] = SEE_SAW.cylinders
    assert unloaded.why(f"actuators.{cylinder.id}.force")[0,].startswith("needs a load")
    loose = sweep(lambda _: SEE_SAW.with_value("members", []), [0])
    assert loose.why("budget.left.worst")[0,].startswith("the mount hangs loose")


def test_a_member_that_only_some_mounts_have_is_a_gap_in_the_others() -> None:
    swept = sweep(lambda name: TWIN.with_value("side stay.id", name), np.array(["side stay", "tie"]))
    assert swept["forces.tie / 1.worst"].mask.tolist() == [True, False]
    assert "did you mean" in swept.why("forces.tie / 1.worst")[0,]


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("coupling.wrst", "coupling.wrst: there is no answer 'wrst'; did you mean 'worst'? Known are"),
        ("actuators.left.force", "there is no answer 'left'; known are 'left cylinder', 'right cylinder'"),
        ("coupling", "is several answers, not a number; go on with worst, interaction, residual, rounds, at, moves"),
        ("pose.ends.left", "is a list of 2, not a number; take it from answers"),
        ("pose.ends.left[2]", "there is no entry [2]; there are 2, [0] to [1]"),
        ("mobility.state", "is a word, 'located', not a number"),
        ("coupling.worst.much", "goes on after its number; leave out 'much'"),
    ],
)
def test_a_path_no_answer_has_is_refused_with_those_there_are(path: str, said: str) -> None:
    swept = sweep(lambda each: TWIN.with_value("tolerance", each), [2.0, 3.0])
    with pytest.raises(NoSuchName) as refused:
        swept[path]
    assert said in str(refused.value)


def test_a_sweep_of_which_nothing_comes_is_refused() -> None:
    with pytest.raises(BadDocument, match="longer than its full reach"):
        sweep(lambda dx: TWIN.with_joint("right cylinder / 2", dx=-dx), [1000.0, 1200.0])
    with pytest.raises(NoSuchName, match="there is no joint"):
        sweep(lambda dx: TWIN.with_joint("middle cylinder / 2", dx=dx), [0.0])
