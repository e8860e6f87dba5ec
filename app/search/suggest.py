"""Suggestions for the goal that fails worst: each is made and measured again, and says what it does to every goal."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache

import numpy as np

from app.analysis import Analysis
from app.document.dimensions import first_broken
from app.document.errors import BadDocument
from app.document.messages import Message, word
from app.document.models import Mount, as_document
from app.document.parts import EndName
from app.document.units import System
from app.results.answer import answer
from app.results.coupling import movements
from app.search.boxes import value_at
from app.search.family import Free, member_of
from app.search.goals import Goal, GoalRead, judged
from app.search.search import Problem, tried
from app.search.tries import Try, tries
from app.shipped import shipped_mounts

MOST = 8
"""Suggestions at one time."""

_WORTH = 0.01
"""Share by which a number has to fall for a change to be suggested."""

ONE_CYLINDER = Message(
    "one-cylinder",
    "the one cylinder gives the blade one movement, wherever its joints are: no move of them lets it correct one end "
    "and leave the other. A mount with two cylinders, one near each end, does",
)
NOTHING_HELPS = Message(
    "nothing-helps",
    "no single change that was tried lowers this number without spoiling the mount: try a search, or another kind of "
    "mount",
)
ALL_MET = Message("all-met", "every goal is met")


@answer
class Suggestion:
    """A change that was made and measured again."""

    says: Message
    """The change, in words."""
    centre: Message | None
    """Where the blade then turns about while a cylinder works, where that is what coupling is about."""
    before: float
    """The number of the failing goal now."""
    after: float
    """The same after the change."""
    goals: list[GoalRead]
    """How the changed mount stands to every goal."""
    spoils: list[str]
    """Goals that are met now and would not be, by what they are about."""
    mount: dict[str, object]
    """The changed mount document."""


@answer
class Suggested:
    """Suggestions."""

    goals: list[GoalRead]
    """How the mount stands to every goal."""
    worst: int | None
    """The goal that fails worst, by its place among them; null where none fails."""
    suggestions: list[Suggestion]
    """Those that meet the goal first, then by what is left of it."""
    says: list[Message]
    """What there is to say besides."""
    kinds: list[str]
    """Shipped mounts that meet the goal, by name, where another kind of mount is what helps."""


def suggest(
    mount: Mount, command: Mapping[str, float], goals: Sequence[Goal], system: System, locked: Sequence[str] = ()
) -> Suggested:
    """What to change for the goal that fails worst. ``locked``: joints and members that stay as they are, by name."""
    now = judged(mount, command, goals)
    worst = _failing(now)
    if worst is None:
        return Suggested(now, None, [], [ALL_MET] if all(each.met for each in now) else [], [])
    made = [each for each in tries(mount, system) if _is_free(each, locked)]
    found = _found(Problem(mount, command, tuple(goals), ()), now, worst, made)
    alone = goals[worst].what in ("coupling", "residual") and len(mount.cylinders) == 1
    says = [ONE_CYLINDER] if alone else [] if found else [NOTHING_HELPS]
    kinds = [name for name in shipped_mounts() if _meets(name, goals[worst])] if alone else []
    return Suggested(now, worst, found, says, kinds)


def _failing(now: Sequence[GoalRead]) -> int | None:
    """The goal that is passed by the largest share, by its place."""
    shares = [(each.value or 0.0) / max(each.most, 1e-3) if each.met is False else -math.inf for each in now]
    worst = int(np.argmax(shares)) if shares else 0
    return worst if shares and shares[worst] > -math.inf else None


def _is_free(each: Try, locked: Sequence[str]) -> bool:
    return not any(place.startswith((f"{name}.", f"{name} / ")) for place, _ in each.sets for name in locked)


def _found(problem: Problem, now: Sequence[GoalRead], worst: int, made: list[Try]) -> list[Suggestion]:
    """The tries that lower the number of the failing goal, made and measured again."""
    mount, goals = problem.mount, problem.goals
    places = list(dict.fromkeys(place for each in made for place, _ in each.sets))
    bases = {place: value_at(mount, place) for place in places}
    free = tuple(Free(place, ((place, base, 1.0),), base, base, base) for place, base in bases.items())
    columns = {place: column for column, place in enumerate(places)}
    values = np.tile([bases[place] for place in places], (len(made), 1))
    for row, each in enumerate(made):
        for place, value in each.sets:
            values[row, columns[place]] = value
    found, _, faults = tried(replace(problem, free=free), values)
    before = now[worst].value or 0.0
    best: dict[str, int] = {}
    for row in np.flatnonzero((faults == 0) & (found[:, worst] < before * (1 - _WORTH))).tolist():
        family = made[row].family
        if family not in best or _rank(found, row, goals, worst, made) < _rank(found, best[family], goals, worst, made):
            best[family] = row
    order = sorted(best.values(), key=lambda row: _order(found, row, goals, now, worst))
    listed: list[Suggestion] = []
    for row in order:
        suggestion = _made(replace(problem, free=free), now, worst, made[row], values[row].tolist())
        if suggestion:
            listed.append(suggestion)
        if len(listed) == MOST:
            break
    return listed


def _rank(found: np.ndarray, row: int, goals: Sequence[Goal], worst: int, made: list[Try]) -> tuple[bool, float]:
    """Of a family: the smallest step that meets the goal, else the one that comes nearest."""
    meets = bool(found[row, worst] <= goals[worst].most)
    return not meets, made[row].step if meets else float(found[row, worst])


def _order(
    found: np.ndarray, row: int, goals: Sequence[Goal], now: Sequence[GoalRead], worst: int
) -> tuple[int, bool, float]:
    spoiled = sum(
        1 for column, goal in enumerate(goals) if now[column].met and not found[row, column] <= goal.most * (1 + 1e-9)
    )
    return spoiled, bool(found[row, worst] > goals[worst].most), float(found[row, worst])


def _made(problem: Problem, now: Sequence[GoalRead], worst: int, each: Try, values: list[float]) -> Suggestion | None:
    """A try made of the mount and measured again; None where document, stroke or a held dimension does not allow it."""
    try:
        changed = member_of(problem.mount, problem.free, values)
    except BadDocument:
        return None
    goals, mount = problem.goals, problem.mount
    if first_broken(mount.dimensions, mount.held_places, changed.held_places):
        return None
    analysis = Analysis(changed, dict(problem.command))
    if not analysis.located or analysis.pose.stopped:
        return None
    again = judged(changed, problem.command, goals)
    before, after = now[worst].value, again[worst].value
    if before is None or after is None:
        return None
    spoils = [goal.what for goal, was, is_ in zip(goals, now, again, strict=True) if was.met and not is_.met]
    centre = _centre(analysis) if goals[worst].what in ("coupling", "residual") else None
    return Suggestion(each.says, centre, before, after, again, list(spoils), dict(as_document(changed)))


def _centre(analysis: Analysis) -> Message | None:
    """Where the blade turns about while the cylinder with the largest coupling works."""
    known = {name: each for name, each in movements(analysis).items() if each.coupling is not None}
    if not known:
        return None
    name = max(known, key=lambda each: abs(known[each].coupling or 0.0))
    centre, ends = known[name].instant_centre, analysis.ends
    if centre is None:
        return None
    end: EndName = "right" if known[name].lead == "left" else "left"
    away = abs(centre[0] - ends[end][0])
    text = f"under '{{name}}' the blade then turns about a point {{away}} level from its {end} end"
    return Message("centre", text, [name], {"name": word(name), "away": (away, "length")})


@cache
def _meets(name: str, goal: Goal) -> bool:
    """Whether a shipped mount meets a goal as it is drawn."""
    mount = shipped_mounts()[name]
    return len(mount.cylinders) == 2 and bool(judged(mount, {}, [goal])[0].met)
