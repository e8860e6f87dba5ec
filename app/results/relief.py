"""Relief: the pressure that weight and load ask of every cylinder, and how the load stalls against the relief valve.

A locked cylinder is held by its port relief or lock valve, not by the pump's relief valve: what is said of a locked one
holds if that is set alike.
"""

import math
from dataclasses import dataclass

import numpy as np

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message, word
from app.members import Cylinder
from app.solve.assembly import beside
from app.solve.equations import Array
from app.solve.poses import Marks, Poses

FLOOR_N = 1e-9
"""Less than this is no force: rounding of the solve."""


@dataclass(frozen=True, slots=True)
class Demand:
    """The most that weight and load ask of a cylinder: pressure, MPa, and in words under what."""

    cylinder: Cylinder
    pressure: float
    under: str
    relief: float

    @property
    def share(self) -> float:
        """Pressure over the relief setting."""
        return self.pressure / self.relief

    @property
    def message(self) -> Message:
        """That the relief valve opens first."""
        text = f"'{{name}}' needs {{needed}} under {self.under}; the relief valve opens at {{relief}}"
        values = {
            "name": word(self.cylinder.id),
            "needed": (self.pressure, "pressure"),
            "relief": (self.relief, "pressure"),
        }
        return Message("over-relief", text, [self.cylinder.id], values)


@worked_out_once
def demands(analysis: Analysis) -> dict[str, Demand]:
    """What every cylinder has to hold of weight and load, by its id; empty without relief or without either."""
    oil = analysis.mount.oil
    if oil is None or oil.relief_pressure is None or not (analysis.load_forces or analysis.weight_forces):
        return {}
    shares = (1.0, -1.0) if analysis.mount.load and analysis.mount.load.reversing else (1.0,)
    found = {}
    for cylinder in analysis.mount.cylinders:
        weight, load = (each.get(cylinder.id, 0.0) for each in (analysis.weight_forces, analysis.load_forces))
        alone = pressure_of(cylinder, weight)
        loaded = max(pressure_of(cylinder, weight + share * load) for share in shares)
        together = "weight and load" if analysis.weight_forces else "the load"
        under = "the weight alone" if alone > loaded else together
        found[cylinder.id] = Demand(cylinder, max(alone, loaded), under, oil.relief_pressure)
    return found


def beyond_relief(analysis: Analysis) -> Message | None:
    """Why nothing that follows from the load is judged: some cylinder's relief valve opens before all of it is on."""
    over = [each for each in demands(analysis).values() if each.share > 1]
    if not over:
        return None
    most = max(over, key=lambda each: each.share)
    text = "the relief valve opens before the load is on ('{name}'): what follows from the load is not judged"
    return Message("beyond-relief", text, [most.cylinder.id], {"name": word(most.cylinder.id)})


def over_relief(poses: Poses) -> Marks:
    """At which of many poses some cylinder's relief valve opens before all of the load is on, shape (poses,)."""
    shares = relief_shares(poses)
    over: Marks = np.zeros(len(poses), dtype=bool) if shares is None else shares > 1
    return over


def relief_shares(poses: Poses) -> Array | None:
    """The most of the relief setting that weight and load ask of any cylinder at many poses, shape (poses,).

    None without a relief setting, or without weight and load, as ``demands`` has it at one pose.
    """
    oil, load = poses.mount.oil, poses.mount.load
    if oil is None or oil.relief_pressure is None or not poses.mount.cylinders:
        return None
    if not load and not poses.mount.weights:
        return None
    weight, loaded = poses.forces("weight"), poses.forces("load")
    ways = (0.0, 1.0, -1.0) if load and load.reversing else (0.0, 1.0)
    asked = [pressures_over(poses, weight + share * loaded) for share in ways]
    most: Array = np.max(asked, axis=(0, 2)) / oil.relief_pressure
    return most


def pressures_over(poses: Poses, forces: Array) -> Array:
    """Pressure of the oil that carries each of many forces, MPa, shape (poses, cylinders)."""
    cap = beside([each.cap_area for each in poses.mount.cylinders], len(poses))
    annulus = beside([each.annulus_area for each in poses.mount.cylinders], len(poses))
    found: Array = np.abs(forces) / np.where(forces >= 0, cap, annulus)
    return found


@worked_out_once
def stalls(analysis: Analysis) -> tuple[float, ...]:
    """The multiples of the load, either way, at which the first cylinder reaches its relief; none where none ever does.

    At most one of either sign; 0 both ways where the weight alone is beyond relief on the side it presses.
    """
    oil = analysis.mount.oil
    if oil is None or oil.relief_pressure is None:
        return ()
    ways: dict[float, float] = {}
    for cylinder in analysis.mount.cylinders:
        weight, load = analysis.weight_forces.get(cylinder.id, 0.0), analysis.load_forces.get(cylinder.id, 0.0)
        if abs(load) <= FLOOR_N:
            continue
        beyond = pressure_of(cylinder, weight) >= oil.relief_pressure
        for way in (1.0, -1.0):
            push = load * way
            area = cylinder.cap_area if push > 0 else cylinder.annulus_area
            limit = math.copysign(oil.relief_pressure * area, push)
            multiple = 0.0 if beyond else max((limit - weight) / push, 0.0)
            ways[way] = min(multiple, ways.get(way, math.inf))
    return tuple(way * multiple for way, multiple in ways.items())


def stalls_over(poses: Poses) -> list[Array]:
    """``stalls`` at many poses: a list of at most two, each of shape (poses,); 0 where there is none."""
    oil = poses.mount.oil
    if oil is None or oil.relief_pressure is None or not poses.has("load"):
        return []
    weights, loads = poses.forces("weight"), poses.forces("load")
    beyond = pressures_over(poses, weights) >= oil.relief_pressure
    cap = beside([each.cap_area for each in poses.mount.cylinders], len(poses))
    annulus = beside([each.annulus_area for each in poses.mount.cylinders], len(poses))
    found: list[Array] = []
    for way in (1.0, -1.0):
        push = loads * way
        limit = np.copysign(oil.relief_pressure * np.where(push > 0, cap, annulus), push)
        felt = np.abs(loads) > FLOOR_N
        multiple = np.divide(limit - weights, push, out=np.full_like(push, math.inf), where=felt)
        multiple = np.where(beyond & felt, 0.0, np.maximum(multiple, 0.0))
        least = multiple.min(axis=1, initial=math.inf)
        found.append(way * np.where(np.isfinite(least), least, 0.0))
    return found


def stall_of(cylinder: Cylinder, relief: float) -> float:
    """What a cylinder can push with at relief, N: on its cap side, whatever the rest of the mount does."""
    return relief * cylinder.cap_area


def pressure_of(cylinder: Cylinder, force: float) -> float:
    """Pressure of the oil that carries a force, MPa: on the cap side when pushed (+), else on the annulus."""
    return abs(force) / cylinder.carrying_area(force)
