"""What a run is set to: machine, ground, receivers and valves, every default said where the field stands."""

import math
from typing import Annotated, Literal, TypeAlias

from pydantic import BaseModel, ConfigDict, Field

from app.document.parts import Coordinate, EndName, Length, Name, measured

Channel: TypeAlias = Literal["two heights", "height and cross fall"]
Way: TypeAlias = Literal["each its own", "decoupled", "one after the other"]
ValveKind: TypeAlias = Literal["on/off", "pulsed", "proportional"]
LoadKind: TypeAlias = Literal["none", "steady", "wandering"]
Side: TypeAlias = Literal["left", "right", "both"]
RoughClass: TypeAlias = Literal["A", "B", "C", "D"]

_FINITE = {"strict": True, "allow_inf_nan": False}
Seconds = Annotated[float, Field(**_FINITE, ge=0, le=10)]
Height = Annotated[float, Field(**_FINITE, ge=-500, le=500)]
Small = Annotated[float, Field(**_FINITE, ge=0, le=500)]
Metres = Annotated[float, Field(**_FINITE, ge=0, le=1000)]

MM_PER_M = 1000.0
MOST_SEEDS = 64
MOST_STEPS = 60_000
MOST_PASSES = 5
MOST_READINGS_LATE = 1000
"""How many readings old the one may be that a valve answers."""
FINEST_S = 0.001
"""The finest step."""
TRACK_MM, WHEELBASE_MM, BEHIND_MM = 1800.0, 2500.0, 1500.0
"""A utility tractor with the blade on its hitch: where neither document nor settings say otherwise."""


class Setting(BaseModel):
    """Any part of the settings: fixed once read, and no key goes unnoticed."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Flat(Setting):
    """Level ground."""

    kind: Literal["flat"] = Field(description="level ground")


class Obstacle(Setting):
    """A step that stays, or a bump half a sine of 0.6 m long; a negative height is a rut."""

    kind: Literal["step", "bump"] = Field(description="a step that stays, or a bump 0.6 m long")
    height: Height = measured("error", "height", "height, - for a rut; default 30 mm", default=30.0)
    side: Side = Field(default="left", description="under which wheels: 'left', 'right' or 'both'; default 'left'")
    at: Metres = measured("way", "at", "how far along the way it begins; default 8 m", default=8.0)


class Waves(Setting):
    """Long waves, alike under both sides."""

    kind: Literal["waves"] = Field(description="waves alike under both sides")
    height: Small = measured("error", "height", "height from trough to crest; default 40 mm", default=40.0)
    length: Annotated[float, Field(**_FINITE, ge=0.1, le=1000)] = measured(
        "way", "length", "length of a wave; default 6 m", default=6.0
    )


class Rough(Setting):
    """Random ground of a class of ISO 8608."""

    kind: Literal["rough"] = Field(description="random ground of a class of ISO 8608")
    roughness: RoughClass = Field(default="C", alias="class", description="class of ISO 8608, A to D; default C")


Ground: TypeAlias = Annotated[Flat | Obstacle | Waves | Rough, Field(discriminator="kind")]


class Machine(Setting):
    """The machine that carries the mount."""

    track: Length | None = measured(
        "length",
        "track",
        "distance of left and right wheels; default that of the document's tyres, else 1800 mm",
        default=None,
    )
    wheelbase: Length = measured("length", "wheelbase", "front to rear axle; default 2500 mm", default=WHEELBASE_MM)
    blade_behind: Coordinate = measured(
        "length",
        "blade behind the rear axle",
        "how far the blade is behind the rear axle, - between the axles; default 1500 mm",
        default=BEHIND_MM,
    )


class Start(Setting):
    """How far each end is off grade at the start, + too high."""

    left: Height = measured("error", "left", "left end at the start, + too high; default 0 mm", default=0.0)
    right: Height = measured("error", "right", "right end at the start, + too high; default 0 mm", default=0.0)


class Sensing(Setting):
    """The receivers and what they tell."""

    what: Channel = Field(
        default="two heights", description="'two heights' or 'height and cross fall'; default 'two heights'"
    )
    noise: Small = measured("error", "noise", "standard deviation of a reading; default 0 mm", default=0.0)
    period: Seconds = measured(
        "time", "reads every", "time between readings, 0: reads all the time; default 0.05 s", default=0.05
    )
    delay: Seconds = measured("time", "late by", "how late a reading is; default 0.05 s", default=0.05)


class Control(Setting):
    """How readings become oil."""

    way: Way = Field(
        default="each its own",
        description="'each its own' cylinder, 'decoupled': both move so that one end rises alone, or "
        "'one after the other': an operator; default 'each its own'",
    )
    valve: ValveKind = Field(
        default="proportional", description="'on/off', 'pulsed' or 'proportional'; default 'proportional'"
    )
    dead_band: Small | None = measured(
        "error",
        "dead band ±",
        "error up to which nothing is done; default 0 for a proportional valve, the band at which it rests for an "
        "on/off valve, half the smallest pulse's step for a pulsed one",
        default=None,
    )
    hysteresis: Small = measured(
        "error", "hysteresis", "how far inside the dead band an on/off valve shuts; default 0 mm", default=0.0
    )
    gain: Annotated[float, Field(**_FINITE, gt=0, le=1000)] | None = measured(
        "rate",
        "gain",
        "speed per error at the end; default 1/(e tau), the quickest without overshoot, tau the whole dead time",
        default=None,
    )
    on_delay: Seconds = measured("time", "opens after", "delay of a valve that opens; default 0.05 s", default=0.05)
    off_delay: Seconds = measured("time", "shuts after", "delay of a valve that shuts; default 0.05 s", default=0.05)
    cylinders: Annotated[tuple[Name, ...], Field(strict=False, min_length=1, max_length=2)] | None = Field(
        default=None, description="the one or two cylinders that are worked, by id; default the first two"
    )


class RunSettings(Setting):
    """A grading run."""

    seconds: Annotated[float, Field(**_FINITE, ge=1, le=600)] = measured(
        "time", "lasts", "how long it lasts; default 60 s", default=60.0
    )
    step: Annotated[float, Field(**_FINITE, ge=FINEST_S, le=0.25)] = measured(
        "time", "step", "time between two points of the answer; default 0.01 s", default=0.01
    )
    seed: Annotated[int, Field(strict=True, ge=0, le=2**31)] = Field(
        default=1, description="seed of ground, noise and load: the same seed is the same run; default 1"
    )
    seeds: Annotated[int, Field(strict=True, ge=1, le=MOST_SEEDS)] = Field(
        default=1, description="how many seeds from that one on, for means with their intervals; default 1"
    )
    speed: Annotated[float, Field(**_FINITE, ge=0, le=10)] = measured(
        "pace", "travels at", "travel speed; default 0.8 m/s", default=0.8
    )
    passes: Annotated[int, Field(strict=True, ge=1, le=MOST_PASSES)] = Field(
        default=1, description="passes over the same ground, each on what the one before it left; default 1"
    )
    ground: Ground = Field(default=Flat(kind="flat"), description="the ground; default level")
    machine: Machine = Field(default=Machine(), description="the machine that carries the mount")
    start: Start = Field(default=Start(), description="how far the ends are off grade at the start")
    load: LoadKind = Field(
        default="steady",
        description="the document's load on the edge: 'none', 'steady', or 'wandering' between none and all of it; "
        "default 'steady', none where the document has none",
    )
    sensing: Sensing = Field(default=Sensing(), description="the receivers")
    control: Control = Field(default=Control(), description="channels and valves")


def grid(settings: RunSettings) -> tuple[int, float]:
    """Steps from reading to reading, and the step, s: as set, or a little less, so that readings fall on a step.

    No steps where receivers read all the time.
    """
    period, step = settings.sensing.period, settings.step
    every = max(1, math.ceil(period / step - 1e-9)) if period else 0
    return every, period / every if every else step


def soonest(settings: RunSettings) -> float:
    """How soon after a reading a valve can do anything about it, s."""
    control = settings.control
    delay = control.on_delay if control.valve == "proportional" else min(control.on_delay, control.off_delay)
    return settings.sensing.delay + delay


def is_drawn(settings: RunSettings) -> bool:
    """Whether anything of a run is drawn at random, so that another seed is another run."""
    return settings.ground.kind == "rough" or settings.sensing.noise > 0 or settings.load == "wandering"


def step_for(settings: RunSettings, late: float) -> float:
    """The step, or a finer one where valves would follow their readings within it, ``late`` s after them."""
    return settings.step if settings.sensing.period else max(FINEST_S, min(settings.step, late))


def way_ahead(machine: Machine) -> float:
    """How far the front wheels run ahead of the blade, m: what a pass has to cut further for the next one."""
    return max(0.0, machine.wheelbase + machine.blade_behind) / MM_PER_M


OTHER_SIDE: dict[Side, Side] = {"left": "right", "right": "left", "both": "both"}


def sides_of(side: Side) -> tuple[EndName, ...]:
    """The ends a side stands for."""
    return ("left", "right") if side == "both" else (side,)
