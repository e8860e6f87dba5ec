"""Mounts with mass, load, oil and valve for the tests of what the loads do, and poses with every joint pushed over.

Which side the loads push a joint to is taken from the joint forces, which are checked by equilibrium elsewhere, and not
from what the dial and the budget use; what that does to the edge is found by solving the pose again.
"""

import copy
import math
from collections.abc import Callable, Mapping

import numpy as np
import pytest
from hypothesis import assume, reject

from app.analysis import Analysis
from app.document.reading import read_mount
from app.document.units import MM3_PER_ML
from app.results.answer import as_plain
from app.results.improve import improve
from app.results.relief import beyond_relief
from app.results.wear import wear
from app.solve.equations import Array
from tests.answers import detail, readout
from tests.mounts import Command, Document, analysed, extras, fewer, heights, joints_of

ENDS = ("left", "right")

few = fewer(0.3)
"""For laws that solve many poses, or draw many numbers, an example."""


def answer_of(drawn: Document, command: Mapping[str, float] | None = None) -> Document:
    return readout(read_mount(drawn), command)


def detail_of(drawn: Document, command: Mapping[str, float] | None = None) -> Document:
    return detail(read_mount(drawn), command)


def improve_of(drawn: Document, command: Mapping[str, float] | None = None) -> Document:
    """The steps to less error of a mount that its relief lets carry the load."""
    found: Document = as_plain(improve(_carried(drawn, command)))
    return found


def wear_of(drawn: Document, command: Mapping[str, float] | None = None) -> Document:
    """How far the play of a mount may grow that its relief lets carry the load."""
    found: Document = as_plain(wear(_carried(drawn, command)))
    return found


def _carried(drawn: Document, command: Mapping[str, float] | None) -> Analysis:
    """A mount to be ranked; a law's example that cannot carry its load is passed over, as nothing of it is ranked."""
    analysis = Analysis(read_mount(drawn), command)
    if beyond_relief(analysis):
        reject()
    return analysis


def worst_of(drawn: Document, command: Mapping[str, float] | None = None) -> dict[str, float]:
    """The worst error of each end, mm."""
    budget = answer_of(drawn, command)["budget"]
    return {end: budget[end]["worst"] for end in ENDS}


def budget_of(drawn: Document, command: Mapping[str, float] | None = None) -> Document:
    found: Document = answer_of(drawn, command)["budget"]
    return found


def ranges(drawn: Document, side: str) -> dict[tuple[str, str], tuple[float, float]]:
    """The range of every source at one end, by id and kind, mm."""
    sources = budget_of(drawn)[side]["sources"]
    return {(source["id"], source["kind"]): (source["low"], source["high"]) for source in sources}


def both_ways(size: float) -> object:
    """About this much either way."""
    return pytest.approx((-size, size))


def by_source(entries: list[Document]) -> dict[tuple[str, str], Document]:
    return {(entry["id"], entry["kind"]): entry for entry in entries}


def full(plain: Callable[..., Document], clearance: float = 0.2) -> Document:
    """A plain mount with everything optional, a mass, and the same play in every joint."""
    drawn = plain(**extras())
    drawn["blade"] |= {"mass": 300, "mass_centre": [40, 190]}
    return with_play(drawn, clearance)


def with_play(drawn: Document, clearance: float) -> Document:
    """The same mount with one clearance in every joint."""
    changed = copy.deepcopy(drawn)
    for member in changed["members"]:
        for _, joint in joints_of(member):
            joint["clearance"] = clearance
    return changed


def without(drawn: Document, *parts: str) -> Document:
    """The same mount with parts left out: 'load', or 'blade.mass' for a part of a part."""
    changed = copy.deepcopy(drawn)
    for part in parts:
        *path, key = part.split(".")
        place = changed
        for step in path:
            place = place.get(step, {})
        place.pop(key, None)
    return changed


def load_turned_round(drawn: Document) -> Document:
    changed = copy.deepcopy(drawn)
    changed["load"]["force"] = [-force for force in drawn["load"]["force"]]
    return changed


def oil_alike_both_ways(drawn: Document) -> Document:
    """The same mount with every cylinder's hoses empty and its two oil columns in proportion to their areas.

    Then column over area, and with it the give per newton, is the same pushed and pulled.
    """
    changed = copy.deepcopy(drawn)
    for member in changed["members"]:
        if member["kind"] == "cylinder":
            cap, annulus = member["bore"] ** 2, member["bore"] ** 2 - member["rod"] ** 2
            length = math.dist(*(end["at"] for end in member["ends"]))
            member["hose_volume"] = 0
            member["retracted"] = length - member["stroke"] * cap / (cap + annulus)
            assume(member["retracted"] > 1)
    return changed


def rows_of(drawn: Document, command: Command) -> dict[str, Array]:
    """The way the error of every joint counts, as unit vectors in the sheet, shape (errors of the joint, 2).

    At a pin both axes. At the end of a rod or cylinder, away from the other end. At a slide, square to the guide, to
    the left of its direction.
    """
    answer = answer_of(drawn, command)["pose"]
    rows: dict[str, Array] = {}
    for member in drawn["members"]:
        if member["kind"] == "pin":
            rows[member["id"]] = np.eye(2)
        elif member["kind"] == "slide":
            body = answer["bodies"].get(member["joins"][0], {"angle": 0.0})
            turned = complex(*member["direction"]) * complex(math.cos(a := math.radians(body["angle"])), math.sin(a))
            left = 1j * turned / abs(turned)
            rows[member["id"]] = np.array([[left.real, left.imag]])
        else:
            first, second = (np.array(place) for place in answer["members"][member["id"]]["ends"])
            along = (second - first) / math.dist(first, second)
            rows[f"{member['id']} / 1"], rows[f"{member['id']} / 2"] = -along[None], along[None]
    return rows


def pushed_over(drawn: Document, command: Command, state: str) -> dict[str, Array]:
    """Where the loads of a state ('weight' or 'together') hold the play of every joint, mm, one value an error.

    A body that is held presses against what holds it. So at a pin the second body shifts the way it presses on the
    first; a rod in tension is longer by the play at its ends.
    """
    forces, rows = answer_of(drawn, command)["forces"], rows_of(drawn, command)
    offsets = {}
    for member in drawn["members"]:
        for name, joint in joints_of(member):
            pressed = -rows[name] @ np.array(forces[name][state])
            size = math.hypot(*pressed.tolist())
            offsets[name] = joint["clearance"] / 2 * pressed / size if size > 1e-9 else 0 * pressed
    return offsets


def laid_out(analysis: Analysis, offsets: Mapping[str, Array]) -> Array:
    """Errors of every joint by name in the order the equations take them."""
    return np.array([float(value) for joint in analysis.mount.joints for value in offsets[joint.name]])


def given_way(drawn: Document, command: Command) -> tuple[dict[str, float], dict[str, float]]:
    """How much longer the full load makes every cylinder by its oil, and every rod, mm, from the document and forces.

    Without oil cylinders are stiff; without section and modulus rods are.
    """
    answer, oil, rods = answer_of(drawn, command), {}, {}
    for member in drawn["members"]:
        if member["kind"] == "cylinder" and "oil" in drawn:
            entry = answer["actuators"][member["id"]]
            weight, load, out = entry["weight_force"] or 0.0, entry["force"], entry["extension"]
            after, before = (_gives(member, force, out, drawn["oil"]) for force in (weight + load, weight))
            oil[member["id"]] = after - before
        if member["kind"] == "rod" and "section_area" in member:
            first, second = (complex(*place) for place in answer["pose"]["members"][member["id"]]["ends"])
            pull = -complex(*answer["forces"][f"{member['id']} / 2"]["load"])
            tension = (pull * (second - first).conjugate()).real / abs(second - first)
            rods[member["id"]] = tension * abs(second - first) / (member["section_area"] * member["elastic_modulus"])
    return oil, rods


def _gives(member: Document, force: float, out: float, oil: Document) -> float:
    """How far the oil on the side that a force presses lets a cylinder go, mm, - shorter."""
    piston = math.pi / 4 * (member["bore"] ** 2 - (0 if force > 0 else member["rod"] ** 2))
    column = out if force > 0 else member["stroke"] - out
    trapped = piston * column + MM3_PER_ML * member.get("hose_volume", 0)
    return float(-force / piston * trapped / oil["bulk_modulus"] / piston)


def two_states(drawn: Document, command: Command) -> Callable[[float], Array]:
    """How far both ends go from the weight alone to the full load with all play and give scaled by a factor, mm."""
    analysis = analysed(drawn, command)
    before, after = (laid_out(analysis, pushed_over(drawn, command, state)) for state in ("weight", "together"))
    oil, rods = given_way(drawn, command)
    longer = np.array([oil.get(cylinder.id, 0.0) for cylinder in analysis.mount.cylinders])
    for member, part in zip(analysis.mount.members, analysis.assembly.equations.error_of, strict=True):
        after[part.start] += rods.get(member.id, 0.0)

    def moved(scale: float) -> Array:
        return heights(analysis, scale * after, scale * longer) - heights(analysis, scale * before)

    return moved
