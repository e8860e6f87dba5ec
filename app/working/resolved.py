"""The true worst of the chosen end: the pose solved again with everything where it moves the end farthest."""

from app.results.worst import COMES_APART, true_worst
from app.sources import KINDS, sources
from app.working import laws
from app.working.case import Case
from app.working.step import Known, Place, Row, Step, Table, line

TITLE = "The true worst"


def resolved(case: Case) -> Step:
    """The farthest that was found, and the offsets that make it."""
    found = true_worst(case.analysis).of(case.end)
    if found.low is None or found.high is None:
        return Step("true worst", TITLE, "", reason=COMES_APART)
    worst = found.low if abs(found.low.value) > abs(found.high.value) else found.high
    place = Place("point", (case.ends[case.end],))
    rest = sum(
        [
            each.range(case.end)[worst is found.high]
            for each in sources(case.analysis)
            if not KINDS[each.kind].MOVES_JOINTS
        ]
    )
    known = {
        "Delta_y": Known(
            "Delta_y", f"farthest the mount moves the {case.end} end, found", worst.value - rest, place=place
        ),
        "e_rest": Known("e_rest", "what does not move the joints: tyres, steps, allowances", rest),
        "e_true": Known(
            "e_true", f"farthest the {case.end} end goes that was found, + upward", worst.value, place=place
        ),
    }
    rows = [
        Row(name, by if isinstance(by, tuple) else (by, 0.0), place=Place("point", (case.analysis.joint_places[name],)))
        for name, by in worst.offsets.items()
    ]
    rows += [Row(f"{name}, length", (by, 0.0)) for name, by in worst.lengths.items()]
    words = (
        "The sums above take every movement as if the mount did not turn with it. Here every joint is put at the edge "
        "of its play and every length at what the load makes of it, the equations are solved again, and each is moved "
        "to the side that helps there, until nothing gains; from many starts. The table says where each joint is then."
    )
    columns = (("along it, or to the right", "", "length"), ("upward", "", "length"))
    return Step(
        "true worst",
        TITLE,
        words,
        (line(laws.farthest(), known, known["e_true"]),),
        exact=False,
        table=Table(columns, tuple(rows)),  # type: ignore[arg-type]
    )
