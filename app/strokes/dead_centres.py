"""Dead centres between cells of a grid that are reached and their neighbours that are not, to the last digit.

At a dead centre the Jacobian is singular: some combination w of the rows holds nothing. Newton's method on all of

    Phi(q, u) = 0,   Phi_q^T w = 0,   w . w = 1

with the stroke u along the edge between both cells as an unknown besides q and w (the usual system of a simple fold;
recalled from numerical continuation). A blade on three two-force members is singular exactly where their lines meet in
one point or are parallel (Hunt, Kinematic Geometry of Mechanisms, 1978; recalled).
"""

from dataclasses import dataclass

import numpy as np

from app.solve.equations import Array
from app.solve.lattice import Lattice
from app.solve.pose import LARGEST_TURN
from app.solve.poses import Marks, Places, close, sides

_HALVINGS = 14
_ROUNDS = 12
_CLOSED = 1e-9
_BEYOND_CELLS = 1.5
"""Farther than this from the reached cell, in cells, what Newton finds belongs to another edge."""

_SHARE = 0.3
"""A member takes part where its rows weigh at least this share of the largest."""


@dataclass(frozen=True)
class Found:
    """A dead centre: the strokes there along both axes of the grid, as cylinder lengths, mm, and who is in line."""

    members: tuple[str, ...]
    lengths: tuple[float, float]


def dead_centres(found: Lattice, driven: tuple[int, ...]) -> list[Found]:
    """Every dead centre on the edges from reached cells to cells that are not."""
    inside, axis, step = _edges(found, len(driven))
    if not len(inside):
        return []
    assembly, equations = found.assembly, found.assembly.equations
    rows, unknowns = equations.rows, equations.unknowns
    by_step = equations.by_length[:, np.array(driven)[axis]].T
    lengths = found.lengths[inside].copy()
    q, jacobian, shift = _nearer(found, inside, np.array(driven)[axis], step)
    held = np.linalg.svd(np.swapaxes(jacobian, 1, 2))[2][:, -1, :]
    going = np.ones(len(inside), dtype=bool)
    closed = np.zeros(len(inside), dtype=bool)
    nothing = np.zeros((len(inside), equations.by_error.shape[1]))
    with np.errstate(all="ignore"):
        for _ in range(_ROUNDS):
            now = lengths.copy()
            now[np.arange(len(now)), np.array(driven)[axis]] += shift
            residual, jacobian = equations.stacked(q, assembly.numbers, now, nothing)
            turned = np.swapaxes(jacobian, 1, 2)
            balance = (turned @ held[:, :, None])[:, :, 0]
            unit = (held**2).sum(axis=1) - 1.0
            values = np.hstack([residual, balance / assembly.scale, unit[:, None]])
            size = np.abs(values).max(axis=1)
            closed = size < _CLOSED
            going = np.isfinite(size) & ~closed
            if not going.any():
                break
            system = np.zeros((len(q), rows + unknowns + 1, unknowns + rows + 1))
            system[:, :rows, :unknowns] = jacobian
            system[:, :rows, -1] = by_step
            bent = equations.bent(q, assembly.numbers, now)
            system[:, rows:-1, :unknowns] = np.einsum("nrux,nr->nux", bent, held) / assembly.scale[None, :, None]
            system[:, rows:-1, unknowns:-1] = turned / assembly.scale[None, :, None]
            system[:, -1, unknowns:-1] = 2 * held
            going &= np.isfinite(system).all(axis=(1, 2))
            going[going] = np.linalg.det(system[going]) != 0
            change = np.zeros((len(q), unknowns + rows + 1))
            change[going] = -np.linalg.solve(system[going], values[going][:, :, None])[:, :, 0]
            q, held, shift = q + change[:, :unknowns], held + change[:, unknowns:-1], shift + change[:, -1]
    near = closed & (shift * step >= -_CLOSED) & (np.abs(shift) <= _BEYOND_CELLS * np.abs(step))
    return [_found(found, driven, inside, axis, shift, held, place) for place in np.flatnonzero(near).tolist()]


def _nearer(found: Lattice, inside: Places, cylinder: Places, step: Array) -> tuple[Array, Array, Array]:
    """As near to each dead centre as halving the edge comes: q, Jacobians, and how far along the edge, mm."""
    assembly = found.assembly
    q, jacobian = found.q[inside].copy(), found.jacobian[inside].copy()
    done, open_end = np.zeros(len(inside)), step.astype(float)
    for _ in range(_HALVINGS):
        ahead = (done + open_end) / 2
        lengths = found.lengths[inside].copy()
        lengths[np.arange(len(inside)), cylinder] += ahead
        tried = close(assembly.equations, assembly.numbers, q, lengths)
        good = tried.closed & (np.abs((tried.q - q) * assembly.scale).max(axis=1) < LARGEST_TURN * assembly.extent)
        good[good] = sides(tried.jacobian[good]) == assembly.side_at_rest
        q[good], jacobian[good] = tried.q[good], tried.jacobian[good]
        done, open_end = np.where(good, ahead, done), np.where(good, open_end, ahead)
    return q, jacobian, done


def _found(
    found: Lattice, driven: tuple[int, ...], inside: Places, axis: Places, shift: Array, held: Array, place: int
) -> Found:
    assembly = found.assembly
    weights = np.abs(held[place])
    share = [float(weights[part].max(initial=0.0)) for part in assembly.equations.row_of]
    named = zip(assembly.mount.members, share, strict=True)
    at = [float(found.lengths[inside[place], each]) for each in driven]
    at[int(axis[place])] += float(shift[place])
    return Found(tuple(each.id for each, own in named if own > _SHARE * max(share)), (at[0], at[1] if at[1:] else 0.0))


def _edges(found: Lattice, axes: int) -> tuple[Places, Places, Array]:
    """Every edge from a reached cell to one that is not: the reached cell, the axis along which, and the step, mm."""
    wide, high = len(found.axes[0]), len(found.axes[1])
    reached = found.reached.reshape(high, wide)
    cells = np.arange(high * wide).reshape(high, wide)
    listed: list[tuple[Places, Places, Array]] = []

    def edges(axis: int, own: Places, mine: Marks, theirs: Marks, step: Array) -> None:
        here = mine & ~theirs
        listed.append((own[here], np.full(int(here.sum()), axis), np.broadcast_to(step, here.shape)[here]))

    along, up = np.diff(found.axes[0])[None, :], np.diff(found.axes[1])[:, None]
    edges(0, cells[:, :-1], reached[:, :-1], reached[:, 1:], along)
    edges(0, cells[:, 1:], reached[:, 1:], reached[:, :-1], -along)
    if axes > 1:
        edges(1, cells[:-1], reached[:-1], reached[1:], up)
        edges(1, cells[1:], reached[1:], reached[:-1], -up)
    inside, axis, step = (np.concatenate(each) for each in zip(*listed, strict=True))
    return inside, axis, step
