"""How far the squeezed oil lets the chosen cylinder give way, from the weight alone to weight and load."""

from app.document import models as document
from app.document.units import MM3_PER_ML
from app.sources.oil import ATMOSPHERE_MPA, gives
from app.sources.source import SourceKind
from app.working import laws
from app.working.case import Case
from app.working.step import Known, Line, Place, Step, by_name, line
from app.working.sums import table_of, total_of


def oil(case: Case, kind: SourceKind) -> Step:
    """How far the squeezed oil lets every cylinder give way, and what that does to the end."""
    reason = kind.lacks(case.mount)
    if reason or case.mount.oil is None:
        return Step(kind.SYMBOL, kind.TITLE, "", reason=reason)
    given = case.mount.oil
    known = case.known | _numbers(case, given)
    lines, words = _preloaded(case, given, known) if given.preloaded else _side_by_side(case, given, known)
    moved = known[f"s_{case.end}"].value * known["Delta_l"].value
    words_e = f"what the oil of this cylinder does to the {case.end} end"
    known["e"] = Known("e", words_e, moved, "length", Place("point", (case.ends[case.end],)))
    mine = next(each for each in case.of_kind(kind.KIND) if each.id == case.cylinder.id)
    lines.append(line(laws.oil_at_end(case.end), known, known["e"], case.source_path(mine)))
    words = (
        f"{kind.WORDS} {words} The table holds every cylinder; what goes {'up' if case.upward else 'down'} counts "
        f"against the {case.end} end."
    )
    return Step(kind.SYMBOL, kind.TITLE, words, (*lines, total_of(case, kind)), table=table_of(case, kind))


def _numbers(case: Case, given: document.Oil) -> dict[str, Known]:
    cylinder, place = case.cylinder, _place(case)
    return by_name(
        [
            Known(
                "F",
                "force of the load in the cylinder, + when it is pushed shorter",
                case.carried.force,
                "force",
                place,
            ),
            Known("D", "bore", cylinder.bore, place=place),
            Known("d", "diameter of the piston rod", cylinder.rod, place=place),
            Known("V_hose", "oil in hose and ports", cylinder.hose_volume * MM3_PER_ML, "volume"),
            Known("K", "bulk modulus of the oil", given.bulk_modulus, "pressure"),
            Known("x", "free air in the oil, by volume at atmospheric pressure", given.entrained_air or 0.0, "ratio"),
            Known("p_0", "standard atmosphere", ATMOSPHERE_MPA, "pressure"),
        ]
    )


def _place(case: Case) -> Place | None:
    return Place("length", case.direct) if case.direct else None


def _column(case: Case, side: str) -> float:
    cylinder = case.cylinder
    out = min(max(case.analysis.pose.lengths[case.number] - cylinder.retracted, 0.0), cylinder.stroke)
    return out if side == "cap" else cylinder.stroke - out


def _trapped(case: Case, known: dict[str, Known], state: str, side: str) -> list[Line]:
    """Area and trapped oil of a side, under the name of a state."""
    cylinder, place = case.cylinder, _place(case)
    area = cylinder.cap_area if side == "cap" else cylinder.annulus_area
    column = _column(case, side)
    where = "on the cap side" if side == "cap" else "on the rod side"
    known[f"A_{state}"] = Known(f"A_{state}", f"area {where}", area, "area", place)
    known[f"l_{state}"] = Known(f"l_{state}", f"length of the oil column {where}", column, place=place)
    volume = area * column + known["V_hose"].value
    known[f"V_{state}"] = Known(f"V_{state}", f"oil trapped {where}", volume, "volume", place)
    return [line(law, known, known[law.name]) for law in laws.trapped(state, side)]


def _side_by_side(case: Case, given: document.Oil, known: dict[str, Known]) -> tuple[list[Line], str]:
    """The side that each state presses gives way: what it gives under all less what it gives under the weight."""
    weight = case.analysis.weight_forces.get(case.cylinder.id, 0.0)
    length = case.analysis.pose.lengths[case.number]
    lines: list[Line] = []
    states = {"T": (weight + case.carried.force, "weight and load" if weight else "the load")}
    if weight:
        states["W"] = (weight, "the weight alone")
    for state, (force, words) in states.items():
        side = "cap" if force >= 0 else "annulus"
        known[f"F_{state}"] = Known(f"F_{state}", f"force in the cylinder under {words}", force, "force", _place(case))
        lines += _trapped(case, known, state, side)
        change = gives(case.cylinder, force, length, given)
        known[f"Delta_{state}"] = Known(f"Delta_{state}", f"how far it gives under {words}, − shorter", change)
        law = laws.gives(state, side == "cap", bool(given.entrained_air))
        lines.append(line(law, known, known[f"Delta_{state}"]))
    before = known["Delta_W"].value if weight else 0.0
    known.setdefault("Delta_W", Known("Delta_W", "nothing before the load: there is no weight on it", 0.0))
    words_l = "how far the cylinder gives under the load, − shorter"
    known["Delta_l"] = Known("Delta_l", words_l, known["Delta_T"].value - before, place=_place(case))
    lines.append(line(laws.gives_under_load(), known, known["Delta_l"]))
    return (
        lines,
        "Only the side that is pressed gives way: what it gives under all, less what it gives under the weight.",
    )


def _preloaded(case: Case, given: document.Oil, known: dict[str, Known]) -> tuple[list[Line], str]:
    """Both sides are pressed and give way together."""
    lines = [*_trapped(case, known, "cap", "cap"), *_trapped(case, known, "rod", "annulus")]
    if given.entrained_air and given.trapped_pressure:
        known["K_oil"] = Known("K_oil", "bulk modulus of the oil without air", given.bulk_modulus, "pressure")
        known["p_T"] = Known("p_T", "absolute pressure of the trapped oil", given.trapped_pressure, "pressure")
        stiff = 1 / (1 / given.bulk_modulus + given.entrained_air * ATMOSPHERE_MPA / given.trapped_pressure**2)
        known["K"] = Known("K", "bulk modulus of the oil with its air", stiff, "pressure")
        lines.append(line(laws.aired(), known, known["K"]))
    change = gives(case.cylinder, case.carried.force, case.analysis.pose.lengths[case.number], given)
    words = "how far the cylinder gives under the load, − shorter"
    known["Delta_l"] = Known("Delta_l", words, change, place=_place(case))
    lines.append(line(laws.gives_preloaded(), known, known["Delta_l"]))
    return lines, "Both sides are trapped and pressed: their springs K A² / V add."
