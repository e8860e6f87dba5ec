"""Oil squeezed by the load: the trapped oil of a cylinder gives way under pressure, and the piston follows."""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar

import sympy as sp

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reasons import NO_LOAD, NO_OIL
from app.document.units import MM3_PER_ML
from app.members import Cylinder
from app.solve.equations import Array
from app.sources.source import Column, Slope, Source, SourceKind, Term, Ways, pushes


def squeeze(cylinder: Cylinder, force: float, length: float, bulk_modulus: float) -> float:
    """How much the trapped oil lets a cylinder give way under a force, mm, - when it gets shorter.

    The pressure p = F/A squeezes the trapped volume V by p V / K, and the piston follows by that over A. V is the oil
    column of the side that carries the force, and its hose. ``force`` in N, + pushed; ``length`` pin to pin in mm;
    ``bulk_modulus`` in MPa. Source: definition of the bulk modulus, K = -V dp/dV.
    """
    area = cylinder.carrying_area(force)
    extension = min(max(length - cylinder.retracted, 0.0), cylinder.stroke)
    column = extension if force >= 0 else cylinder.stroke - extension
    volume = area * column + cylinder.hose_volume * MM3_PER_ML
    return -force / area * volume / (bulk_modulus * area)


class Oil(SourceKind):
    """Oil squeezed by the load."""

    KIND = "oil"
    SYMBOL = "oil"
    LABEL = "oil squeezed by the load"
    SHORT = "oil squeezed"
    TITLE = "Oil squeezed by the load"
    TOGETHER = "oil squeezed"
    STEPS: ClassVar[dict[str, float]] = {"bulk modulus": 100.0, "hose volume": 50.0, "bore": 5.0}
    WORDS = "Under pressure the trapped oil loses p V / K of its volume and the piston follows."
    NOTHING = "this mount has no cylinder"

    def lacks(self, mount: Mount) -> Message | None:
        """A load, or the oil's bulk modulus."""
        return NO_LOAD if mount.load is None else NO_OIL if mount.oil is None else None

    def changes(self, analysis: Analysis) -> dict[str, float]:
        """How far every cylinder gives way under the full load, mm, - shorter; empty without load or oil."""
        oil = analysis.mount.oil
        if oil is None or not analysis.load_forces:
            return {}
        lengths = zip(analysis.mount.cylinders, analysis.pose.lengths, strict=True)
        return {c.id: squeeze(c, analysis.load_forces[c.id], length, oil.bulk_modulus) for c, length in lengths}

    def sources(self, analysis: Analysis) -> list[Source]:
        """A source for every cylinder."""
        listed = []
        for number, (name, change) in enumerate(self.changes(analysis).items()):
            reach = {end: (float(analysis.sensitivities.of_length(end)[number]) * change,) for end in ENDS}
            listed.append(Source(name, name, self.KIND, reach, one_sided=True))
        return listed

    def put_worst(
        self, analysis: Analysis, end: EndName, sign: float, errors: list[float], lengths: list[float]
    ) -> None:
        """Every cylinder that gives way toward the worse side, in full."""
        gains = analysis.sensitivities.of_length(end).tolist()
        for number, change in enumerate(self.changes(analysis).values()):
            if gains[number] * change * sign > 0:
                lengths[number] += change

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """By the bulk modulus, every bore and every hose."""
        oil = analysis.mount.oil
        if oil and analysis.mount.load:
            counted = [{end: abs(each.range(end)[sides[end]]) for end in ENDS} for each in self.sources(analysis)]
            total = {end: sum(each[end] for each in counted) for end in ENDS}
            modulus = oil.bulk_modulus
            yield Slope("bulk modulus", "oil", modulus, {end: -total[end] / modulus for end in ENDS})
        for number, cylinder in enumerate(analysis.mount.cylinders):
            by_bore = dict.fromkeys(ENDS, 0.0)
            if oil and analysis.mount.load:
                gain = {end: float(analysis.sensitivities.of_length(end)[number]) for end in ENDS}
                force, modulus = analysis.load_forces[cylinder.id], oil.bulk_modulus
                area = cylinder.carrying_area(force)
                change = squeeze(cylinder, force, analysis.pose.lengths[number], modulus)
                hose = -force / (modulus * area**2) * cylinder.hose_volume * MM3_PER_ML
                by_area, widening = -(change + hose) / area, math.pi / 2 * cylinder.bore
                per_ml = -force / (modulus * area**2) * MM3_PER_ML
                push = {end: pushes(gain[end] * change, sides[end]) for end in ENDS}
                by_bore = {end: push[end] * gain[end] * by_area * widening for end in ENDS}
                per_unit = {end: push[end] * gain[end] * per_ml for end in ENDS}
                yield Slope("hose volume", cylinder.id, cylinder.hose_volume, per_unit)
            yield Slope("bore", cylinder.id, cylinder.bore, by_bore)

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """The gain's slope, the force's, and that of the oil column."""
        found, oil, total = analysis.sensitivities, analysis.mount.oil, ways.zero()
        if oil is None or analysis.mount.load is None:
            return total
        column, modulus = found.cases[end], oil.bulk_modulus
        for number, (cylinder, length) in enumerate(zip(analysis.mount.cylinders, analysis.pose.lengths, strict=True)):
            gain, gain_slope = float(found.of_length(end)[number]), ways.by_length[:, number, column]
            force = -float(found.of_length("load")[number])
            force_slope = -ways.by_length[:, number, found.cases["load"]]
            change, way = squeeze(cylinder, force, length, modulus), math.copysign(1.0, force)
            per_newton = squeeze(cylinder, way, length, modulus) * way
            column_slope = way * -force / (cylinder.carrying_area(force) * modulus)
            changing = per_newton * force_slope + column_slope * ways.lengths[:, number]
            total += pushes(gain * change, side) * (gain_slope * change + gain * changing)
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
