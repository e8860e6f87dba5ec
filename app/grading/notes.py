"""What is to be said of a run before it: what cannot be controlled, what will hunt, and what nobody entered."""

import math
from typing import TYPE_CHECKING

from app.document.messages import Message, Value, word
from app.grading.channels import stability_limit

if TYPE_CHECKING:
    from app.grading.rig import Rig

_HARDLY_SETTLES = 0.9
"""Share of an error left by a round from which correcting the ends in turn hardly settles."""


def notes_of(made: "Rig") -> list[Message]:
    """All that there is to say, the gravest first."""
    found = [_one_cylinder(made), _in_turn(made), _overshoots(made), _never_rests(made), _rests_outside(made)]
    found += [_chosen(made), _without_tolerance(made)]
    return [each for each in found if each is not None]


def _one_cylinder(made: "Rig") -> Message | None:
    if len(made.worked) > 1:
        return None
    text = "'{name}' alone cannot hold two ends: it brings one of them to grade, the other goes where it goes"
    return Message("one-cylinder", text, made.names, {"name": word(made.names[0])})


def _in_turn(made: "Rig") -> Message | None:
    left = made.channels.left
    if made.settings.control.way != "one after the other" or left is None or abs(left) < _HARDLY_SETTLES:
        return None
    values: dict[str, Value] = {"left": (abs(left), "percent")}
    if abs(left) > 1 - 1e-9:
        text = "one end after the other never settles on this mount: each correction undoes the one before"
        return Message("never-in-turn", text, values=values)
    return Message("hardly-in-turn", "one end after the other hardly settles: a round leaves {left} of the error",
                   values=values)  # fmt: skip


def _overshoots(made: "Rig") -> Message | None:
    """A proportional valve whose gain is past what the dead time allows."""
    if made.settings.control.valve != "proportional" or len(made.worked) < 2:
        return None
    if made.settings.control.way == "one after the other":
        return None
    limit = stability_limit(made.gains @ made.channels.needs) / made.dead_time if made.dead_time else math.inf
    if made.gain < limit:
        return None
    text = "a gain of {gain} never settles with a dead time of {late}: give less than {most}"
    values: dict[str, Value] = {"gain": (made.gain, "rate"), "late": (made.dead_time, "time"), "most": (limit, "rate")}
    return Message("gain-too-high", text, values=values)


def _never_rests(made: "Rig") -> Message | None:
    """An on/off valve too fast for its dead band: it comes to rest where v tau < 2 d, v that of the slower way."""
    settings = made.settings
    if settings.control.valve != "on/off":
        return None
    late = settings.sensing.delay + settings.control.off_delay
    speed = float((made.speeds.min(axis=1) * made.channels.at_end).max())
    if speed * late < 2 * made.dead_band:
        return None
    text = (
        "on/off valves will hunt: the end goes {gone} in a dead time of {late}, more than the whole dead band of "
        "±{band}; give a dead band of {wide} or a slower valve"
    )
    values: dict[str, Value] = {
        "gone": (speed * late, "error"),
        "late": (late, "time"),
        "band": (made.dead_band, "error"),
        "wide": (math.ceil(5 * speed * (late + settings.sensing.period)) / 10, "error"),
    }
    return Message("never-rests", text, values=values)


def _rests_outside(made: "Rig") -> Message | None:
    """A dead band wider than the tolerance: what valves leave alone is not at grade."""
    tolerance, control = made.mount.tolerance, made.settings.control
    if tolerance is None or made.dead_band <= tolerance:
        return None
    values: dict[str, Value] = {"band": (made.dead_band, "error"), "tolerance": (tolerance, "error")}
    if control.dead_band is None and control.valve == "on/off":
        text = (
            "on/off valves this quick come to rest only in a dead band of ±{band}, wider than the tolerance of "
            "±{tolerance}: give less flow, or proportional valves"
        )
        return Message("rests-outside", text, values=values)
    text = "the dead band of ±{band} is wider than the tolerance of ±{tolerance}: an end may rest outside"
    return Message("rests-outside", text, values=values)


def _chosen(made: "Rig") -> Message | None:
    if len(made.mount.cylinders) <= 2 or made.settings.control.cylinders:
        return None
    listed = " and ".join(f"'{each}'" for each in made.names)
    text = "of {count} cylinders {names} are worked; choose others under control"
    count: Value = (float(len(made.mount.cylinders)), "count")
    return Message("chosen", text, made.names, {"names": word(listed), "count": count})


def _without_tolerance(made: "Rig") -> Message | None:
    if made.mount.tolerance is not None:
        return None
    return Message("no-tolerance", "needs a tolerance to say when an end is at grade and how much of the way it is")
