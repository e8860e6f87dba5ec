"""Oil squeezed by the load: the trapped oil of a cylinder gives way under pressure, and the piston follows."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar, TypeAlias

import numpy as np
import sympy as sp

from app.analysis import Analysis
from app.document import models as document
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reasons import NO_LOAD, NO_OIL
from app.document.units import MM3_PER_ML
from app.members import Cylinder
from app.solve.equations import Array
from app.solve.farthest import Offset
from app.solve.poses import Poses
from app.sources.source import Column, Ranges, Slope, Source, SourceKind, Term, Ways, at_ends, back_of

ATMOSPHERE_MPA = 0.1013
"""Standard atmosphere (ISO 2533: 101.325 kPa) to four figures: the pressure at which the share of air is given."""


def gives(cylinder: Cylinder, force: float, length: float, oil: document.Oil) -> float:
    """How far a cylinder's oil gives way under a force, mm, - when it gets shorter.

    ``force`` in N, + when it is pushed shorter; ``length`` pin to pin in mm. The side that the force presses gives way:
    p = |F|/A squeezes the trapped volume V by p V / K, and the piston follows by that over A; V is the oil column of
    that side and its hose (definition of the bulk modulus, K = -V dp/dV). With air in the oil the volume also loses air
    (1 - p0/p), p absolute (isothermal, Boyle). ``preloaded``: both sides are trapped and pressed, and their springs k =
    K A^2 / V add.
    """
    numbers = (cylinder.bore, length, cylinder.hose_volume, oil.bulk_modulus)
    return float(_gives(force, force >= 0, numbers, cylinder, oil).real)


def gives_over(cylinder: Cylinder, force: Array, length: Array, oil: document.Oil) -> Array:
    """The same for many forces and lengths."""
    numbers = (cylinder.bore, length, cylinder.hose_volume, oil.bulk_modulus)
    given: Array = np.array(_gives(np.maximum(force, 0.0), True, numbers, cylinder, oil))
    pulled = force < 0
    given[pulled] = _gives(np.minimum(force, 0.0), False, numbers, cylinder, oil)[pulled]
    return given


_Number: TypeAlias = Any
"""A number, real or with a complex step, or an array of real ones."""


def _gives(
    force: _Number,
    pushed: bool,
    numbers: Sequence[_Number],
    cylinder: Cylinder,
    oil: document.Oil,
) -> _Number:
    """The same, real or with a complex step in the force or one of the numbers: bore, length, hose and modulus."""
    bore, length, hose, modulus = numbers
    if oil.preloaded:
        stiff = modulus
        if oil.entrained_air and oil.trapped_pressure:
            stiff = 1 / (1 / modulus + oil.entrained_air * ATMOSPHERE_MPA / oil.trapped_pressure**2)
        (cap, on_cap), (annulus, on_rod) = (_side(side, bore, length, hose, cylinder) for side in (True, False))
        # Both springs K A^2 / V over one denominator: a side without oil in it is stiff, and divides by nothing.
        return -force * on_cap * on_rod / (stiff * (cap**2 * on_rod + annulus**2 * on_cap))
    area, volume = _side(pushed, bore, length, hose, cylinder)
    if not oil.entrained_air:
        return -force / area * volume / (modulus * area)
    sign = 1.0 if pushed else -1.0
    rise = sign * force / area
    air = oil.entrained_air * (1 - ATMOSPHERE_MPA / (ATMOSPHERE_MPA + rise))
    return -sign * volume / area * (rise / modulus + air)


def _side(cap: bool, bore: _Number, length: _Number, hose: _Number, cylinder: Cylinder) -> tuple[_Number, _Number]:
    """Area, mm2, and trapped volume, mm3, of one side of the piston."""
    area = math.pi / 4 * bore**2 if cap else math.pi / 4 * (bore**2 - cylinder.rod**2)
    out = length - cylinder.retracted
    if isinstance(out, np.ndarray):
        out = np.clip(out, 0.0, cylinder.stroke)
    elif not 0.0 <= out.real <= cylinder.stroke:
        out = min(max(out.real, 0.0), cylinder.stroke)
    column = out if cap else cylinder.stroke - out
    return area, area * column + hose * MM3_PER_ML


_TINY = 1e-30
_AIR_MARKS = 8
"""Shares of the load at which oil with air in it is worked out; between them straight lines serve the statistics."""


@dataclass(frozen=True)
class _Given:
    """How far a cylinder gives way from the weight alone to the weight with a share of the load, and its slopes.

    ``change`` in mm, ``share`` the share of the load; the slopes are per mm of bore and length, mL of hose, MPa of bulk
    modulus, and N of the force under the weight and of that under the load. Exact, by the complex step.
    """

    change: float
    by_bore: float
    by_length: float
    by_hose: float
    by_modulus: float
    by_weight: float
    by_load: float


class Oil(SourceKind):
    """Oil squeezed by the load."""

    KIND = "oil"
    SYMBOL = "oil"
    LABEL = "oil squeezed by the load"
    SHORT = "oil squeezed"
    TITLE = "Oil squeezed by the load"
    TOGETHER = "oil squeezed"
    STEPS: ClassVar[dict[str, float]] = {"bulk modulus": 100.0, "hose volume": 50.0, "bore": 5.0}
    MOVES_JOINTS = True
    WORDS = "Under pressure the trapped oil loses p V / K of its volume and the piston follows."
    NOTHING = "this mount has no cylinder"

    def lacks(self, mount: Mount) -> Message | None:
        """A load, or the oil's bulk modulus."""
        return NO_LOAD if mount.load is None else NO_OIL if mount.oil is None else None

    def change(self, analysis: Analysis, number: int, share: float) -> float:
        """How far a cylinder gives way when a share of the load comes on, mm, - shorter. Needs load and oil."""
        cylinder, oil = analysis.mount.cylinders[number], analysis.mount.oil
        if oil is None:
            return 0.0
        weight, load = analysis.weight_forces.get(cylinder.id, 0.0), analysis.load_forces[cylinder.id]
        length = analysis.pose.lengths[number]
        before = gives(cylinder, weight, length, oil) if weight else 0.0
        return gives(cylinder, weight + share * load, length, oil) - before

    def changes(self, analysis: Analysis) -> dict[str, float]:
        """How far every cylinder gives way under the full load, mm, - shorter; empty without load or oil."""
        if analysis.mount.oil is None or not analysis.load_forces:
            return {}
        return {each.id: self.change(analysis, number, 1.0) for number, each in enumerate(analysis.mount.cylinders)}

    def _shares(self, analysis: Analysis, number: int, change: float) -> tuple[tuple[float, float], ...]:
        """How much of the change is there at which share of the load: straight but where the pressed side changes."""
        cylinder, oil = analysis.mount.cylinders[number], analysis.mount.oil
        least = -1.0 if back_of(analysis) else 0.0
        marks = {least, 0.0, 1.0}
        weight, load = analysis.weight_forces.get(cylinder.id, 0.0), analysis.load_forces[cylinder.id]
        if load and least < -weight / load < 1.0:
            marks.add(-weight / load)
        if oil and oil.entrained_air and not oil.preloaded:
            marks |= {least + (1.0 - least) * step / _AIR_MARKS for step in range(_AIR_MARKS)}
        if not change:
            return ((least, 0.0), (1.0, 0.0))
        return tuple((mark, self.change(analysis, number, mark) / change) for mark in sorted(marks))

    def sources(self, analysis: Analysis) -> list[Source]:
        """A source for every cylinder."""
        listed = []
        for number, (name, change) in enumerate(self.changes(analysis).items()):
            reach = {end: (float(analysis.sensitivities.of_length(end)[number]) * change,) for end in ENDS}
            shares = self._shares(analysis, number, change)
            listed.append(Source(name, name, self.KIND, reach, "load", shares=shares))
        return listed

    def over(self, poses: Poses) -> Ranges:
        """What every cylinder gives way under the load, times what its length does to the ends."""
        oil = poses.mount.oil
        if oil is None or not poses.has("load"):
            return Ranges.none(poses)
        gains, weights, loads = at_ends(poses.of_length), poses.forces("weight"), poses.forces("load")
        heights = []
        for number, cylinder in enumerate(poses.mount.cylinders):
            length, weight, load = poses.lengths[:, number], weights[:, number], loads[:, number]
            hung = gives_over(cylinder, weight, length, oil)
            full = gives_over(cylinder, weight + load, length, oil) - hung
            back = gives_over(cylinder, weight - load, length, oil) - hung if back_of(poses) else np.zeros_like(full)
            heights.append((gains[:, :, number] * full, gains[:, :, number] * np.where(full == 0, 0.0, back)))
        return Ranges.with_load(heights, poses)

    def offsets(self, analysis: Analysis) -> list[Offset]:
        """Every cylinder's length under the load."""
        found = []
        for number, (name, change) in enumerate(self.changes(analysis).items()):
            back = self._shares(analysis, number, change)[0][1]
            found.append(Offset(name, (), (number,), (change,), free=False, back=back))
        return found

    def _given(self, analysis: Analysis, number: int, share: float) -> _Given:
        cylinder, oil = analysis.mount.cylinders[number], analysis.mount.oil
        if oil is None:
            raise ValueError("there is no oil to give way")
        weight, load = analysis.weight_forces.get(cylinder.id, 0.0), analysis.load_forces[cylinder.id]
        numbers: list[_Number] = [
            cylinder.bore,
            analysis.pose.lengths[number],
            cylinder.hose_volume,
            oil.bulk_modulus,
        ]

        def slopes(force: float) -> list[float]:
            """By force, bore, length, hose and modulus."""
            if not force:
                pushed = weight + share * load >= 0
                own = (_gives(1j * _TINY, pushed, numbers, cylinder, oil)).imag / _TINY
                return [own, 0.0, 0.0, 0.0, 0.0]
            given = [force, *numbers]
            found = []
            for place in range(len(given)):
                stepped: list[_Number] = [each + 1j * _TINY * (place == at) for at, each in enumerate(given)]
                found.append(_gives(stepped[0], force >= 0, stepped[1:], cylinder, oil).imag / _TINY)
            return found

        after, before = slopes(weight + share * load), slopes(weight)
        by_bore, by_length, by_hose, by_modulus = (a - b for a, b in zip(after[1:], before[1:], strict=True))
        change = self.change(analysis, number, share)
        return _Given(change, by_bore, by_length, by_hose, by_modulus, after[0] - before[0], share * after[0])

    def _worse(self, analysis: Analysis, number: int, end: EndName, side: int) -> tuple[float, _Given]:
        """The sign, or 0 where nothing counts, and the change that counts toward the worse side of an end."""
        gain, sign = float(analysis.sensitivities.of_length(end)[number]), 1.0 if side else -1.0
        for share in (1.0, -1.0) if back_of(analysis) else (1.0,):
            given = self._given(analysis, number, share)
            if gain * given.change * sign > 0:
                return sign, given
        return 0.0, self._given(analysis, number, 1.0)

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """By the bulk modulus, every bore and every hose."""
        oil, found = analysis.mount.oil, analysis.sensitivities
        if oil is None or not analysis.load_forces:
            return
        by_modulus = dict.fromkeys(ENDS, 0.0)
        own: list[Slope] = []
        for number, cylinder in enumerate(analysis.mount.cylinders):
            gain = {end: float(found.of_length(end)[number]) for end in ENDS}
            worse = {end: self._worse(analysis, number, end, sides[end]) for end in ENDS}
            by_modulus = {end: by_modulus[end] + worse[end][0] * gain[end] * worse[end][1].by_modulus for end in ENDS}
            hose = {end: worse[end][0] * gain[end] * worse[end][1].by_hose for end in ENDS}
            bore = {end: worse[end][0] * gain[end] * worse[end][1].by_bore for end in ENDS}
            own.append(Slope("hose volume", cylinder.id, cylinder.hose_volume, hose))
            own.append(Slope("bore", cylinder.id, cylinder.bore, bore))
        yield Slope("bulk modulus", "oil", oil.bulk_modulus, by_modulus)
        yield from own

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """The gain's slope, those of the forces, and that of the oil column."""
        found, total = analysis.sensitivities, ways.zero()
        if analysis.mount.oil is None or not analysis.load_forces:
            return total
        column = found.cases[end]
        for number in range(len(analysis.mount.cylinders)):
            gain, gain_slope = float(found.of_length(end)[number]), ways.by_length[:, number, column]
            sign, given = self._worse(analysis, number, end, side)
            changing = given.by_length * ways.lengths[:, number]
            changing = changing - given.by_load * ways.by_length[:, number, found.cases["load"]]
            if found.has("weight"):
                changing = changing - given.by_weight * ways.by_length[:, number, found.cases["weight"]]
            total += sign * (gain_slope * given.change + gain * changing)
        return total

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """What the cylinder gives times what its length does to the end."""
        gain, change, error = sp.symbols("s_i Delta_i e_i", real=True)
        return error, gain * change

    def columns(self) -> tuple[Column, ...]:
        """The cylinder's movement of the end, and how far it gives."""
        return (
            Column("end per unit", "s_i", "ratio", "how far the end rises per unit of the cylinder"),
            Column("gives", "Delta_i", "length", "how far the cylinder gives, − shorter"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """A cylinder's gain and what its oil gives."""
        number = [each.id for each in analysis.mount.cylinders].index(source.id)
        gain = float(analysis.sensitivities.of_length(end)[number])
        return Term(source, (gain, self.changes(analysis)[source.id]))
