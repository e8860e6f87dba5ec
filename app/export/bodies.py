"""The outlines of blade and bodies as the sheet draws them: a plate above a straight edge, lugs, hulls of joints.

What was drawn by hand stands in their place. Joints and the cutting edge are exact; the plate's height and the width of
lugs are symbols in proportion to the blade.
"""

import math

from app.document.models import Blade, Mount
from app.document.parts import BLADE, Point

PLATE_HEIGHT = 0.1
"""Height of the plate over the width of the blade."""
SHOULDER = 0.55
"""Where its sides end, as a share of that height."""
CHAMFER = 0.035
"""How far in its back begins, as a share of the width."""
LEAST_FOOT = 0.04
"""How near a sensor's mast may stand to an end, as a share of the width."""


def plate(blade: Blade) -> list[Point]:
    """The blade as drawn: edge first, then round anticlockwise where the left end is on the left."""
    width = math.dist(blade.left, blade.right)
    height = PLATE_HEIGHT * width
    return [
        _on(blade, 0.0, 0.0),
        _on(blade, width, 0.0),
        _on(blade, width, SHOULDER * height),
        _on(blade, (1 - CHAMFER) * width, height),
        _on(blade, CHAMFER * width, height),
        _on(blade, 0.0, SHOULDER * height),
    ]


def lugs(mount: Mount) -> list[list[Point]]:
    """What carries joints that stand above the plate: a triangle from its back to each, as drawn."""
    blade = mount.blade
    width = math.dist(blade.left, blade.right)
    start, back = CHAMFER * width, PLATE_HEIGHT * width
    long = width - 2 * start
    found = []
    for at in joints_on(mount, BLADE):
        along, above = _from_edge(blade, at)
        rise = above - back
        half = min(0.02 * long + 0.25 * rise, 0.06 * long)
        feet = [min(max(along - start + side * half, 0.0), long) for side in (-1, 1)]
        if rise > 0 and feet[0] < feet[1]:
            left, right = (_on(blade, start + foot, back) for foot in feet)
            found.append([left, at, right])
    return found


def drawn_by_hand(mount: Mount, body: str) -> list[list[Point]]:
    """The outlines of a body that were drawn by hand, as drawn; they stand in place of plate, lugs and hull."""
    return [list(each.points) for each in mount.outlines if each.body == body]


def foot(blade: Blade, at: Point) -> Point:
    """The point of the blade's back from which a mast carries a point, as drawn."""
    width = math.dist(blade.left, blade.right)
    along, _ = _from_edge(blade, at)
    return _on(blade, min(max(along, LEAST_FOOT * width), (1 - LEAST_FOOT) * width), PLATE_HEIGHT * width)


def joints_on(mount: Mount, body: str) -> list[Point]:
    """Every joint's place on a body, as drawn."""
    return [at for member in mount.members for on, at in zip(member.joined, member.holds, strict=True) if on == body]


def hull(points: list[Point]) -> list[Point]:
    """Convex hull anticlockwise, by Andrew's monotone chain (Information Processing Letters 9, 1979)."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return ordered

    def half(points: list[Point]) -> list[Point]:
        chain: list[Point] = []
        for point in points:
            while len(chain) > 1 and _cross(chain[-2], chain[-1], point) <= 0:
                chain.pop()
            chain.append(point)
        return chain[:-1]

    return half(ordered) + half(ordered[::-1])


def _unit(blade: Blade) -> Point:
    width = math.dist(blade.left, blade.right)
    return (blade.right[0] - blade.left[0]) / width, (blade.right[1] - blade.left[1]) / width


def _on(blade: Blade, along: float, above: float) -> Point:
    """The point so far along the edge from its left end and so far above it."""
    x, y = _unit(blade)
    return blade.left[0] + x * along - y * above, blade.left[1] + y * along + x * above


def _from_edge(blade: Blade, at: Point) -> tuple[float, float]:
    """How far along the edge from its left end a point stands, and how far above it."""
    x, y = _unit(blade)
    dx, dy = at[0] - blade.left[0], at[1] - blade.left[1]
    return dx * x + dy * y, dy * x - dx * y


def _cross(origin: Point, first: Point, second: Point) -> float:
    return (first[0] - origin[0]) * (second[1] - origin[1]) - (first[1] - origin[1]) * (second[0] - origin[0])
