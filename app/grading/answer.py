"""A run as it leaves: plain lists for anyone, and pieces of it for a page that draws while it is being made."""

from collections.abc import Iterator

import numpy as np

from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName, Point
from app.grading.grade import Making, Run, run
from app.grading.seeds import OverSeeds
from app.grading.settings import RunSettings, is_drawn
from app.grading.stepping import Simulation
from app.grading.summary import RunSummary
from app.results.answer import answer
from app.solve.equations import Array

_DIGITS = 4
"""Decimals of numbers in a row over time: mm, s, m and shares."""


@answer
class Used:
    """What settings came to where they were left open, and what follows from them."""

    gain: float
    """Gain of the channels, 1/s."""
    dead_band: float
    """Dead band, mm."""
    dead_time: float
    """From a height to what a valve does about it, s, half the time between readings included."""
    track: float
    """Distance of left and right wheels, mm."""
    step: float
    """Time between two points, s."""
    load: str
    """What the load does: none, steady or wandering."""
    lost_motion: dict[str, float]
    """Lost motion of every worked cylinder, mm of its length, by id."""
    paired: dict[str, EndName]
    """The reading each worked cylinder is paired with, by id: the left height, or the right one or the cross fall."""


@answer
class Ran:
    """A run: rows over time, of the first seed and the last pass; what it comes to."""

    time: list[float]
    """Time, s."""
    travel: list[float]
    """Way of the machine, m."""
    left: list[float]
    """Left end of the edge, mm off grade, + too high."""
    right: list[float]
    """Right end of the edge, mm off grade, + too high."""
    sensors: dict[EndName, list[float]]
    """What the receivers see, mm off grade; with a cross fall on the right, what that is out by between them."""
    ground: dict[EndName, list[float]]
    """The ground under the blade at both wheel tracks before it came, mm above its mean."""
    lengths: dict[str, list[float]]
    """Length of every worked cylinder, mm, by id."""
    commands: dict[str, list[float]]
    """Share of the full flow to every worked cylinder over the step that begins there, + longer, by id."""
    summary: RunSummary
    """What it comes to."""
    passes: list[RunSummary]
    """What each pass before the last came to."""
    seeds: OverSeeds | None
    """Means over all seeds with their intervals; null with one seed."""
    used: Used
    """What was left open in the settings, worked out."""
    notes: list[Message]
    """What is to be said of the mount under these settings, and what happened on the way."""


@answer
class Summed:
    """What a run comes to, without its rows: for a table of many."""

    summary: RunSummary
    """What the first seed comes to."""
    seeds: OverSeeds | None
    """Means over all seeds with their intervals and the worst; null with one seed, or where nothing is drawn."""
    notes: list[Message]
    """What is to be said of the mount under these settings, and what happened on the way."""


@answer
class Piece:
    """A stretch of a run that is being made, for a page that draws it meanwhile."""

    share: float
    """How much of the whole is made, 0 to 1."""
    begins: int
    """The number of its first point; 0 begins anew."""
    step: float
    """Time between two points, s."""
    left: list[float]
    """Left end, mm off grade."""
    right: list[float]
    """Right end, mm off grade."""
    ground: dict[EndName, list[float]]
    """The ground before, mm."""
    lengths: dict[str, list[float]]
    """Cylinder lengths, mm, by id."""
    commands: dict[str, list[float]]
    """Shares of the full flow, by id."""
    stood_at: list[int]
    """The points at which the bodies are told."""
    stood: dict[str, list[tuple[float, float, float]]]
    """Where every moving body stands at them, by name: x and y of its reference point, mm, and its turn, degrees."""
    frame: dict[EndName, list[float]]
    """Height of the frame over both wheel tracks at the same points, mm."""


@answer
class Live:
    """A run as it comes: a piece, and with the last of them what the run comes to."""

    piece: Piece
    """The piece."""
    summary: RunSummary | None
    """What the run comes to; null before the end."""
    seeds: OverSeeds | None
    """Means over all seeds; null before the end and with one seed."""
    used: Used
    """What was left open in the settings, worked out."""
    drawn: dict[str, Point]
    """Where the reference point of every moving body is as drawn, mm, by name."""
    notes: list[Message]
    """What is to be said."""


def ran(made: Run) -> Ran:
    """The answer of a run."""
    return Ran(
        time=_row(made.times),
        travel=_row(made.travel),
        left=_row(made.errors["left"]),
        right=_row(made.errors["right"]),
        sensors={end: _row(made.sensors[end]) for end in ENDS},
        ground={end: _row(made.ground[end]) for end in ENDS},
        lengths={name: _row(own) for name, own in made.lengths.items()},
        commands={name: _row(own) for name, own in made.commands.items()},
        summary=made.summary,
        passes=made.passes,
        seeds=made.mean if len(made.summaries) > 1 else None,
        used=used(made),
        notes=made.notes,
    )


def summed(mount: Mount, settings: RunSettings) -> Summed:
    """The run of a mount in numbers alone; where nothing of it is drawn at random, one seed tells all."""
    made = run(mount, settings if is_drawn(settings) else settings.model_copy(update={"seeds": 1}))
    return Summed(made.summary, made.mean if len(made.summaries) > 1 else None, made.notes)


def used(made: Run | Making) -> Used:
    """What settings came to."""
    rig = made.rig
    return Used(
        gain=rig.gain,
        dead_band=rig.dead_band,
        dead_time=rig.dead_time,
        track=rig.track,
        step=rig.step,
        load=rig.settings.load,
        lost_motion=dict(zip(rig.names, rig.lost.tolist(), strict=True)),
        paired={name: ENDS[place] for name, place in zip(rig.names, rig.channels.paired, strict=True)},
    )


def live(mount: Mount, settings: RunSettings) -> Iterator[Live]:
    """A run as it is being made, in pieces; of several passes the last alone."""
    making = Making(mount, settings)
    known, before, simulation = used(making), 0, making.simulation
    drawn = dict(zip(mount.moving, making.rig.analysis.assembly.references, strict=True))
    for share in making.go():
        if making.simulation is not simulation:
            simulation, before = making.simulation, 0
        piece = _piece(making, simulation, before, share)
        before = simulation.at
        if share < 1:
            yield Live(piece, None, None, known, drawn, making.rig.notes)
    made = making.made()
    yield Live(piece, made.summary, made.mean if len(made.summaries) > 1 else None, known, drawn, made.notes)


def _piece(making: Making, simulation: Simulation, before: int, share: float) -> Piece:
    trace, rig, last = simulation.trace, making.rig, simulation.at
    points = slice(before + (before > 0), last + 1)
    ground = making.ground_under(trace.times[points])
    flows = np.concatenate([trace.flows[0], trace.flows[0, -1:]])
    stood = [(step, q) for step, q in trace.stood if points.start <= step <= last]
    steps = [step for step, _ in stood]
    q = np.array([own for _, own in stood])
    frame = simulation.batch.frame[0]
    return Piece(
        share=round(share, _DIGITS),
        begins=points.start,
        step=simulation.batch.step,
        left=_row(trace.heights[0, points, 0]),
        right=_row(trace.heights[0, points, 1]),
        ground={end: _row(ground[number]) for number, end in enumerate(ENDS)},
        lengths={name: _row(trace.lengths[0, points, number]) for number, name in enumerate(rig.names)},
        commands={name: _row(flows[points, number]) for number, name in enumerate(rig.names)},
        stood_at=steps,
        stood={
            body: [(x, y, turn) for x, y, turn in _placed(q[:, 3 * number : 3 * number + 3])]
            for number, body in enumerate(rig.mount.moving)
        },
        frame={end: _row(frame[number, steps]) for number, end in enumerate(ENDS)},
    )


def _placed(q: Array) -> list[list[float]]:
    placed: list[list[float]] = np.round(q * (1.0, 1.0, 180 / np.pi), _DIGITS).tolist()
    return placed


def _row(values: Array) -> list[float]:
    row: list[float] = np.round(values, _DIGITS).tolist()
    return row
