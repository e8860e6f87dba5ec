"""What every kind of source does over many poses: the sums of its sources at each pose alone."""

import numpy as np
import pytest

from app.analysis import Analysis
from app.document.models import Mount
from app.document.parts import ENDS
from app.document.reading import read_mount
from app.solve.lattice import lattice
from app.sources import KINDS
from tests.loaded import full
from tests.mounts import crank_and_drop_rod, crank_on_carriage, guided, twin

CELLS = 5


def same_over_the_travel(mount: Mount) -> None:
    """Compare the sums over a grid with the sources of a reading of its own in some cells."""
    drawn = Analysis(mount)
    axes = [np.linspace(each.retracted, each.retracted + each.stroke, CELLS) for each in mount.cylinders[:2]]
    axes.append(np.zeros(1))
    found = lattice(drawn.assembly, drawn.pose, range(min(2, len(mount.cylinders))), (axes[0], axes[1]))
    poses = found.poses
    sums = {name: kind.over(poses) for name, kind in KINDS.items()}
    for place, cell in list(enumerate(np.flatnonzero(found.reached).tolist()))[:: CELLS + 1]:
        moved = found.lengths[cell] - np.array(drawn.assembly.lengths)
        alone = Analysis(mount, {each.id: float(by) for each, by in zip(mount.cylinders, moved, strict=True)})
        if alone.pose.stopped:
            continue
        for name, kind in KINDS.items():
            listed = kind.sources(alone)
            for number, end in enumerate(ENDS):
                ranges = np.array([(*each.range(end), *each.moved(end)) for each in listed]).reshape(-1, 4).sum(axis=0)
                over = [each[number, place] for each in sums[name]]
                if mount.load is None:
                    ranges, over = ranges[:2], over[:2]
                np.testing.assert_allclose(over, ranges, rtol=1e-7, atol=1e-9, err_msg=f"{name} {end}")


@pytest.mark.parametrize("drawn", [twin, guided, crank_on_carriage, crank_and_drop_rod])
@pytest.mark.parametrize("more", ["as it is", "reversing", "heavy", "air", "preloaded", "weightless", "no load"])
def test_sums_over_the_travel_are_those_of_single_readings(drawn: object, more: str) -> None:
    mount = full(drawn)  # type: ignore[arg-type]
    mount["tyres"] = {"left": -900, "right": 900, "stiffness": 400}
    for member in mount["members"]:
        for part in member.get("ends", [member]):
            part["stiffness"] = 30000
        if member["kind"] == "rod":
            member |= {"section_area": 800, "elastic_modulus": 205000}
    match more:
        case "reversing":
            mount["load"]["reversing"] = True
        case "heavy":
            mount["blade"] |= {"mass": 700, "mass_centre": [60, 250]}
        case "air":
            mount["oil"] |= {"entrained_air": 0.01}
            mount["load"]["reversing"] = True
        case "preloaded":
            mount["oil"] |= {"preloaded": True, "entrained_air": 0.01, "trapped_pressure": 3}
        case "weightless":
            for key in ("mass", "mass_centre"):
                mount["blade"].pop(key, None)
        case "no load":
            del mount["load"]
    same_over_the_travel(read_mount(mount))
