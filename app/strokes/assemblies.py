"""Other ways to put the same lengths together: distinct solutions of the closure, from seeded random starts.

A four-bar closes in two ways, a body on three legs in at most six (Hunt, Structural kinematics of in-parallel-actuated
robot arms, 1983; recalled). Play carries a mount from one to another where every joint gives as much as the way across
asks: half way between both, the rows say how far each member would have to give.
"""

import math
from collections.abc import Mapping

import numpy as np

from app.analysis import Analysis
from app.document.errors import Fault, NotLocated
from app.document.models import Mount
from app.document.reasons import NOT_LOCATED
from app.document.units import DEGREES
from app.results.answer import answer
from app.results.standing import EndPlaces, StandingBody
from app.solve.assembly import Assembly
from app.solve.equations import Array
from app.solve.poses import Places, Poses, close

STARTS, SEED = 400, 1983
_ROUNDS = 60
_SAME = 1e-5
"""Solutions nearer than this share of the drawing are one."""

_SPREAD = 1.0
"""How far around the drawing bodies are thrown, in sizes of it."""


@answer
class OtherAssembly:
    """One other way to put the mount together with its cylinders as long as they are."""

    bodies: dict[str, StandingBody]
    """Where every body stands, by name."""
    ends: EndPlaces
    """Where the ends of the edge are."""
    apart: float
    """How far the farther end of the edge is from where it stands now, mm."""
    across: float | None
    """How many times its play the mount would have to give, half way across, to come over: at 1 and below play could
    carry it there; null where something must give that has no play."""
    carried: bool
    """Whether play could carry it across."""


@answer
class Assemblies:
    """Every way that was found to put the mount together."""

    count: int
    """How many there are, with the one it stands in."""
    others: list[OtherAssembly]
    """The others, the nearest first."""
    starts: int
    """From how many random starts they were looked for."""


def assemblies(
    mount: Mount, command: Mapping[str, object] | None = None, starts: int = STARTS, seed: int = SEED
) -> Assemblies:
    """The ways to put a mount together with its cylinders worked as commanded, mm longer than drawn by id.

    The same seed finds the same ones. Raises BadCommand, and NotLocated where it hangs loose or is bound.
    """
    analysis = Analysis(mount, command)
    if not analysis.located:
        reason = NOT_LOCATED[analysis.mobility.state]
        raise NotLocated([Fault("mount", reason.text, reason.values, reason.code)])
    assembly, here = analysis.assembly, np.array(analysis.pose.q)
    lengths = np.array(analysis.pose.lengths)
    found = _distinct(assembly, here, _solved(assembly, lengths, starts, seed))
    others = [_other(analysis, here, q, lengths) for q in found]
    return Assemblies(1 + len(others), sorted(others, key=lambda each: each.apart), starts)


def _solved(assembly: Assembly, lengths: Array, starts: int, seed: int) -> Array:
    """What Newton's method comes to from bodies thrown about at random, shape (solutions, unknowns)."""
    random = np.random.default_rng(seed)
    q = np.tile(assembly.drawn, (starts, 1))
    throw = random.uniform(-1.0, 1.0, q.shape) * _SPREAD * assembly.extent
    turns = np.arange(q.shape[1]) % 3 == 2
    throw[:, turns] = random.uniform(-math.pi, math.pi, (starts, int(turns.sum())))
    closed = close(assembly.equations, assembly.numbers, q + throw, np.tile(lengths, (starts, 1)), most=_ROUNDS)
    return closed.q[closed.closed]


def _distinct(assembly: Assembly, here: Array, solved: Array) -> list[Array]:
    """Each solution once, without the one the mount stands in; turned by less than half a turn from there."""
    kept = [here]
    for q in solved:
        near = _turned_near(q, here)
        if min(_apart(assembly, near, each) for each in kept) > _SAME * assembly.extent:
            kept.append(near)
    return kept[1:]


def _turned_near(q: Array, to: Array) -> Array:
    """The same solution with every angle within half a turn of another's."""
    turns = np.arange(len(q)) % 3 == 2
    return np.where(turns, to + np.angle(np.exp(1j * (q - to))), q)


def _apart(assembly: Assembly, a: Array, b: Array) -> float:
    """How far two poses are apart, mm, angles at their bodies' typical distance."""
    return float(np.abs((_turned_near(a, b) - b) * assembly.scale).max())


def _other(analysis: Analysis, here: Array, q: Array, lengths: Array) -> OtherAssembly:
    assembly, blade = analysis.assembly, analysis.mount.blade
    poses = Poses(assembly, np.stack([here, q]), np.zeros((2, 0, 0)), np.stack([lengths, lengths]))
    places = [np.stack(poses.on_blade(at), axis=1) for at in (blade.left, blade.right)]
    left, right = ((float(place[1, 0]), float(place[1, 1])) for place in places)
    across = _across(assembly, (here + q) / 2, lengths)
    return OtherAssembly(
        bodies={
            name: StandingBody(reference, (float(x), float(y)), float(turn) * DEGREES)
            for name, reference, (x, y, turn) in zip(
                analysis.mount.moving, assembly.references, q.reshape(-1, 3), strict=True
            )
        },
        ends=EndPlaces(left, right),
        apart=max(float(np.linalg.norm(place[1] - place[0])) for place in places),
        across=across,
        carried=across is not None and across <= 1.0,
    )


def _across(assembly: Assembly, between: Array, lengths: Array) -> float | None:
    """How many times its play each row would have to give there, at the most; None where one has none."""
    errors = np.zeros((1, assembly.equations.by_error.shape[1]))
    with np.errstate(all="ignore"):
        asked = np.abs(assembly.equations.stacked(between[None], assembly.numbers, lengths[None], errors)[0][0])
    if not np.isfinite(asked).all():
        return None
    gives = np.abs(assembly.equations.by_error) @ _half_clearances(assembly)
    needed: Places = np.flatnonzero(asked > _SAME)
    if not len(needed):
        return 0.0
    if not gives[needed].all():
        return None
    return float((asked[needed] / gives[needed]).max())


def _half_clearances(assembly: Assembly) -> Array:
    half = np.zeros(assembly.equations.by_error.shape[1])
    for name, _, part, _ in assembly.mount.joints:
        half[assembly.joint_errors[name]] = np.max(part.clearance or 0.0) / 2
    return half
