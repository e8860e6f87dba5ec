"""A mount rigged for a run: which cylinders work on which readings, what every setting comes to, what is to be said."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from app.analysis import Analysis
from app.document.errors import BadSettings, Fault, NotLocated
from app.document.messages import Message, word
from app.document.models import Mount
from app.document.parts import ENDS
from app.document.reasons import NO_CYLINDER, NO_VALVE, NOT_LOCATED
from app.document.units import MM3_PER_LITRE, MM3_PER_ML, SECONDS_PER_MINUTE
from app.grading.batch import Batch, Trace
from app.grading.channels import Channels, channels, pairs
from app.grading.grounds import Tracks
from app.grading.loads import seats, shares
from app.grading.lost_motion import loose_joints, lost_motion
from app.grading.notes import notes_of
from app.grading.plant import LEFT_END, RIGHT_END, MountPlant
from app.grading.settings import MM_PER_M, TRACK_MM, RunSettings, grid
from app.grading.summary import RunSummary, summary
from app.grading.valves import Valves
from app.solve.assembly import side_of
from app.solve.equations import Array
from app.sources.tyres import rise

_MARGIN = 1.05
"""By how much more than just enough a dead band is that is worked out."""

_NEAR_SHARE, _NEAR_MM = 0.1, 0.25
"""How near to grade an operator brings an end before turning to the other: a share of the tolerance, or so many mm."""


@dataclass(frozen=True, eq=False)
class Rig:
    """A mount and settings, ready to run.

    ``worked`` the cylinders by number; ``gains``: mm of each reading per mm of each worked cylinder, shape (2,
    cylinders), ``end_gains`` the same of the ends. ``speeds`` at full flow, mm/s, shape (cylinders, 2): lengthening,
    shortening. ``lost`` widths of lost motion, mm of the cylinder. ``dead_band``, ``gain`` and ``track`` as set or
    worked out; ``dead_time`` s from a reading to what a valve does about it, half a period between readings included.
    """

    analysis: Analysis
    settings: RunSettings
    plant: MountPlant
    channels: Channels
    worked: tuple[int, ...]
    gains: Array
    end_gains: Array
    speeds: Array
    lost: Array
    loose: frozenset[str]
    dead_time: float
    dead_band: float
    gain: float
    track: float
    notes: list[Message] = field(default_factory=list)

    @property
    def mount(self) -> Mount:
        """The mount."""
        return self.analysis.mount

    @property
    def names(self) -> list[str]:
        """The worked cylinders, by id."""
        return [self.mount.cylinders[each].id for each in self.worked]

    @property
    def flow(self) -> float:
        """The full flow to a cylinder, L/min."""
        return self.mount.valve.flow if self.mount.valve else 0.0

    @property
    def pulse(self) -> float:
        """How long the smallest pulse lasts at the full flow, s."""
        valve = self.mount.valve
        if valve is None:
            return 0.0
        return valve.smallest_pulse * MM3_PER_ML * SECONDS_PER_MINUTE / MM3_PER_LITRE / valve.flow

    @property
    def corrects(self) -> list[list[int]]:
        """The worked cylinders that correct the left and the right reading."""
        needs = self.channels.needs
        return [[each for each in range(len(needs)) if needs[each, end]] for end in range(2)]

    @property
    def tuned(self) -> dict[str, float]:
        """What every run of a batch has where nothing else is tried, by name (see ``Tried``)."""
        control, sensing, start = self.settings.control, self.settings.sensing, self.settings.start
        return {
            "gain": self.gain,
            "dead_band": self.dead_band,
            "hysteresis": control.hysteresis,
            "flow": 1.0,
            "late": sensing.delay,
            "on_delay": control.on_delay,
            "off_delay": control.off_delay,
            "shortest": self.pulse,
            "lost": 1.0,
            "left": start.left,
            "right": start.right,
        }

    def summary(self, trace: Trace, run: int) -> RunSummary:
        """What one run of a batch comes to."""
        start = self.settings.start
        return summary(
            trace,
            run,
            tolerance=self.mount.tolerance,
            start=(start.left, start.right),
            level=self.settings.ground.kind == "flat",
            corrects=self.corrects,
            names=self.names,
            flow=self.flow,
        )

    @property
    def every(self) -> int:
        """Steps from reading to reading; 0 where receivers read all the time and no operator takes turns."""
        every, _ = grid(self.settings)
        return every or int(self.settings.control.way == "one after the other")

    @property
    def step(self) -> float:
        """Time between points of the grid, s."""
        return grid(self.settings)[1]

    @property
    def near(self) -> float:
        """How near to grade an operator brings one end before turning to the other, mm."""
        tolerance = self.mount.tolerance
        return max(self.dead_band, _NEAR_SHARE * tolerance if tolerance else _NEAR_MM)


def rig(mount: Mount, settings: RunSettings) -> Rig:
    """Get a mount ready to run.

    Raises NotLocated where it hangs loose or is bound, BadSettings where it lacks a cylinder or valve, or where its
    cylinders cannot work the readings.
    """
    analysis = Analysis(mount)
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state]
        raise NotLocated([Fault("mount", reason.text, reason.values, reason.code)])
    worked = _worked(mount, settings)
    if mount.valve is None:
        raise BadSettings([Fault("mount.valve", NO_VALVE.text, NO_VALVE.values, NO_VALVE.code)])
    cases = [f"sensor {end}" if mount.sensors else end for end in ENDS]
    seen = np.array([analysis.sensitivities.of_length(case)[list(worked)] for case in cases])
    ends = np.array([analysis.sensitivities.of_length(end)[list(worked)] for end in ENDS])
    track = settings.machine.track or (mount.tyres.right - mount.tyres.left if mount.tyres else TRACK_MM)
    middle = (mount.tyres.right + mount.tyres.left) / 2 if mount.tyres else 0.0
    load = settings.load if mount.load else "none"
    settings = settings.model_copy(update={"load": load})
    loose = loose_joints(analysis, load)
    plant = MountPlant(
        assembly=analysis.assembly,
        worked=worked,
        seats=seats(analysis, loose),
        channel=settings.sensing.what,
        track=track,
        middle=middle,
        drawn=analysis.pose.q,
        lengths=np.array(analysis.pose.lengths),
        side=side_of(analysis.pose.jacobian),
    )
    if settings.sensing.what == "height and cross fall":
        turns = analysis.velocities[2, list(worked)]
        seen = np.array([seen[0], plant.apart * turns])
    found = _channels(seen, settings, [mount.cylinders[each].id for each in worked])
    lost = lost_motion(analysis, loose, list(worked), pairs(found.paired, ENDS))
    flow, control = mount.valve.flow * MM3_PER_LITRE / SECONDS_PER_MINUTE, settings.control
    areas = [(mount.cylinders[each].cap_area, mount.cylinders[each].annulus_area) for each in worked]
    speeds = flow / np.array(areas)
    dead_time = settings.sensing.delay + control.on_delay + settings.sensing.period / 2
    made = Rig(
        analysis=analysis,
        settings=settings,
        plant=plant,
        channels=found,
        worked=worked,
        gains=seen,
        end_gains=ends,
        speeds=speeds,
        lost=lost,
        loose=frozenset(loose),
        dead_time=dead_time,
        dead_band=_dead_band(settings, speeds, found, mount) if control.dead_band is None else control.dead_band,
        gain=control.gain or 1 / (math.e * max(dead_time, settings.step)),
        track=track,
    )
    return replace(made, notes=notes_of(made))


def _worked(mount: Mount, settings: RunSettings) -> tuple[int, ...]:
    known = [each.id for each in mount.cylinders]
    if not known:
        raise BadSettings([Fault("mount", NO_CYLINDER.text, code=NO_CYLINDER.code)])
    chosen = settings.control.cylinders or tuple(known[:2])
    listed = word(", ".join(f"'{each}'" for each in known))
    faults = [
        Fault(
            f"run.control.cylinders[{number}]",
            "there is no cylinder of that name; the cylinders are {names}",
            {"names": listed},
            "no-such-cylinder",
        )
        for number, name in enumerate(chosen)
        if name not in known
    ]
    if len(set(chosen)) < len(chosen):
        faults.append(Fault("run.control.cylinders", "names one cylinder twice; name the one or two to be worked"))
    if faults:
        raise BadSettings(faults)
    return tuple(known.index(each) for each in chosen)


def _channels(seen: Array, settings: RunSettings, names: Sequence[str]) -> Channels:
    try:
        return channels(seen, settings.control.way)
    except ZeroDivisionError:
        text = "{names} cannot bring what is read to grade: they do not move it, or both move it alike"
        listed = word(" and ".join(f"'{each}'" for each in names))
        raise BadSettings([Fault("run.control.cylinders", text, {"names": listed}, "no-channels")]) from None


def _dead_band(settings: RunSettings, speeds: Array, found: Channels, mount: Mount) -> float:
    """The dead band, mm at the end, where none is set."""
    control = settings.control
    if control.valve == "proportional" or mount.valve is None:
        return 0.0
    if control.valve == "on/off":
        late = settings.sensing.delay + control.off_delay + settings.sensing.period
        least = float((speeds.min(axis=1) * found.at_end).max()) * late / 2
    else:
        step = mount.valve.smallest_pulse * MM3_PER_ML / (mount.valve.flow * MM3_PER_LITRE / SECONDS_PER_MINUTE)
        least = float((speeds.max(axis=1) * found.at_end).max()) * step / 2
    return math.ceil(10 * _MARGIN * least) / 10


Tried = Mapping[str, Array]
"""What differs from run to run of a batch, shape (runs,) each, by name: gain, dead_band, hysteresis, flow (a share of
the valve's), late, on_delay, off_delay, shortest (s), lost (a share), left and right (start, mm)."""


def batch_of(made: Rig, seeds: Sequence[int], ground: Tracks, seconds: float, tried: Tried | None = None) -> Batch:
    """The runs of a rig over a ground, one for every seed, ``tried`` in each of them."""
    settings, runs, step = made.settings, len(seeds), made.step
    given = {**made.tuned, **(tried or {})}
    own = {name: np.broadcast_to(np.asarray(each, dtype=float), (runs,)) for name, each in given.items()}
    steps = max(1, math.ceil(seconds / step - 1e-9))
    times = step * np.arange(steps + 1)
    share = shares(settings.load, list(seeds), times)
    valves = Valves(
        kind=settings.control.valve,
        dead_band=own["dead_band"],
        hysteresis=own["hysteresis"],
        gain=own["gain"],
        on_delay=own["on_delay"],
        off_delay=own["off_delay"],
        shortest=own["shortest"] / own["flow"],
        speeds=own["flow"][:, None, None] * made.speeds,
        at_end=made.channels.at_end,
        together=settings.control.way == "decoupled",
        shared=bool(made.mount.valve and made.mount.valve.shared),
    )
    every = made.every
    drawn = [np.random.default_rng([seed, 3]).standard_normal((steps // (every or 1) + 1, 2)) for seed in seeds]
    return Batch(
        plant=made.plant,
        channels=made.channels,
        valves=valves,
        way=settings.control.way,
        step=step,
        every=every,
        late=own["late"],
        start=_start(made, np.stack([own["left"], own["right"]], axis=1), share[:, 0]),
        lost=own["lost"][:, None] * made.lost,
        frame=_frame(made, ground, times, share),
        share=share,
        noise=settings.sensing.noise * np.array(drawn),
        handed_over=np.maximum(own["dead_band"], made.near),
    )


def _start(made: Rig, wanted: Array, share: Array) -> Array:
    """Cylinder lengths that bring the ends as far off grade as wanted, or as far as strokes and cylinders allow."""
    plant = made.plant
    lengths, q = plant.begin(len(wanted))
    undo = np.linalg.pinv(made.end_gains)
    level = np.zeros((len(wanted), 2))
    for _ in range(40):
        stood = plant.stand(lengths, share, q)
        q = np.where(stood.closed[:, None], stood.q, q)
        off = wanted - plant.heights(q, level)[:, LEFT_END : RIGHT_END + 1]
        change = off @ undo.T
        if np.abs(change).max(initial=0.0) < 1e-10:
            break
        lengths = np.clip(lengths + change, plant.shortest, plant.longest)
    return lengths


def _frame(made: Rig, ground: Tracks, times: Array, share: Array) -> Array:
    """Heights of the frame over both tracks where the blade is, mm, shape (runs, 2, times): on ground and tyres."""
    machine, mount = made.settings.machine, made.mount
    way = made.settings.speed * times
    rear, front = ground.at(way), ground.at(way + machine.wheelbase / MM_PER_M)
    frame = np.array(rear + (rear - front) * machine.blade_behind / machine.wheelbase)
    if mount.tyres and mount.load:
        for side, off in enumerate((-1.0, 1.0)):
            lift = rise(mount.tyres, mount.load, mount.load.at[0], made.plant.middle + off * made.track / 2)
            frame[:, side] += share * lift
    return frame
