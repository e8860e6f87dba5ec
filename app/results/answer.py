"""The readout's fields, each with its meaning, unit and sign. What the server's OpenAPI page is made from.

``readout`` builds plain dictionaries of this shape; the tests hold the two together. A number that cannot be
computed is null, and ``absent`` says why, by its path.
"""

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

Point = tuple[float, float]
End = Literal["left", "right"]


class Answer(BaseModel):
    """Any part of the answer: no field goes undocumented."""

    model_config = ConfigDict(extra="forbid")


class BodyMotion(Answer):
    """How a body moves in a free motion, joints moving by about 1 mm."""

    at: Point = Field(description="the body's reference point as drawn, mm")
    shift: Point = Field(description="movement of that point, mm")
    turn: float = Field(description="turn, degrees, + anticlockwise")


class Mobility(Answer):
    """How the mount holds with every cylinder held."""

    state: Literal["located", "loose", "bound"] = Field(description="nothing can move; something can; members fight")
    freedom: int = Field(description="number of free motions")
    redundant: int = Field(description="number of constraints too many")
    members: list[str] = Field(description="members involved when loose or bound, by id")
    freeing: list[str] = Field(description="members of a bound mount whose removal alone would free it, by id")
    motion: list[dict[str, BodyMotion]] = Field(description="each free motion, by body")


class Ends(Answer):
    """A place for each end of the blade's edge."""

    left: Point = Field(description="[x, y], mm")
    right: Point = Field(description="[x, y], mm")


class StandingMember(Answer):
    """Where a member stands."""

    at: Point | None = Field(default=None, description="a pin's or slide's place, mm")
    ends: tuple[Point, Point] | None = Field(
        default=None, description="places of the two ends of a rod or cylinder, mm"
    )
    length: float | None = Field(default=None, description="pin to pin length of a rod or cylinder, mm")
    extension: float | None = Field(default=None, description="how far a cylinder is out, mm, 0 to its stroke")


class StandingBody(Answer):
    """Where a body stands: turn it about ``drawn`` by ``angle``, then shift ``drawn`` to ``at``."""

    drawn: Point = Field(description="its reference point as drawn, mm")
    at: Point = Field(description="where that point stands, mm")
    angle: float = Field(description="turn from the drawn pose, degrees, + anticlockwise")


class Stopped(Answer):
    """Why a command was not followed to its end."""

    by: Literal["stroke", "dead centre", "too far"] = Field(description="what ended the movement")
    members: list[str] = Field(description="the members that ended it, by id")
    text: str = Field(description="the same in words")


class Pose(Answer):
    """Where everything stands with the cylinders worked as far as they could follow the command."""

    ends: Ends = Field(description="the ends of the cutting edge")
    slope: float | None = Field(
        description="cross fall: rise over run from the left end to the right, + right end higher"
    )
    members: dict[str, StandingMember] = Field(description="every member, by id")
    bodies: dict[str, StandingBody] = Field(description="every moving body, by name")
    command: dict[str, float] = Field(description="how much longer than drawn every cylinder is, mm")
    fraction: float = Field(description="how much of the command was followed, 0 to 1")
    stopped: Stopped | None = Field(description="why it was not followed to its end; null when it was")


class Seen(Answer):
    """What the two sensors see of a cylinder."""

    left: float = Field(description="height of the left sensor, mm per mm the cylinder lengthens")
    right: float = Field(description="height of the right sensor, mm per mm the cylinder lengthens")
    lead: End = Field(description="the sensor it moves more; right when equal")
    coupling: float | None = Field(description="movement of the other sensor over that of the lead")


class CentreLine(Answer):
    """A line that meets the others in the instant centre."""

    member: str = Field(description="the member that holds along it, by id")
    through: Point = Field(description="its hold on the blade, mm")
    toward: Point = Field(description="a second point of the line, mm; the same for a pin")


class Heights(Answer):
    """A value for each end of the blade."""

    left: float = Field(description="at the left end, + upward")
    right: float = Field(description="at the right end, + upward")


class Ways(Answer):
    """A value for each end and each way a cylinder can go: cap and annulus differ."""

    lengthen: Heights = Field(description="while the cylinder gets longer")
    shorten: Heights = Field(description="while it gets shorter")


class Actuator(Answer):
    """What one cylinder does to the edge, and what the load does to it."""

    left: float = Field(description="height of the left end, mm per mm the cylinder lengthens")
    right: float = Field(description="height of the right end, mm per mm the cylinder lengthens")
    lead: End = Field(description="the end it moves more; right when equal")
    coupling: float | None = Field(description="movement of the other end over that of the lead: -1 see-saw, 0 still")
    instant_centre: Point | None = Field(description="the point the blade turns about, mm; null when it only shifts")
    centre_lines: list[CentreLine] = Field(description="lines that meet in the instant centre")
    sensors: Seen | None = Field(default=None, description="the same at the sensors; missing without sensors")
    force: float | None = Field(description="N under the load alone, + when the cylinder is pushed shorter")
    side: Literal["cap", "annulus", "none"] | None = Field(description="the side whose oil carries the force")
    pressure: float | None = Field(description="force over the area that carries it, MPa, with the force's sign")
    load_ratio: float | None = Field(description="size of the force over size of the load")
    weight_force: float | None = Field(description="N under the weight alone, + when the cylinder is pushed shorter")
    relief: float | None = Field(description="relief valve setting, MPa")
    relief_share: float | None = Field(description="size of the pressure under the load over the relief setting")
    speed: Ways | None = Field(description="how fast each end moves at the valve's flow, mm/s, + upward")
    step: Ways | None = Field(description="smallest step of each end, one pulse of the valve, mm, + upward")
    extension: float = Field(description="how far it is out, mm")
    stroke: float = Field(description="its stroke, mm")


class Coupling(Answer):
    """What the cylinders do together."""

    worst: float | None = Field(description="the coupling farthest from 0")
    interaction: float | None = Field(description="Bristol's relative gain of the better pairing; two cylinders only")
    moves: dict[End, dict[str, float]] | None = Field(
        description="mm of each cylinder that raise one end by 1 mm and leave the other; two cylinders only"
    )


class JointForce(Answer):
    """The force at one joint: of the first body, or of the member, on the body it is pinned to."""

    load: Point | None = Field(description="under the load alone, [Fx, Fy], N")
    weight: Point | None = Field(description="under the blade's weight alone, [Fx, Fy], N")
    together: Point | None = Field(description="under weight and full load, [Fx, Fy], N")
    worst: float | None = Field(
        description="largest size between no load and full load, weight included where known, N"
    )
    rating: float | None = Field(description="what the joint is rated for, N")
    use: float | None = Field(description="worst over rating")


class BudgetSource(Answer):
    """What one source of error adds to one end."""

    id: str = Field(description="joint, cylinder, rod or allowance")
    member: str | None = Field(description="the member it belongs to, by id")
    kind: Literal["clearance", "oil", "stretch", "step", "allowance"] = Field(description="kind of source")
    low: float = Field(description="lowest it puts the end, mm")
    high: float = Field(description="highest it puts the end, mm")
    play: Literal["held", "turns over", "unknown"] | None = Field(
        description="whether the loads hold a clearance to one side; unknown without mass or load; null for other kinds"
    )
    share: float = Field(description="its share of the worst, 0 to 1")


class BudgetEnd(Answer):
    """The error budget of one end."""

    low: float = Field(description="sum of the lows, mm")
    high: float = Field(description="sum of the highs, mm")
    worst: float = Field(description="the larger of |low| and |high|, mm")
    worst_held: float = Field(description="worst without the play that the loads hold to one side, mm")
    band: float = Field(description="high - low, the whole travel a dial gauge would see, mm")
    rss: float = Field(description="size of the sum of the middles plus root sum of squares of the half widths, mm")
    blade_at_low: dict[End, float] = Field(description="heights of both ends while this one is lowest, mm")
    blade_at_high: dict[End, float] = Field(description="heights of both ends while this one is highest, mm")
    sources: list[BudgetSource] = Field(description="every source, largest share first")


class Budget(Answer):
    """The error budget of both ends against the tolerance."""

    left: BudgetEnd = Field(description="left end")
    right: BudgetEnd = Field(description="right end")
    tolerance: float | None = Field(description="grading tolerance, +- mm")
    inside: bool | None = Field(description="whether the worst of both ends is within the tolerance")


class DialSource(Answer):
    """What one source adds to the dial readings."""

    id: str = Field(description="joint, cylinder or rod")
    member: str | None = Field(description="the member it belongs to, by id")
    kind: Literal["clearance", "oil", "stretch"] = Field(
        description="play that turns over, oil squeezed, rod stretched"
    )
    left: float = Field(description="at the left end, mm, + upward")
    right: float = Field(description="at the right end, mm, + upward")


class Dial(Answer):
    """What a dial gauge at each end reads when the full load comes on."""

    left: float = Field(description="at the left end, mm, + upward")
    right: float = Field(description="at the right end, mm, + upward")
    sources: list[DialSource] = Field(description="every source, largest first")
    note: str | None = Field(description="what was assumed; null when nothing was")


class Warning(Answer):
    """Something a designer should look at."""

    code: Literal[
        "stroke-end",
        "dead-centre",
        "too-far",
        "near-dead-centre",
        "stroke-used-up",
        "over-relief",
        "over-rating",
        "no-sensors",
        "not-linear",
        "lifts-off",
        "sensors-close",
    ] = Field(description="kind of warning")
    text: str = Field(description="one sentence")
    members: list[str] = Field(description="the members concerned, by id")


class Readout(Answer):
    """Everything the tool knows of a mount at one position of its cylinders."""

    mobility: Mobility = Field(description="how the mount holds")
    pose: Pose | None = Field(description="where everything stands; null unless located")
    actuators: dict[str, Actuator] | None = Field(description="every cylinder, by id; null unless located")
    coupling: Coupling | None = Field(description="the cylinders together; null unless located")
    forces: dict[str, JointForce] | None = Field(description="every joint, by name; null unless located")
    budget: Budget | None = Field(description="the error budget; null unless located")
    dial: Dial | None = Field(description="the load test; null without a load or unless located")
    warnings: list[Warning] = Field(description="what to look at")
    absent: dict[str, str] = Field(description="why a number is null, by its path")


class Histogram(Answer):
    """How often the error fell into bins of equal width."""

    from_: float = Field(alias="from", description="lower edge of the first bin, mm")
    to: float = Field(description="upper edge of the last bin, mm")
    counts: list[int] = Field(description="draws in each bin")


class SpreadEnd(Answer):
    """How the error of one end spreads."""

    mean: float = Field(description="mean, mm")
    deviation: float = Field(description="standard deviation, mm")
    interval_95: tuple[float, float] = Field(description="symmetric 95 % interval, mm")
    interval_99_7: tuple[float, float] = Field(description="symmetric 99.7 % interval, mm")
    histogram: Histogram = Field(description="shape of the spread")


class Spread(Answer):
    """Monte Carlo over the budget, after JCGM 101."""

    left: SpreadEnd = Field(description="left end")
    right: SpreadEnd = Field(description="right end")
    outside: float | None = Field(
        description="share of draws outside the tolerance at either end; null without tolerance"
    )
    draws: int = Field(description="number of draws")
    seed: int = Field(description="seed of the draws")


class LinearCheck(Answer):
    """One end at its worst one way: play, oil and rods only."""

    linear: float = Field(description="linear sum, mm")
    resolved: float | None = Field(description="the pose solved again, mm; null where none closes near by")
    share: float | None = Field(description="difference over the linear sum; 0 where that is under 0.001 mm")


class LinearEnd(Answer):
    """One end both ways."""

    low: LinearCheck = Field(description="downward")
    high: LinearCheck = Field(description="upward")


class Linearity(Answer):
    """Is linear good enough?"""

    left: LinearEnd = Field(description="left end")
    right: LinearEnd = Field(description="right end")


class Change(Answer):
    """A small change that lowers the worst error."""

    what: Literal[
        "clearance", "pivot x", "pivot y", "spacing", "bore", "bulk modulus", "hose volume", "section area"
    ] = Field(description="which number; spacing: each of a mirrored pair that far outward")
    id: str = Field(description="joint, cylinder, rod or pair")
    value: float = Field(description="the number now, mm, MPa, mL or mm2")
    change: float = Field(description="the small change, in the same unit")
    fall: Heights = Field(description="how much the worst error of each end falls by the slope, mm")
    per_unit: Heights = Field(description="exact derivative of each end's worst error, mm per unit")


class Tried(Answer):
    """A small change made and worked out again."""

    what: str = Field(description="which number, as in changes")
    id: str = Field(description="joint, cylinder, rod or pair")
    value: float = Field(description="the number now, mm, MPa, mL or mm2")
    change: float = Field(description="the small change, in the same unit")
    fall: Heights = Field(description="how much the worst error of each end really falls, mm, - where it rises")


class Improve(Answer):
    """What to change first."""

    end: End = Field(description="the worse end, for which the changes are ranked")
    changes: list[Change] = Field(description="by slope, largest fall first")
    tried: list[Tried] = Field(
        description="the first of the changes made and worked out again, largest fall first; without those that the "
        "document or a stroke does not allow and those that do not help"
    )
    pivots: dict[str, dict[End, Point]] = Field(
        description="gradient of each end's worst error by every joint's place as drawn, [per mm x, per mm y]"
    )


class Wear(Answer):
    """How far play can grow."""

    factor: float | None = Field(description="all play by this factor brings the worst to the tolerance")
    joints: dict[str, float | None] = Field(description="clearance at which each joint alone does, mm")


class Detail(Answer):
    """What is asked for once the hand is still."""

    spread: Spread | None = Field(description="statistics; null unless located")
    linearity: Linearity | None = Field(description="check of the linear sums; null unless located")
    improve: Improve | None = Field(description="what to change first; null unless located")
    wear: Wear | None = Field(description="allowed growth of play; null without tolerance or unless located")
    absent: dict[str, str] = Field(description="why something is null, by its path")
