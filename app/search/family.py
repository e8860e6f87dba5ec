"""Many mounts of one topology that differ in some numbers, worked out at once.

A family is a mount with some of its numbers free, and rows of values for them. Its members are never made one by one:
the numbers that vary stand in the mount's own parts as arrays, and layout, equations, sources and loads go through
them as they go through one.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from pydantic import BaseModel

from app.document.edit import put
from app.document.models import Mount, as_document
from app.document.places import Step, steps_to
from app.document.reading import read_mount
from app.solve.assembly import Assembly, lay_out
from app.solve.equations import Array
from app.solve.following import Frame, follow
from app.solve.poses import Marks, Places, Poses, sides

_FINEST = 1 / 32
"""A member that needs smaller steps over its strokes lies too near a dead centre to be of use."""


@dataclass(frozen=True)
class Free:
    """A number that is free: the ``places`` it stands in (``left rod / 1.at[0]``), each with what a unit of it adds.

    A place has its ``base`` where the number has its own. ``low`` and ``high`` in document units; ``choices`` the only
    values it may take, none where it may take any. ``label`` names it.
    """

    label: str
    places: tuple[tuple[str, float, float], ...]
    """Place, base, and what a unit adds there."""
    value: float
    low: float
    high: float
    choices: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Family:
    """Members of a family: ``values`` shape (members, free)."""

    mount: Mount
    free: tuple[Free, ...]
    values: Array

    def __len__(self) -> int:
        return len(self.values)

    def of(self, which: Places | Marks) -> "Family":
        """Some of the members, any of them more than once."""
        return Family(self.mount, self.free, self.values[which])

    @cached_property
    def spread(self) -> Mount:
        """The mount with arrays, shape (members,), for the numbers that are free."""
        return spread(self.mount, self.free, self.values)

    @cached_property
    def assembly(self) -> Assembly:
        """All members laid out for the equations they share."""
        return lay_out(self.spread, len(self.values))

    def of_strokes(self, strokes: Array) -> "FamilyPoses":
        """Every member at every set of strokes: ``strokes`` shape (sets, cylinders), mm longer than drawn."""
        return self._followed(np.repeat(strokes[None], len(self), axis=0))

    def over_travel(self, steps: int) -> "FamilyPoses":
        """Every member over a grid of the strokes of its first two cylinders, ``steps`` a side."""
        if steps not in self._grids:
            self._grids[steps] = self._gridded(steps)
        return self._grids[steps]

    @cached_property
    def _grids(self) -> dict[int, "FamilyPoses"]:
        return {}

    def _gridded(self, steps: int) -> "FamilyPoses":
        cylinders = self.spread.cylinders
        shares = np.linspace(0.0, 1.0, steps)
        grid = np.stack([each.ravel() for each in np.meshgrid(*[shares] * min(2, len(cylinders)))], axis=-1)
        strokes = np.zeros((len(self), len(grid), len(cylinders)))
        drawn: Any = self.assembly.lengths
        for number, cylinder in enumerate(cylinders[:2]):
            own = np.broadcast_to(cylinder.retracted - drawn[:, number], len(self))
            strokes[:, :, number] = own[:, None] + grid[:, number] * cylinder.stroke
        return self._followed(strokes)

    @cached_property
    def side(self) -> Marks:
        """On which side of a singular pose each member is drawn."""
        return sides(self._at_rest)

    @cached_property
    def _at_rest(self) -> Array:
        assembly, count = self.assembly, len(self)
        nothing = np.zeros((count, assembly.equations.by_error.shape[1]))
        lengths = np.asarray(assembly.lengths)
        with np.errstate(all="ignore"):
            return assembly.equations.stacked(assembly.drawn, assembly.numbers, lengths, nothing)[1]

    @cached_property
    def conditions(self) -> Array:
        """Condition of the scaled Jacobian of every member as drawn; infinite where it has none."""
        jacobian = self._at_rest / self.assembly.scale[:, None, :]
        sound: Marks = np.all(np.isfinite(jacobian), axis=(1, 2), keepdims=False)
        whole: Array = np.where(sound[:, None, None], jacobian, np.eye(jacobian.shape[1]))
        sizes: Array = np.linalg.svd(whole, compute_uv=False)
        found: Array = np.full(len(self), np.inf)
        regular: Marks = np.logical_and(sound, sizes[:, -1] > 0)
        found[regular] = sizes[regular, 0] / sizes[regular, -1]
        return found

    def _followed(self, strokes: Array) -> "FamilyPoses":
        """Follow every member straight from where it is drawn; ``strokes`` shape (members, sets, cylinders)."""
        count, sets, cylinders = strokes.shape
        assembly, equations = self.assembly, self.assembly.equations
        sound = np.isfinite(self.conditions) & (self.conditions < 1e12)
        starts = np.where(sound[:, None, None], self._at_rest, np.eye(equations.unknowns))
        velocities = -np.linalg.solve(starts, np.broadcast_to(equations.by_length, (count, *equations.by_length.shape)))
        which = np.repeat(np.arange(count), sets)
        moves = strokes.reshape(count * sets, cylinders)
        lengths = np.asarray(assembly.lengths)[which] + moves
        frame = Frame(equations, assembly.numbers, assembly.scale, _extent(self.mount), self.side).of(which)
        going = np.flatnonzero(sound[which])
        found = follow(
            frame.of(going),
            assembly.drawn[which][going],
            velocities[which][going],
            lengths[going],
            -moves[going],
            tuple(range(cylinders)),
            _FINEST,
        )
        reached = np.zeros(count * sets, dtype=bool)
        reached[going] = found.there
        there = going[found.there]
        members = self.of(which[there])
        poses = Poses(members.assembly, found.q[found.there], found.jacobian[found.there], lengths[there])
        return FamilyPoses(poses, which[there], reached.reshape(count, sets))


@dataclass(frozen=True, eq=False)
class FamilyPoses:
    """Poses of the members of a family: those reached, whose member each is, and which of all were reached.

    ``poses`` hold one mount with arrays, a value for each pose; ``member`` shape (poses,); ``reached`` (members, sets).
    """

    poses: Poses
    member: Places
    reached: Marks

    def largest(self, layer: np.ma.MaskedArray[Any, Any]) -> Array:
        """The largest size of a number over the poses of each member, shape (members,); infinite where there is none.

        A member that lacks the number at some pose has none.
        """
        found = np.full(len(self.reached), -np.inf)
        np.maximum.at(found, self.member, np.abs(np.ma.filled(layer.astype(float), np.inf)))
        return np.where(np.isfinite(found) & self.reached.all(axis=1), found, np.inf)


def _extent(mount: Mount) -> float:
    return lay_out(mount).extent


def spread(mount: Mount, free: Sequence[Free], values: Array) -> Mount:
    """A mount with arrays where its numbers are free, unchecked: for layout and arithmetic only."""
    varied: Any = mount
    for number, each in enumerate(free):
        for place, base, per_unit in each.places:
            steps, _ = steps_to(mount, place)
            varied = _put(varied, steps, base + per_unit * (values[:, number] - each.value))
    return varied  # type: ignore[no-any-return]


def member_of(mount: Mount, free: Sequence[Free], values: Sequence[float]) -> Mount:
    """One member of the family as a mount of its own. Raises BadDocument where the document does not allow it."""
    document = as_document(mount)
    for each, value in zip(free, values, strict=True):
        for place, base, per_unit in each.places:
            steps, _ = steps_to(mount, place)
            put(document, steps, float(base + per_unit * (value - each.value)))
    return read_mount(document)


def _put(part: Any, steps: Sequence[Step], value: Array) -> Any:  # noqa: ANN401 - any part of a document
    if not steps:
        return value
    step, rest = steps[0], steps[1:]
    if isinstance(part, BaseModel):
        fields = {name: getattr(part, name) for name in type(part).model_fields}
        fields[str(step)] = _put(fields[str(step)], rest, value)
        return type(part).model_construct(**fields)
    listed = list(part)
    listed[int(step)] = _put(listed[int(step)], rest, value)
    return tuple(listed)
