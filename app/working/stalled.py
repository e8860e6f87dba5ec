"""Stall: how much of the load brings the chosen cylinder to its relief."""

from app.document.reasons import NO_LOAD, NO_RELIEF
from app.results.absent import NONE_FEELS
from app.results.relief import FLOOR_N, stalls
from app.working import laws
from app.working.case import Case
from app.working.step import Known, Place, Step, line

TITLE = "Stall"


def stall(case: Case) -> Step:
    """What the cylinder carries at relief the way the load pushes it, and how much load brings it there."""
    oil = case.mount.oil
    if case.mount.load is None:
        return Step("stall", TITLE, "", reason=NO_LOAD)
    if oil is None or oil.relief_pressure is None:
        return Step("stall", TITLE, "", reason=NO_RELIEF)
    force, cylinder = case.carried.force, case.cylinder
    if abs(force) <= FLOOR_N:
        return Step("stall", TITLE, "", reason=NONE_FEELS)
    weight = case.analysis.weight_forces.get(cylinder.id, 0.0)
    pushed = force > 0
    area = cylinder.cap_area if pushed else cylinder.annulus_area
    most = oil.relief_pressure * area * (1 if pushed else -1)
    place = Place("length", case.direct) if case.direct else None
    known = {
        "p_R": Known("p_R", "relief valve setting", oil.relief_pressure, "pressure"),
        "A_R": Known(
            "A_R", "area on the side that the load presses, − on the rod side", area if pushed else -area, "area", place
        ),
        "F_R": Known("F_R", "force in the cylinder at relief, + when it is pushed shorter", most, "force", place),
        "W": Known("W", "force in the cylinder under the weight alone", weight, "force", place),
        "F": Known("F", "force in the cylinder under the load alone", force, "force", place),
        "t_R": Known("t_R", "multiple of the load that brings it to relief", (most - weight) / force, "ratio"),
    }
    words = (
        "Where the blade runs against what does not give, the load grows until a cylinder is at relief. A locked "
        f"cylinder is held by its port relief or lock valve: this holds if that is set so. {_first(case)}"
    )
    return Step("stall", TITLE, words, tuple(line(law, known, known[law.name]) for law in laws.stall()))


def _first(case: Case) -> str:
    """At what multiples of the load, either way, the first of all cylinders is at relief: what the joints see."""
    ways = [f"{multiple:.2f}".replace("-", "−") for multiple in sorted(stalls(case.analysis), reverse=True)]
    return f"Of all cylinders the first is there at {' and the other way at '.join(ways)} times the load."
