"""The kinds of source of error there are. A new kind is a file here and a line in ``KINDS``."""

from app.analysis import Analysis, worked_out_once
from app.solve.farthest import Offset
from app.sources.allowance import Allowance
from app.sources.bracket import Bracket
from app.sources.clearance import Clearance
from app.sources.oil import Oil
from app.sources.source import Source, SourceKind
from app.sources.step import Step
from app.sources.stretch import Stretch
from app.sources.tyres import Tyres

KINDS: dict[str, SourceKind] = {
    kind.KIND: kind
    for kind in (
        Clearance(),
        Oil(),
        Stretch(),
        Bracket(),
        Tyres(),
        Step(),
        Allowance(),
    )
}
"""Every kind by its name, in the order in which they are added up."""


@worked_out_once
def sources(analysis: Analysis) -> list[Source]:
    """Every source of error of a mount at one position."""
    return [source for kind in KINDS.values() for source in kind.sources(analysis)]


@worked_out_once
def offsets(analysis: Analysis) -> list[Offset]:
    """Everything that can move in a mount at one position: offsets of its joints and changes of its lengths."""
    return [offset for kind in KINDS.values() for offset in kind.offsets(analysis)]
