"""What costs most: each of what makes a run late or rough halved in turn, and the channels decoupled, and run again."""

import math
from typing import Literal, TypeAlias

import numpy as np

from app.document.models import Mount
from app.document.parts import ENDS
from app.document.units import Measure
from app.grading.grounds import tracks
from app.grading.rig import Rig, Tried, batch_of, rig
from app.grading.settings import RunSettings, is_drawn, soonest, step_for
from app.grading.stepping import Simulation
from app.results.answer import answer
from app.solve.equations import Array

What: TypeAlias = Literal["dead time", "dead band", "smallest pulse", "lost motion", "coupled channels"]

_SEEDS = 6
"""Seeds over which a run on rough ground or with noise is judged."""


@answer
class Cost:
    """What a run would gain by having half of something."""

    what: What
    """What is halved; of the channels, that both cylinders are worked together."""
    value: float | None
    """How much of it there is; null for the channels."""
    measure: Measure | None
    """What that measures."""
    rms: float
    """Root mean square error of both ends after settling with half of it, mm."""
    rms_before: float
    """The same as it is."""
    time_to_grade: float | None
    """Time to grade of the slower end with half of it, s; null where one never comes to grade."""
    time_before: float | None
    """The same as it is."""


def costs(mount: Mount, settings: RunSettings) -> list[Cost]:
    """What each costs, the dearest first: what is gained in time to grade, then in rms. Raises as ``run`` does."""
    settings = settings.model_copy(update={"passes": 1, "seeds": 1, "step": step_for(settings, soonest(settings) / 2)})
    made = rig(mount, settings)
    valve, control = mount.valve, made.settings.control
    values: dict[What, tuple[float, Measure, Tried]] = {}
    values["dead time"] = (made.dead_time, "time", _half_as_late(made))
    if made.dead_band:
        values["dead band"] = (made.dead_band, "error", {"dead_band": np.array(made.dead_band / 2)})
    if control.valve != "proportional" and valve:
        values["smallest pulse"] = (valve.smallest_pulse, "volume", {"shortest": np.array(made.pulse / 2)})
    if made.lost.any():
        values["lost motion"] = (float(made.lost.max()), "error", {"lost": np.array(0.5)})
    seeds = [settings.seed + number for number in range(seeds_of(settings))]
    as_it_is, *halved = _compared(made, seeds, [{}, *(tried for _, _, tried in values.values())])
    found = [
        Cost(what, value, measure, own[0], as_it_is[0], own[1], as_it_is[1])
        for (what, (value, measure, _)), own in zip(values.items(), halved, strict=True)
    ]
    if len(made.worked) > 1 and control.way != "decoupled":
        changed = settings.model_copy(update={"control": settings.control.model_copy(update={"way": "decoupled"})})
        ((rms, time),) = _compared(rig(mount, changed), seeds, [{}])
        found.append(Cost("coupled channels", None, None, rms, as_it_is[0], time, as_it_is[1]))
    return sorted(found, key=_gained, reverse=True)


def seeds_of(settings: RunSettings) -> int:
    """Over how many seeds a run is judged: one where nothing of it is drawn at random."""
    return _SEEDS if is_drawn(settings) else 1


def _half_as_late(made: Rig) -> Tried:
    """Half the delays; the gain and the dead band follow where they were left open."""
    settings = made.settings
    control, sensing = settings.control, settings.sensing
    given: dict[str, Array] = {
        "late": np.array(sensing.delay / 2),
        "on_delay": np.array(control.on_delay / 2),
        "off_delay": np.array(control.off_delay / 2),
    }
    left = made.dead_time - (sensing.delay + control.on_delay) / 2
    if control.gain is None:
        given["gain"] = np.array(1 / (math.e * max(left, settings.step)))
    if control.dead_band is None and control.valve == "on/off":
        late = sensing.delay + control.off_delay + sensing.period
        given["dead_band"] = np.array(made.dead_band * (late - (sensing.delay + control.off_delay) / 2) / late)
    return given


def _compared(made: Rig, seeds: list[int], variants: list[Tried]) -> list[tuple[float, float | None]]:
    """Rms of both ends and time to grade of the slower one of every variant, means over the seeds, all at once."""
    settings, many = made.settings, len(seeds)
    usual = made.tuned
    given = {name: np.repeat([float(tried.get(name, own)) for tried in variants], many) for name, own in usual.items()}
    drawn = seeds * len(variants)
    ground = tracks(settings.ground, made.track, drawn)
    simulation = Simulation(batch_of(made, drawn, ground, settings.seconds, given))
    simulation.advance(simulation.batch.steps)
    found = []
    for first in range(0, len(drawn), many):
        own = [made.summary(simulation.trace, number) for number in range(first, first + many)]
        rms = math.sqrt(float(np.mean([each.of(end).rms ** 2 for each in own for end in ENDS])))
        times = [each.of(end).time_to_grade for each in own for end in ENDS]
        known = [each for each in times if each is not None]
        found.append((rms, max(known) if len(known) == len(times) else None))
    return found


def _gained(cost: Cost) -> tuple[float, float]:
    """Share of the time that is saved, all of it where there was no end to it; then of the rms."""
    rms = 1 - cost.rms / cost.rms_before if cost.rms_before else 0.0
    if cost.time_to_grade is None:
        return (-1.0 if cost.time_before is not None else 0.0), rms
    if cost.time_before is None:
        return 1.0, rms
    return (1 - cost.time_to_grade / cost.time_before if cost.time_before else 0.0), rms
