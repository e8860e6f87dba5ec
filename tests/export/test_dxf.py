"""The drawing, read back from its bytes by the drawing library and compared with the document and the readout."""

import io
import json
import math
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from ezdxf import units
from ezdxf.document import Drawing
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.filemanagement import read

from app.analysis import Analysis
from app.document.errors import BadCommand, NotLocated
from app.document.models import Blade, Mount
from app.document.parts import ENDS, Point
from app.document.reading import read_mount
from app.document.units import MM_PER_INCH, System
from app.export.bodies import hull, joints_on, lugs, plate
from app.export.dxf import dxf_bytes, plain
from app.export.shapes import LAYERS
from app.members import Cylinder, Rod
from app.shipped import shipped_mounts
from tests.answers import readout
from tests.mounts import Document, crank_on_carriage, cylinder, document, end, guided, pin, rod, slide, twin
from tests.samples import crossed

WRITTEN_MM = 1e-9
"""Coordinates are written with all their digits; a turn there and back costs the last few."""

ENGINE_MM = 1e-6
"""How near every point of the drawing must be to where the engine has it."""

TURNED = {"1-centre-pivot": 40.0, "2-pivot-on-carriage": 40.0, "6-crank-and-drop-rod": 30.0, "3-twin-cylinders": -25.0}

SHARED = json.loads((Path(__file__).parents[1] / "blade_outline.json").read_text(encoding="utf-8"))
"""A blade and its outline, which the page's own test reads too."""


def drawn(
    mount: Mount | Document,
    command: dict[str, float] | None = None,
    worked: bool = False,
    system: System = "metric",
) -> Drawing:
    """The drawing as another program reads it."""
    read_in = mount if isinstance(mount, Mount) else read_mount(mount)
    return read(io.StringIO(dxf_bytes(Analysis(read_in, command), worked, system).decode("utf-8")))


def on_layer(drawing: Drawing, layer: str, kind: str) -> list[DXFGraphic]:
    return [each for each in drawing.modelspace() if each.dxf.layer == layer and each.dxftype() == kind]


def circles(drawing: Drawing, layer: str = "JOINTS") -> list[Point]:
    return [(each.dxf.center.x, each.dxf.center.y) for each in on_layer(drawing, layer, "CIRCLE")]


def lines(drawing: Drawing, layer: str) -> list[tuple[Point, Point]]:
    found = [(each.dxf.start, each.dxf.end) for each in on_layer(drawing, layer, "LINE")]
    return [((a.x, a.y), (b.x, b.y)) for a, b in found]


def axes(drawing: Drawing, mount: Mount) -> list[tuple[Point, Point]]:
    """The centre lines of rods, cylinders and guides, in document order: they come before the centre marks."""
    return lines(drawing, "CENTRE")[: sum(member.kind != "pin" for member in mount.members)]


def outlines(drawing: Drawing, layer: str) -> list[list[Point]]:
    return [[(x, y) for x, y, *_ in each] for each in on_layer(drawing, layer, "LWPOLYLINE")]  # type: ignore[attr-defined]


def texts(drawing: Drawing, *layers: str) -> list[str]:
    return [each.dxf.text for layer in layers or ("NAMES", "TITLE") for each in on_layer(drawing, layer, "TEXT")]


def measured(drawing: Drawing) -> list[float]:
    return [each.get_measurement() for each in on_layer(drawing, "DIMENSIONS", "DIMENSION")]  # type: ignore[attr-defined]


def near(points: Sequence[Any], within: float = WRITTEN_MM) -> Any:  # noqa: ANN401 - pytest's own
    return pytest.approx(flat(points), abs=within, rel=0)


def flat(points: Sequence[Any]) -> list[float]:
    return [value for point in points for value in point]


WAYS: list[tuple[bool, System]] = [(False, "metric"), (True, "inch"), (True, "metric"), (False, "inch")]
"""Worked or as drawn, and in which units."""


@pytest.mark.parametrize(("name", "way"), crossed(list(shipped_mounts()), WAYS))
def test_every_shipped_mount_is_a_sound_drawing_in_the_unit_asked_for(name: str, way: tuple[bool, System]) -> None:
    worked, system = way
    drawing = drawn(shipped_mounts()[name], {}, worked, system)
    audited = drawing.audit()
    assert audited.errors == []
    assert audited.fixes == []
    assert drawing.header["$INSUNITS"] == (units.MM if system == "metric" else units.IN)
    assert drawing.header["$MEASUREMENT"] == (1 if system == "metric" else 0)


@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_every_line_is_on_a_layer_with_its_type_and_weight(name: str) -> None:
    drawing = drawn(shipped_mounts()[name])
    assert {each.dxf.layer for each in drawing.modelspace()} <= set(LAYERS)
    for layer, kind in LAYERS.items():
        written = drawing.layers.get(layer)
        assert written.color == kind.colour
        assert written.dxf.lineweight == 100 * kind.weight
        assert written.dxf.linetype == ("CENTRE" if layer in ("CENTRE", "CONSTRUCTION") else "CONTINUOUS")
    assert drawing.linetypes.has_entry("CENTRE")


@pytest.mark.parametrize(("name", "way"), crossed(list(shipped_mounts()), WAYS))
def test_every_joint_and_every_point_of_an_outline_is_where_the_engine_has_it(
    name: str, way: tuple[bool, System]
) -> None:
    worked, system = way
    mount = shipped_mounts()[name]
    command = {mount.cylinders[0].id: TURNED.get(name, 20.0)}
    engine = Analysis(mount, command if worked else None)
    unit = MM_PER_INCH if system == "inch" else 1.0
    drawing = drawn(mount, command, worked, system)
    in_mm = [(unit * x, unit * y) for x, y in circles(drawing)]
    assert flat(in_mm) == near(list(engine.joint_places.values()), ENGINE_MM)
    shapes = [("blade", plate(mount.blade)), *(("blade", each) for each in lugs(mount))]
    shapes += [(body, joints_on(mount, body)) for body in mount.moving[1:]]
    expected = [engine.on_body(body, at) for body, corners in shapes for at in corners]
    written = [(unit * x, unit * y) for each in outlines(drawing, "OUTLINE") for x, y in each]
    written += [(unit * x, unit * y) for each in lines(drawing, "OUTLINE") for x, y in each]
    assert all(min(math.dist(point, known) for known in expected) < ENGINE_MM for point in written)
    corners = [engine.on_body("blade", at) for _, each in shapes[: 1 + len(lugs(mount))] for at in each]
    assert flat(written[: len(corners)]) == near(corners, ENGINE_MM)


def test_the_outline_of_the_blade_is_that_of_the_sheet() -> None:
    assert flat(plate(Blade(**SHARED["blade"]))) == near(SHARED["outline"])


def test_a_lug_carries_a_joint_above_the_plate_and_none_a_joint_on_it() -> None:
    mount = read_mount(twin())
    above = [at for at in joints_on(mount, "blade") if at[1] > 0.1 * 2000]
    assert [tip for _, tip, _ in lugs(mount)] == above
    for left, _, right in lugs(mount):
        assert left[1] == right[1] == pytest.approx(0.1 * math.dist(mount.blade.left, mount.blade.right))
        assert left[0] < right[0]


@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_as_drawn_every_coordinate_is_the_documents(name: str) -> None:
    mount = shipped_mounts()[name]
    drawing = drawn(mount)
    assert circles(drawing) == [at for _, _, _, at in mount.joints]
    assert lines(drawing, "EDGE") == [(mount.blade.left, mount.blade.right)]
    ends = [(m.ends[0].at, m.ends[1].at) for m in mount.members if isinstance(m, Rod | Cylinder)]
    slides = [member.at for member in mount.members if member.kind == "slide"]
    found = axes(drawing, mount)
    assert [line for line in found if line in ends] == ends
    assert [midway(*line) for line in found if line not in ends] == slides
    assert mount.sensors is not None
    assert circles(drawing, "SENSORS") == [mount.sensors.left, mount.sensors.right]


@pytest.mark.parametrize(("name", "move"), list(TURNED.items()))
def test_the_worked_pose_is_the_readouts(name: str, move: float) -> None:
    mount = shipped_mounts()[name]
    command = {mount.cylinders[0].id: move}
    pose = readout(mount, command)["pose"]
    drawing = drawn(mount, command, worked=True)
    stands = [pose["members"][member.id] for member in mount.members]
    assert flat(circles(drawing)) == near([point for each in stands for point in each["ends"] or [each["at"]]])
    assert flat(lines(drawing, "EDGE")[0]) == near([pose["ends"]["left"], pose["ends"]["right"]])
    assert lines(drawing, "EDGE") != lines(drawn(mount), "EDGE")


@pytest.mark.parametrize(
    ("system", "moved"), [("metric", "{:+.1f}".format), ("inch", lambda move: f"{move / MM_PER_INCH:+.2f}")]
)
def test_a_command_that_stops_at_the_stroke_is_drawn_where_it_stopped(system: System, moved: Any) -> None:  # noqa: ANN401
    mount = shipped_mounts()["5-end-hinge"]
    lift = mount.cylinders[0]
    drawing = drawn(mount, {lift.id: 5000.0}, True, system)
    [number] = [index for index, each in enumerate(m for m in mount.members if m.kind != "pin") if each == lift]
    unit = MM_PER_INCH if system == "inch" else 1.0
    assert math.dist(*axes(drawing, mount)[number]) * unit == pytest.approx(lift.retracted + lift.stroke)
    move = lift.retracted + lift.stroke - lift.drawn_length
    assert f"worked: {lift.id} {moved(move)}" in texts(drawing, "TITLE")


def test_the_sensors_ride_on_the_blade() -> None:
    """A rigid body keeps its distances."""
    mount = shipped_mounts()["1-centre-pivot"]
    drawing = drawn(mount, {mount.cylinders[0].id: 40.0}, worked=True)
    left, _ = lines(drawing, "EDGE")[0]
    assert mount.sensors is not None
    assert math.dist(circles(drawing, "SENSORS")[1], left) == pytest.approx(
        math.dist(mount.sensors.right, mount.blade.left)
    )


def test_a_barrel_is_as_wide_as_its_bore_and_a_piston_rod_as_itself() -> None:
    mount = read_mount(twin())
    barrel, piston_rod, *_ = outlines(drawn(mount), "MEMBERS")
    assert math.dist(barrel[0], barrel[1]) == pytest.approx(mount.cylinders[0].bore)
    assert math.dist(piston_rod[0], piston_rod[1]) == pytest.approx(mount.cylinders[0].rod)
    near_end, far_end = (each.at for each in mount.cylinders[0].ends)
    assert flat([midway(barrel[0], barrel[1])]) == near([near_end])
    assert flat([midway(piston_rod[2], piston_rod[3])]) == near([far_end])
    assert midway(barrel[2], barrel[3]) == midway(piston_rod[0], piston_rod[1])


def midway(first: Point, second: Point) -> Point:
    return (first[0] + second[0]) / 2, (first[1] + second[1]) / 2


def test_a_guide_of_the_frame_stays_and_its_block_runs_along_it() -> None:
    mount = read_mount(guided())
    guide = lines(drawn(mount), "MEMBERS")
    worked = drawn(mount, {"left": 20.0, "right": 20.0}, worked=True)
    assert len(guide) == 2
    assert lines(worked, "MEMBERS") == guide
    [block] = [each for each in outlines(worked, "MEMBERS") if midway(each[0], each[2])[0] == pytest.approx(0)]
    assert midway(block[0], block[2]) == pytest.approx((0, 500 - 20), abs=1e-6)


def test_a_guide_on_a_turned_blade_turns_with_it() -> None:
    """The angle between guide and edge is drawn the same before and after: both are fixed to the blade."""
    mount = read_mount(
        document(
            [
                pin("pivot", "frame", "blade", (0, 0)),
                slide("guide", "blade", "shoe", (300, 200), (1, 2)),
                rod("strut", end("shoe", (350, 250)), end("frame", (400, 800))),
                rod("stay", end("shoe", (250, 150)), end("frame", (200, 800))),
                *(member for member in twin()["members"] if member["id"] == "left"),
            ],
            ["shoe"],
        )
    )
    worked = drawn(mount, {"left": 30.0}, worked=True)
    assert lines(worked, "EDGE") != lines(drawn(mount), "EDGE")
    before, after = (bearing(each) for each in (drawn(mount), worked))
    assert after == pytest.approx(before)


def bearing(drawing: Drawing) -> float:
    """Angle from the edge to the guide, radians."""
    (a, b), (c, d) = lines(drawing, "EDGE")[0], lines(drawing, "MEMBERS")[0]
    return math.atan2(d[1] - c[1], d[0] - c[0]) - math.atan2(b[1] - a[1], b[0] - a[0])


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_the_dimensions_measure_lengths_level_distances_and_width(name: str, system: System) -> None:
    mount = shipped_mounts()[name]
    unit = MM_PER_INCH if system == "inch" else 1.0
    lengths = [member.drawn_length for member in mount.members if isinstance(member, Rod | Cylinder)]
    width = math.dist(mount.blade.left, mount.blade.right)
    centres = [each["instant_centre"] for each in readout(mount)["actuators"].values()]
    level = [abs(getattr(mount.blade, side)[0] - at[0]) for at in centres if at for side in ENDS]
    expected = [*lengths, *(each for each in level if each > 1), width]
    assert [unit * each for each in measured(drawn(mount, {}, False, system))] == pytest.approx(expected)


def hung_by_rods(lean: float) -> Mount:
    """A blade that hangs on two rods which lean toward each other by so much, shifted by a level cylinder."""
    return read_mount(
        document(
            [
                rod("left rod", end("frame", (-800 + lean, 1000)), end("blade", (-800, 200))),
                rod("right rod", end("frame", (800 - lean, 1000)), end("blade", (800, 200))),
                cylinder("shift", end("frame", (-1900, 100)), end("blade", (-900, 100))),
            ]
        )
    )


def test_an_instant_centre_far_away_is_said_and_not_drawn() -> None:
    near_by, far = drawn(hung_by_rods(lean=640)), drawn(hung_by_rods(lean=10))
    said = "instant centre, shift: 1000.0\N{NO-BREAK SPACE}mm level from the left end"
    assert "instant centre, shift" in texts(near_by, "NAMES")
    assert "instant centre, shift" not in texts(far, "NAMES")
    assert any(each.startswith(said) for each in texts(far, "TITLE"))
    assert not any(each.startswith(said) for each in texts(near_by, "TITLE"))


def test_a_loose_mount_has_its_width_and_no_level_distance() -> None:
    loose = read_mount(document([rod("stay", end("frame", (0, 500)), end("blade", (0, 100)))]))
    assert measured(drawn(loose)) == pytest.approx([400, 2000])


def test_the_title_block_says_title_pose_scale_units_tolerance_and_date() -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    said = texts(drawn(mount), "TITLE")
    assert {mount.title, "as drawn", "1:1", "mm", "±3.00\N{NO-BREAK SPACE}mm", date.today().isoformat()} <= set(said)
    inches = texts(drawn(mount, {}, False, "inch"), "TITLE")
    assert {"inches", "±0.118\N{NO-BREAK SPACE}in"} <= set(inches)
    assert "none given" in texts(drawn(mount.with_value("tolerance", None)), "TITLE")


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    bar = outlines(drawn(shipped_mounts()["3-twin-cylinders"]), "TITLE")[-4:]
    assert bar[-1][1][0] - bar[0][0][0] == pytest.approx(800)
    assert "800 mm" in texts(drawn(shipped_mounts()["3-twin-cylinders"]), "TITLE")


def test_the_tip_of_the_load_is_where_it_acts_and_its_arrow_points_its_way() -> None:
    mount = read_mount(twin(load={"at": [700, 50], "force": [300, -400]}))
    [(tail, tip)] = lines(drawn(mount), "LOAD")
    assert tip == (700, 50)
    length = math.dist(tail, tip)
    assert ((tip[0] - tail[0]) / length, (tip[1] - tail[1]) / length) == pytest.approx((0.6, -0.8))
    assert "load 0.50\N{NO-BREAK SPACE}kN" in texts(drawn(mount))


def test_everything_that_has_a_name_is_named() -> None:
    mount = shipped_mounts()["6-crank-and-drop-rod"]
    named = texts(drawn(mount), "NAMES")
    sensors = {"left sensor", "right sensor"}
    assert {*mount.moving[1:], *(member.id for member in mount.members)} | sensors <= set(named)


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("left cylinder", "left cylinder"),
        ("two\nlines\r\nand\ttab\x00", "two lines and tab "),
        ("0\n0\nCIRCLE", "0 0 CIRCLE"),
        ("50%%c", "50% %c"),
        ("%%%%d", "% % % %d"),
        ("x^2", "x^ 2"),
        ("\\U+0041 \\u+0041 \\M+1", "\\ U+0041 \\ u+0041 \\ M+1"),
        ("Träger 左 – ±½″", "Träger 左 – ±½″"),
    ],
)
def test_no_name_is_read_as_a_code(said: str, written: str) -> None:
    """The codes: AutoCAD DXF Reference, TEXT and string conventions: %%, ^, and backslash U+ (from memory)."""
    assert plain(said) == written


def test_a_title_with_codes_and_line_ends_leaves_a_sound_drawing() -> None:
    nasty = "A\n0\nLINE\n8\nEDGE\n%%c \\U+0041 ^J 左"
    drawing = drawn(twin(title=nasty))
    assert drawing.audit().errors == []
    assert plain(nasty) in texts(drawing)
    assert len(lines(drawing, "EDGE")) == 1


def test_a_loose_drawing_is_exported_as_drawn_and_its_worked_pose_refused() -> None:
    loose = document([rod("stay", end("frame", (0, 500)), end("blade", (0, 100)))])
    assert axes(drawn(loose), read_mount(loose)) == [((0, 500), (0, 100))]
    with pytest.raises(NotLocated, match="the mount hangs loose: hold it first; or export it as drawn"):
        drawn(loose, worked=True)


def test_a_bound_drawing_is_exported_as_drawn_and_its_worked_pose_refused() -> None:
    plain = twin()
    bound = {**plain, "members": [*plain["members"], pin("lock", "frame", "blade", (0, 300))]}
    drawing = drawn(bound)
    assert drawing.audit().errors == []
    assert (0, 300) in circles(drawing)
    assert len(axes(drawing, read_mount(bound))) == 3
    with pytest.raises(NotLocated, match="the mount is bound: free it first; or export it as drawn"):
        drawn(bound, worked=True)


def test_a_bare_blade_is_a_sound_drawing() -> None:
    drawing = drawn(document([], ["nothing on it"]))
    assert drawing.audit().errors == []
    assert lines(drawing, "EDGE") == [((-1000, 0), (1000, 0))]


@pytest.mark.parametrize("worked", [False, True])
def test_a_command_for_no_cylinder_is_refused_in_either_pose(worked: bool) -> None:
    with pytest.raises(BadCommand, match="there is no cylinder of that name"):
        drawn(twin(), {"nobody": 1.0}, worked)


@pytest.mark.parametrize(
    ("points", "corners"),
    [
        ([], []),
        ([(1.0, 1.0)], [(1.0, 1.0)]),
        ([(2.0, 0.0), (0.0, 0.0), (2.0, 0.0)], [(0.0, 0.0), (2.0, 0.0)]),
        ([(0.0, 0.0), (1.0, 1.0), (2.0, 2.0)], [(0.0, 0.0), (2.0, 2.0)]),
        (
            [(0.0, 0.0), (2.0, 0.0), (1.0, 0.5), (2.0, 2.0), (0.0, 2.0), (1.0, 0.0)],
            [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)],
        ),
    ],
)
def test_the_hull_goes_round_the_outermost_points(points: list[Point], corners: list[Point]) -> None:
    assert hull(points) == corners


def test_a_bodys_outline_is_the_hull_of_its_joints() -> None:
    mount = shipped_mounts()["6-crank-and-drop-rod"]
    outline = outlines(drawn(mount), "OUTLINE")[-1]
    assert set(outline) == set(joints_on(mount, "crank"))


def test_a_load_of_no_force_is_a_cross_without_an_arrow() -> None:
    drawing = drawn(twin(load={"at": [300, 50], "force": [0, 0]}))
    assert [midway(*each) for each in lines(drawing, "LOAD")] == [(300, 50), (300, 50)]
    assert outlines(drawing, "LOAD") == []


def test_outlines_drawn_by_hand_are_drawn_exactly_in_place_of_those_made_up_and_go_with_their_body() -> None:
    crank: list[Point] = [(-700, 850), (-250, 850), (-250.5, 1300), (-400, 1300.25)]
    frame: list[Point] = [(-1500, 1600), (1500, 1600), (1500, 1700)]
    document = crank_on_carriage(
        outlines=[{"body": "crank", "points": crank}, {"body": "frame", "points": frame}],
    )
    as_drawn = drawn(document)
    assert any(flat(each) == near(crank) for each in outlines(as_drawn, "OUTLINE"))
    assert any(flat(each) == near(frame) for each in outlines(as_drawn, "FRAME"))
    assert len(outlines(as_drawn, "OUTLINE")) == len(outlines(drawn(crank_on_carriage()), "OUTLINE"))

    engine = Analysis(read_mount(document), {"tilt": 30.0})
    stands = [engine.on_body("crank", at) for at in crank]
    worked = outlines(drawn(document, {"tilt": 30.0}, worked=True), "OUTLINE")
    assert any(flat(each) == near(stands, ENGINE_MM) for each in worked)


def test_construction_lines_and_points_are_on_a_layer_of_their_own_and_exactly_where_they_are() -> None:
    lines_drawn = [{"at": [100, 250], "angle": 0}, {"at": [-300, 0], "angle": 90}, {"at": [0, 500], "angle": 30}]
    drawing = drawn({**twin(), "construction": [*lines_drawn, {"at": [40, 60]}, {"at": [0, 90_000], "angle": 0}]})
    assert drawing.audit().errors == []
    level, plumb, slanting, *cross = lines(drawing, "CONSTRUCTION")
    assert [level[0][1], level[1][1], plumb[0][0], plumb[1][0]] == pytest.approx([250, 250, -300, -300])
    (ax, ay), (bx, by) = slanting
    assert math.degrees(math.atan2(by - ay, bx - ax)) == pytest.approx(30)
    assert (ay - 500) * (bx - ax) == pytest.approx(ax * (by - ay))
    assert len(cross) == 2
    assert len(drawing.modelspace()) == len(drawn(twin()).modelspace()) + 5
