"""The sheet, its drawing operators read back from the file and compared with the document."""

import io
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from itertools import pairwise

import numpy as np
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from app.analysis import Analysis
from app.document.errors import DoesNotFit, NotLocated
from app.document.models import Mount
from app.document.parts import Point
from app.document.reading import read_mount
from app.document.units import System
from app.export.figure import figure
from app.export.papers import PAPERS, SCALES
from app.export.pdf import pdf_bytes
from app.export.placing import crossings, words_box
from app.export.shapes import EXTRA_WIDE, NARROW, WIDE, Path, Words
from app.shipped import shipped_mounts
from tests.answers import readout
from tests.mounts import document, end, rod, twin

TWIN = shipped_mounts()["3-twin-cylinders"]
POINTS_PER_MM = 72 / 25.4
ON_PAPER_MM = 0.01


@dataclass
class Sheet:
    """What a reader of the file finds: every open line with its width, and every text, in mm on paper."""

    width: float
    height: float
    lines: list[tuple[float, list[Point]]] = field(default_factory=list)
    text: str = ""


def sheet(
    mount: Mount,
    worked: bool = False,
    system: System = "metric",
    paper: str = "",
    scale: str = "fits",
    command: dict[str, float] | None = None,
) -> Sheet:
    reader = PdfReader(io.BytesIO(pdf_bytes(Analysis(mount, command), worked, system, paper, scale)))
    [page] = reader.pages
    found = Sheet(float(page.mediabox.width) / POINTS_PER_MM, float(page.mediabox.height) / POINTS_PER_MM)
    found.text = page.extract_text()
    found.lines = list(drawn_lines(ContentStream(page.get_contents(), reader)))
    return found


def drawn_lines(content: ContentStream) -> Iterator[tuple[float, list[Point]]]:
    """Every stroked path of straight lines with its width, as a viewer goes through the operators."""
    width, path, turned = 0.0, [], 0
    for operands, operator in content.operations:
        match operator:
            case b"q":
                turned += 1
            case b"Q":
                turned -= 1
            case b"w":
                width = float(operands[0]) / POINTS_PER_MM
            case b"m" | b"l":
                path.append((float(operands[0]) / POINTS_PER_MM, float(operands[1]) / POINTS_PER_MM))
            case b"S" | b"s":
                if path and not turned:
                    yield round(width, 4), path
                path = []
            case b"f" | b"f*" | b"n" | b"B" | b"c":
                path = []


def edge(found: Sheet) -> tuple[Point, Point]:
    """The cutting edge: the one open line that is extra wide."""
    [path] = [path for width, path in found.lines if width == EXTRA_WIDE]
    first, last = path
    return first, last


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("paper", list(PAPERS))
def test_the_blade_is_as_wide_on_paper_as_its_width_by_the_scale(paper: str, system: System) -> None:
    found = sheet(TWIN, system=system, paper=paper)
    [reduction] = re.findall(r"^1:(\d+)$", found.text, re.MULTILINE)
    width = math.dist(TWIN.blade.left, TWIN.blade.right)
    assert math.dist(*edge(found)) == pytest.approx(width / int(reduction), abs=ON_PAPER_MM, rel=0)
    assert (found.width, found.height) == pytest.approx((PAPERS[paper].width, PAPERS[paper].height), abs=ON_PAPER_MM)


@pytest.mark.parametrize("scale", ["1:4", "1:5", "1:8", "1:10", "1:16", "1:20", "1:25", "1:50"])
def test_the_scale_asked_for_is_true_on_paper(scale: str) -> None:
    found = sheet(TWIN, paper="A1", scale=scale)
    assert math.dist(*edge(found)) == pytest.approx(2400 / int(scale[2:]), abs=ON_PAPER_MM, rel=0)
    assert scale in found.text


def test_a_small_mount_is_drawn_in_full_size() -> None:
    """A tenth of the shipped one, every length of it."""
    small = read_mount(
        {
            "format": 1,
            "title": "Model",
            "blade": {"left": [-60, 0], "right": [60, 0]},
            "members": [rod("stay", end("frame", (0, 50)), end("blade", (0, 10)))],
        }
    )
    assert math.dist(*edge(sheet(small, paper="A4"))) == pytest.approx(120, abs=ON_PAPER_MM, rel=0)


@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_worked_the_edge_stands_as_the_readout_says(name: str) -> None:
    mount = shipped_mounts()[name]
    command = {mount.cylinders[0].id: 25.0}
    ends = readout(mount, command)["pose"]["ends"]
    (x1, y1), (x2, y2) = edge(sheet(mount, True, paper="A2", scale="1:10", command=command))
    across, rise = (ends["right"][0] - ends["left"][0]) / 10, (ends["right"][1] - ends["left"][1]) / 10
    assert (x2 - x1, y2 - y1) == pytest.approx((across, rise), abs=ON_PAPER_MM, rel=0)


def test_every_outline_on_paper_is_that_of_the_figure() -> None:
    """The drawing for a drawing program is written from the same shapes."""
    drawn = figure(Analysis(TWIN), False, 25.0)
    found = sheet(TWIN, paper="A3", scale="1:10")
    wide = [path for width, path in found.lines if width == WIDE]
    outlines = [shape for shape in drawn.shapes if isinstance(shape, Path) and shape.layer in ("OUTLINE", "MEMBERS")]
    assert len(outlines) == len(wide)
    (left, low), _ = edge(found)
    for shape, path in zip(outlines, wide, strict=True):
        expected = [(left + (x + 1200) / 10, low + y / 10) for x, y in shape.points]
        assert [value for point in path[: len(expected)] for value in point] == pytest.approx(
            [value for point in expected for value in point], abs=ON_PAPER_MM, rel=0
        )


def test_outlines_are_twice_as_wide_as_dimensions() -> None:
    """ISO 128-2: two widths of line, two to one."""
    widths = {width for width, _ in sheet(TWIN).lines}
    assert widths == {EXTRA_WIDE, WIDE, NARROW}
    assert WIDE == 2 * NARROW


def test_the_title_block_and_the_dimensions_can_be_read() -> None:
    said = sheet(TWIN).text
    for words in (TWIN.title, "as drawn", "±3.00 mm", date.today().isoformat(), "left cylinder", "sheet 1/1", "2050.0"):
        assert words in said.replace("\N{NO-BREAK SPACE}", " ")
    inches = sheet(TWIN, True, "inch", command={"left cylinder": 25.4}).text
    for words in ("worked: left cylinder +1.00", "inches", "94.49"):
        assert words in inches


def test_the_paper_is_the_usual_one_of_the_system() -> None:
    assert sheet(TWIN).width == pytest.approx(297, abs=ON_PAPER_MM)
    assert sheet(TWIN, system="inch").width == pytest.approx(279.4, abs=ON_PAPER_MM)


def test_nothing_stands_outside_the_frame() -> None:
    for name, mount in shipped_mounts().items():
        found = sheet(mount)
        for _, path in found.lines:
            for x, y in path:
                assert 20 - ON_PAPER_MM <= x <= 287 + ON_PAPER_MM, name
                assert 10 - ON_PAPER_MM <= y <= 200 + ON_PAPER_MM, name


@pytest.mark.parametrize(("scale", "largest"), [("1:1", "1:20"), ("1:5", "1:20"), ("1:10", "1:20")])
def test_a_scale_that_does_not_fit_is_refused_with_the_largest_that_does(scale: str, largest: str) -> None:
    with pytest.raises(DoesNotFit) as refused:
        sheet(TWIN, paper="A4", scale=scale)
    [fault] = refused.value.faults
    assert fault.place == "scale"
    assert re.fullmatch(
        rf"at {scale} the drawing with its dimensions is [\d.]+.mm wide and [\d.]+.mm high, and A4 has room for "
        rf"259.0.mm by 149.5.mm; choose {largest}, the largest that fits, or a larger paper",
        fault.filled(),
    )
    sheet(TWIN, paper="A4", scale=largest)


def test_a_mount_too_large_for_every_scale_is_refused() -> None:
    """200 m wide."""
    huge = read_mount(
        {
            "format": 1,
            "title": "Huge",
            "blade": {"left": [-100000, 0], "right": [100000, 0]},
            "members": [rod("stay", end("frame", (0, 100000)), end("blade", (0, -100000)))],
        }
    )
    with pytest.raises(DoesNotFit, match="choose a larger paper"):
        sheet(huge, paper="A4")
    assert "1:500" in sheet(huge, paper="A1").text


def test_a_loose_mount_is_printed_as_drawn_and_its_worked_pose_refused() -> None:
    loose = read_mount(document([rod("stay", end("frame", (0, 500)), end("blade", (0, 100)))]))
    assert "as drawn" in sheet(loose).text
    with pytest.raises(NotLocated, match="the mount hangs loose"):
        sheet(loose, worked=True)


@pytest.mark.parametrize("title", ["Träger ±½ – 3°", "左", "(un)balanced \\ ) (", "x" * 120, "%%EOF\nendobj"])
def test_any_title_leaves_a_file_of_one_page(title: str) -> None:
    assert len(sheet(read_mount(twin(title=title))).lines) > 50


@pytest.mark.parametrize("letters", [25.0, 50.0])
@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_no_name_covers_a_line_or_another_name(name: str, letters: float) -> None:
    drawn = figure(Analysis(shipped_mounts()[name]), False, letters)
    names = [words_box(shape) for shape in drawn.shapes if isinstance(shape, Words)]
    for number, box in enumerate(names):
        for other in names[number + 1 :]:
            apart = box.right <= other.left or other.right <= box.left or box.high <= other.low or other.high <= box.low
            assert apart
    lines = [shape for shape in drawn.shapes if isinstance(shape, Path) and shape.layer not in ("NAMES", "CENTRE")]
    ends = [(*shape.points, shape.points[0]) if shape.closed else shape.points for shape in lines]
    segments = np.array([(*first, *last) for each in ends for first, last in pairwise(each)])
    assert [crossings(box, segments) for box in names] == [0] * len(names)


def test_the_scales_are_those_of_the_standards() -> None:
    """ISO 5455: 1:1, 1:2, 1:5, 1:10 and their tens, and 1:25 beside them. By the inch: 1:2, 1:4, 1:8, 1:16 …"""
    assert {1, 2, 5, 10, 20, 25, 50} <= set(SCALES["metric"])
    assert {1, 2, 4, 8, 10, 16, 20} <= set(SCALES["inch"])


@pytest.mark.parametrize(
    ("paper", "inches"), [("Letter", (11, 8.5)), ("B", (17, 11)), ("C", (22, 17)), ("D", (34, 22)), ("E", (44, 34))]
)
def test_the_papers_by_the_inch_are_as_large_as_the_standard_says(paper: str, inches: tuple[float, float]) -> None:
    """ASME Y14.1, flat sheets A to E (from memory)."""
    assert (PAPERS[paper].width, PAPERS[paper].height) == pytest.approx(tuple(25.4 * each for each in inches))
