"""A mount assembled again without the engine: distances and angles written out, solved and searched by hand.

From the document alone: bodies turn and shift, members hold points together; Newton's method with a Jacobian by central
differences; offsets searched one joint after the other, in a ring of directions at a pin, both ways elsewhere. Slow and
plain on purpose: it is what the engine's answers are held against.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

Document: TypeAlias = dict[str, Any]
Offsets: TypeAlias = dict[str, NDArray[np.float64]]
Given: TypeAlias = Mapping[str, NDArray[np.float64]]

NONE = np.zeros(2)

DIRECTIONS = 24
"""Directions that are tried at a pin, before the best of them is refined."""


def joints(drawn: Document) -> Iterator[tuple[str, Document, int]]:
    """Name, part and number of offsets of every joint."""
    for member in drawn["members"]:
        if "ends" in member:
            for number, part in enumerate(member["ends"], 1):
                yield f"{member['id']} / {number}", part, 1
        else:
            yield member["id"], member, 2 if member["kind"] == "pin" else 1


class Assembled:
    """A mount that can be put together again with offsets in its joints and cylinders longer than drawn, all in mm."""

    def __init__(self, drawn: Document, longer: Mapping[str, float] | None = None) -> None:
        self.drawn, self.longer = drawn, dict(longer or {})
        named = [each if isinstance(each, str) else each["name"] for each in drawn.get("bodies", [])]
        self.bodies = ["blade", *named]
        self.start = self.solve({}, np.zeros(3 * len(self.bodies)))

    def place(self, q: NDArray[np.float64], body: str, at: Sequence[float]) -> complex:
        """Where a point of a body drawn at ``at`` stands, x + iy."""
        if body == "frame":
            return complex(*at)
        x, y, turn = q[3 * self.bodies.index(body) :][:3]
        return complex(x, y) + complex(*at) * complex(math.cos(turn), math.sin(turn))

    def open(self, q: NDArray[np.float64], offsets: Given) -> NDArray[np.float64]:
        """How far every member is from closing, mm."""
        gaps: list[float] = []
        for member in self.drawn["members"]:
            if "ends" in member:
                first, second = member["ends"]
                length = math.dist(first["at"], second["at"]) + self.longer.get(member["id"], 0.0)
                given = sum(float(offsets.get(f"{member['id']} / {number}", NONE)[0]) for number in (1, 2))
                between = self.place(q, second["on"], second["at"]) - self.place(q, first["on"], first["at"])
                gaps.append(abs(between) - length - given)
                continue
            one, two = (self.place(q, body, member["at"]) for body in member["joins"])
            own = offsets.get(member["id"], NONE)
            if member["kind"] == "pin":
                apart = two - one - complex(own[0], own[1])
                gaps += [apart.real, apart.imag]
            else:
                x, y = member["direction"]
                tip = self.place(q, member["joins"][0], [member["at"][0] + x, member["at"][1] + y]) - one
                across = ((two - one) * (1j * tip / abs(tip)).conjugate()).real
                gaps.append(across - float(own[0]))
        return np.array(gaps)

    def solve(self, offsets: Given, near: NDArray[np.float64]) -> NDArray[np.float64]:
        """The pose near another that closes. Raises ArithmeticError where none does."""
        q = near.copy()
        for _ in range(40):
            gaps = self.open(q, offsets)
            if np.abs(gaps).max() < 1e-9:
                return q
            jacobian = np.empty((len(gaps), len(q)))
            for column in range(len(q)):
                step = np.zeros(len(q))
                step[column] = 1e-7 if column % 3 == 2 else 1e-4
                jacobian[:, column] = (self.open(q + step, offsets) - self.open(q - step, offsets)) / (2 * step[column])
            q = q - np.linalg.solve(jacobian, gaps)
        raise ArithmeticError("does not close")

    def height(self, q: NDArray[np.float64], end: str) -> float:
        """How high an end of the edge stands, mm."""
        return self.place(q, "blade", self.drawn["blade"][end]).imag

    def risen(self, offsets: Given, end: str) -> float:
        """How far an end rises with these offsets, mm."""
        return self.height(self.solve(offsets, self.start), end) - self.height(self.start, end)

    def farthest(self, end: str, way: float, starts: int, seed: int) -> float:
        """The farthest an end goes up (+1) or down (-1) with play anywhere, mm, with the way's sign."""
        chance = np.random.default_rng(seed)
        loose = [
            (name, part["clearance"] / 2, axes) for name, part, axes in joints(self.drawn) if part.get("clearance")
        ]
        best = -math.inf
        for _ in range(starts):
            offsets: Offsets = {}
            for name, radius, axes in loose:
                drawn = chance.normal(size=axes)
                offsets[name] = radius * drawn / np.linalg.norm(drawn)
            best = max(best, self._climbed(offsets, loose, end, way))
        return way * best

    def _climbed(self, offsets: Offsets, loose: list[tuple[str, float, int]], end: str, way: float) -> float:
        """One joint after the other to where it helps most, until nothing gains."""
        best = way * self.risen(offsets, end)
        while True:
            before = best
            for name, radius, axes in loose:
                for tried in self._tries(offsets[name], radius, axes):
                    gained = way * self.risen(offsets | {name: tried}, end)
                    if gained > best:
                        best, offsets[name] = gained, tried
            if best - before < 1e-7:
                return best

    @staticmethod
    def _tries(now: NDArray[np.float64], radius: float, axes: int) -> Iterator[NDArray[np.float64]]:
        if axes == 1:
            yield from (np.array([radius]), np.array([-radius]))
            return
        angle = math.atan2(now[1], now[0])
        coarse = 2 * math.pi / DIRECTIONS
        for turn in [
            *(coarse * step for step in range(DIRECTIONS)),
            *(coarse * part for part in (0.3, -0.3, 0.1, -0.1)),
        ]:
            yield radius * np.array([math.cos(angle + turn), math.sin(angle + turn)])
