"""What takes longer than a readout and is asked for once the hand is still: true worst, spread, changes, wear."""

from collections.abc import Mapping

from app.analysis import Analysis
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import ENDS
from app.document.reasons import NO_LOAD, NO_TOLERANCE, NOT_LOCATED
from app.results.answer import answer
from app.results.budget import why_no_verdict
from app.results.improve import Improve, improve
from app.results.relief import beyond_relief
from app.results.spread import Spread, spread
from app.results.wear import Wear, wear
from app.results.worst import COMES_APART, TrueWorsts, inside, true_worst

NO_GROWTH = Message("no-growth", "there is no play that moves an end, or the tolerance is lost without any")
NO_JOINT_GROWTH = Message("no-joint-growth", "this joint's play moves neither end, or the tolerance is lost without it")


@answer
class Judged:
    """The true worst alone: what is asked for first."""

    worst: TrueWorsts | None
    """The farthest both ends go, the pose solved again; null unless located."""
    inside: bool | None
    """Whether the larger of linear and true worst of both ends is within the tolerance."""
    absent: dict[str, Message]
    """Why something is null, by its path."""


def judged(mount: Mount, strokes: Mapping[str, object] | None = None) -> Judged:
    """The true worst and its verdict. Raises BadCommand."""
    analysis = Analysis(mount, strokes)
    if not analysis.located:
        return Judged(None, None, dict.fromkeys(("worst", "inside"), NOT_LOCATED[analysis.mobility.state]))
    found = true_worst(analysis)
    return Judged(found, inside(analysis), _unjudged(analysis, found))


@answer
class Detail:
    """What is asked for once the hand is still."""

    worst: TrueWorsts | None
    """The farthest both ends go, the pose solved again; null unless located."""
    inside: bool | None
    """Whether the larger of linear and true worst of both ends is within the tolerance."""
    spread: Spread | None
    """Statistics; null unless located."""
    improve: Improve | None
    """What to change first; null where the load cannot be held, or unless located."""
    wear: Wear | None
    """Allowed growth of play; null without tolerance, where the load cannot be held, or unless located."""
    absent: dict[str, Message]
    """Why something is null, by its path."""


def detail(mount: Mount, strokes: Mapping[str, object] | None = None) -> Detail:
    """Everything beyond the readout. Raises BadCommand."""
    return detail_of(Analysis(mount, strokes))


def detail_of(analysis: Analysis) -> Detail:
    """The detail of an analysis that is at hand."""
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state]
        missing = dict.fromkeys(("worst", "inside", "spread", "improve", "wear"), reason)
        return Detail(None, None, None, None, None, missing)
    unranked = beyond_relief(analysis)
    found = Detail(
        worst=true_worst(analysis),
        inside=inside(analysis),
        spread=spread(analysis),
        improve=None if unranked else improve(analysis),
        wear=None if unranked else wear(analysis),
        absent={},
    )
    found.absent = _absent(analysis, found)
    return found


def _absent(analysis: Analysis, found: Detail) -> dict[str, Message]:
    reasons = _unjudged(analysis, true_worst(analysis))
    if found.spread and found.spread.pressed is None:
        reasons["spread.pressed"] = NO_LOAD
    if unranked := beyond_relief(analysis):
        reasons |= {"improve": unranked, "wear": unranked}
    if analysis.mount.tolerance is None:
        return reasons | {"wear": NO_TOLERANCE, "spread.outside": NO_TOLERANCE}
    if found.wear:
        if found.wear.factor is None:
            reasons["wear.factor"] = NO_GROWTH
        if None in found.wear.joints.values():
            reasons["wear.joints"] = NO_JOINT_GROWTH
    return reasons


def _unjudged(analysis: Analysis, found: TrueWorsts) -> dict[str, Message]:
    reasons: dict[str, Message] = {}
    if inside(analysis) is None:
        reasons["inside"] = why_no_verdict(analysis) or COMES_APART
    for end in ENDS:
        for way, each in (("low", found.of(end).low), ("high", found.of(end).high)):
            if each is None:
                reasons[f"worst.{end}.{way}"] = COMES_APART
    return reasons
