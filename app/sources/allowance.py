"""Allowances: errors of known size that do not come from the mount, such as a receiver's reading."""

import math

import numpy as np
import sympy as sp

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS, EndName
from app.solve.equations import Array
from app.solve.poses import Poses
from app.sources.source import Column, Ranges, Source, SourceKind, Term, Ways

_AT_ENDS: dict[EndName, dict[EndName, float]] = {end: {each: float(each == end) for each in ENDS} for end in ENDS}


@worked_out_once
def sensor_carry(analysis: Analysis) -> dict[EndName, dict[EndName, float]]:
    """How far each end of the blade is out per mm at each sensor alone, along the straight blade.

    Empty without sensors, or where they stand one above the other.
    """
    sensors = analysis.mount.sensors
    if sensors is None:
        return {}
    near, far = (analysis.on_blade(at)[0] for at in (sensors.left, sensors.right))
    if far == near:
        return {}
    places = {end: x for end, (x, _) in analysis.ends.items()}
    return {
        "left": {end: (far - x) / (far - near) for end, x in places.items()},
        "right": {end: (x - near) / (far - near) for end, x in places.items()},
    }


class Allowance(SourceKind):
    """Errors of known size."""

    KIND = "allowance"
    SYMBOL = "allowance"
    LABEL = "allowance"
    SHORT = "allowance"
    TITLE = "Allowances"
    TOGETHER = "allowances"
    WORDS = "Errors of known size, either way; one at a sensor is carried to the end along the straight blade."
    NOTHING = "none is entered, or none has a place"

    def lacks(self, mount: Mount) -> Message | None:
        """Nothing: what is not entered is not there."""
        return None

    def sources(self, analysis: Analysis) -> list[Source]:
        """Two sources for every allowance: at each end, or at each sensor."""
        listed = []
        for allowance in analysis.mount.allowances:
            parts = _AT_ENDS if allowance.at == "ends" else sensor_carry(analysis)
            for part, carry in parts.items():
                reach = {end: (allowance.plus_minus * carry[end],) for end in ENDS}
                listed.append(Source(f"{allowance.label} / {part}", None, self.KIND, reach))
        return listed

    def over(self, poses: Poses) -> Ranges:
        """Every allowance as the straight blade carries it."""
        mount, blade = poses.mount, poses.mount.blade
        carried = []
        for allowance in mount.allowances:
            if allowance.at == "ends":
                carried.append(np.full((2, len(poses)), allowance.plus_minus))
            elif mount.sensors is not None:
                near, far = (poses.on_blade(at)[0] for at in (mount.sensors.left, mount.sensors.right))
                ends = np.stack([poses.on_blade(end)[0] for end in (blade.left, blade.right)])
                base = far - near
                for part in ((far - ends), (ends - near)):
                    carry = np.divide(part, base, out=np.zeros_like(part), where=base != 0)
                    carried.append(allowance.plus_minus * carry)
        return Ranges.either_way(carried, poses)

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        """What the sensors carry to an end changes as the blade turns."""
        mount = analysis.mount
        size = sum(allowance.plus_minus for allowance in mount.allowances if allowance.at == "sensors")
        if mount.sensors is None or not size:
            return ways.zero()
        near, far = (analysis.on_blade(at) for at in (mount.sensors.left, mount.sensors.right))
        own = analysis.ends[end]
        base = far[0] - near[0]
        if not base:
            return ways.zero()
        base_slope = -(far[1] - near[1])
        total = 0.0
        for top, top_slope in (((far[0] - own[0]), -(far[1] - own[1])), ((own[0] - near[0]), -(own[1] - near[1]))):
            share = top / base
            total += math.copysign(1.0, share) * (top_slope - share * base_slope) / base
        return np.asarray(size * total * ways.turns)

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        """An allowance carried to the end."""
        size, carry, error = sp.symbols("a_i g_i e_i", real=True)
        return error, size * sp.Abs(carry)

    def columns(self) -> tuple[Column, ...]:
        """Its size, and what it is at the end."""
        return (
            Column("±", "a_i", "length", "the allowance"),
            Column("end per unit", "g_i", "ratio", "how far the end is out per unit at that place"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        """An allowance's size and carry."""
        label, _, side = source.id.rpartition(" / ")
        given = next(each for each in analysis.mount.allowances if each.label == label)
        carry = _AT_ENDS if given.at == "ends" else sensor_carry(analysis)
        return Term(source, (given.plus_minus, carry["left" if side == "left" else "right"][end]))
