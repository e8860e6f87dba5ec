"""What a designer wants of a mount, and how far it is from it: at the pose it stands in, or over its whole travel."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias, get_args

import numpy as np
from pydantic import ConfigDict

from app.document.errors import BadCommand, Fault
from app.document.models import Mount
from app.document.units import Measure
from app.results.answer import answer
from app.search.family import Family, FamilyPoses
from app.solve.equations import Array
from app.strokes.layers import Layer, layers_of

What: TypeAlias = Literal["error", "coupling", "residual", "load ratio", "pressure", "joint use"]
Over: TypeAlias = Literal["pose", "travel"]
WHATS: tuple[What, ...] = get_args(What)
OVERS: tuple[Over, ...] = get_args(Over)

LABELS: dict[What, str] = {
    "error": "worst error",
    "coupling": "coupling",
    "residual": "left after ends in turn",
    "load ratio": "load ratio",
    "pressure": "pressure",
    "joint use": "joint force over its rating",
}
"""What each goal is called on a form."""

LACKS: dict[What, str] = {
    "error": "it does not close there",
    "coupling": "no cylinder of it tilts the blade",
    "residual": "it has no two cylinders that move the ends in different proportions",
    "load ratio": "it needs a load, and a cylinder that carries it",
    "pressure": "it needs a load or a mass with its centre, and a cylinder",
    "joint use": "it needs a rating at a joint, and a load or a mass with its centre",
}
"""Why a mount has no such number."""

MEASURES: dict[What, Measure] = {
    "error": "error",
    "coupling": "ratio",
    "residual": "ratio",
    "load ratio": "ratio",
    "pressure": "pressure",
    "joint use": "ratio",
}
"""What each goal's number measures."""

LAYERS: dict[What, str] = {
    "error": "worst",
    "residual": "residual",
    "load ratio": "load_ratio",
    "pressure": "pressure",
    "joint use": "use",
}
"""The layer of the travel a goal is about; coupling is about the largest of the cylinders'."""

READ_STEPS = 11
"""Strokes a side over which a goal is read; as many again are between them in no reading."""

SLACK = 1e-9
"""Share by which a number may pass a goal: rounding."""


@dataclass(frozen=True)
class Goal:
    """At most so much of something, of its size where it has a sign."""

    __pydantic_config__ = ConfigDict(use_attribute_docstrings=True)

    what: What
    """What it is about."""
    most: float
    """At most so much, mm, MPa or a plain number."""
    over: Over = "pose"
    """At the pose the mount stands in, or over its whole travel."""


@answer
class GoalRead:
    """A goal and how a mount stands to it."""

    what: What
    """What it is about."""
    most: float
    """At most so much, mm, MPa or a plain number."""
    over: Over
    """At the pose the mount stands in, or over its whole travel."""
    value: float | None
    """How much it is; null where the mount has no such number, or cannot go through its whole travel."""
    met: bool | None
    """Whether it is no more than that; null where there is no number."""


def read_goals(given: object) -> list[Goal]:
    """Goals as they come: ``[{"what": ..., "most": ..., "over": ...}]``. Raises BadCommand with every fault."""
    if not isinstance(given, list) or not given:
        raise BadCommand([Fault("goals", 'is no list of goals; give such as [{"what": "error", "most": 3}]')])
    faults: list[Fault] = []
    goals: list[Goal] = []
    for number, each in enumerate(given):
        place, named = f"goals[{number}]", each if isinstance(each, Mapping) else {}
        what, most, over = named.get("what"), named.get("most"), named.get("over", "pose")
        if what not in WHATS:
            faults.append(Fault(f"{place}.what", f"is none of {', '.join(WHATS)}; give one of them"))
        elif any(what == other.what and over == other.over for other in goals):
            faults.append(Fault(place, "is there twice; leave one out"))
        if isinstance(most, bool) or not isinstance(most, int | float) or not 0 <= most < math.inf:
            faults.append(Fault(f"{place}.most", "is no number from 0 on; give how much there may be at most"))
        if over not in OVERS:
            faults.append(Fault(f"{place}.over", "is neither 'pose' nor 'travel'; give one of them"))
        if unknown := set(named) - {"what", "most", "over"}:
            faults.append(
                Fault(f"{place}.{min(map(str, unknown))}", "is no part of a goal; known are what, most, over")
            )
        if not faults:
            goals.append(Goal(what, float(most), over))  # type: ignore[arg-type]
    if faults:
        raise BadCommand(faults)
    return goals


def judged(
    mount: Mount, command: Mapping[str, float], goals: Sequence[Goal], steps: int = READ_STEPS
) -> list[GoalRead]:
    """How a located mount stands to each goal."""
    one = Family(mount, (), np.zeros((1, 0)))
    values = measured(one, command, goals, steps)[0]
    return [
        GoalRead(
            goal.what,
            goal.most,
            goal.over,
            float(value) if math.isfinite(value) else None,
            bool(value <= goal.most * (1 + SLACK)) if math.isfinite(value) else None,
        )
        for goal, value in zip(goals, values.tolist(), strict=True)
    ]


def measured(family: Family, command: Mapping[str, float], goals: Sequence[Goal], steps: int) -> Array:
    """The number of every goal for every member, shape (members, goals); infinite where it has none."""
    poses = poses_of(family, command, {goal.over for goal in goals}, steps)
    layers = {over: layers_of(found.poses) if len(found.poses) else {} for over, found in poses.items()}
    columns = [_of_goal(poses[goal.over], layers[goal.over], goal.what) for goal in goals]
    return np.stack(columns, axis=1) if columns else np.zeros((len(family), 0))


def poses_of(
    family: Family, command: Mapping[str, float], overs: Iterable[Over], steps: int
) -> dict[Over, FamilyPoses]:
    """The poses that goals are read at: those the command asks for, and those over the travel."""
    asked = np.array([[float(command.get(each.id, 0.0)) for each in family.mount.cylinders]])
    return {over: family.over_travel(steps) if over == "travel" else family.of_strokes(asked) for over in overs}


def _of_goal(poses: FamilyPoses, layers: dict[str, Layer], what: What) -> Array:
    if what == "coupling":
        found = [poses.largest(layer) for name, layer in layers.items() if name.startswith("coupling:")]
        return np.max(found, axis=0) if found else np.full(len(poses.reached), np.inf)
    if LAYERS[what] not in layers:
        return np.full(len(poses.reached), np.inf)
    return poses.largest(layers[LAYERS[what]])


def excess(values: Array, goals: Sequence[Goal]) -> Array:
    """By what share each number passes its goal, 0 where it does not, shape as ``values``."""
    most = np.array([goal.most for goal in goals])
    floor = np.maximum(most, _LEAST)
    over: Array = np.maximum(values - most * (1 + SLACK), 0.0) / floor
    return over


_LEAST: Any = 1e-3
"""A goal of nought is passed by shares of this."""
