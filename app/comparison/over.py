"""Two mounts compared over their travel: each by itself against its tolerance first, then the worst of each number.

Each over its own travel, from where it stands: the strokes of its first two cylinders, the others where they are. What
is not ranked at one position is not ranked here: past relief or a rating anywhere on the travel, on a side that nothing
holds where the number is worst, where inputs differ, or where a tenth more load would turn the ratio over.
"""

from collections.abc import Mapping, Sequence

from app.comparison.compare import NOT_ALONE, Compared, leading, moves_of
from app.comparison.inputs import unlike
from app.comparison.overrows import NOTHING, OVER_CAUSES, FoundOver, OverCause, OverRow
from app.comparison.overside import OverSide
from app.comparison.oververdict import OverVerdict, over_verdict
from app.comparison.ranking import Ranked, of_swing, of_unheld, of_unlike, ranked
from app.document.messages import Message
from app.document.models import Mount
from app.results.answer import answer


@answer
class ComparedOver(Compared):
    """A number of both mounts over their travel."""

    commands: list[dict[str, float] | None]
    """Where it is worst, of A and of B, mm longer than drawn by id; null where it is of the whole travel."""


@answer
class CauseOver:
    """Numbers over the travel that follow from one cause."""

    name: str
    """Its name."""
    title: str
    """What it is."""
    rows: list[ComparedOver]
    """Its numbers, the leading one first."""


@answer
class ComparisonOver:
    """Two mounts side by side, each over its own travel."""

    a: OverVerdict
    """A by itself."""
    b: OverVerdict
    """B by itself."""
    unlike: list[str]
    """Groups of inputs in which they differ."""
    causes: list[CauseOver]
    """The numbers, cause by cause."""
    a_better: list[str]
    """The number that says in what A is the better, one a cause, by name."""
    b_better: list[str]
    """The same of B."""


def compare_over(
    a: Mount,
    b: Mount,
    strokes_a: Mapping[str, object] | None = None,
    strokes_b: Mapping[str, object] | None = None,
) -> ComparisonOver:
    """Compare two mounts over their travels; the strokes say where each stands, mm longer than drawn by id.

    Raises BadCommand.
    """
    sides = [OverSide(a, strokes_a or {}), OverSide(b, strokes_b or {})]
    differing = unlike(a, b)
    causes = [_cause(cause, sides, differing) for cause in OVER_CAUSES]
    return ComparisonOver(
        a=over_verdict(sides[0]),
        b=over_verdict(sides[1]),
        unlike=differing,
        causes=causes,
        a_better=leading([cause.rows for cause in causes], "a"),
        b_better=leading([cause.rows for cause in causes], "b"),
    )


def _cause(cause: OverCause, sides: Sequence[OverSide], differing: Sequence[str]) -> CauseOver:
    return CauseOver(cause.name, cause.title, [_row(row, sides, differing) for row in cause.rows])


def _row(row: OverRow, sides: Sequence[OverSide], differing: Sequence[str]) -> ComparedOver:
    found = [NOTHING if side.why_not else row.of(side) for side in sides]
    reasons = [
        None if each.value is not None else side.reason(*row.absent) for each, side in zip(found, sides, strict=True)
    ]
    ranks = _ranked(row, sides, found, differing)
    return ComparedOver(
        name=row.name,
        label=row.label,
        noun=row.noun,
        quantity=row.quantity,
        signed=row.signed,
        a=found[0].value,
        b=found[1].value,
        about=[each.about for each in found],
        paths=[[], []],
        missing=reasons,
        better=ranks.better,
        times=ranks.times,
        why=ranks.why,
        commands=[each.at.command if each.at else None for each in found],
    )


def _ranked(row: OverRow, sides: Sequence[OverSide], found: Sequence[FoundOver], differing: Sequence[str]) -> Ranked:
    a, b = found[0].value, found[1].value
    if a is None or b is None:
        return Ranked(None, None, None)
    why = of_unlike([group for group in row.hangs if group in differing])
    if "load" in row.hangs:
        why = why or _of_strength(sides)
    there = [side.at(each.at) for side, each in zip(sides, found, strict=True)]
    if row.held:
        why = why or of_unheld(there)
    ranks = ranked((a, b), row.better)
    if row.again and not why and ranks.better != "same":
        why = of_swing(there, _ratios(row, sides))
    why = why or _unfair(row, sides, ranks)
    return Ranked(None, None, why) if why else ranks


def _of_strength(sides: Sequence[OverSide]) -> Message | None:
    """That a mount does not carry the load everywhere on its travel."""
    for layer, code, text in (
        ("relief", "beyond-relief", "the relief valve of {names} opens somewhere on its travel before the load is on"),
        ("use", "over-rating", "a joint of {names} is loaded past its rating somewhere on its travel"),
    ):
        names = " and ".join(name for name, side in zip("AB", sides, strict=True) if side.passes(layer))
        if names:
            return Message(code, text.replace("{names}", names))
    return None


def _ratios(row: OverRow, sides: Sequence[OverSide]) -> list[float | None]:
    """A over B at a tenth less load, at the load, and at a tenth more; None where B has none."""
    if row.again is None or not all(side.around for side in sides):
        return []
    values = []
    for side in sides:
        overs = (side.around[0], side.over, side.around[1])
        values.append([row.again(over) or 0.0 for over in overs])
    return [a / b if a and b else None for a, b in zip(*values, strict=True)]


def _unfair(row: OverRow, sides: Sequence[OverSide], ranks: Ranked) -> Message | None:
    """No praise for a mount that is the better only because it does less than the other."""
    if not row.alone or ranks.better not in ("a", "b"):
        return None
    number = 0 if ranks.better == "a" else 1
    return Message("does-less", f"{'AB'[number]} {NOT_ALONE}") if moves_of(sides[number].drawn) is None else None
