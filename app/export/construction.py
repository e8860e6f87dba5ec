"""Construction lines and points as shapes: lines from one side of the drawing to the other, points as crosses."""

import math
from collections.abc import Iterator

from app.document.models import Mount
from app.document.parts import Point
from app.export.shapes import Box, Path

LAYER = "CONSTRUCTION"


def construction(mount: Mount, box: Box, half: float) -> Iterator[Path]:
    """Each within the room of the drawing, mm of the mount; ``half``: half the width of a point's cross."""
    for each in mount.construction:
        (x, y), angle = each.at, each.angle
        if angle is None:
            yield Path(LAYER, ((x - half, y), (x + half, y)))
            yield Path(LAYER, ((x, y - half), (x, y + half)))
        elif ends := _within(box, (x, y), math.radians(angle)):
            yield Path(LAYER, ends)


def _within(box: Box, at: Point, angle_rad: float) -> tuple[Point, Point] | None:
    """Where a line enters and leaves a box (Liang and Barsky, ACM Transactions on Graphics 3, 1984)."""
    along = (math.cos(angle_rad), math.sin(angle_rad))
    first, last = -math.inf, math.inf
    sides = ((box.left, box.left + box.width), (box.low, box.low + box.height))
    for start, step, (least, most) in zip(at, along, sides, strict=True):
        if abs(step) < 1e-12:
            if not least <= start <= most:
                return None
            continue
        near, far = sorted(((least - start) / step, (most - start) / step))
        first, last = max(first, near), min(last, far)
    if first >= last:
        return None
    return tuple((at[0] + share * along[0], at[1] + share * along[1]) for share in (first, last))  # type: ignore[return-value]
