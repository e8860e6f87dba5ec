"""The readout: every answer about a mount at one position of its cylinders, put together."""

from collections.abc import Mapping

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.reasons import NOT_LOCATED
from app.results.absent import absent
from app.results.actuators import Actuator, actuators
from app.results.answer import answer
from app.results.budget import Budget, budget
from app.results.coupling import Coupling, coupling
from app.results.dial import Dial, load_test
from app.results.forces import JointForce, joint_forces
from app.results.standing import Mobility, Standing, held, standing
from app.results.warnings import warnings


@answer
class Readout:
    """Everything the tool knows of a mount at one position of its cylinders."""

    mobility: Mobility
    """How the mount holds."""
    pose: Standing | None
    """Where everything stands; null unless located."""
    actuators: dict[str, Actuator] | None
    """Every cylinder, by id; null unless located."""
    coupling: Coupling | None
    """The cylinders together; null unless located."""
    forces: dict[str, JointForce] | None
    """Every joint, by name; null unless located."""
    budget: Budget | None
    """The error budget; null unless located."""
    dial: Dial | None
    """The load test; null without a load or unless located."""
    warnings: list[Message]
    """What to look at."""
    absent: dict[str, Message]
    """Why a number is null, by its path."""


def readout(mount: Mount, strokes: Mapping[str, object] | None = None) -> Readout:
    """Everything the tool knows of a mount with its cylinders moved by ``strokes`` (mm longer than drawn, by id).

    Raises BadCommand for strokes that name no cylinder or are no numbers.
    """
    return readout_of(Analysis(mount, strokes))


def readout_of(analysis: Analysis) -> Readout:
    """The readout of an analysis that is at hand."""
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state]
        missing = dict.fromkeys(("pose", "actuators", "coupling", "forces", "budget", "dial"), reason)
        return Readout(held(analysis), None, None, None, None, None, None, [], missing)
    return Readout(
        mobility=held(analysis),
        pose=standing(analysis),
        actuators=actuators(analysis),
        coupling=coupling(analysis),
        forces=joint_forces(analysis),
        budget=budget(analysis),
        dial=load_test(analysis),
        warnings=warnings(analysis),
        absent=absent(analysis),
    )
