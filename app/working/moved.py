"""What the load really moves, from where the weight alone lays the play; and when the first push reverses."""

import math

from app.document.messages import Message
from app.document.reasons import NO_LOAD
from app.results.budget import budget
from app.sources.play import contacts, dot
from app.working import laws
from app.working.case import Case
from app.working.step import Known, Line, Place, Row, Step, Table, line

TITLE = "What the load really moves"
_NOTHING = Message("nothing", "no source of error moves either end")


def moved(case: Case) -> Step:
    """Every source's moved range, their sums, and the first reversal."""
    if case.mount.load is None:
        return Step("moved", TITLE, "", reason=NO_LOAD)
    entries = case.total.sources
    if not entries:
        return Step("moved", TITLE, "", reason=_NOTHING)
    low, high = (sum([each.moved[side] for each in entries if each.moved]) for side in (0, 1))
    place = Place("point", (case.ends[case.end],))
    known = {
        "e_down": Known(
            "e_down", f"farthest down the {case.end} end: play as the load moves it, the rest in full", low, place=place
        ),
        "e_up": Known(
            "e_up", f"farthest up the {case.end} end: play as the load moves it, the rest in full", high, place=place
        ),
    }
    words = f"the farthest the {case.end} end goes from where it stands under the weight alone"
    known["e_load"] = Known("e_load", words, case.total.worst_under_load or 0.0, place=place)
    lines = [
        line(laws.under_load(), known, known["e_load"], ("budget", case.end, "worst_under_load")),
        *_reversal(case),
    ]
    words = (
        "Under weight and a growing share of the load each joint lies over at half its clearance, the way it is "
        "pushed; the end follows by the joint's multiplier, along the arc on which the push turns. Play of which the "
        "weight says no side counts in full; all else by its range. Counted from where the weight lays the play, "
        "not from its "
        "middle, it may pass the worst."
    )
    rows = tuple(
        Row(each.id, each.moved or (0.0, 0.0), ("budget", case.end, "sources", place_, "moved", 1))
        for place_, each in enumerate(entries)
    )
    table = Table((("down", "", "length"), ("up", "", "length")), rows)
    return Step("moved", TITLE, words, tuple(reversed(lines)), table=table)


def _reversal(case: Case) -> list[Line]:
    first = budget(case.analysis).reverses_at
    if first is None:
        return []
    contact = contacts(case.analysis)[first.joint]
    here = Place("point", (case.analysis.joint_places[first.joint],))
    size = math.hypot(*contact.weight)
    along = dot(contact.weight, contact.load) / size
    known = {
        "W": Known("W", f"push of the weight at '{first.joint}'", size, "force", here),
        "F_W": Known("F_W", "push of the load there along that of the weight", along, "force", here),
        "t": Known(
            "t", f"multiple of the load at which the push on '{first.joint}' reverses", first.multiple, "ratio", here
        ),
    }
    return [line(laws.reverses(), known, known["t"], ("budget", "reverses_at", "multiple"))]
