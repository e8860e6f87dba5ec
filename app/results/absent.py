"""Why a number of the readout is not there, by its path."""

from app.analysis import Analysis
from app.document.messages import Message
from app.document.reasons import (
    NO_CYLINDER,
    NO_LOAD,
    NO_LOAD_OR_MASS,
    NO_LOAD_SIZE,
    NO_MASS,
    NO_RELIEF,
    NO_TOLERANCE,
    NO_VALVE,
)
from app.results.coupling import NOT_TWO, coupling, movements, why_no_moves
from app.sources import KINDS

NO_COUPLING = Message("moves-neither", "a cylinder that moves neither end has none")
NONE_MOVES = Message("none-moves", "no cylinder moves either end")


def absent(analysis: Analysis) -> dict[str, Message]:
    """Every reason, of a located mount."""
    mount = analysis.mount
    reasons: dict[str, Message] = {}
    if mount.load is None:
        by_load = ("force", "side", "pressure", "load_ratio", "relief_share")
        reasons |= {f"actuators.{name}": NO_LOAD for name in by_load}
        reasons |= dict.fromkeys(("forces.load", "forces.together", "dial"), NO_LOAD)
    elif mount.load.force == (0.0, 0.0):
        reasons["actuators.load_ratio"] = NO_LOAD_SIZE
    reasons |= {f"budget.{name}": lacking for name, kind in KINDS.items() if (lacking := kind.lacks(mount))}
    if mount.blade.mass is None or mount.blade.mass_centre is None:
        reasons |= dict.fromkeys(("forces.weight", "actuators.weight_force"), NO_MASS)
        reasons.setdefault("forces.together", NO_MASS)
        if mount.load is None:
            reasons["forces.worst"] = NO_LOAD_OR_MASS
    if mount.valve is None:
        reasons |= dict.fromkeys(("actuators.speed", "actuators.step"), NO_VALVE)
    if mount.oil is None or mount.oil.relief_pressure is None:
        reasons["actuators.relief"] = NO_RELIEF
        reasons.setdefault("actuators.relief_share", NO_RELIEF)
    if mount.tolerance is None:
        reasons["budget.inside"] = NO_TOLERANCE
    return reasons | _of_coupling(analysis)


def _of_coupling(analysis: Analysis) -> dict[str, Message]:
    reasons: dict[str, Message] = {}
    if any(each.coupling is None for each in movements(analysis).values()):
        reasons["actuators.coupling"] = NO_COUPLING
    if not analysis.mount.cylinders:
        reasons["coupling.worst"] = NO_CYLINDER
    elif coupling(analysis).worst is None:
        reasons["coupling.worst"] = NONE_MOVES
    if reason := why_no_moves(analysis):
        reasons["coupling.interaction"] = reason if len(analysis.mount.cylinders) == 2 else NOT_TWO
        reasons["coupling.moves"] = reason
    return reasons
