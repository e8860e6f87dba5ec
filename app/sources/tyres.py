"""Tyres or springs under the frame: the load lifts the frame on them, through the mount, and the edge with it.

Two springs of equal stiffness k a track t apart, the load's vertical part F at x_F and the middle of the track m: by
the balance of forces and moments the frame rises by F / (2 k) and turns by F (x_F - m) / (k t^2 / 2), so that a place
at x rises by F [1/(2k) + 2 (x_F - m)(x - m) / (k t^2)] (statics of a beam on two springs). A side force is left out: it
would need the height at which the ground holds the tyres.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, TypeVar

import numpy as np
import sympy as sp

from app.analysis import Analysis
from app.document import models as document
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.document.reasons import NO_LOAD
from app.solve.equations import Array
from app.solve.poses import Poses
from app.solve.sensitivity import BLADE_BODY
from app.sources.source import Column, Ranges, Slope, Source, SourceKind, Term, Ways, back_of, counted, shares_of

_Level = TypeVar("_Level", float, Array)


def rise(tyres: document.Tyres, load: document.Load, at: _Level, own: _Level) -> _Level:
    """How far the full load lifts a place on the frame, mm: the load acts ``at``, the place is ``own``, both x, mm."""
    middle, track = (tyres.left + tyres.right) / 2, tyres.right - tyres.left
    share = 2 * (at - middle) * (own - middle) / (tyres.stiffness * track**2)
    return load.force[1] * (1 / (2 * tyres.stiffness) + share)


class Tyres(SourceKind):
    """The frame lifted on its tyres."""

    KIND = "tyres"
    SYMBOL = "tyres"
    LABEL = "frame lifted on its tyres"
    SHORT = "tyres"
    TITLE = "Frame lifted on its tyres"
    TOGETHER = "the frame on its tyres"
    STEPS: ClassVar[dict[str, float]] = {"tyre stiffness": 50.0}
    WORDS = (
        "The load lifts the frame on its two tyres: shared equally by both, and its moment about the middle of the "
        "track turns the frame. A side force is left out."
    )
    NOTHING = "no tyres are given: the frame counts as standing fast"

    def lacks(self, mount: Mount) -> Message | None:
        """A load."""
        return NO_LOAD if mount.load is None else None

    def _rise(self, analysis: Analysis, tyres: document.Tyres, load: document.Load, end: EndName) -> float:
        return rise(tyres, load, analysis.on_blade(load.at)[0], analysis.ends[end][0])

    def sources(self, analysis: Analysis) -> list[Source]:
        """One source: the frame."""
        tyres, load = analysis.mount.tyres, analysis.mount.load
        if tyres is None or load is None:
            return []
        reach = {end: (self._rise(analysis, tyres, load, end),) for end in ENDS}
        return [Source("tyres", None, self.KIND, reach, "load", shares=shares_of(analysis))]

    def over(self, poses: Poses) -> Ranges:
        """The frame's rise at both ends."""
        tyres, load, blade = poses.mount.tyres, poses.mount.load, poses.mount.blade
        if tyres is None or load is None:
            return Ranges.none(poses)
        at, own = poses.on_blade(load.at)[0], np.stack([poses.on_blade(end)[0] for end in (blade.left, blade.right)])
        full = rise(tyres, load, at, own)
        return Ranges.with_load([(full, back_of(poses) * full)], poses)

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """By the stiffness: what counts falls in proportion."""
        tyres = analysis.mount.tyres
        for source in self.sources(analysis) if tyres else ():
            own = tyres.stiffness if tyres else 1.0
            counts = {end: abs(source.range(end)[sides[end]]) for end in ENDS}
            yield Slope("tyre stiffness", "tyres", own, {end: -counts[end] / own for end in ENDS})

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """The load and the end move level as the blade moves."""
        tyres, load = analysis.mount.tyres, analysis.mount.load
        if tyres is None or load is None:
            return ways.zero()
        middle, track = (tyres.left + tyres.right) / 2, tyres.right - tyres.left

        def level(y: float) -> Array:
            own: Array = ways.moved[:, 3 * BLADE_BODY] - (y - float(analysis.pose.q[1])) * ways.turns
            return own

        (load_x, load_y), (end_x, end_y) = analysis.on_blade(load.at), analysis.ends[end]
        change = level(load_y) * (end_x - middle) + level(end_y) * (load_x - middle)
        slope: Array = 2 * load.force[1] * change / (tyres.stiffness * track**2)
        return counted(self._rise(analysis, tyres, load, end), back_of(analysis), side) * slope

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """Rise of the frame at the end."""
        force, stiffness, track, at, own, error = sp.symbols("F_y k t a_F a_i e_i", real=True)
        return error, force * (1 / (2 * stiffness) + 2 * at * own / (stiffness * track**2))

    def columns(self) -> tuple[Column, ...]:
        """Force, stiffness, track, and both distances from its middle."""
        return (
            Column("load upward", "F_y", "force", "vertical part of the load"),
            Column("stiffness", "k", "stiffness", "stiffness of each tyre"),
            Column("track", "t", "length", "distance between the tyres"),
            Column("load from the middle", "a_F", "length", "how far right of the middle of the track the load acts"),
            Column("end from the middle", "a_i", "length", "how far right of the middle of the track the end is"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """The frame's numbers."""
        tyres, load = analysis.mount.tyres, analysis.mount.load
        if tyres is None or load is None:
            raise ValueError("there are no tyres, or no load")
        middle = (tyres.left + tyres.right) / 2
        at, own = analysis.on_blade(load.at)[0] - middle, analysis.ends[end][0] - middle
        return Term(source, (load.force[1], tyres.stiffness, tyres.right - tyres.left, at, own))
