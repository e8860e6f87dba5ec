"""Mount documents for the tests: small builders, plain mounts in round numbers, and strategies for random ones.

The plain mounts are drawn so that their answers can be worked out by hand. The strategies take one of them and move
every joint about, so that no two examples share a length or an angle, and keep those that are located and stand clear
of a dead centre.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeAlias

import numpy as np
from hypothesis import HealthCheck, assume, settings
from hypothesis import strategies as st

from app.analysis import Analysis
from app.document.parts import EndName
from app.document.reading import read_mount
from app.solve.equations import Array
from app.solve.pose import Pose, settle

Document: TypeAlias = dict[str, Any]
Command: TypeAlias = dict[str, float]
Place: TypeAlias = Sequence[float]

CLEAR_OF_DEAD_CENTRE = 50.0
"""Condition of the scaled Jacobian up to which random mounts are looked at: differences lose digits beyond it."""

law = settings(
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large],
)
"""As many examples as the test line or ``--full`` gives a law; the first of a topology waits for its equations."""


def fewer(share: float) -> settings:
    """A share of those examples, for a law whose examples take long."""
    return settings(law, max_examples=max(1, round(share * law.max_examples)))


# The pieces of a document


def end(on: str, at: Place, **more: object) -> Document:
    return {"on": on, "at": list(at), **more}


def pin(name: str, first: str, second: str, at: Place, **more: object) -> Document:
    return {"kind": "pin", "id": name, "joins": [first, second], "at": list(at), **more}


def slide(name: str, first: str, second: str, at: Place, direction: Place = (0, 1), **more: object) -> Document:
    where = {"at": list(at), "direction": list(direction)}
    return {"kind": "slide", "id": name, "joins": [first, second], **where, **more}


def rod(name: str, first: Document, second: Document, **more: object) -> Document:
    return {"kind": "rod", "id": name, "ends": [first, second], **more}


def cylinder(
    name: str, first: Document, second: Document, *, inward: float = 200, outward: float = 200, **more: object
) -> Document:
    """A cylinder drawn with ``inward`` mm of stroke left to shorten it and ``outward`` mm to lengthen it."""
    body = {"bore": 63, "rod": 36, "retracted": math.dist(first["at"], second["at"]) - inward}
    return {"kind": "cylinder", "id": name, "ends": [first, second], **body, "stroke": inward + outward, **more}


def document(members: Sequence[Document], bodies: Sequence[str] = (), **more: object) -> Document:
    """A document with a blade 2 m wide and nothing that is optional."""
    blade = {"left": [-1000, 0], "right": [1000, 0]}
    plain = {"format": 1, "title": "Test mount", "blade": blade, "bodies": list(bodies), "members": list(members)}
    return {**plain, **more}


def extras() -> Document:
    """Everything optional: for mounts that shall have every answer."""
    return {
        "oil": {"bulk_modulus": 1400, "relief_pressure": 18},
        "valve": {"flow": 12, "smallest_pulse": 1.5},
        "load": {"at": [1000, 0], "force": [300, 4500]},
        "sensors": {"left": [-900, 1700], "right": [800, 1650]},
        "allowances": [
            {"label": "receiver reading", "plus_minus": 1.5, "at": "sensors"},
            {"label": "edge wear", "plus_minus": 0.5, "at": "ends"},
        ],
        "tolerance": 4,
    }


# Plain mounts


def hinge(**more: object) -> Document:
    """Hinged 1 m left of the middle, an upright cylinder 800 mm right of it: 1800 mm of lever, 2000 mm to the end."""
    members = [
        pin("hinge", "frame", "blade", (-1000, 0)),
        cylinder("lift", end("frame", (800, 1000)), end("blade", (800, 0))),
    ]
    return document(members) | more


def centre_pivot(lever: float = 200, **more: object) -> Document:
    """A pin in the middle and a level tilt cylinder ``lever`` mm above it."""
    members = [
        pin("pivot", "frame", "blade", (0, 400)),
        cylinder("tilt", end("frame", (-700, 400 + lever)), end("blade", (0, 400 + lever))),
    ]
    return document(members) | more


def twin(**more: object) -> Document:
    """Upright cylinders 800 mm either side of the middle and a level stay: blade turns about a foot of a cylinder."""
    members = [
        cylinder("left", end("frame", (-800, 1000)), end("blade", (-800, 200))),
        cylinder("right", end("frame", (800, 1000)), end("blade", (800, 200))),
        rod("stay", end("frame", (-900, 200)), end("blade", (900, 200))),
    ]
    return document(members) | more


def guided(**more: object) -> Document:
    """Two upright cylinders, and a block on the blade that runs in a plumb guide instead of a stay."""
    members = [
        cylinder("left", end("frame", (-700, 1100)), end("blade", (-700, 200))),
        cylinder("right", end("frame", (700, 1100)), end("blade", (700, 200))),
        slide("guide", "frame", "blade", (0, 500)),
    ]
    return document(members) | more


def guide_on_blade(**more: object) -> Document:
    """A guide fixed to the blade runs on a block of the frame; a cylinder and a rod carry the ends."""
    members = [
        slide("guide", "blade", "frame", (-100, 700)),
        cylinder("lift", end("frame", (700, 1100)), end("blade", (700, 200))),
        rod("drop rod", end("frame", (-800, 1000)), end("blade", (-800, 200))),
    ]
    return document(members) | more


def two_guides(**more: object) -> Document:
    """Two guides one above the other hold the blade upright; one cylinder lifts it."""
    members = [
        slide("upper guide", "frame", "blade", (-50, 900)),
        slide("lower guide", "frame", "blade", (50, 200)),
        cylinder("lift", end("frame", (300, 1200)), end("blade", (300, 300))),
    ]
    return document(members) | more


def pivot_on_carriage(**more: object) -> Document:
    """A carriage on two plumb guides, lifted by a cylinder; the blade pivots on it."""
    members = [
        slide("upper guide", "frame", "carriage", (0, 1200)),
        slide("lower guide", "frame", "carriage", (0, 700)),
        cylinder("lift", end("frame", (300, 1600)), end("carriage", (300, 800))),
        pin("pivot", "carriage", "blade", (0, 400)),
        cylinder("tilt", end("carriage", (-700, 600)), end("blade", (0, 650))),
    ]
    return document(members, ["carriage"]) | more


def crank_and_drop_rod(**more: object) -> Document:
    """The left side hangs on a drop rod from a crank, the right side on its own cylinder; a stay between."""
    members = [
        pin("crank pivot", "frame", "crank", (-500, 1050)),
        cylinder("crank cylinder", end("frame", (200, 1500)), end("crank", (-500, 1400))),
        rod("drop rod", end("crank", (-850, 1050)), end("blade", (-850, 300))),
        cylinder("right", end("frame", (850, 1150)), end("blade", (850, 300))),
        rod("stay", end("frame", (-900, 330)), end("blade", (900, 300))),
    ]
    return document(members, ["crank"]) | more


def crank_on_carriage(**more: object) -> Document:
    """Three moving bodies: the blade pivots on a lifted carriage and is tilted by a crank that rides on it too."""
    members = [
        slide("upper guide", "frame", "carriage", (0, 1300)),
        slide("lower guide", "frame", "carriage", (0, 700)),
        cylinder("lift", end("frame", (300, 1700)), end("carriage", (300, 900))),
        pin("pivot", "carriage", "blade", (0, 350)),
        pin("crank pivot", "carriage", "crank", (-300, 900)),
        cylinder("tilt", end("carriage", (350, 1150)), end("crank", (-300, 1250))),
        rod("drop rod", end("crank", (-650, 900)), end("blade", (-650, 250))),
    ]
    return document(members, ["carriage", "crank"]) | more


ONE_BODY = (hinge, centre_pivot, twin, guided, guide_on_blade, two_guides)
TWO_BODIES = (pivot_on_carriage, crank_and_drop_rod)
THREE_BODIES = (crank_on_carriage,)


# Random mounts


def _about(value: float, reach: int) -> st.SearchStrategy[float]:
    return st.integers(-reach, reach).map(lambda shift: value + shift)


def _hundredths(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low, high).map(lambda number: number / 100)


@st.composite
def _moved_about(draw: st.DrawFn, plain: Callable[..., Document]) -> Document:
    """A plain mount with every joint, size and load changed."""
    moved = plain(**extras())
    for member in moved["members"]:
        for joint in member.get("ends", [member]):
            joint["at"] = [draw(_about(coordinate, 120)) for coordinate in joint["at"]]
            joint["clearance"] = draw(_hundredths(0, 90))
        if member["kind"] == "slide":
            angle = math.radians(draw(st.integers(70, 110)))
            member["direction"] = [math.cos(angle), math.sin(angle)]
        if member["kind"] == "rod":
            member |= {"section_area": draw(st.integers(300, 900)), "elastic_modulus": 205000}
        if member["kind"] == "cylinder":
            first, second = (joint["at"] for joint in member["ends"])
            inward = min(200.0, 0.4 * math.dist(first, second))
            member |= cylinder("", *member["ends"], inward=inward) | {"id": member["id"]}
            member |= {"bore": draw(st.integers(50, 100)), "hose_volume": draw(st.integers(0, 300))}
    for part in (moved["blade"], moved["sensors"]):
        for side in ("left", "right"):
            part[side] = [draw(_about(coordinate, 100)) for coordinate in part[side]]
    moved["load"] = {"at": [draw(_about(0, 1100)), draw(_about(0, 200))], "force": [draw(_about(0, 900)), 4000]}
    moved["blade"] |= {"mass": draw(st.integers(100, 600)), "mass_centre": [draw(_about(0, 100)), 190]}
    return moved


def _families(*plain: Callable[..., Document]) -> st.SearchStrategy[Document]:
    return st.sampled_from(plain).flatmap(_moved_about).filter(_stands_clear)


def _stands_clear(drawn: Document) -> bool:
    """Whether a mount is located and far enough from a dead centre as drawn."""
    analysis = analysed(drawn)
    return analysis.located and analysis.pose.condition < CLEAR_OF_DEAD_CENTRE


two_bodies = _families(*TWO_BODIES)
three_bodies = _families(*THREE_BODIES)
located_mounts = _families(*ONE_BODY, *TWO_BODIES, *THREE_BODIES)


@st.composite
def worked_mounts(
    draw: st.DrawFn, drawn: st.SearchStrategy[Document] = located_mounts, reach: int = 60
) -> tuple[Document, Command]:
    """A located mount and a command of up to ``reach`` mm a cylinder that it follows to the end."""
    found = draw(drawn)
    names = [member["id"] for member in found["members"] if member["kind"] == "cylinder"]
    command = {name: float(draw(st.integers(-reach, reach))) for name in names}
    pose = analysed(found, command).pose
    assume(pose.stopped is None and pose.condition < CLEAR_OF_DEAD_CENTRE)
    return found, command


# Looking at answers


def analysed(drawn: Document, strokes: Mapping[str, object] | None = None) -> Analysis:
    """What there is to know of a document with its cylinders moved, mm longer than drawn by id."""
    return Analysis(read_mount(drawn), strokes)


def heights_above_drawn(analysis: Analysis) -> dict[EndName, float]:
    """How far each end stands above where it is drawn, mm."""
    blade = analysis.mount.blade
    return {"left": analysis.ends["left"][1] - blade.left[1], "right": analysis.ends["right"][1] - blade.right[1]}


def heights(analysis: Analysis, errors: Array, longer: Array | None = None) -> Array:
    """Heights of both ends, mm, with errors put in and cylinders longer than they are, solved again."""
    pose, lengths = analysis.pose, np.array(analysis.pose.lengths) + (0 if longer is None else longer)
    q = settle(analysis.assembly, pose, lengths.tolist(), errors.tolist())
    moved, blade = Pose(q, pose.jacobian, tuple(lengths.tolist())), analysis.mount.blade
    return np.array([moved.point(0, analysis.assembly.local(0, at))[1] for at in (blade.left, blade.right)])


def member_of(drawn: Document, name: str) -> Document:
    """The member of that id, to be changed in place."""
    found: Document = next(member for member in drawn["members"] if member["id"] == name)
    return found


def joints_of(member: Document) -> list[tuple[str, Document]]:
    """A member's joints as the readout names them, with the part of the document that holds each."""
    if "ends" in member:
        return [(f"{member['id']} / {number}", part) for number, part in enumerate(member["ends"], 1)]
    return [(member["id"], member)]


def openings(drawn: Document, answer: dict[str, Any], lengths: Mapping[str, float]) -> dict[str, float]:
    """How far every member stands open, mm, from the document and where the readout says the bodies are.

    ``lengths`` are the cylinders' as commanded; a rod keeps its own.
    """

    def stands(body: str, at: Place) -> complex:
        if body == "frame":
            return complex(*at)
        where = answer["pose"]["bodies"][body]
        turn = math.radians(where["angle"])
        arm = complex(*at) - complex(*where["drawn"])
        return complex(*where["at"]) + complex(math.cos(turn), math.sin(turn)) * arm

    found = {}
    for member in drawn["members"]:
        if "ends" in member:
            near, far = (stands(part["on"], part["at"]) for part in member["ends"])
            length = lengths.get(member["id"], math.dist(*(part["at"] for part in member["ends"])))
            found[member["id"]] = abs(abs(far - near) - length)
            continue
        first, second = member["joins"]
        apart = stands(second, member["at"]) - stands(first, member["at"])
        if member["kind"] == "slide":
            ahead = [a + d for a, d in zip(member["at"], member["direction"], strict=True)]
            guide = stands(first, ahead) - stands(first, member["at"])
            found[member["id"]] = abs((apart * guide.conjugate()).imag) / abs(guide)
        else:
            found[member["id"]] = abs(apart)
    return found


def commanded(drawn: Document, command: Mapping[str, float]) -> dict[str, float]:
    """The length of every cylinder a command sets, mm."""
    return {
        member["id"]: math.dist(*(part["at"] for part in member["ends"])) + command.get(member["id"], 0.0)
        for member in drawn["members"]
        if member["kind"] == "cylinder"
    }
