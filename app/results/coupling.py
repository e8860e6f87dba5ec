"""Coupling: how far moving one end of the blade disturbs the other, and what must move to correct one end alone."""

import math
from typing import Literal, TypeAlias

import numpy as np

from app.analysis import Analysis, worked_out_once
from app.document.messages import Message, Value, word
from app.document.parts import ENDS, EndName, Point
from app.document.reasons import NO_CYLINDER
from app.results.answer import answer
from app.solve.equations import FIXED, Array
from app.solve.pose import Pose
from app.solve.poses import Marks
from app.solve.sensitivity import BLADE_BODY

STILL = 1e-9
"""Movement per mm below this is none: rounding of the solve."""

HARDLY = 1e-3
"""A cylinder that moves neither place by this much, mm per mm, does not set them: no coupling is made of what it does.
"""

_NEVER = 1 - 1e-9
"""Share of an error left by a round from which no number of rounds is said."""

SETTLED = 0.01
"""Share of an error at which correcting the ends in turn is done."""

Place: TypeAlias = Literal["sensors", "ends"]

NOT_TWO = Message("not-two", "needs exactly two cylinders")
ONE_CYLINDER = Message("one-cylinder", "one cylinder moves both ends together: no move corrects one end alone")
MANY_CYLINDERS = Message("many-cylinders", "with more than two cylinders many moves do it: none is the one")
SINGULAR = Message(
    "singular", "the two cylinders move both ends in the same proportion: no move corrects one end alone"
)


@answer
class CentreLine:
    """A line that meets the others in the instant centre."""

    member: str
    """The member that holds along it, by id."""
    through: Point
    """Its hold on the blade, mm."""
    toward: Point
    """A second point of the line, mm; the same for a pin."""


@answer
class Seen:
    """What the two sensors see of a cylinder."""

    left: float
    """Height of the left sensor, mm per mm the cylinder lengthens."""
    right: float
    """Height of the right sensor, mm per mm the cylinder lengthens."""
    lead: EndName
    """The sensor it moves more; right when equal."""
    coupling: float | None
    """Movement of the other sensor over that of the lead; null where it hardly moves either."""


@answer
class Movement:
    """How one cylinder moves the blade."""

    left: float
    """Height of the left end, mm per mm the cylinder lengthens."""
    right: float
    """Height of the right end, mm per mm the cylinder lengthens."""
    lead: EndName
    """The end it moves more; right when equal."""
    coupling: float | None
    """Movement of the other end over that of the lead: -1 see-saw, 0 still; null where it hardly moves either."""
    instant_centre: Point | None
    """The point the blade turns about, mm; null when it only shifts."""
    centre_lines: list[CentreLine]
    """Lines that meet in the instant centre."""
    sensors: Seen | None
    """The same at the sensors; null without sensors."""

    def of(self, end: EndName) -> float:
        """Height of an end, mm per mm the cylinder lengthens."""
        return self.left if end == "left" else self.right


@answer
class Coupling:
    """What the cylinders do together."""

    worst: float | None
    """The coupling farthest from 0."""
    interaction: float | None
    """Bristol's relative gain of the better pairing, taken where ``at`` says; two cylinders only."""
    residual: float | None
    """What each further round of correcting the ends in turn leaves of the error before it, begun at the end that is
    out:
    g12 g21 / (g11 g22) of the better pairing, = 1 - 1/interaction; two cylinders only."""
    rounds: int | None
    """Rounds of correcting the ends in turn until a hundredth of the error is left; null where it never settles."""
    at: Place
    """Where interaction, residual and rounds are taken: at the sensors where there are sensors, else at the ends."""
    moves: dict[EndName, dict[str, float]] | None
    """Mm of each cylinder that raise one end by 1 mm and leave the other; two cylinders only."""


def lead_and_coupling(left: float, right: float) -> tuple[EndName, float | None]:
    """The end a cylinder moves more ('right' when equal) and the other end's movement over that one's.

    The coupling is None when neither end moves by ``HARDLY``.
    """
    lead: EndName = "left" if abs(left) > abs(right) * (1 + STILL) else "right"
    most, other = (left, right) if lead == "left" else (right, left)
    return lead, None if abs(most) < HARDLY else other / most


def relative_gain(gains: Array) -> float:
    """Relative gain of pairing input 1 with output 1 for a 2x2 steady-state gain matrix.

    Source: Bristol, "On a new measure of interaction for multivariable process control", IEEE Trans. AC-11, 1966:
    lambda11 = 1 / (1 - g12 g21 / (g11 g22)). Raises ZeroDivisionError when the matrix is singular.
    """
    direct, cross = float(gains[0, 0] * gains[1, 1]), float(gains[0, 1] * gains[1, 0])
    sizes = [math.hypot(*column) for column in gains.T.tolist()]
    if abs(direct - cross) <= STILL * sizes[0] * sizes[1]:
        raise ZeroDivisionError("the gain matrix is singular")
    return direct / (direct - cross)


def relative_gains(gains: Array) -> tuple[Array, Marks]:
    """The relative gain of many 2x2 matrices, shape (poses, 2, 2), and which are singular: their gain means nothing."""
    direct, cross = gains[:, 0, 0] * gains[:, 1, 1], gains[:, 0, 1] * gains[:, 1, 0]
    sizes = np.linalg.norm(gains, axis=1)
    singular: Marks = np.abs(direct - cross) <= STILL * sizes[:, 0] * sizes[:, 1]
    gain: Array = np.divide(direct, direct - cross, out=np.ones_like(direct), where=~singular)
    return gain, singular


@worked_out_once
def movements(analysis: Analysis) -> dict[str, Movement]:
    """For every cylinder, by id: how it moves the ends, its coupling and the blade's instant centre."""
    answer: dict[str, Movement] = {}
    if not analysis.mount.cylinders:
        return answer
    found = analysis.sensitivities
    left, right = found.of_length("left").tolist(), found.of_length("right").tolist()
    for number, cylinder in enumerate(analysis.mount.cylinders):
        lead, coupling = lead_and_coupling(left[number], right[number])
        moving = analysis.velocities[:, number]
        centre = _instant_centre(analysis.pose, moving)
        lines = lines_through(analysis, moving, cylinder.id) if centre else []
        seen = _seen(analysis, number)
        answer[cylinder.id] = Movement(left[number], right[number], lead, coupling, centre, lines, seen)
    return answer


def _seen(analysis: Analysis, number: int) -> Seen | None:
    found = analysis.sensitivities
    if not found.has("sensor left"):
        return None
    left, right = (float(found.of_length(f"sensor {side}")[number]) for side in ENDS)
    return Seen(left, right, *lead_and_coupling(left, right))


@worked_out_once
def coupling(analysis: Analysis) -> Coupling:
    """What the cylinders can do together, from how each moves the ends."""
    return _together(analysis)[0]


def why_no_moves(analysis: Analysis) -> Message | None:
    """Why there is neither interaction nor a move that corrects one end; None where there are both."""
    return _together(analysis)[1]


@worked_out_once
def _together(analysis: Analysis) -> tuple[Coupling, Message | None]:
    movement = movements(analysis)
    known = [each.coupling for each in movement.values() if each.coupling is not None]
    # Between +1 and -1 the see-saw is the worse; rounding must not choose.
    worst = max(known, key=lambda each: (round(abs(each), 9), -each)) if known else None
    at: Place = "sensors" if analysis.mount.sensors else "ends"
    found = Coupling(worst, None, None, None, at, None)
    if len(movement) != 2:
        return found, _why_not(movement)
    gains = np.array([[each.of(end) for each in movement.values()] for end in ENDS])
    seen = gains_at(analysis, at)
    for name, most in zip(movement, np.maximum(np.abs(gains).max(axis=0), np.abs(seen).max(axis=0)), strict=True):
        if most < HARDLY:
            text = "'{name}' hardly moves either end: it corrects neither"
            return found, Message("hardly-moves", text, [name], {"name": word(name)})
    try:
        gain = relative_gain(seen)
        relative_gain(gains)
    except ZeroDivisionError:
        return found, SINGULAR
    undo = np.linalg.inv(gains)
    moves = {
        end: {name: float(undo[row, column]) for row, name in enumerate(movement)} for column, end in enumerate(ENDS)
    }
    if reason := _beyond_stroke(analysis, moves):
        return found, reason
    better = max(gain, 1.0 - gain)
    found.interaction, found.residual, found.moves = better, 1.0 - 1.0 / better, moves
    found.rounds = rounds_of(found.residual)
    return found, None


def gains_at(analysis: Analysis, at: Place) -> Array:
    """How far the left and the right place rise per mm of every cylinder, shape (2, cylinders)."""
    prefix = "sensor " if at == "sensors" else ""
    return np.array([analysis.sensitivities.of_length(f"{prefix}{end}") for end in ENDS])


def rounds_of(residual: float) -> int | None:
    """How many rounds of correcting the ends in turn leave a hundredth of an error, at least 1; None where none do."""
    left = abs(residual)
    if left > _NEVER:
        return None
    return max(1, math.ceil(math.log(SETTLED) / math.log(left))) if left else 1


def _beyond_stroke(analysis: Analysis, moves: dict[EndName, dict[str, float]]) -> Message | None:
    """Why there is no move where a cylinder would have to go farther than its stroke for 1 mm of an end."""
    for cylinder in analysis.mount.cylinders:
        most = max(abs(moves[end][cylinder.id]) for end in ENDS)
        if most > cylinder.stroke:
            text = (
                "to raise one end alone by {rise} '{name}' would have to move {most}, more than its stroke of {stroke}"
            )
            values: dict[str, Value] = {
                "rise": (1.0, "error"),
                "name": word(cylinder.id),
                "most": (most, "length"),
                "stroke": (cylinder.stroke, "length"),
            }
            return Message("beyond-stroke", text, [cylinder.id], values)
    return None


def _why_not(movement: dict[str, Movement]) -> Message:
    """Why a mount without exactly two cylinders has no correcting moves."""
    if len(movement) != 1:
        return MANY_CYLINDERS if movement else NO_CYLINDER
    (only,) = movement.values()
    if only.coupling is not None and abs(only.coupling) < STILL:
        text = "the one cylinder moves the {lead} end alone: nothing corrects the other"
        return Message("one-end", text, values={"lead": word(only.lead)})
    return ONE_CYLINDER


def _instant_centre(pose: Pose, moving: Array) -> Point | None:
    """The point the blade turns about, mm; None when it only shifts or stands still."""
    vx, vy, turn = moving[:3].tolist()
    shift = float(np.hypot(vx, vy))
    if abs(turn) * 1e7 <= max(shift, STILL):
        return None
    return float(pose.q[0] - vy / turn), float(pose.q[1] + vx / turn)


def lines_through(analysis: Analysis, moving: Array, driven: str) -> list[CentreLine]:
    """The members whose lines meet in the instant centre: they hold the blade to a body that stands still.

    ``moving`` is how every body moves, shape (unknowns,), while the cylinder ``driven`` lengthens.
    """
    lines = []
    equations = analysis.assembly.equations
    for number, (member, link) in enumerate(zip(analysis.mount.members, equations.links, strict=True)):
        if BLADE_BODY not in (link.first, link.second) or member.id == driven or not member.ROWS:
            continue
        carries = link.first == BLADE_BODY
        other = link.second if carries else link.first
        if other != FIXED and not is_still(analysis, moving, other):
            continue
        standing = analysis.standing[number]
        on_blade, beyond = (standing.first, standing.second) if carries else (standing.second, standing.first)
        slopes = analysis.pose.jacobian[equations.row_of[number].start]
        lines.append(CentreLine(member.id, *member.line(on_blade, beyond, slopes, carries)))
    return lines


def is_still(analysis: Analysis, moving: Array, body: int) -> bool:
    """Whether a body other than the frame stands still while the mount moves by ``moving``, shape (unknowns,)."""
    part = slice(3 * body, 3 * body + 3)
    return bool(np.abs(moving[part] * analysis.assembly.scale[part]).max() < STILL)
