"""Outlines drawn by hand: polygons that a body carries, drawn in place of what would be made up for it."""

from collections.abc import Collection, Iterator, Sequence
from typing import Annotated

from pydantic import Field

from app.document.errors import Fault
from app.document.messages import Value, word
from app.document.parts import COINCIDENT_MM, Name, Part, Place, Point

MOST_OUTLINES = 24
MOST_CORNERS = 60


class BodyOutline(Part):
    """An outline drawn by hand: the body carries it, and it is drawn in place of plate, lugs or hull."""

    body: Name = Field(description="the body that carries it: 'blade', 'frame' or a name from bodies")
    points: Annotated[tuple[Place, ...], Field(strict=False)] = Field(
        description="its corners one after the other as drawn, [x, y] in mm", min_length=3, max_length=MOST_CORNERS
    )


def faults_of_outline(place: str, outline: BodyOutline, known: Collection[str]) -> Iterator[Fault]:
    """What an outline means that cannot be; ``known``: the bodies there are."""
    if outline.body not in known:
        values: dict[str, Value] = {"body": word(outline.body), "known": word(", ".join(sorted(known)))}
        yield Fault(f"{place}.body", "there is no body '{body}'; use one of {known}", values, "no-such-body")
    sides = [(at, outline.points[(number + 1) % len(outline.points)]) for number, at in enumerate(outline.points)]
    for number, (first, second) in enumerate(sides):
        if max(abs(first[0] - second[0]), abs(first[1] - second[1])) < COINCIDENT_MM:
            text = "corners {first} and {second} of the outline lie at one place; take one of them out"
            yield Fault(
                f"{place}.points[{number}]", text, _numbered(number, number + 1, len(sides)), "corners-coincide"
            )
            return
    for number, side in enumerate(sides):
        for later in range(number + 2, len(sides) - (number == 0)):
            if _crosses(side, sides[later]):
                text = (
                    "the outline crosses itself: the sides from corner {first} and from corner {second}; move a corner"
                )
                yield Fault(f"{place}.points", text, _numbered(number, later, len(sides)), "crosses-itself")
                return


def _numbered(first: int, second: int, count: int) -> dict[str, Value]:
    """Corners as people count them."""
    return {"first": word(str(first + 1)), "second": word(str(second % count + 1))}


def _crosses(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two sides have a point in common."""
    (a, b), (c, d) = one, other
    turns = [_turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)]
    if turns[0] * turns[1] < 0 and turns[2] * turns[3] < 0:
        return True
    on = zip(turns, ((a, b, c), (a, b, d), (c, d, a), (c, d, b)), strict=True)
    return any(turn == 0 and _between(*points) for turn, points in on)


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _between(a: Point, b: Point, c: Point) -> bool:
    """Whether c, in line with a and b, lies between them."""
    return all(min(a[axis], b[axis]) <= c[axis] <= max(a[axis], b[axis]) for axis in (0, 1))
