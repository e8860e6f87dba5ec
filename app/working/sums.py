"""The error budget of the chosen end: every kind of source from its formula, then the sum against the tolerance."""

from app.document.messages import Message
from app.document.reasons import NO_TOLERANCE
from app.results.budget import why_no_verdict
from app.results.worst import COMES_APART, true_worst
from app.sources import KINDS
from app.sources.source import SourceKind
from app.working import laws
from app.working.case import Case
from app.working.step import Known, Line, Place, Row, Step, Table, line


def of_kind(case: Case, kind: SourceKind) -> Step:
    """A kind of source: the formula with the numbers of the largest, the sum, and a table of them all."""
    if reason := kind.lacks(case.mount):
        return Step(kind.SYMBOL, kind.TITLE, "", reason=reason)
    table = table_of(case, kind)
    if not table.rows:
        return Step(kind.SYMBOL, kind.TITLE, "", reason=Message("nothing", kind.NOTHING))
    largest = table.rows[0]
    known = {
        column.symbol: Known(
            column.symbol, f"{column.meaning}, here '{largest.label}'", value, column.quantity, largest.place
        )
        for column, value in zip(kind.columns(), largest.cells[:-1], strict=True)
    }
    gives = Known("e_i", f"what '{largest.label}' does to the {case.end} end", largest.cells[-1])
    lines = (line(laws.of_source(kind.KIND), known, gives, largest.path), total_of(case, kind))
    return Step(kind.SYMBOL, kind.TITLE, kind.WORDS, lines, table=table)


def table_of(case: Case, kind: SourceKind) -> Table:
    """Every source of a kind with the numbers of its formula, largest first."""
    rows = []
    for source in case.of_kind(kind.KIND):
        term = kind.term(case.analysis, case.end, source)
        moved = source.reach[case.end][0] if source.by_load else source.range(case.end)[1]
        place = Place("point" if len(term.place) == 1 else "length", term.place) if term.place else None
        rows.append(Row(source.id, (*term.numbers, moved), case.source_path(source), place))
    heads = tuple((column.title, column.symbol, column.quantity) for column in kind.columns())
    return Table((*heads, (f"{case.end} end", "e_i", "length")), tuple(rows))


def total_of(case: Case, kind: SourceKind) -> Line:
    """The sum over a kind: of all, or of what goes the worse way where its sources go one way each."""
    listed = case.of_kind(kind.KIND)
    if any(each.by_load for each in listed):
        terms = tuple(case.counted(each) for each in listed)
        way, words = (1, "up") if case.upward else (-1, "down")
        meaning = f"{kind.TOGETHER}, what moves the {case.end} end {words}"
    else:
        terms, way = tuple(each.range(case.end)[1] for each in listed), 0
        meaning = f"{kind.TOGETHER}, all at their worst"
    return Line(laws.total(kind.SYMBOL, way), {}, Known(f"e_{kind.SYMBOL}", meaning, sum(terms)), added=terms)


def worst(case: Case) -> Step:
    """All sources at their worst the same way, against the tolerance."""
    way = "up" if case.upward else "down"
    present = [kind for kind in KINDS.values() if case.of_kind(kind.KIND)]
    known = {}
    for kind in present:
        parts = sum([case.counted(each) for each in case.of_kind(kind.KIND)])
        known[f"e_{kind.SYMBOL}"] = Known(f"e_{kind.SYMBOL}", kind.TOGETHER, parts)
    place = Place("point", (case.ends[case.end],))
    known["e_worst"] = Known("e_worst", f"worst error of the {case.end} end", case.total.worst, place=place)
    law = laws.worst(tuple(kind.SYMBOL for kind in present))
    lines = [line(law, known, known["e_worst"], ("budget", case.end, "worst"))] if present else []
    words = f"All sources {way} at once: the {case.end} end's worst error."
    tolerance = case.mount.tolerance
    if tolerance is None:
        return Step("worst", "The sum", f"{words} To judge it: {NO_TOLERANCE.text}.", tuple(lines))
    known["T"] = Known("T", "grading tolerance, either way", tolerance)
    left = Known("R", "room left inside the tolerance, − where it is exceeded", tolerance - case.total.worst)
    lines.append(line(laws.room(), known, left))
    return Step("worst", "The sum against the tolerance", f"{words} {_verdict(case, tolerance)}", tuple(lines))


def _verdict(case: Case, tolerance: float) -> str:
    """What the sum says of the tolerance, and where that is not the last word."""
    if reason := why_no_verdict(case.analysis):
        return f"It is not judged: {reason.text}."
    if case.total.worst > tolerance:
        return "It is outside the tolerance."
    sum_inside = "By this linear sum it is inside the tolerance"
    size = true_worst(case.analysis).of(case.end).size
    if size is None:
        return f"{sum_inside}; it is not judged, since {COMES_APART.text}."
    return f"{sum_inside}, and the true worst is too." if size <= tolerance else f"{sum_inside}; the true worst is not."
