"""A mount over its travel: every cell as a readout of its own has it, the worst of all, and mirror images."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.analysis import Analysis
from app.document.errors import BadCommand, NotLocated, SketcherError
from app.document.reading import read_mount
from app.shipped import shipped_mounts
from app.strokes.layers import names_of
from app.strokes.over import Travel, travel
from tests.answers import readout
from tests.mounts import Document, document, end, fewer, hinge, joints_of, located_mounts, pin, rod, twin
from tests.test_laws import mirrored

STEPS = 7


def command_of(over: Travel, cell: tuple[int, ...]) -> dict[str, float]:
    """The strokes of a cell: the index along the second cylinder stands first."""
    return {name: float(over.strokes[name][at]) for name, at in zip(over.cylinders, reversed(cell), strict=True)}


def numbers_of(answer: Document) -> dict[str, float | None]:
    """What a readout says, by the names of layers."""
    numbers: dict[str, float | None] = {}
    for end_ in ("left", "right"):
        numbers[f"worst_{end_}"] = answer["budget"][end_]["worst"]
        numbers[f"worst_under_load_{end_}"] = answer["budget"][end_]["worst_under_load"]
    for name, cylinder in answer["actuators"].items():
        numbers[f"coupling:{name}"] = cylinder["coupling"]
    numbers["residual"] = answer["coupling"]["residual"]
    numbers["load_ratio"] = max(each["load_ratio"] for each in answer["actuators"].values())
    numbers["pressure"] = max(each["pressure"] for each in answer["actuators"].values())
    numbers["use"] = max((each["use"] for each in answer["forces"].values() if each["use"] is not None), default=None)
    shares = [each["relief_share"] for each in answer["actuators"].values() if each["relief_share"] is not None]
    numbers["relief"] = max(shares, default=None)
    numbers["inside"] = None if answer["budget"]["inside"] is None else float(answer["budget"]["inside"])
    return numbers


def same_in(over: Travel, cell: tuple[int, ...]) -> None:
    command = command_of(over, cell)
    alone = readout(over.mount, command)
    if alone["pose"]["stopped"] is not None:
        return
    assert over.reached[cell]
    drawn = over.mount.blade
    for end_, at in (("left", drawn.left), ("right", drawn.right)):
        assert over.layers[end_][cell] == pytest.approx(alone["pose"]["ends"][end_][1] - at[1], abs=1e-9)
    assert over.layers["condition"][cell] == pytest.approx(Analysis(over.mount, dict(command)).pose.condition, rel=1e-6)
    for name, expected in numbers_of(alone).items():
        if name in over.layers:
            got = over.layers[name][cell]
            assert (None if got is np.ma.masked else got) == (
                None if expected is None else pytest.approx(expected, rel=1e-7, abs=1e-9)
            ), name


@fewer(0.7)
@given(drawn=located_mounts, seed=st.integers(0, 999))
def test_every_layer_of_every_cell_is_what_a_readout_says_there(drawn: Document, seed: int) -> None:
    for member in drawn["members"]:
        for _, joint in joints_of(member):
            joint["rating"] = 9000
    over = travel(read_mount(drawn), steps=STEPS)
    for cell in np.random.default_rng(seed).integers(0, STEPS, (3, over.reached.ndim)).tolist():
        same_in(over, tuple(cell))


@pytest.mark.parametrize("name", shipped_mounts())
def test_the_travel_of_a_shipped_mount_is_that_of_its_readouts(name: str) -> None:
    over = travel(shipped_mounts()[name], steps=STEPS)
    assert list(over.layers) == names_of(over.mount)
    for cell in ([0, 0], [STEPS // 2, 1], [STEPS - 1, STEPS - 1]):
        same_in(over, tuple(cell[: over.reached.ndim]))


@pytest.mark.parametrize("name", shipped_mounts())
def test_a_layer_worked_out_alone_is_what_it_is_among_all(name: str) -> None:
    mount = shipped_mounts()[name]
    whole = travel(mount, steps=STEPS)
    for layer, values in whole.layers.items():
        alone = travel(mount, steps=STEPS, layers=[layer])
        assert list(alone.layers) == [layer]
        np.testing.assert_array_equal(alone.layers[layer].filled(np.nan), values.filled(np.nan))
        assert alone.worst.get(layer) == whole.worst.get(layer)
        assert alone.drawn.get(layer) == whole.drawn.get(layer)


@pytest.mark.parametrize("name", shipped_mounts())
def test_what_a_layer_is_as_drawn_is_what_the_readout_says_there(name: str) -> None:
    over = travel(shipped_mounts()[name], {each.id: 5.0 for each in shipped_mounts()[name].cylinders}, steps=2)
    said = {name: value for name, value in numbers_of(readout(over.mount)).items() if value is not None}
    assert over.drawn["left"] == over.drawn["right"] == 0.0
    assert {layer: over.drawn[layer] for layer in said} == pytest.approx(said, rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("name", shipped_mounts())
def test_the_worst_over_the_travel_is_found_again_at_its_strokes(name: str) -> None:
    over = travel(shipped_mounts()[name], steps=STEPS)
    for layer, worst in over.worst.items():
        assert abs(worst.value) == np.abs(over.layers[layer]).max()
        numbers = numbers_of(readout(over.mount, dict(worst.command)))
        if layer in numbers:
            assert numbers[layer] == pytest.approx(worst.value, rel=1e-7, abs=1e-9)


@fewer(0.5)
@given(drawn=located_mounts)
def test_the_map_of_a_mirrored_mount_is_the_mirrored_map(drawn: Document) -> None:
    plain, image = (travel(read_mount(each), steps=STEPS) for each in (drawn, mirrored(drawn)))
    assert plain.reached.tolist() == image.reached.tolist()
    for name, layer in plain.layers.items():
        if name == "inside":  # rounding may take a worst that is the tolerance to either side
            continue
        other = name.replace("left", "@").replace("right", "left").replace("@", "right")
        other = name if name.startswith("coupling") else other
        np.testing.assert_allclose(image.layers[other].filled(0), layer.filled(0), rtol=1e-5, atol=1e-6, err_msg=name)


def test_the_cylinders_that_are_not_named_stay_where_the_command_put_them() -> None:
    over = travel(read_mount(twin()), {"left": 40.0}, cylinders=["right"], steps=5)
    assert over.worst["left"].command["left"] == pytest.approx(40)
    assert over.layers["left"].shape == (5,)
    same = readout(over.mount, {"left": 40.0, "right": float(over.strokes["right"][3])})
    assert over.layers["left"][3] == pytest.approx(same["pose"]["ends"]["left"][1])


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"cylinders": ["lift", "boom"]}, "cylinders[1]: there is no cylinder of that name; the cylinders are 'lift'"),
        ({"cylinders": []}, "cylinders: are not one or two different ones"),
        ({"cylinders": ["lift", "lift"]}, "cylinders: are not one or two different ones"),
        ({"steps": 1}, "steps: is no whole number from 2 to"),
        ({"steps": True}, "steps: is no whole number from 2 to"),
        ({"command": {"boom": 1.0}}, 'command["boom"]: there is no cylinder of that name'),
    ],
    ids=str,
)
def test_a_question_that_cannot_be_answered_says_where_and_what_to_give(given: Document, said: str) -> None:
    with pytest.raises(BadCommand) as refused:
        travel(read_mount(hinge()), **given)
    assert said in str(refused.value)


def test_a_mount_without_a_cylinder_or_that_hangs_loose_has_no_travel() -> None:
    fixed = document(
        [pin("pin", "frame", "blade", (0, 100)), rod("stay", end("frame", (0, 900)), end("blade", (500, 200)))]
    )
    loose = document([m for m in twin()["members"] if m["id"] != "stay"])
    errors: list[tuple[Document, type[SketcherError], str]] = [
        (fixed, BadCommand, "cylinders: this mount has no cylinder"),
        (loose, NotLocated, "mount: the mount hangs loose: hold it first"),
    ]
    for drawn, kind, said in errors:
        with pytest.raises(kind) as refused:
            travel(read_mount(drawn))
        assert str(refused.value) == said
