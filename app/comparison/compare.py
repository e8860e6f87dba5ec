"""Two mounts compared: each by itself first, then cause by cause, and in one sentence each way.

What hangs on inputs in which they differ, on a side that nothing holds, or on a load that one of them cannot carry is
shown and not ranked.
"""

from collections.abc import Iterable, Mapping, Sequence

from app.comparison.inputs import unlike
from app.comparison.ranking import (
    Better,
    Ranked,
    of_nowhere,
    of_strength,
    of_swing,
    of_unheld,
    of_unlike,
    ranked,
)
from app.comparison.rows import CAUSES, Cause, Found, Row
from app.comparison.side import Side, Wanted
from app.comparison.verdict import Verdict, verdict
from app.document.messages import Message
from app.document.models import Mount
from app.document.parts import EndName
from app.document.units import Measure
from app.results.answer import answer
from app.results.correction import Correction

NOT_ALONE = "cannot correct each end alone"
UNABLE = ("one-cylinder", "one-end", "singular", "beyond-stroke", "no-cylinder")
"""Reasons why no move corrects one end alone: a mount that can is the better."""

USUAL_RISE_MM = 20.0


@answer
class Compared:
    """A number of both mounts."""

    name: str
    """Its name."""
    label: str
    """What it is."""
    noun: str
    """What one mount has so many times of."""
    quantity: Measure
    """What it measures."""
    signed: bool
    """Whether its sign is shown."""
    a: float | None
    """Of A; null where there is none."""
    b: float | None
    """Of B; null where there is none."""
    about: list[str]
    """Which cylinder, end or joint it is of, in A and in B; empty where it is of the whole mount."""
    paths: list[list[str]]
    """Where it stands in the readout of A and of B; empty where it does not."""
    missing: list[Message | None]
    """Why it is not there, in A and in B; null where it is."""
    better: Better | None
    """The better one; null where neither is said to be."""
    times: float | None
    """The larger over the smaller by size; null where they are not compared, or one is none."""
    why: Message | None
    """Why they are not compared; null where they are."""


@answer
class CauseCompared:
    """Numbers that follow from one cause."""

    name: str
    """Its name."""
    title: str
    """What it is."""
    rows: list[Compared]
    """Its numbers, the leading one first."""


@answer
class Comparison:
    """Two mounts side by side."""

    a: Verdict
    """A by itself."""
    b: Verdict
    """B by itself."""
    unlike: list[str]
    """Groups of inputs in which they differ."""
    causes: list[CauseCompared]
    """The numbers, cause by cause."""
    a_better: list[str]
    """The number that says in what A is the better, one a cause, by name."""
    b_better: list[str]
    """The same of B."""
    corrections: list[Correction | None]
    """What the correction takes of A and of B; null unless located."""


def compare(
    a: Mount,
    b: Mount,
    strokes_a: Mapping[str, object] | None = None,
    strokes_b: Mapping[str, object] | None = None,
    end: EndName = "right",
    rise: float = USUAL_RISE_MM,
) -> Comparison:
    """Compare two mounts with their cylinders moved by strokes, mm longer than drawn by id.

    ``end`` and ``rise``, mm, are the correction both are asked for. Raises BadCommand.
    """
    sides = [Side(a, strokes_a or {}, Wanted(end, rise)), Side(b, strokes_b or {}, Wanted(end, rise))]
    differing = unlike(a, b)
    causes = [_cause(cause, sides, differing) for cause in CAUSES]
    return Comparison(
        a=verdict(sides[0]),
        b=verdict(sides[1]),
        unlike=differing,
        causes=causes,
        a_better=leading([cause.rows for cause in causes], "a"),
        b_better=leading([cause.rows for cause in causes], "b"),
        corrections=[side.correction if side.now.located else None for side in sides],
    )


def leading(causes: Iterable[Sequence[Compared]], name: Better) -> list[str]:
    """In what one is the better: the first such number of every cause, by name."""
    firsts = [next((row.name for row in rows if row.better == name), None) for rows in causes]
    return [each for each in firsts if each is not None]


def _cause(cause: Cause, sides: Sequence[Side], differing: Sequence[str]) -> CauseCompared:
    return CauseCompared(cause.name, cause.title, [_row(row, sides, differing) for row in cause.rows])


def _row(row: Row, sides: Sequence[Side], differing: Sequence[str]) -> Compared:
    found = [row.of(side) for side in sides]
    reasons = [None if each.value is not None else _reason(row, side) for each, side in zip(found, sides, strict=True)]
    ranks = _ranked(row, sides, found, reasons, differing)
    return Compared(
        name=row.name,
        label=row.label,
        noun=row.noun,
        quantity=row.quantity,
        signed=row.signed,
        a=found[0].value,
        b=found[1].value,
        about=[each.about for each in found],
        paths=[list(each.path) for each in found],
        missing=reasons,
        better=ranks.better,
        times=ranks.times,
        why=ranks.why,
    )


def _reason(row: Row, side: Side) -> Message | None:
    if row.name in ("time", "oil", "other") and side.now.located:
        return side.correction.why
    return side.reason(*row.absent)


def _ranked(
    row: Row,
    sides: Sequence[Side],
    found: Sequence[Found],
    reasons: Sequence[Message | None],
    differing: Sequence[str],
) -> Ranked:
    if not all(side.now.located for side in sides):
        return Ranked(None, None, None)
    a, b = found[0].value, found[1].value
    if row.name == "moves" and (a is None) != (b is None):
        unable = reasons[0] if a is None else reasons[1]
        if unable is not None and unable.code in UNABLE:
            return Ranked("b" if a is None else "a", None, None)
    if a is None or b is None:
        return Ranked(None, None, None)
    why = of_nowhere(sides)
    why = why or of_unlike([group for group in row.hangs if group in differing])
    if "load" in row.hangs:
        why = why or of_strength(sides)
    if row.held:
        why = why or of_unheld(sides)
    ranks = ranked((a, b), row.better)
    if row.again and not why and ranks.better != "same":
        why = of_swing(sides, _ratios(row, sides))
    why = why or _unfair(row, sides, ranks)
    return Ranked(None, None, why) if why else ranks


def _ratios(row: Row, sides: Sequence[Side]) -> list[float | None]:
    """A over B at a tenth less load, at the load, and at a tenth more; None where B has none."""
    if row.again is None or not all(side.around for side in sides):
        return []
    runs = [(side.around[0], side.now, side.around[1]) for side in sides]
    values = [[abs(row.again(each) or 0.0) for each in run] for run in runs]
    return [a / b if a and b else None for a, b in zip(*values, strict=True)]


def _unfair(row: Row, sides: Sequence[Side], ranks: Ranked) -> Message | None:
    """No praise for a mount that is the better only because it does less than the other."""
    if ranks.better not in ("a", "b"):
        return None
    number = 0 if ranks.better == "a" else 1
    name, side = "AB"[number], sides[number]
    if row.name in ("coupling", "residual") and moves_of(side) is None:
        return Message("does-less", f"{name} {NOT_ALONE}")
    if row.name in ("time", "oil") and not side.correction.alone and sides[1 - number].correction.alone:
        text = f"{name} moves the other end too, by {{other}}"
        return Message("does-less", text, values={"other": (side.correction.other, "error")})
    return None


def moves_of(side: Side) -> object:
    """What corrects either end alone; None where nothing does."""
    return side.readout.coupling.moves if side.readout.coupling else None
