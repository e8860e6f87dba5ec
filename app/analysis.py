"""One mount at one position of its cylinders: everything about it is worked out once, when it is first asked for.

    analysis = Analysis(mount, {"left cylinder": 12.5})
    analysis.pose, analysis.sensitivities          where it stands, and what moves it
    budget(analysis), correction(analysis)         answers, each of which calls on those before it

What sources and results work out of an analysis they mark ``worked_out_once``: however many answers call on it, it is
done once, and nobody hands the results of others from place to place.
"""

from collections.abc import Callable, Mapping
from functools import cached_property, wraps
from typing import Any, TypeVar

from app.document.models import Mount
from app.document.parts import ENDS, FRAME, EndName, Point
from app.members.member import Standing
from app.solve.assembly import Assembly, assemble
from app.solve.equations import FIXED, Array
from app.solve.mobility import Mobility, mobility
from app.solve.pose import Pose, moves_of, solve
from app.solve.sensitivity import BLADE_BODY, Sensitivities, sensitivities, velocities

_Worked = TypeVar("_Worked")


class Analysis:
    """A mount with its cylinders moved by ``strokes``, mm longer than drawn by id.

    Raises BadCommand for strokes that name no cylinder or are no numbers. What stands after ``located`` needs a located
    mount.
    """

    def __init__(self, mount: Mount, strokes: Mapping[str, object] | None = None) -> None:
        self.mount = mount
        self.strokes = dict(strokes or {})
        self.moves = moves_of(mount, self.strokes)
        self._worked: dict[Callable[..., Any], Any] = {}

    @cached_property
    def assembly(self) -> Assembly:
        """The mount laid out for its equations."""
        return assemble(self.mount)

    @cached_property
    def mobility(self) -> Mobility:
        """How it holds as drawn with every cylinder held."""
        return mobility(self.assembly)

    @property
    def located(self) -> bool:
        """Whether nothing can move and nothing fights."""
        return self.mobility.state == "located"

    @cached_property
    def pose(self) -> Pose:
        """Where it stands, as far as it can follow the strokes."""
        return solve(self.assembly, self.moves)

    @cached_property
    def sensitivities(self) -> Sensitivities:
        """What moves the heights of the blade, and the work of the loads."""
        return sensitivities(self.assembly, self.pose)

    @cached_property
    def velocities(self) -> Array:
        """How every body moves per mm that each cylinder lengthens, shape (unknowns, cylinders)."""
        return velocities(self.assembly, self.pose)

    @cached_property
    def ends(self) -> dict[EndName, Point]:
        """Where the ends of the blade stand, mm."""
        blade = self.mount.blade
        return {end: self.on_blade(at) for end, at in zip(ENDS, (blade.left, blade.right), strict=True)}

    def on_blade(self, at: Point) -> Point:
        """Where a point of the blade as drawn stands, mm."""
        return self.pose.point(BLADE_BODY, self.assembly.local(BLADE_BODY, at))

    def on_body(self, name: str, at: Point) -> Point:
        """Where a point of any body as drawn stands, mm; ``name`` is the body's."""
        if name == FRAME:
            return at
        body = self.mount.moving.index(name)
        return self.pose.point(body, self.assembly.local(body, at))

    @cached_property
    def standing(self) -> tuple[Standing, ...]:
        """Where every member's hold on its two bodies stands."""
        answer = []
        for member, link in zip(self.mount.members, self.assembly.equations.links, strict=True):
            first, second = (
                at if body == FIXED else self.pose.point(body, self.assembly.local(body, at))
                for body, at in zip((link.first, link.second), member.holds, strict=True)
            )
            turn = 0.0 if link.first == FIXED else float(self.pose.q[3 * link.first + 2])
            answer.append(Standing(first, second, turn))
        return tuple(answer)

    @cached_property
    def joint_places(self) -> dict[str, Point]:
        """Where every joint stands, by its name; mm."""
        found: dict[str, Point] = {}
        for member, standing in zip(self.mount.members, self.standing, strict=True):
            names = [name for name, _, _ in member.joints]
            places = (standing.second,) if len(names) == 1 else (standing.first, standing.second)
            found |= dict(zip(names, places, strict=True))
        return found

    @cached_property
    def load_forces(self) -> dict[str, float]:
        """The force in every cylinder under the load alone, N, + when pushed shorter; empty without a load."""
        return self._cylinder_forces("load")

    @cached_property
    def weight_forces(self) -> dict[str, float]:
        """The same under the weight alone; empty without a mass and its centre."""
        return self._cylinder_forces("weight")

    def _cylinder_forces(self, case: str) -> dict[str, float]:
        if not self.sensitivities.has(case):
            return {}
        work = self.sensitivities.of_length(case).tolist()
        return {each.id: -done for each, done in zip(self.mount.cylinders, work, strict=True)}


def worked_out_once(work: Callable[[Analysis], _Worked]) -> Callable[[Analysis], _Worked]:
    """A function of an analysis that is called once for each, and remembered there."""

    @wraps(work)
    def known(analysis: Analysis) -> _Worked:
        if work not in analysis._worked:
            analysis._worked[work] = work(analysis)
        answer: _Worked = analysis._worked[work]
        return answer

    return known
