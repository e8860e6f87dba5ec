"""The valve's smallest step: it cannot let through less than one pulse, so an end stays up to half a step off."""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar

import sympy as sp

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount, Valve
from app.document.parts import ENDS, EndName
from app.document.reasons import NO_VALVE
from app.document.units import MM3_PER_ML
from app.members import Cylinder
from app.solve.equations import Array
from app.solve.poses import Poses
from app.sources.source import STILL, Column, Ranges, Slope, Source, SourceKind, Term, Ways, at_ends


def half_step(cylinder: Cylinder, valve: Valve) -> float:
    """Half the largest step of a cylinder, mm: a pulse over the area round the rod."""
    return valve.smallest_pulse * MM3_PER_ML / cylinder.annulus_area / 2


class Step(SourceKind):
    """Half the smallest step of every cylinder, either way."""

    KIND = "step"
    SYMBOL = "step"
    LABEL = "half the smallest step of the valve"
    SHORT = "valve's step"
    TITLE = "Smallest step of the valve"
    TOGETHER = "steps of the valve"
    STEPS: ClassVar[dict[str, float]] = {"bore": 5.0}
    WORDS = "The valve cannot let through less than one pulse: the end is left up to half a step off, either way."
    NOTHING = "this mount has no cylinder"

    def lacks(self, mount: Mount) -> Message | None:
        """A valve."""
        return NO_VALVE if mount.valve is None else None

    def sources(self, analysis: Analysis) -> list[Source]:
        """A source for every cylinder."""
        valve = analysis.mount.valve
        if valve is None:
            return []
        listed = []
        for number, cylinder in enumerate(analysis.mount.cylinders):
            half = half_step(cylinder, valve)
            reach = {end: (float(analysis.sensitivities.of_length(end)[number]) * half,) for end in ENDS}
            listed.append(Source(cylinder.id, cylinder.id, self.KIND, reach))
        return listed

    def over(self, poses: Poses) -> Ranges:
        """Half a step times what each cylinder does to the ends."""
        valve = poses.mount.valve
        if valve is None:
            return Ranges.none(poses)
        gains = at_ends(poses.of_length)
        cylinders = enumerate(poses.mount.cylinders)
        return Ranges.either_way((half_step(each, valve) * gains[:, :, number] for number, each in cylinders), poses)

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """By every bore: a pulse over a larger area is a smaller step."""
        valve = analysis.mount.valve
        if valve is None:
            return
        for number, cylinder in enumerate(analysis.mount.cylinders):
            gain = {end: float(analysis.sensitivities.of_length(end)[number]) for end in ENDS}
            half, widening = half_step(cylinder, valve), math.pi / 2 * cylinder.bore
            per_unit = {end: -abs(gain[end]) * half / cylinder.annulus_area * widening for end in ENDS}
            yield Slope("bore", cylinder.id, cylinder.bore, per_unit)

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """The size of the gain changes with its own slope."""
        found, valve, total = analysis.sensitivities, analysis.mount.valve, ways.zero()
        if valve is None:
            return total
        for number, cylinder in enumerate(analysis.mount.cylinders):
            gain = float(found.of_length(end)[number])
            if abs(gain) > STILL:
                slope = ways.by_length[:, number, found.cases[end]]
                total += half_step(cylinder, valve) * math.copysign(1.0, gain) * slope
        return total

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """A pulse over the area, times the end's movement per mm, halved."""
        gain, volume, section, error = sp.symbols("s_i q A_i e_i", real=True)
        return error, sp.Abs(gain) * volume / (2 * section)

    def columns(self) -> tuple[Column, ...]:
        """Gain, pulse and area."""
        return (
            Column("end per unit", "s_i", "ratio", "how far the end rises per unit of the cylinder"),
            Column("pulse", "q", "volume", "smallest pulse of the valve"),
            Column("area", "A_i", "area", "area on the rod side, where a pulse makes the larger step"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """A cylinder's numbers."""
        valve = analysis.mount.valve
        number = [each.id for each in analysis.mount.cylinders].index(source.id)
        gain = float(analysis.sensitivities.of_length(end)[number])
        pulse = valve.smallest_pulse * MM3_PER_ML if valve else 0.0
        return Term(source, (gain, pulse, analysis.mount.cylinders[number].annulus_area))
