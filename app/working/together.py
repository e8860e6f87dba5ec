"""What the two cylinders do together: how entangled they are, and what corrects one end alone."""

from app.document.parts import OTHER
from app.results.actuators import actuators
from app.results.coupling import NOT_TWO, coupling, why_no_moves
from app.working import laws
from app.working.case import Case
from app.working.step import Known, Place, Step, line

TITLE = "To correct one end alone"


def together(case: Case) -> Step:
    """The moves of both cylinders that raise the chosen end and leave the other, and the relative gain."""
    found, acts = coupling(case.analysis), actuators(case.analysis)
    if found.moves is None or found.interaction is None:
        words = "Needs two cylinders that move the ends in different proportions."
        return Step("together", TITLE, words, reason=why_no_moves(case.analysis) if len(acts) == 2 else NOT_TWO)
    end, rest = case.end, OTHER[case.end]
    mine = case.cylinder.id
    other = next(name for name in acts if name != mine)
    known = dict(case.known)
    for each in (end, rest):
        here = Place("point", (case.ends[each],))
        words = f"how far the {each} end rises per unit '{other}' lengthens"
        known[f"u_{each}"] = Known(f"u_{each}", words, acts[other].of(each), "ratio", here)
    moves = found.moves[end]
    known["m_1"] = Known("m_1", f"what '{mine}' lengthens per unit the {end} end is to rise", moves[mine], "ratio")
    known["m_2"] = Known("m_2", f"what '{other}' lengthens with it", moves[other], "ratio")
    own = acts[mine].of(end) * moves[mine]
    known["Lambda"] = Known("Lambda", f"relative gain of '{mine}' paired with the {end} end", own, "ratio")
    known["I"] = Known("I", "interaction: the relative gain of the better pairing", found.interaction, "ratio")
    first, second = laws.correction(end)
    better = laws.better_pairing(own >= 1 - own)
    words = (
        f"Both cylinders together: '{mine}' and '{other}' are worked so that the {end} end rises by one unit and the "
        f"{rest} end stays. How much of that '{mine}' would do alone is the relative gain: 1 where each end has its "
        "own cylinder, a half where they are fully entangled."
    )
    return Step(
        "together",
        TITLE,
        words,
        (
            line(first, known, known["m_1"], ("coupling", "moves", end, mine)),
            line(second, known, known["m_2"], ("coupling", "moves", end, other)),
            line(laws.relative_gain(end), known, known["Lambda"]),
            line(better, known, known["I"], ("coupling", "interaction")),
        ),
    )
