"""Where everything stands with the cylinders worked as far as they could follow, and how the mount holds."""

from typing import Literal

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message
from app.document.parts import Point
from app.document.units import DEGREES
from app.members.member import BetweenEnds
from app.results.answer import answer
from app.results.dead_centre import nearly_free
from app.solve.equations import Array


@answer
class BodyMotion:
    """How a body moves in a free motion, joints moving by about 1 mm."""

    at: Point
    """The body's reference point as drawn, mm."""
    shift: Point
    """Movement of that point, mm."""
    turn: float
    """Turn, degrees, + anticlockwise."""


@answer
class Mobility:
    """How the mount holds with every cylinder held."""

    state: Literal["located", "loose", "bound"]
    """Nothing can move; something can; members fight."""
    freedom: int
    """Number of free motions."""
    redundant: int
    """Number of constraints too many."""
    members: list[str]
    """Members involved when loose or bound, by id."""
    freeing: list[str]
    """Members of a bound mount whose removal alone would free it, by id."""
    motion: list[dict[str, BodyMotion]]
    """Each free motion, by body."""


@answer
class EndPlaces:
    """A place for each end of the blade's edge."""

    left: Point
    """[x, y], mm."""
    right: Point
    """[x, y], mm."""


@answer
class StandingMember:
    """Where a member stands."""

    at: Point | None = None
    """A pin's or slide's place, mm."""
    ends: tuple[Point, Point] | None = None
    """Places of the two ends of a rod or cylinder, mm."""
    length: float | None = None
    """Pin to pin length of a rod or cylinder, mm."""
    extension: float | None = None
    """How far a cylinder is out, mm, 0 to its stroke."""


@answer
class StandingBody:
    """Where a body stands: turn it about ``drawn`` by ``angle``, then shift ``drawn`` to ``at``."""

    drawn: Point
    """Its reference point as drawn, mm."""
    at: Point
    """Where that point stands, mm."""
    angle: float
    """Turn from the drawn pose, degrees, + anticlockwise."""


@answer
class Standing:
    """Where everything stands with the cylinders worked as far as they could follow."""

    ends: EndPlaces
    """The ends of the cutting edge."""
    slope: float | None
    """Cross fall: rise over run from the left end to the right, + right end higher."""
    members: dict[str, StandingMember]
    """Every member, by id."""
    bodies: dict[str, StandingBody]
    """Every moving body, by name."""
    command: dict[str, float]
    """How much longer than drawn every cylinder is, mm."""
    fraction: float
    """How much of the strokes asked for was followed, 0 to 1."""
    stopped: Message | None
    """Why they were not followed to their end; null when they were."""
    yielding: dict[str, BodyMotion] | None
    """Near a dead centre the motion that is hardly held, from where everything stands, by body; null elsewhere."""


def held(analysis: Analysis) -> Mobility:
    """How the mount holds as drawn."""
    known, members = analysis.mobility, analysis.mount.members
    return Mobility(
        state=known.state,
        freedom=known.freedom,
        redundant=known.redundant,
        members=[members[number].id for number in known.members],
        freeing=[members[number].id for number in known.freeing],
        motion=[_motion(analysis, row) for row in known.motion],
    )


def _motion(analysis: Analysis, row: Array) -> dict[str, BodyMotion]:
    """One free motion by body: the shift of its reference point in mm and its turn in degrees, about 1 mm in size."""
    values = row.tolist()
    return {
        body: BodyMotion(
            at=analysis.assembly.references[number],
            shift=(values[3 * number], values[3 * number + 1]),
            turn=values[3 * number + 2] * DEGREES,
        )
        for number, body in enumerate(analysis.mount.moving)
    }


@worked_out_once
def standing(analysis: Analysis) -> Standing:
    """Where everything stands."""
    pose, cylinders = analysis.pose, analysis.mount.cylinders
    left, right = analysis.ends["left"], analysis.ends["right"]
    rise, run = right[1] - left[1], right[0] - left[0]
    lengths = {each.id: length for each, length in zip(cylinders, pose.lengths, strict=True)}
    yielding = nearly_free(analysis)
    return Standing(
        ends=EndPlaces(left, right),
        slope=rise / run if run else None,
        members=_members(analysis, lengths),
        bodies=_bodies(analysis),
        command={each.id: pose.fraction * move for each, move in zip(cylinders, analysis.moves, strict=True)},
        fraction=pose.fraction,
        stopped=pose.stopped,
        yielding=None if yielding is None else _motion(analysis, yielding),
    )


def _members(analysis: Analysis, lengths: dict[str, float]) -> dict[str, StandingMember]:
    closed = {each.id: each.retracted for each in analysis.mount.cylinders}
    found = {}
    for member, where in zip(analysis.mount.members, analysis.standing, strict=True):
        if not isinstance(member, BetweenEnds):
            found[member.id] = StandingMember(at=where.second)
            continue
        length = lengths.get(member.id, member.drawn_length)
        extension = length - closed[member.id] if member.id in closed else None
        found[member.id] = StandingMember(ends=(where.first, where.second), length=length, extension=extension)
    return found


def _bodies(analysis: Analysis) -> dict[str, StandingBody]:
    """Every moving body: where its reference point was drawn, where it stands, and how far it has turned."""
    q = analysis.pose.q.tolist()
    return {
        body: StandingBody(
            drawn=analysis.assembly.references[number],
            at=(q[3 * number], q[3 * number + 1]),
            angle=q[3 * number + 2] * DEGREES,
        )
        for number, body in enumerate(analysis.mount.moving)
    }
