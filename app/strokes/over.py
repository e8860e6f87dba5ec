"""A mount over the strokes of one or two of its cylinders: every number at every pose, and the worst of each.

over = travel(mount, steps=41)
over.layers["worst_left"]                 mm, shape (41, 41): a row for each stroke of the second cylinder
over.strokes["left cylinder"]             mm longer than drawn, shape (41,)
over.worst["worst"].value, .command       the largest over the travel, and the strokes that bring the mount there
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from app.analysis import Analysis
from app.document.errors import BadCommand, Fault, NotLocated
from app.document.messages import word
from app.document.models import Mount
from app.document.reasons import NO_CYLINDER, NOT_LOCATED
from app.results.answer import answer
from app.solve.equations import Array
from app.solve.lattice import Lattice, lattice
from app.solve.poses import Marks, Poses
from app.strokes.dead_centres import dead_centres
from app.strokes.layers import Layer, layers_of

STEPS = 41
FEWEST_STEPS = 2
MOST_STEPS = 201
"""Of two cylinders; of one as many as two have cells."""


BEYOND_SHARE, BEYOND_CELLS = 0.5, 21
"""How far beyond a stroke dead centres are looked for, as a share of it, and in how many cells."""


@answer
class AtWorst:
    """The value of a layer that is farthest from nought over the travel."""

    value: float
    """In the layer's unit, with its sign."""
    command: dict[str, float]
    """The strokes that bring the mount there, mm longer than drawn, by id."""


@answer
class DeadCentres:
    """Dead centres along one line of members."""

    members: list[str]
    """The members in line, by id."""
    points: list[list[float]]
    """Where they are, mm longer than drawn: a value for each of the cylinders of the travel."""


@answer
class Beyond:
    """The nearest dead centre beyond one end of a cylinder's stroke, the others where they are."""

    cylinder: str
    """The cylinder, by id."""
    stroke: float
    """Where it is, mm longer than drawn."""
    by: float
    """How far beyond the end of its stroke, mm."""
    members: list[str]
    """The members in line, by id."""


@dataclass(frozen=True, eq=False)
class Travel:
    """A mount over its travel.

    ``cylinders``: those that are worked, by id, one or two; ``strokes`` of each along the grid, mm longer than drawn,
    shape (steps,). ``layers`` by name (see ``layers_of``), masked where the mount cannot go or there is no such number:
    shape (steps of the second, steps of the first), or (steps,) with one cylinder. ``reached``: where it can go, of the
    same shape. ``drawn``: the value of each layer as the mount is drawn, by name; ``worst`` of each; ``dead_centres``
    that end the travel.
    """

    mount: Mount
    cylinders: tuple[str, ...]
    strokes: dict[str, Array]
    layers: dict[str, Layer]
    reached: Marks
    drawn: dict[str, float]
    worst: dict[str, AtWorst]
    dead_centres: list[DeadCentres]
    _analysis: Analysis

    @cached_property
    def beyond(self) -> list[Beyond]:
        """The nearest dead centres beyond the strokes, each cylinder's while the others stay where they are."""
        known = [each.id for each in self.mount.cylinders]
        return [each for name in self.cylinders for each in _beyond(self._analysis, known.index(name))]


def travel(
    mount: Mount,
    command: Mapping[str, object] | None = None,
    cylinders: Sequence[str] | None = None,
    steps: int = STEPS,
    layers: Collection[str] | None = None,
) -> Travel:
    """A mount over the strokes of its ``cylinders``, one or two by id: the first two where none are named.

    ``command``: where the mount stands, mm longer than drawn by id; the cylinders not named stay there. ``steps`` a
    side. ``layers`` that are worked out, by name: all where None. Raises BadCommand for cylinders that are not there
    and steps out of bounds, NotLocated where it hangs loose or is bound.
    """
    analysis = Analysis(mount, command)
    chosen = _chosen(mount, cylinders, steps)
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state]
        raise NotLocated([Fault("mount", reason.text, reason.values, reason.code)])
    driven = tuple([each.id for each in mount.cylinders].index(name) for name in chosen)
    found = lattice(analysis.assembly, analysis.pose, driven, _axes(mount, driven, steps))
    return _put_together(analysis, found, chosen, driven, layers)


def _chosen(mount: Mount, cylinders: Sequence[str] | None, steps: int) -> tuple[str, ...]:
    known = [each.id for each in mount.cylinders]
    chosen = tuple(known[:2] if cylinders is None else cylinders)
    faults = []
    if not known:
        faults.append(Fault("cylinders", NO_CYLINDER.text, code=NO_CYLINDER.code))
    elif not 1 <= len(chosen) <= 2 or len(set(chosen)) < len(chosen):
        faults.append(Fault("cylinders", "are not one or two different ones; name the one or two to be worked"))
    listed = ", ".join(f"'{each}'" for each in known) or "none"
    for number, name in enumerate(chosen):
        if name not in known:
            text = "there is no cylinder of that name; the cylinders are {names}"
            faults.append(Fault(f"cylinders[{number}]", text, {"names": word(listed)}, "no-such-cylinder"))
    most = MOST_STEPS if len(chosen) > 1 else MOST_STEPS**2
    if isinstance(steps, bool) or not isinstance(steps, int) or not FEWEST_STEPS <= steps <= most:
        faults.append(Fault("steps", f"is no whole number from {FEWEST_STEPS} to {most}; give how many strokes a side"))
    if faults:
        raise BadCommand(faults)
    return chosen


def _axes(mount: Mount, driven: Sequence[int], steps: int) -> tuple[Array, Array]:
    whole = [mount.cylinders[each] for each in driven]
    axes = [np.linspace(each.retracted, each.retracted + each.stroke, steps) for each in whole]
    return axes[0], axes[1] if len(axes) > 1 else np.zeros(1)


def _put_together(
    analysis: Analysis,
    found: Lattice,
    chosen: tuple[str, ...],
    driven: tuple[int, ...],
    wanted: Collection[str] | None,
) -> Travel:
    mount, drawn = analysis.mount, analysis.assembly.lengths
    shape = (len(found.axes[1]), len(found.axes[0])) if len(driven) > 1 else (len(found.axes[0]),)
    strokes = {name: found.axes[axis] - drawn[driven[axis]] for axis, name in enumerate(chosen)}
    layers = {}
    worst = {}
    cells = np.flatnonzero(found.reached)
    for name, layer in layers_of(found.poses, wanted).items() if len(cells) else ():
        whole: Layer = np.ma.array(np.zeros(found.reached.shape), mask=True)
        whole[cells] = layer
        layers[name] = whole.reshape(shape)
        if name != "inside" and layer.count():
            cell = int(cells[int(np.ma.argmax(np.abs(layer)))])
            moved = (found.lengths[cell] - np.array(drawn)).tolist()
            command = dict(zip([each.id for each in mount.cylinders], moved, strict=True))
            worst[name] = AtWorst(float(whole[cell]), command)
    return Travel(
        mount=mount,
        cylinders=chosen,
        strokes=strokes,
        layers=layers,
        reached=found.reached.reshape(shape),
        drawn=_as_drawn(analysis, wanted),
        worst=worst,
        dead_centres=_by_members(found, driven),
        _analysis=analysis,
    )


def _as_drawn(analysis: Analysis, wanted: Collection[str] | None) -> dict[str, float]:
    assembly = analysis.assembly
    jacobian = assembly.at_rest[1]
    layers = layers_of(Poses(assembly, assembly.drawn[None], jacobian[None], np.array([assembly.lengths])), wanted)
    return {name: float(layer[0]) for name, layer in layers.items() if layer.count()}


def _beyond(analysis: Analysis, number: int) -> Iterator[Beyond]:
    """The nearest dead centres past both ends of a cylinder's stroke, up to half a stroke farther."""
    cylinder, drawn = analysis.mount.cylinders[number], analysis.assembly.lengths[number]
    shortest, longest = cylinder.retracted, cylinder.retracted + cylinder.stroke
    farther = BEYOND_SHARE * cylinder.stroke
    for end, far in ((shortest, max(shortest - farther, 0.01 * shortest)), (longest, longest + farther)):
        axis = np.linspace(end, far, BEYOND_CELLS)
        found = lattice(analysis.assembly, analysis.pose, [number], (axis, np.zeros(1)))
        ends = [each for each in dead_centres(found, (number,)) if (each.lengths[0] - end) * (far - end) > 0]
        if ends and found.reached[0]:
            nearest = min(ends, key=lambda each: abs(each.lengths[0] - end))
            at = nearest.lengths[0]
            yield Beyond(cylinder.id, at - drawn, abs(at - end), list(nearest.members))


def _by_members(found: Lattice, driven: tuple[int, ...]) -> list[DeadCentres]:
    """The dead centres line by line: those of the same members, each next to the nearest."""
    drawn = [found.assembly.lengths[each] for each in driven]
    lines: dict[tuple[str, ...], list[list[float]]] = {}
    for each in dead_centres(found, driven):
        at = [length - own for length, own in zip(each.lengths, drawn, strict=False)]
        lines.setdefault(each.members, []).append(at)
    return [DeadCentres(list(members), _in_a_row(points)) for members, points in lines.items()]


def _in_a_row(points: list[list[float]]) -> list[list[float]]:
    """Points of a line in the order in which one comes past them, the same one once."""
    left = np.unique(np.round(points, 6), axis=0)
    row = [int(np.argmin(left.sum(axis=1)))]
    waiting = set(range(len(left))) - set(row)
    while waiting:
        nearest = min(waiting, key=lambda each: float(np.linalg.norm(left[each] - left[row[-1]])))
        row.append(nearest)
        waiting.remove(nearest)
    found: list[list[float]] = left[row].tolist()
    return found
