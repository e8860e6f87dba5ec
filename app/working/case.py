"""What the working is about: an analysis, the chosen cylinder and the chosen end, with the answers to arrive at."""

from dataclasses import dataclass
from functools import cached_property

from app.analysis import Analysis
from app.document.models import Mount
from app.document.parts import EndName, Point
from app.members import Cylinder, Pin
from app.results.actuators import Actuator, actuators
from app.results.budget import BudgetEnd, budget
from app.results.coupling import CentreLine, is_still, lines_through
from app.results.forces import CylinderForce, cylinder_forces
from app.solve.equations import FIXED, Array
from app.solve.sensitivity import BLADE_BODY
from app.sources import sources
from app.sources.source import Source
from app.working.step import Known, Path, Place


@dataclass(frozen=True, eq=False)
class Case:
    """An analysis of a located mount, the chosen cylinder by its number among the cylinders, and the chosen end."""

    analysis: Analysis
    number: int
    end: EndName

    @property
    def mount(self) -> Mount:
        """The document."""
        return self.analysis.mount

    @property
    def cylinder(self) -> Cylinder:
        """The chosen cylinder."""
        return self.mount.cylinders[self.number]

    @cached_property
    def member(self) -> int:
        """The chosen cylinder's number among the members."""
        return self.mount.members.index(self.cylinder)

    @property
    def moving(self) -> Array:
        """How every body moves per mm the cylinder lengthens, shape (unknowns,)."""
        moving: Array = self.analysis.velocities[:, self.number]
        return moving

    @property
    def actuator(self) -> Actuator:
        """What the readout says of the chosen cylinder."""
        return actuators(self.analysis)[self.cylinder.id]

    @property
    def carried(self) -> CylinderForce:
        """What the chosen cylinder carries under the load. Needs a load."""
        return cylinder_forces(self.analysis)[self.cylinder.id]

    @property
    def total(self) -> BudgetEnd:
        """The budget of the chosen end."""
        return budget(self.analysis).of(self.end)

    @property
    def ends(self) -> dict[EndName, Point]:
        """Where the ends of the blade stand, mm."""
        return self.analysis.ends

    @cached_property
    def load_at(self) -> Point | None:
        """Where the load acts, mm."""
        return self.analysis.on_blade(self.mount.load.at) if self.mount.load else None

    @cached_property
    def lines(self) -> list[CentreLine]:
        """The lines along which members hold the blade to bodies that stand still while the cylinder moves."""
        return lines_through(self.analysis, self.moving, self.cylinder.id)

    @cached_property
    def pinned(self) -> bool:
        """Whether a pin holds the blade to a still body."""
        pins = {member.id for member in self.mount.members if isinstance(member, Pin)}
        return any(each.member in pins for each in self.lines)

    @cached_property
    def held(self) -> bool:
        """Whether still bodies alone say how the blade can move: by a pin or by two lines."""
        return self.pinned or len(self.lines) == 2

    @cached_property
    def direct(self) -> tuple[Point, Point] | None:
        """Where the cylinder takes hold of a still body and of the blade, if it acts between those two; mm."""
        link = self.analysis.assembly.equations.links[self.member]
        if BLADE_BODY not in (link.first, link.second):
            return None
        standing = self.analysis.standing[self.member]
        carries = link.first == BLADE_BODY
        still, a, b = (
            (link.second, standing.second, standing.first) if carries else (link.first, standing.first, standing.second)
        )
        return (a, b) if still == FIXED or is_still(self.analysis, self.moving, still) else None

    @cached_property
    def shifts(self) -> bool:
        """Whether the blade moves without turning, to rounding, as parallel lines leave it."""
        x, y, turn = (float(each) for each in self.moving[:3])
        span = abs(self.ends["right"][0] - self.ends["left"][0])
        return abs(turn) * span <= 1e-11 * max(abs(x), abs(y))

    def path(self, *steps: str | int) -> Path:
        """A path under the chosen cylinder's answers."""
        return ("actuators", self.cylinder.id, *steps)

    def source_path(self, source: Source) -> Path:
        """Where the readout holds what a source does to the chosen end."""
        entries = self.total.sources
        place = next(i for i, each in enumerate(entries) if each.id == source.id and each.kind == source.kind)
        field = "low" if source.by_load and source.reach[self.end][0] < 0 else "high"
        return ("budget", self.end, "sources", place, field)

    def of_kind(self, kind: str) -> list[Source]:
        """The sources of a kind, largest at the chosen end first."""
        order = {(each.id, each.kind): place for place, each in enumerate(self.total.sources)}
        listed = [each for each in sources(self.analysis) if each.kind == kind]
        return sorted(listed, key=lambda each: order[each.id, each.kind])

    def counted(self, source: Source) -> float:
        """How much a source adds to the worst of the chosen end, 0 or more, mm."""
        low, high = source.range(self.end)
        return abs(high if self.upward else low)

    @property
    def upward(self) -> bool:
        """Whether the chosen end's worst error is upward."""
        return self.total.upward

    @cached_property
    def known(self) -> dict[str, Known]:
        """The numbers of the ends and the movements that every step may take, by name."""
        found: dict[str, Known] = {}
        for end, (x, y) in self.ends.items():
            here = Place("point", ((x, y),))
            found[f"x_{end}"] = Known(f"x_{end}", f"how far right the {end} end stands", x, place=here)
            words = f"how far the {end} end rises per unit the cylinder lengthens"
            found[f"s_{end}"] = Known(f"s_{end}", words, self.actuator.of(end), "ratio", here)
        if centre := self.actuator.instant_centre:
            here = Place("point", (centre,))
            found["x_C"] = Known("x_C", "how far right the centre C lies", centre[0], place=here)
            found["y_C"] = Known("y_C", "how high the centre C lies", centre[1], place=here)
            for end, (x, y) in self.ends.items():
                level = Place("length", ((centre[0], y), (x, y)))
                words = f"level distance from the centre to the {end} end"
                found[f"d_{end}"] = Known(f"d_{end}", words, x - centre[0], place=level)
        return found
