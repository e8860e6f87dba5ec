"""What takes longer than a readout and is asked for once the hand is still: spread, linearity, what to change, wear."""

from collections.abc import Mapping

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.reasons import NO_TOLERANCE, NOT_LOCATED
from app.results.answer import answer
from app.results.improve import Improve, improve
from app.results.linearity import Linearity, linearity
from app.results.spread import Spread, spread
from app.results.wear import Wear, wear

NO_GROWTH = Message("no-growth", "there is no play that moves an end, or the tolerance is lost without any")
NO_JOINT_GROWTH = Message("no-joint-growth", "this joint's play moves neither end, or the tolerance is lost without it")


@answer
class Detail:
    """What is asked for once the hand is still."""

    spread: Spread | None
    """Statistics; null unless located."""
    linearity: Linearity | None
    """Check of the linear sums; null unless located."""
    improve: Improve | None
    """What to change first; null unless located."""
    wear: Wear | None
    """Allowed growth of play; null without tolerance or unless located."""
    absent: dict[str, Message]
    """Why something is null, by its path."""


def detail(mount: Mount, strokes: Mapping[str, object] | None = None) -> Detail:
    """Everything beyond the readout. Raises BadCommand."""
    return detail_of(Analysis(mount, strokes))


def detail_of(analysis: Analysis) -> Detail:
    """The detail of an analysis that is at hand."""
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state]
        missing = dict.fromkeys(("spread", "linearity", "improve", "wear"), reason)
        return Detail(None, None, None, None, missing)
    growth = wear(analysis)
    return Detail(spread(analysis), linearity(analysis), improve(analysis), growth, _absent(growth))


def _absent(growth: Wear | None) -> dict[str, Message]:
    if growth is None:
        return {"wear": NO_TOLERANCE, "spread.outside": NO_TOLERANCE}
    reasons = {}
    if growth.factor is None:
        reasons["wear.factor"] = NO_GROWTH
    if None in growth.joints.values():
        reasons["wear.joints"] = NO_JOINT_GROWTH
    return reasons
