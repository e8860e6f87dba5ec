"""Every cylinder: what it does to the edge, and what the load does to it."""

from app.analysis import Analysis, worked_out_once
from app.results.answer import answer
from app.results.coupling import Movement, movements
from app.results.forces import Side, cylinder_forces
from app.results.relief import demands
from app.results.valve import Ways, speed_and_step


@answer
class Actuator(Movement):
    """What one cylinder does to the edge, and what the load does to it."""

    speed: Ways | None
    """How fast each end moves at the valve's flow, mm/s, + upward."""
    step: Ways | None
    """Smallest step of each end, one pulse of the valve, mm, + upward."""
    weight_force: float | None
    """N under the weight alone, + when the cylinder is pushed shorter."""
    relief: float | None
    """Relief valve setting, MPa."""
    relief_share: float | None
    """The most pressure that weight and load ask of it over the relief setting."""
    force: float | None
    """N under the load alone, + when the cylinder is pushed shorter."""
    side: Side | None
    """The side whose oil carries the force."""
    pressure: float | None
    """Pressure of the oil on that side under the load alone, MPa, never negative."""
    load_ratio: float | None
    """Size of the force over size of the load."""
    extension: float
    """How far it is out, mm."""
    stroke: float
    """Its stroke, mm."""


@worked_out_once
def actuators(analysis: Analysis) -> dict[str, Actuator]:
    """Every cylinder, by id."""
    answer = {}
    mount = analysis.mount
    relief = mount.oil.relief_pressure if mount.oil else None
    carried, movement, asked = cylinder_forces(analysis), movements(analysis), demands(analysis)
    for cylinder, length in zip(mount.cylinders, analysis.pose.lengths, strict=True):
        force, moved = carried.get(cylinder.id), movement[cylinder.id]
        speed, step = speed_and_step(cylinder, mount.valve, moved) if mount.valve else (None, None)
        answer[cylinder.id] = Actuator(
            left=moved.left,
            right=moved.right,
            lead=moved.lead,
            coupling=moved.coupling,
            instant_centre=moved.instant_centre,
            centre_lines=moved.centre_lines,
            sensors=moved.sensors,
            speed=speed,
            step=step,
            weight_force=analysis.weight_forces.get(cylinder.id),
            relief=relief,
            relief_share=asked[cylinder.id].share if cylinder.id in asked else None,
            force=force.force if force else None,
            side=force.side if force else None,
            pressure=force.pressure if force else None,
            load_ratio=force.load_ratio if force else None,
            extension=length - cylinder.retracted,
            stroke=cylinder.stroke,
        )
    return answer
