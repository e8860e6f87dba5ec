"""Play of the joints: half a joint's clearance, either way, times what its movement does to an end.

A pin's offset lies anywhere in its clearance circle, and at its worst in the direction that moves the end most; that
of a rod or cylinder end counts along the member, that of a slide across its guide.
"""

import math
from collections.abc import Iterator, Mapping
from typing import ClassVar

import numpy as np
import sympy as sp

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.solve.assembly import beside
from app.solve.equations import Array
from app.solve.farthest import Offset
from app.solve.poses import Poses
from app.sources.play import contacts, pushes_over
from app.sources.source import Chance, Column, Ranges, Slope, Source, SourceKind, Term, Ways, at_ends


class Clearance(SourceKind):
    """Play of the joints."""

    KIND = "clearance"
    SYMBOL = "play"
    LABEL = "play of the joint"
    SHORT = "play"
    TITLE = "Play of the joints"
    TOGETHER = "play of the joints"
    STEPS: ClassVar[dict[str, float]] = {"clearance": 0.05}
    MOVES_JOINTS = True
    WORDS = (
        "Half the clearance, either way, times what a unit of movement in the joint does to the end. That multiplier "
        "is also the force in the joint under a unit of force upward on the end."
    )
    NOTHING = "no joint has clearance"

    def lacks(self, mount: Mount) -> Message | None:
        """Nothing: a joint that says no clearance has none."""
        return None

    def sources(self, analysis: Analysis) -> list[Source]:
        """A source for every joint with clearance."""
        found = analysis.sensitivities
        left, right = found.of_error("left").tolist(), found.of_error("right").tolist()
        errors_of, pushed = analysis.assembly.joint_errors, contacts(analysis)
        listed = []
        for name, member, part, _ in analysis.mount.joints:
            if part.clearance:
                errors, radius = errors_of[name], part.clearance / 2
                reach: dict[EndName, tuple[float, ...]] = {
                    "left": tuple([radius * gain for gain in left[errors]]),
                    "right": tuple([radius * gain for gain in right[errors]]),
                }
                chance: Chance = "disc" if part.ROUND else "rectangle"
                listed.append(Source(name, member.id, self.KIND, reach, chance, contact=pushed.get(name)))
        return listed

    def over(self, poses: Poses) -> Ranges:
        """Half of each clearance times the size of what the joint does, and what the load moves of that."""
        low, high = np.zeros((2, len(poses))), np.zeros((2, len(poses)))
        moved_low, moved_high = low.copy(), high.copy()
        gains, places = at_ends(poses.of_error), poses.assembly.joint_errors
        pushes = pushes_over(poses)
        for axes in (1, 2):
            gaps = [
                (places[name], part.clearance / 2) for name, _, part, _ in poses.mount.joints if np.any(part.clearance)
            ]
            gaps = [(place, radius) for place, radius in gaps if place.stop - place.start == axes]
            if not gaps:
                continue
            errors = np.array([range(place.start, place.stop) for place, _ in gaps])
            reach = gains[:, :, errors] * beside([radius for _, radius in gaps], len(poses))[:, :, None]
            size = np.linalg.norm(reach, axis=3).sum(axis=2)
            low, high = low - size, high + size
            if pushes is not None:
                under, over = pushes.moved(errors, reach)
                moved_low, moved_high = moved_low + under.sum(axis=2), moved_high + over.sum(axis=2)
        return Ranges(low, high, moved_low, moved_high) if pushes else Ranges(low, high, low, high)

    def offsets(self, analysis: Analysis) -> list[Offset]:
        """Every joint's offset, anywhere within half its clearance."""
        places = analysis.assembly.joint_errors
        return [
            Offset(name, tuple(range(places[name].start, places[name].stop)), (), (part.clearance / 2,), free=True)
            for name, _, part, _ in analysis.mount.joints
            if part.clearance
        ]

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        """By the clearance: half the joint's multiplier."""
        found, places = analysis.sensitivities, analysis.assembly.joint_errors
        for name, _, part, _ in analysis.mount.joints:
            if part.clearance:
                half = {end: math.hypot(*found.of_error(end)[places[name]].tolist()) / 2 for end in ENDS}
                yield Slope("clearance", name, part.clearance, half)

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """The multiplier's own slope along its direction."""
        found, places = analysis.sensitivities, analysis.assembly.joint_errors
        total, column = ways.zero(), found.cases[end]
        for name, _, part, _ in analysis.mount.joints:
            own = found.of_error(end)[places[name]]
            size = math.hypot(*own.tolist())
            if part.clearance and size > 1e-12:
                total += part.clearance / 2 * (ways.by_error[:, places[name], column] @ own) / size
        return total

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """Half the clearance times the multiplier."""
        clearance, gain, error = sp.symbols("c_i m_i e_i", real=True)
        return error, clearance / 2 * gain

    def columns(self) -> tuple[Column, ...]:
        """Clearance and multiplier."""
        return (
            Column("clearance", "c_i", "length", "clearance of the joint, bore less pin"),
            Column("multiplier", "m_i", "ratio", "multiplier of the joint"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """A joint's clearance and the size of what its offset does to the end."""
        own = analysis.sensitivities.of_error(end)[analysis.assembly.joint_errors[source.id]].tolist()
        clearance = next(part.clearance for name, _, part, _ in analysis.mount.joints if name == source.id)
        return Term(source, (clearance, math.hypot(*own)), (analysis.joint_places[source.id],))
