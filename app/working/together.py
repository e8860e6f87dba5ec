"""What the two cylinders do together: how entangled they are, and what corrects one end alone."""

from app.document.parts import OTHER
from app.results.actuators import actuators
from app.results.coupling import NOT_TWO, coupling, why_no_moves
from app.working import laws
from app.working.case import Case
from app.working.formula import Law
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
    names = ("s", "u") if found.at == "ends" else ("a", "b")
    if found.at == "sensors":
        known |= _at_sensors(case, mine, other)
    gain = laws.relative_gain(end, *names)
    own = _value(gain, known)
    where = f"the {end} end" if found.at == "ends" else f"the {end} sensor"
    known["Lambda"] = Known("Lambda", f"relative gain of '{mine}' paired with {where}", own, "ratio")
    known["I"] = Known("I", "interaction: the relative gain of the better pairing", found.interaction, "ratio")
    known["r"] = Known(
        "r", "share of the error that each further round of correcting in turn leaves", found.residual or 0.0, "ratio"
    )
    first, second = laws.correction(end)
    better = laws.better_pairing(own >= 1 - own)
    words = (
        f"Both cylinders together: '{mine}' and '{other}' are worked so that the {end} end rises by one unit and the "
        f"{rest} end stays. How far a place rises by '{mine}' alone, over how far it rises while the other cylinder "
        f"keeps "
        f"the other place still, is the relative gain, taken at the {found.at}; of the better pairing it says what "
        f"each "
        "further round of correcting the ends one after the other leaves of the error before it, begun at the end that "
        "is out, and how many rounds leave a hundredth."
    )
    lines = [
        line(first, known, known["m_1"], ("coupling", "moves", end, mine)),
        line(second, known, known["m_2"], ("coupling", "moves", end, other)),
        line(gain, known, known["Lambda"]),
        line(better, known, known["I"], ("coupling", "interaction")),
        line(laws.residual(end, *names, own >= 1 - own), known, known["r"], ("coupling", "residual")),
    ]
    if found.rounds is not None and found.residual:
        known["N"] = Known("N", "rounds until a hundredth of the error is left, at least one", found.rounds, "ratio")
        if found.rounds > 1:
            lines.append(line(laws.rounds(), known, known["N"], ("coupling", "rounds")))
    return Step("together", TITLE, words, tuple(lines))


def _at_sensors(case: Case, mine: str, other: str) -> dict[str, Known]:
    """How far the sensors rise for each cylinder."""
    found = {}
    for symbol, name in (("a", mine), ("b", other)):
        seen = actuators(case.analysis)[name].sensors
        for side, value in (("left", seen.left), ("right", seen.right)) if seen else ():
            words = f"how far the {side} sensor rises per unit '{name}' lengthens"
            found[f"{symbol}_{side}"] = Known(f"{symbol}_{side}", words, value, "ratio")
    return found


def _value(law: Law, known: dict[str, Known]) -> float:
    return float(law.expression.subs({each: known[each.name].value for each in law.expression.free_symbols}))
