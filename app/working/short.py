"""The working in short: a few plain sentences with this mount's own numbers, for a page to leave behind."""

import math

from app.analysis import Analysis
from app.document.messages import Value, word
from app.document.parts import OTHER, Point
from app.results.actuators import Actuator, actuators
from app.results.answer import answer
from app.results.budget import budget
from app.results.dial import SHOWN_MM, load_test
from app.results.forces import joint_forces


@answer
class ShortLine:
    """One sentence of the working."""

    key: str
    """Stable name of what it works out."""
    text: str
    """The sentence, with ``{name}`` where a value stands."""
    values: dict[str, Value]
    """What stands at each place: [number, quantity], or [words, kind]."""
    paths: dict[str, list[str | int]]
    """Where the readout holds the values that stand there too, by place."""


def short_working(analysis: Analysis) -> list[ShortLine]:
    """Coupling of the cylinder that couples most, load and pressure of the one that works hardest, the largest play.

    And what dials read under the load, and the joint whose rating stall uses most.
    """
    if not analysis.located:
        return []
    made = (_coupling, _load, _pressure, _play, _dials, _stall)
    lines = [make(analysis) for make in made]
    return [line for line in lines if line]


def farthest(analysis: Analysis) -> str | None:
    """The cylinder whose coupling is farthest from zero; the later one when equal."""
    best: str | None = None
    for name, each in actuators(analysis).items():
        size = abs(each.coupling or 0.0)
        if best is None or size >= abs(actuators(analysis)[best].coupling or 0.0) - 1e-9:
            best = name
    return best


def hardest(analysis: Analysis) -> tuple[str, Actuator] | None:
    """The cylinder that works hardest under the load; the first when equal."""
    loaded = [(name, each) for name, each in actuators(analysis).items() if each.load_ratio is not None]
    return max(loaded, key=lambda pair: pair[1].load_ratio or 0.0, default=None)


def _coupling(analysis: Analysis) -> ShortLine | None:
    name = farthest(analysis)
    if name is None or (act := actuators(analysis)[name]).coupling is None:
        return None
    values: dict[str, Value] = {"name": word(name), "coupling": (act.coupling, "ratio")}
    paths: dict[str, list[str | int]] = {"coupling": ["actuators", name, "coupling"]}
    if act.instant_centre is None:
        text = "{name} shifts the blade without turning it: coupling {coupling}."
        return ShortLine("coupling", text, values, paths)
    reach = {end: x - act.instant_centre[0] for end, (x, _) in analysis.ends.items()}
    top, bottom = reach[OTHER[act.lead]], reach[act.lead]
    values |= {
        "left": (abs(reach["left"]), "length"),
        "right": (abs(reach["right"]), "length"),
        "top": (math.copysign(top, top * bottom), "length"),
        "bottom": (abs(bottom), "length"),
    }
    text = (
        "When {name} moves, the blade turns about a point {left} from the left end and {right} from the right end on "
        "the level: coupling = {top} / {bottom} = {coupling}."
    )
    return ShortLine("coupling", text, values, paths)


def _load(analysis: Analysis) -> ShortLine | None:
    """Moments about the instant centre where the cylinder holds the blade itself, else virtual work."""
    found, load = hardest(analysis), analysis.mount.load
    if found is None or load is None or found[1].load_ratio is None or found[1].force is None:
        return None
    name, act = found
    values: dict[str, Value] = {
        "name": word(name),
        "size": (math.hypot(*load.force), "force"),
        "ratio": (found[1].load_ratio, "ratio"),
        "force": (abs(found[1].force), "force"),
    }
    paths: dict[str, list[str | int]] = {
        "ratio": ["actuators", name, "load_ratio"],
        "force": ["actuators", name, "force"],
    }
    arms = _arms(analysis, name, act)
    if arms is None:
        text = (
            "While {name} lengthens, the load's point moves {ratio} times as far along the load, so the cylinder "
            "carries {ratio} times the load, {size} × {ratio} = {force}."
        )
        return ShortLine("load", text, values, paths)
    values |= {"load_arm": (arms[0], "length"), "arm": (arms[1], "length")}
    text = (
        "Moments about the point the blade turns on when {name} moves: the load on an arm of {load_arm}, the cylinder "
        "on {arm}: {load_arm} / {arm} = {ratio} times the load, {size} × {ratio} = {force}."
    )
    return ShortLine("load", text, values, paths)


def _arms(analysis: Analysis, name: str, act: Actuator) -> tuple[float, float] | None:
    """Arms of load and cylinder about the instant centre, mm; None where their ratio is not the load's."""
    load = analysis.mount.load
    if act.instant_centre is None or load is None or act.load_ratio is None:
        return None
    number = [each.id for each in analysis.mount.members].index(name)
    (ax, ay), (bx, by) = analysis.standing[number].first, analysis.standing[number].second
    cylinder = _arm(act.instant_centre, (ax, ay), (bx - ax, by - ay))
    arm = _arm(act.instant_centre, analysis.on_blade(load.at), load.force)
    if cylinder <= 1e-6 or abs(arm / cylinder - act.load_ratio) >= 1e-6 * max(act.load_ratio, 1.0):
        return None
    return arm, cylinder


def _arm(centre: Point, at: Point, way: Point) -> float:
    return abs((at[0] - centre[0]) * way[1] - (at[1] - centre[1]) * way[0]) / math.hypot(*way)


def _pressure(analysis: Analysis) -> ShortLine | None:
    found = hardest(analysis)
    if found is None or not found[1].pressure or found[1].force is None:
        return None
    name, act = found
    cylinder = next(each for each in analysis.mount.cylinders if each.id == name)
    values: dict[str, Value] = {
        "name": word(name),
        "side": word(str(act.side)),
        "force": (abs(act.force or 0.0), "force"),
        "area": (cylinder.carrying_area(act.force or 0.0), "area"),
        "pressure": (abs(act.pressure or 0.0), "pressure"),
    }
    paths: dict[str, list[str | int]] = {
        "force": ["actuators", name, "force"],
        "pressure": ["actuators", name, "pressure"],
    }
    text = "The load alone on the {side} side of {name}: {force} / {area} = {pressure}"
    if act.relief is None:
        return ShortLine("pressure", f"{text}.", values, paths)
    values |= {"relief": (act.relief, "pressure")}
    paths |= {"relief": ["actuators", name, "relief"]}
    return ShortLine("pressure", f"{text} of {{relief}} relief.", values, paths)


def _play(analysis: Analysis) -> ShortLine | None:
    """The play that counts most at the worse end."""
    totals = budget(analysis)
    end = totals.worse_end
    upward, entries = totals.of(end).upward, totals.of(end).sources
    clearances = {name: part.clearance for name, _, part, _ in analysis.mount.joints}
    for place, each in enumerate(entries):
        size = abs(each.high if upward else each.low)
        if each.kind == "clearance" and size:
            clearance = clearances[each.id]
            values: dict[str, Value] = {
                "joint": (each.id, "joint"),
                "clearance": (clearance, "error"),
                "times": (size / (clearance / 2), "ratio"),
                "end": word(end),
                "moved": (size, "error"),
            }
            text = "Play of {joint}: half of {clearance}, seen {times} times as large at the {end} end: {moved}."
            path = ["budget", end, "sources", place, "high" if upward else "low"]
            return ShortLine("play", text, values, {"moved": path})
    return None


def _dials(analysis: Analysis) -> ShortLine | None:
    """What dial gauges at the ends read when the load comes on."""
    found = load_test(analysis)
    if found is None:
        return None
    values: dict[str, Value] = {"left": (found.left, "error"), "right": (found.right, "error")}
    paths: dict[str, list[str | int]] = {end: ["dial", end] for end in ("left", "right")}
    text = "Dials at the ends, set to zero under the weight alone, read {left} left and {right} right under the load"
    most = max(found.unsure.left, found.unsure.right)
    if most < SHOWN_MM:
        return ShortLine("dials", f"{text}.", values, paths)
    end = "left" if found.unsure.left == most else "right"
    values["unsure"], paths["unsure"] = (most, "error"), ["dial", "unsure", end]
    return ShortLine("dials", f"{text}, ±{{unsure}} at most for play whose side is not known.", values, paths)


def _stall(analysis: Analysis) -> ShortLine | None:
    """The joint whose rating stall uses most."""
    forces = joint_forces(analysis)
    rated = {name: each.stall / each.rating for name, each in forces.items() if each.stall and each.rating}
    if not rated:
        return None
    name = max(rated, key=lambda each: rated[each])
    found = forces[name]
    values: dict[str, Value] = {
        "joint": (name, "joint"),
        "stall": (found.stall or 0.0, "force"),
        "rating": (found.rating or 0.0, "force"),
    }
    paths: dict[str, list[str | int]] = {key: ["forces", name, key] for key in ("stall", "rating")}
    text = "At stall {joint} carries {stall} of the {rating} it is rated for, if the port relief is set so."
    return ShortLine("stall", text, values, paths)
