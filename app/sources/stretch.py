"""Rods stretched by the load: the pull in a rod lengthens it by F L / (E A)."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

import numpy as np
import sympy as sp

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reasons import NO_LOAD
from app.members import Rod
from app.solve.equations import Array
from app.solve.farthest import Offset
from app.solve.poses import Poses
from app.sources.source import (
    Column,
    Ranges,
    Slope,
    Source,
    SourceKind,
    Term,
    Ways,
    at_ends,
    back_of,
    counted,
    shares_of,
)


class Stretch(SourceKind):
    """Rods stretched by the load."""

    KIND = "stretch"
    SYMBOL = "stretch"
    LABEL = "stretched by the load"
    SHORT = "rod stretched"
    TITLE = "Rods stretched by the load"
    TOGETHER = "rods stretched"
    STEPS: ClassVar[dict[str, float]] = {"section area": 100.0}
    MOVES_JOINTS = True
    WORDS = "The pull in a rod stretches it by F l / (E A); what its length does to the end carries that to the edge."
    NOTHING = "no rod has a section and a modulus: rods count as stiff"

    def lacks(self, mount: Mount) -> Message | None:
        """A load."""
        return NO_LOAD if mount.load is None else None

    def _elastic(self, analysis: Analysis) -> Iterator[tuple[Rod, int, float]]:
        """Every rod that stretches: the rod, the place of its length error, and the pull under the load, N."""
        if not analysis.sensitivities.has("load"):
            return
        pulls, equations = analysis.sensitivities.force("load").tolist(), analysis.assembly.equations
        for number, member in enumerate(analysis.mount.members):
            if isinstance(member, Rod) and member.stretch(1.0):
                yield member, equations.error_of[number].start, pulls[equations.row_of[number].start]

    def sources(self, analysis: Analysis) -> list[Source]:
        """A source for every rod with a section and a modulus."""
        listed = []
        for rod, place, pull in self._elastic(analysis):
            change = rod.stretch(pull)
            reach = {end: (float(analysis.sensitivities.of_error(end)[place]) * change,) for end in ENDS}
            listed.append(Source(rod.id, rod.id, self.KIND, reach, "load", shares=shares_of(analysis)))
        return listed

    def over(self, poses: Poses) -> Ranges:
        """The pull in each rod that stretches, and what its length does to the ends."""
        if not poses.has("load"):
            return Ranges.none(poses)
        equations, back, gains = poses.assembly.equations, back_of(poses), at_ends(poses.of_error)
        pulls = poses.multipliers[:, :, poses.cases["load"]]
        heights = []
        for number, member in enumerate(poses.mount.members):
            if isinstance(member, Rod) and np.any(member.stretch(1.0)):
                pull = pulls[:, equations.row_of[number].start]
                full = gains[:, :, equations.error_of[number].start] * (member.stretch(1.0) * pull)
                heights.append((full, back * full))
        return Ranges.with_load(heights, poses)

    def offsets(self, analysis: Analysis) -> list[Offset]:
        """Every rod's length error under the load."""
        back = back_of(analysis)
        return [
            Offset(rod.id, (place,), (), (rod.stretch(pull),), free=False, back=back)
            for rod, place, pull in self._elastic(analysis)
        ]

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """By the section: what counts falls in proportion."""
        rods = {rod.id: rod for rod, _, _ in self._elastic(analysis)}
        for source in self.sources(analysis):
            area = rods[source.id].section_area
            if area:
                counted = {end: abs(source.range(end)[sides[end]]) for end in ENDS}
                yield Slope("section area", source.id, area, {end: -counted[end] / area for end in ENDS})

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """The gain's slope, the pull's, and that of the rod's own length."""
        found, total = analysis.sensitivities, ways.zero()
        for rod, place, pull in self._elastic(analysis):
            # A rod's pull is minus what its length error gains: both come from the same multiplier.
            pull_slope = ways.by_error[:, place, found.cases["load"]]
            gain, gain_slope = float(found.of_error(end)[place]), ways.by_error[:, place, found.cases[end]]
            stretch = rod.stretch(pull)
            change = rod.stretch(1.0) * pull_slope + stretch / rod.drawn_length * ways.drawn_lengths[rod.id]
            total += counted(gain * stretch, back_of(analysis), side) * (gain_slope * stretch + gain * change)
        return total

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """The stretch, F l / (E A), times what the rod's length does to the end."""
        gain, force, size, modulus, section, error = sp.symbols("m_i F_i l_i E_i A_i e_i", real=True)
        return error, gain * force * size / (modulus * section)

    def columns(self) -> tuple[Column, ...]:
        """Gain, pull, length, modulus and section."""
        return (
            Column("end per unit", "m_i", "ratio", "how far the end rises per unit the rod gets longer"),
            Column("pull", "F_i", "force", "pull in the rod, − when it is pushed"),
            Column("length", "l_i", "length", "length of the rod"),
            Column("modulus", "E_i", "pressure", "elastic modulus of the rod"),
            Column("section", "A_i", "area", "cross section of the rod"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """A rod's numbers, and its line."""
        rod, place, pull = next(each for each in self._elastic(analysis) if each[0].id == source.id)
        gain = float(analysis.sensitivities.of_error(end)[place])
        numbers = (gain, pull, rod.drawn_length, rod.elastic_modulus or 0.0, rod.section_area or 0.0)
        standing = analysis.standing[analysis.mount.members.index(rod)]
        return Term(source, numbers, (standing.first, standing.second))
