"""Why a number of the readout is not there, by its path."""

from app.analysis import Analysis
from app.document.messages import Message
from app.document.parts import ENDS
from app.document.reasons import (
    NO_CYLINDER,
    NO_LOAD,
    NO_LOAD_OR_MASS,
    NO_LOAD_SIZE,
    NO_MASS,
    NO_RELIEF,
    NO_VALVE,
)
from app.results.budget import budget, why_no_verdict
from app.results.coupling import NOT_TWO, coupling, movements, why_no_moves
from app.results.relief import stalls
from app.sources import KINDS

NO_COUPLING = Message("moves-neither", "a cylinder that hardly moves either end has none")
NONE_MOVES = Message("none-moves", "no cylinder moves either end")
NONE_FEELS = Message("none-feels", "no cylinder carries any of the load")
NEVER_REVERSES = Message(
    "never-reverses", "no push whose side the weight decides reverses, however large the load is that way"
)
NEVER_SETTLES = Message("never-settles", "correcting the ends in turn leaves as much as it takes away")


def absent(analysis: Analysis) -> dict[str, Message]:
    """Every reason, of a located mount."""
    mount = analysis.mount
    reasons: dict[str, Message] = {}
    if mount.load is None:
        by_load = ("force", "side", "pressure", "load_ratio")
        reasons |= {f"actuators.{name}": NO_LOAD for name in by_load}
        by_end = [f"{end}.{name}" for end in ENDS for name in ("sources.moved", "worst_under_load")]
        reasons |= {f"budget.{name}": NO_LOAD for name in (*by_end, "reverses_at")}
        reasons |= dict.fromkeys(("forces.load", "forces.together", "dial"), NO_LOAD)
    elif mount.load.force == (0.0, 0.0):
        reasons["actuators.load_ratio"] = NO_LOAD_SIZE
    reasons |= {f"budget.{name}": lacking for name, kind in KINDS.items() if (lacking := kind.lacks(mount))}
    if not mount.weights:
        reasons |= dict.fromkeys(("forces.weight", "actuators.weight_force"), NO_MASS)
        reasons.setdefault("forces.together", NO_MASS)
        if mount.load is None:
            reasons |= dict.fromkeys(("forces.worst", "actuators.relief_share"), NO_LOAD_OR_MASS)
    if mount.valve is None:
        reasons |= dict.fromkeys(("actuators.speed", "actuators.step"), NO_VALVE)
    if mount.oil is None or mount.oil.relief_pressure is None:
        reasons |= dict.fromkeys(("actuators.relief", "forces.stall"), NO_RELIEF)
        reasons.setdefault("actuators.relief_share", NO_RELIEF)
    elif not stalls(analysis):
        reasons["forces.stall"] = NONE_FEELS
    if reason := why_no_verdict(analysis):
        reasons["budget.inside"] = reason
    return reasons | _of_reversal(analysis) | _of_coupling(analysis)


def _of_reversal(analysis: Analysis) -> dict[str, Message]:
    if analysis.mount.load is None or budget(analysis).reverses_at:
        return {}
    return {"budget.reverses_at": NEVER_REVERSES if analysis.mount.weights else NO_MASS}


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
        reasons["coupling.residual"] = reasons["coupling.interaction"]
        reasons["coupling.rounds"] = reasons["coupling.interaction"]
        reasons["coupling.moves"] = reason
    elif coupling(analysis).rounds is None:
        reasons["coupling.rounds"] = NEVER_SETTLES
    return reasons
