"""What the working is about: a mount at one pose, the chosen cylinder, the chosen end, and the answers to arrive at."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from app.document.models import Cylinder, Mount, Pin, Point
from app.results.budget import Source, budget, sources
from app.results.coupling import edge_movement, is_still, lines_through
from app.results.forces import CylinderForce, cylinder_forces, standing_points
from app.solve.assembly import Assembly
from app.solve.equations import FIXED, Array
from app.solve.pose import Pose
from app.solve.sensitivity import BLADE_BODY, Sensitivities, sensitivities, velocities
from app.working.step import Known, Path, Place


@dataclass(frozen=True, eq=False)
class Case:
    """A mount at one pose with the answers known.

    ``number`` counts the chosen cylinder among the cylinders, ``member`` among the members; ``moving`` is how every
    body moves per mm it lengthens, shape (unknowns,).
    """

    assembly: Assembly
    pose: Pose
    found: Sensitivities
    number: int
    member: int
    end: str
    moving: Array
    actuators: dict[str, dict[str, Any]]
    carried: dict[str, CylinderForce]
    listed: list[Source]
    totals: dict[str, Any]

    @property
    def mount(self) -> Mount:
        """The document."""
        return self.assembly.mount

    @property
    def cylinder(self) -> Cylinder:
        """The chosen cylinder."""
        return self.mount.cylinders[self.number]

    @property
    def actuator(self) -> dict[str, Any]:
        """What the readout says of the chosen cylinder's movement."""
        return self.actuators[self.cylinder.id]

    @cached_property
    def ends(self) -> dict[str, Point]:
        """Where the ends of the blade stand, mm."""
        return {"left": self._on_blade(self.mount.blade.left), "right": self._on_blade(self.mount.blade.right)}

    @cached_property
    def load_at(self) -> Point | None:
        """Where the load acts, mm."""
        return self._on_blade(self.mount.load.at) if self.mount.load else None

    def _on_blade(self, at: Point) -> Point:
        return self.pose.point(BLADE_BODY, self.assembly.local(BLADE_BODY, at))

    @cached_property
    def lines(self) -> list[dict[str, Any]]:
        """The lines along which members hold the blade to bodies that stand still while the cylinder moves."""
        return lines_through(self.assembly, self.pose, self.moving, self.cylinder.id)

    @cached_property
    def pinned(self) -> bool:
        """Whether a pin holds the blade to a still body."""
        pins = {member.id for member in self.mount.members if isinstance(member, Pin)}
        return any(each["member"] in pins for each in self.lines)

    @cached_property
    def held(self) -> bool:
        """Whether still bodies alone say how the blade can move: by a pin or by two lines."""
        return self.pinned or len(self.lines) == 2

    @cached_property
    def direct(self) -> tuple[Point, Point] | None:
        """Where the cylinder takes hold of a still body and of the blade, if it acts between those two; mm."""
        link = self.assembly.equations.links[self.member]
        if BLADE_BODY not in (link.first, link.second):
            return None
        first, last = standing_points(self.assembly, self.pose, self.member)
        still, a, b = (link.second, last, first) if link.first == BLADE_BODY else (link.first, first, last)
        return (a, b) if still == FIXED or is_still(self.assembly, self.moving, still) else None

    @cached_property
    def shifts(self) -> bool:
        """Whether the blade moves without turning, to rounding, as parallel lines leave it."""
        x, y, turn = (float(each) for each in self.moving[:3])
        span = abs(self.ends["right"][0] - self.ends["left"][0])
        return abs(turn) * span <= 1e-11 * max(abs(x), abs(y))

    def path(self, *steps: str | int) -> Path:
        """A path under the chosen cylinder's answers."""
        return ("actuators", self.cylinder.id, *steps)

    def source_path(self, name: str, kind: str, field: str) -> Path:
        """Where the readout holds a source's range at the chosen end."""
        entries = self.totals[self.end]["sources"]
        place = next(i for i, each in enumerate(entries) if each["id"] == name and each["kind"] == kind)
        return ("budget", self.end, "sources", place, field)

    def of_kind(self, kind: str) -> list[Source]:
        """The sources of a kind, largest at the chosen end first."""
        order = {(each["id"], each["kind"]): place for place, each in enumerate(self.totals[self.end]["sources"])}
        return sorted((each for each in self.listed if each.kind == kind), key=lambda each: order[each.id, each.kind])

    @property
    def upward(self) -> bool:
        """Whether the chosen end's worst error is upward."""
        total = self.totals[self.end]
        return bool(total["high"] >= -total["low"])

    @cached_property
    def known(self) -> dict[str, Known]:
        """The numbers of the ends and the movements that every step may take, by name."""
        found: dict[str, Known] = {}
        for end, (x, y) in self.ends.items():
            here = Place("point", ((x, y),))
            found[f"x_{end}"] = Known(f"x_{end}", f"how far right the {end} end stands", x, place=here)
            gain = self.actuator[end]
            words = f"how far the {end} end rises per unit the cylinder lengthens"
            found[f"s_{end}"] = Known(f"s_{end}", words, gain, "ratio", here)
        if centre := self.actuator["instant_centre"]:
            here = Place("point", (centre,))
            found["x_C"] = Known("x_C", "how far right the centre C lies", centre[0], place=here)
            found["y_C"] = Known("y_C", "how high the centre C lies", centre[1], place=here)
            for end, (x, y) in self.ends.items():
                level = Place("length", ((centre[0], y), (x, y)))
                words = f"level distance from the centre to the {end} end"
                found[f"d_{end}"] = Known(f"d_{end}", words, x - centre[0], place=level)
        return found


def case_of(assembly: Assembly, pose: Pose, cylinder: str, end: str) -> Case:
    """Work out every answer the working arrives at. Needs a located mount that has the cylinder."""
    found = sensitivities(assembly, pose)
    carried = cylinder_forces(assembly, found)
    listed = sources(assembly, pose, found, carried)
    names = [each.id for each in assembly.mount.cylinders]
    number = names.index(cylinder)
    member = [each.id for each in assembly.mount.members].index(cylinder)
    actuators: Mapping[str, dict[str, Any]] = edge_movement(assembly, pose, found)
    return Case(
        assembly=assembly,
        pose=pose,
        found=found,
        number=number,
        member=member,
        end=end,
        moving=velocities(assembly, pose)[:, number],
        actuators=dict(actuators),
        carried=carried,
        listed=listed,
        totals=budget(listed, assembly.mount.tolerance),
    )
