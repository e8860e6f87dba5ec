"""Lugs and brackets that the load bends: a joint on one gives way in proportion to the load's force there."""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar, NamedTuple

import numpy as np
import sympy as sp

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reasons import NO_LOAD
from app.solve.equations import Array
from app.solve.farthest import Offset
from app.solve.poses import Poses
from app.sources.play import dot
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


class _Lug(NamedTuple):
    """A joint on a lug: name, member, errors, work of the load per unit offset (N), and stiffness (N/mm)."""

    name: str
    member: str
    errors: slice
    push: list[float]
    stiffness: float

    @property
    def bends(self) -> list[float]:
        """How far the full load moves the joint, mm per axis: the work per unit offset is the force along it."""
        return [each / self.stiffness for each in self.push]


class Bracket(SourceKind):
    """Lugs and brackets bent by the load."""

    KIND = "bracket"
    SYMBOL = "bracket"
    LABEL = "lug bent by the load"
    SHORT = "lug bent"
    TITLE = "Lugs bent by the load"
    TOGETHER = "lugs bent"
    STEPS: ClassVar[dict[str, float]] = {"lug stiffness": 5000.0}
    MOVES_JOINTS = True
    WORDS = (
        "The load's force at the joint over the stiffness of its lug bends it; what the joint's movement does to the "
        "end carries that to the edge."
    )
    NOTHING = "no joint has the stiffness of its lug: lugs count as stiff"

    def lacks(self, mount: Mount) -> Message | None:
        """A load."""
        return NO_LOAD if mount.load is None else None

    def _lugs(self, analysis: Analysis) -> Iterator[_Lug]:
        if not analysis.sensitivities.has("load"):
            return
        work = analysis.sensitivities.of_error("load").tolist()
        for name, member, part, _ in analysis.mount.joints:
            if part.stiffness:
                errors = analysis.assembly.joint_errors[name]
                yield _Lug(name, member.id, errors, work[errors], part.stiffness)

    def sources(self, analysis: Analysis) -> list[Source]:
        """A source for every joint on a lug that has a stiffness."""
        found, listed = analysis.sensitivities, []
        for lug in self._lugs(analysis):
            reach = {end: (dot(found.of_error(end)[lug.errors].tolist(), lug.bends),) for end in ENDS}
            listed.append(Source(lug.name, lug.member, self.KIND, reach, "load", shares=shares_of(analysis)))
        return listed

    def over(self, poses: Poses) -> Ranges:
        """The force at every joint on a lug that bends, over its stiffness, times what it does to the ends."""
        if not poses.has("load"):
            return Ranges.none(poses)
        work, back, gains = poses.of_error("load"), back_of(poses), at_ends(poses.of_error)
        heights = []
        for name, _, part, _ in poses.mount.joints:
            if part.stiffness:
                errors = poses.assembly.joint_errors[name]
                full = (gains[:, :, errors] * work[:, errors]).sum(axis=2) / part.stiffness
                heights.append((full, back * full))
        return Ranges.with_load(heights, poses)

    def offsets(self, analysis: Analysis) -> list[Offset]:
        """Every such joint's offset under the load."""
        back = back_of(analysis)
        return [
            Offset(
                lug.name, tuple(range(lug.errors.start, lug.errors.stop)), (), tuple(lug.bends), free=False, back=back
            )
            for lug in self._lugs(analysis)
        ]

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """By the stiffness: what counts falls in proportion."""
        stiffness = {lug.name: lug.stiffness for lug in self._lugs(analysis)}
        for source in self.sources(analysis):
            own = stiffness[source.id]
            counts = {end: abs(source.range(end)[sides[end]]) for end in ENDS}
            yield Slope("lug stiffness", source.id, own, {end: -counts[end] / own for end in ENDS})

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """The slopes of the multiplier and of the force at the joint."""
        found, total = analysis.sensitivities, ways.zero()
        for lug in self._lugs(analysis):
            gain = found.of_error(end)[lug.errors]
            gain_slope = ways.by_error[:, lug.errors, found.cases[end]]
            push_slope = ways.by_error[:, lug.errors, found.cases["load"]]
            factor = counted(dot(gain.tolist(), lug.bends), back_of(analysis), side)
            total += factor * (gain_slope @ np.array(lug.bends) + push_slope @ gain / lug.stiffness)
        return total

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """Force along the joint's multiplier over the stiffness, times the multiplier."""
        gain, force, stiffness, error = sp.symbols("m_i F_i k_i e_i", real=True)
        return error, gain * force / stiffness

    def columns(self) -> tuple[Column, ...]:
        """Multiplier, force along it, and stiffness."""
        return (
            Column("multiplier", "m_i", "ratio", "multiplier of the joint"),
            Column("force", "F_i", "force", "force of the load at the joint, along the way that moves the end most"),
            Column("stiffness", "k_i", "stiffness", "stiffness of the lug"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """A joint's numbers, and its place."""
        lug = next(each for each in self._lugs(analysis) if each.name == source.id)
        own = analysis.sensitivities.of_error(end)[lug.errors].tolist()
        size = math.hypot(*own)
        along = dot(own, lug.push) / size if size else 0.0
        return Term(source, (size, along, lug.stiffness), (analysis.joint_places[source.id],))
