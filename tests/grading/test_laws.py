"""Laws of every run, for ends of any gains and every valve: mirrored, slowed or cut in two it is the same run."""

import contextlib
from dataclasses import replace
from typing import Any, get_args

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from app.document.errors import BadSettings
from app.grading.answer import ran
from app.grading.grade import run as run_mount
from app.grading.hunting import hunting
from app.grading.settings import Channel, LoadKind, RoughClass, Side, ValveKind, Way
from app.shipped import shipped_mounts
from app.web.answers import as_json
from tests.grading.plants import GivenGains, run, simulated
from tests.mounts import fewer, law

Gains = tuple[tuple[float, float], tuple[float, float]]

couplings = st.floats(-0.8, 0.8)
valves = st.sampled_from(get_args(ValveKind))
ways = st.sampled_from(get_args(Way))


@st.composite
def gains(draw: st.DrawFn) -> Gains:
    """Two cylinders that each move their own end more than the other one."""
    own, other = draw(st.floats(0.5, 2.0)), draw(st.floats(0.5, 2.0))
    return (own, own * draw(couplings)), (other * draw(couplings), other)


@fewer(0.3)
@given(
    late=st.tuples(st.floats(0.08, 0.5), st.floats(0.08, 0.5)),
    speed=st.floats(10.0, 80.0),
    band=st.floats(0.0, 4.0),
    hysteresis=st.floats(0.1, 3.0),
)
def test_more_dead_time_never_hunts_less(
    late: tuple[float, float], speed: float, band: float, hysteresis: float
) -> None:
    # Level ground, on/off valves, receivers that read all the time.
    given_late = sorted(late)
    trace = run("on/off", speed=speed, dead_band=band, hysteresis=hysteresis, late=given_late, step=0.04, seconds=60.0)
    less, more = (hunting(each, 0.04) for each in trace.heights[:, :, 0])
    assert less is None or (more is not None and less.amplitude <= more.amplitude + 1e-6)


@fewer(0.5)
@given(gains=gains(), valve=valves, way=ways, start=st.tuples(st.floats(-20, 20), st.floats(-20, 20)))
def test_mirrored_ends_make_the_mirrored_run(
    gains: Gains, valve: ValveKind, way: Way, start: tuple[float, float]
) -> None:
    # An operator begins with the left end, so one after the other is mirrored in everything but who is first.
    way = "each its own" if way == "one after the other" else way
    (a, b), (c, d) = gains
    given_run: dict[str, Any] = {
        "way": way, "gain": 2.0, "dead_band": 0.7, "lost": 0.5, "shortest": 0.01, "every": 5, "seconds": 6.0
    }  # fmt: skip
    plain = run(valve, gains=gains, start=start, **given_run)
    image = run(valve, gains=((d, c), (b, a)), start=start[::-1], **given_run)
    np.testing.assert_allclose(image.heights[0, :, [1, 0]], plain.heights[0, :, [0, 1]], atol=1e-9)


@fewer(0.5)
@given(gains=gains(), valve=valves, way=ways, times=st.sampled_from([0.25, 0.5, 2.0, 4.0]))
def test_scaling_time_and_speeds_leaves_the_path(gains: Gains, valve: ValveKind, way: Way, times: float) -> None:
    def at(scale: float) -> Any:  # noqa: ANN401 - an array
        return run(
            valve, gains=gains, way=way, start=(6.0, 15.0), dead_band=0.7, lost=0.5, every=5, speed=40.0 / scale,
            gain=2.0 / scale, shortest=0.01 * scale, late=0.1 * scale, step=0.01 * scale, seconds=6.0 * scale,
        ).heights  # fmt: skip

    np.testing.assert_allclose(at(times), at(1.0), atol=1e-8)


@fewer(0.5)
@given(
    valve=valves,
    way=ways,
    every=st.sampled_from([0, 1, 5]),
    pieces=st.lists(st.integers(1, 200), min_size=1, max_size=5),
    seed=st.integers(0, 99),
)
def test_a_run_cut_in_two_and_continued_is_the_same_run(
    valve: ValveKind, way: Way, every: int, pieces: list[int], seed: int
) -> None:
    every = every or int(valve == "pulsed" or way == "one after the other")
    noise = np.random.default_rng(seed).normal(0, 0.8, (1, 601, 2))
    given_run: dict[str, Any] = {
        "gains": ((1.0, -0.4), (0.3, 1.2)), "way": way, "every": every, "noise": noise, "lost": 0.4, "dead_band": 0.6,
        "hysteresis": 0.2, "gain": 2.0, "shortest": 0.01, "seconds": 6.0,
    }  # fmt: skip
    whole, cut = simulated(valve, **given_run), simulated(valve, **given_run)
    whole.advance(600)
    for piece in [*pieces, 600]:
        cut.advance(piece)
    assert cut.trace.heights.tolist() == whole.trace.heights.tolist()
    assert cut.trace.used.tolist() == whole.trace.used.tolist()


@fewer(0.5)
@given(gains=gains(), valve=valves, way=ways)
def test_no_cylinder_goes_past_its_stroke_or_faster_than_its_valve(gains: Gains, valve: ValveKind, way: Way) -> None:
    simulation = simulated(valve, gains=gains, way=way, gain=4.0, every=5, dead_band=0.5, seconds=4.0)
    plant = GivenGains(np.array(gains), reach=12.0)
    simulation.batch = replace(simulation.batch, plant=plant)
    simulation.advance(400)
    lengths = simulation.trace.lengths[0]
    assert np.abs(lengths[1:]).max() <= max(12.0, float(np.abs(lengths[0]).max())) + 1e-9
    assert np.abs(np.diff(lengths[1:], axis=0)).max() <= 40 * 0.01 + 1e-9


GROUNDS = st.one_of(
    st.just({"kind": "flat"}),
    st.fixed_dictionaries(
        {
            "kind": st.sampled_from(["step", "bump"]),
            "height": st.sampled_from([-500, -30, 0, 30, 500]),
            "side": st.sampled_from(get_args(Side)),
            "at": st.sampled_from([0, 0.5, 1000]),
        }
    ),
    st.fixed_dictionaries({"kind": st.just("waves"), "height": st.just(60), "length": st.sampled_from([0.1, 6])}),
    st.fixed_dictionaries({"kind": st.just("rough"), "class": st.sampled_from(get_args(RoughClass))}),
)
DELAYS = st.sampled_from([0, 1e-9, 0.004, 0.05, 0.3, 10])

SETTINGS = st.fixed_dictionaries(
    {
        "seconds": st.sampled_from([1, 2.5]),
        "step": st.sampled_from([0.004, 0.01, 0.25]),
        "seeds": st.sampled_from([1, 3]),
        "passes": st.sampled_from([1, 1, 2]),
        "speed": st.sampled_from([0, 0.8, 10]),
        "ground": GROUNDS,
        "load": st.sampled_from(get_args(LoadKind)),
        "machine": st.fixed_dictionaries({"blade_behind": st.sampled_from([-500, 1500, 3000])}),
        "start": st.fixed_dictionaries(
            {"left": st.sampled_from([0, 20, -500]), "right": st.sampled_from([0, -20, 500])}
        ),
        "sensing": st.fixed_dictionaries(
            {
                "what": st.sampled_from(get_args(Channel)),
                "noise": st.sampled_from([0, 1, 500]),
                "period": st.sampled_from([0, 1e-9, 0.02, 0.05, 1]),
                "delay": DELAYS,
            }
        ),
        "control": st.fixed_dictionaries(
            {
                "way": ways,
                "valve": valves,
                "dead_band": st.sampled_from([None, 0, 2, 500]),
                "hysteresis": st.sampled_from([0, 1, 50]),
                "gain": st.sampled_from([None, 1e-9, 1, 1000]),
                "on_delay": DELAYS,
                "off_delay": DELAYS,
            }
        ),
    }
)


@law
@given(name=st.sampled_from(sorted(shipped_mounts())), settings=SETTINGS)
def test_whatever_is_set_a_run_is_all_finite_numbers_or_refused(name: str, settings: dict[str, Any]) -> None:
    answer = None
    with contextlib.suppress(BadSettings):
        answer = ran(run_mount(shipped_mounts()[name], settings))
    if answer:
        as_json(answer)  # refuses what is not finite
