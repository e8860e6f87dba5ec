"""Where the ends are asked to be: the strokes that bring them there, and which ends a mount can bring at all."""

from collections.abc import Mapping

import numpy as np

from app.analysis import Analysis
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.results.answer import answer
from app.results.coupling import coupling, movements

MET_MM = 0.001
"""An end is where it is asked to be when it is no farther off."""

_MOVES_NOTHING = 1e-6
"""Movement per mm below which a cylinder does not move an end."""

_MOST_TRIES = 8
"""Newton's steps toward the heights asked for; two or three do."""


@answer
class Reach:
    """What became of heights asked of the ends."""

    served: list[EndName]
    """The ends this mount can bring where they are asked to be."""
    met: bool
    """Whether those are there."""


def reach(mount: Mount, strokes: Mapping[str, object], asked: Mapping[EndName, float]) -> tuple[Analysis, Reach]:
    """Work the cylinders, from where ``strokes`` bring them, until the ends stand ``asked`` mm above where drawn.

    By the moves that correct one end alone where there are such, with the least strokes where many moves do it, else
    for one end with the cylinder that moves it most. Asked for nothing at either end, the mount stands as drawn. Needs
    a located mount. Raises BadCommand.
    """
    if not any(asked.values()):
        analysis = Analysis(mount)
        return analysis, Reach(_served(analysis, asked), True)
    analysis = Analysis(mount, strokes)
    for tried in range(_MOST_TRIES):
        if _met(analysis, asked) or (tried and analysis.pose.stopped):
            break
        analysis = Analysis(mount, _strokes_for(analysis, asked))
    return analysis, Reach(_served(analysis, asked), _met(analysis, asked))


def lifts(analysis: Analysis) -> dict[EndName, float]:
    """How far each end stands above where it was drawn, mm."""
    drawn = {"left": analysis.mount.blade.left, "right": analysis.mount.blade.right}
    return {end: analysis.ends[end][1] - drawn[end][1] for end in ENDS}


def corrects_alone(analysis: Analysis) -> bool:
    """Whether the cylinders can bring each end where it is asked to be and leave the other."""
    return coupling(analysis).moves is not None or _gains_of_many(analysis) is not None


def _met(analysis: Analysis, asked: Mapping[EndName, float]) -> bool:
    now = lifts(analysis)
    return all(abs(asked[end] - now[end]) < MET_MM for end in _served(analysis, asked))


def _served(analysis: Analysis, asked: Mapping[EndName, float]) -> list[EndName]:
    if corrects_alone(analysis):
        return list(ENDS)
    order: list[EndName] = list(ENDS) if abs(asked["left"]) > abs(asked["right"]) else list(reversed(ENDS))
    return [end for end in order if asked[end] and _strongest(analysis, end)][:1]


def _strokes_for(analysis: Analysis, asked: Mapping[EndName, float]) -> dict[str, float]:
    """The strokes that bring the ends nearer, from where they are."""
    now, pose = lifts(analysis), analysis.pose
    need = {end: asked[end] - now[end] for end in ENDS}
    cylinders = zip(analysis.mount.cylinders, analysis.moves, strict=True)
    strokes = {each.id: pose.fraction * move for each, move in cylinders}
    for name, move in _step_for(analysis, need, asked).items():
        strokes[name] += move
    return strokes


def _step_for(analysis: Analysis, need: Mapping[EndName, float], asked: Mapping[EndName, float]) -> dict[str, float]:
    moves, names = coupling(analysis).moves, [each.id for each in analysis.mount.cylinders]
    if moves:
        return {name: sum(need[end] * moves[end][name] for end in ENDS) for name in names}
    gains = _gains_of_many(analysis)
    if gains is not None:
        least = gains.T @ np.linalg.solve(gains @ gains.T, [need["left"], need["right"]])
        return dict(zip(names, least.tolist(), strict=True))
    for end in _served(analysis, asked):
        name = _strongest(analysis, end)
        if name:
            return {name: need[end] / movements(analysis)[name].of(end)}
    return {}


def _gains_of_many(analysis: Analysis) -> np.ndarray | None:
    """The gains of three cylinders or more that can move both ends apart, shape (2, cylinders); else None."""
    found = movements(analysis)
    if len(found) < 3:
        return None
    gains = np.array([[each.of(end) for each in found.values()] for end in ENDS])
    products = gains @ gains.T
    return gains if np.linalg.det(products) > _MOVES_NOTHING * np.trace(products) ** 2 else None


def _strongest(analysis: Analysis, end: EndName) -> str | None:
    """The cylinder that moves an end most."""
    found = movements(analysis)
    name = max(found, key=lambda each: abs(found[each].of(end)), default=None)
    return name if name and abs(found[name].of(end)) > _MOVES_NOTHING else None
