"""Mobility: what can move and what fights, with every cylinder held, at the drawn pose."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from app.solve.assembly import Assembly
from app.solve.equations import Array

_RANK_TOLERANCE = 1e-9


@dataclass(frozen=True)
class Mobility:
    """How a mount holds with all its cylinders held.

    ``state`` is 'located' (nothing can move, nothing fights), 'loose' (something can still move) or 'bound' (members
    fight). ``freedom`` counts free motions, ``redundant`` the constraints too many. ``motion`` gives, for a loose
    mount, each free motion as a change of q scaled so that joints move by about 1 mm, shape (freedom, unknowns).
    ``members`` are the indices of the members involved; ``freeing`` those of a bound mount whose removal alone leaves
    one constraint fewer too many and nothing loose.
    """

    state: Literal["located", "loose", "bound"]
    freedom: int
    redundant: int
    motion: Array
    members: tuple[int, ...]
    freeing: tuple[int, ...] = ()


def mobility(assembly: Assembly) -> Mobility:
    """Count what can move and what fights at the drawn pose, from the rank of the scaled Jacobian."""
    equations = assembly.equations
    if not equations.rows:
        return Mobility("loose", equations.unknowns, 0, np.eye(equations.unknowns), ())
    _, jacobian = assembly.at_rest
    sizes = assembly.sizes_at_rest.tolist()
    rank = sum([size > _RANK_TOLERANCE * max(sizes[0], 1.0) for size in sizes])
    freedom, redundant = equations.unknowns - rank, equations.rows - rank
    if freedom == 0 and redundant == 0:
        return Mobility("located", 0, 0, np.zeros((0, equations.unknowns)), ())
    left, _, right = np.linalg.svd(jacobian / assembly.scale)
    motion = right[rank:] / assembly.scale
    involved = _members_moved(assembly, right[rank:]) if freedom else _members_fighting(assembly, left[:, rank:])
    freeing = () if freedom else tuple(i for i in involved if _frees(assembly, jacobian, i))
    return Mobility("loose" if freedom else "bound", freedom, redundant, motion, involved, freeing)


def _frees(assembly: Assembly, jacobian: Array, member: int) -> bool:
    """Whether the mount without one member still has nothing loose."""
    part = assembly.equations.row_of[member]
    others = np.delete(jacobian / assembly.scale, range(part.start, part.stop), axis=0)
    sizes = np.linalg.svd(others, compute_uv=False)
    return len(others) >= others.shape[1] and bool(sizes[-1] > _RANK_TOLERANCE * max(sizes[0], 1.0))


def _members_moved(assembly: Assembly, motions: Array) -> tuple[int, ...]:
    """The members that take hold of a body which can still move."""
    loose = {int(column) // 3 for column in np.nonzero(np.abs(motions).max(axis=0) > 1e-6)[0]}
    links = assembly.equations.links
    return tuple(i for i, link in enumerate(links) if link.first in loose or link.second in loose)


def _members_fighting(assembly: Assembly, combinations: Array) -> tuple[int, ...]:
    """The members whose rows take part in a combination that cancels out."""
    rows = np.abs(combinations).max(axis=1) > 1e-6
    return tuple(i for i, part in enumerate(assembly.equations.row_of) if rows[part].any())
