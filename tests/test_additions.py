"""What is added by one file and one line shows up everywhere: a made-up source of error, warning and export.

Each is put into its list as the line would put it there; nothing else of the application knows of it.
"""

import csv
import io
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, ClassVar

import pytest
import sympy as sp

import app.results.warnings as all_warnings
from app.analysis import Analysis
from app.cli import main
from app.document.edit import with_change
from app.document.messages import Message, word
from app.document.models import Mount, as_document, as_text
from app.document.parts import ENDS, EndName
from app.document.reading import read_mount
from app.export import EXPORTS, Export
from app.export.csv import csv_bytes
from app.solve.equations import Array
from app.solve.farthest import Offset
from app.solve.poses import Poses
from app.sources import KINDS
from app.sources.source import STILL, Column, Ranges, Slope, Source, SourceKind, Term, Ways, at_ends
from app.vocabulary import vocabulary, vocabulary_json
from app.working.laws import every_law
from tests.answers import detail, readout, reasons, working
from tests.mounts import extras, twin
from tests.web.client import client_alone

TWIN = read_mount(twin(**extras()))
AT_BORE_MM2 = 20.0


class Warmth(SourceKind):
    """Made up: every cylinder is out by half of 20 mm2 over its bore, either way, where the mount has oil."""

    KIND = "warmth"
    SYMBOL = "warmth"
    LABEL = "warmth of the cylinder"
    SHORT = "warmth"
    TITLE = "Warmth of the cylinders"
    TOGETHER = "warmth of the cylinders"
    MOVES_JOINTS = True
    STEPS: ClassVar[dict[str, float]] = {"bore": 5.0}
    WORDS = "A cylinder is longer when it is warm."
    NOTHING = "this mount has no cylinder"

    def lacks(self, mount: Mount) -> Message | None:
        return None if mount.oil else Message("no-oil", "needs oil that gets warm")

    def sources(self, analysis: Analysis) -> list[Source]:
        if self.lacks(analysis.mount):
            return []
        sizes = {each.id: AT_BORE_MM2 / each.bore / 2 for each in analysis.mount.cylinders}
        return [
            Source(name, name, self.KIND, {end: (_gain(analysis, name, end) * size,) for end in ENDS})
            for name, size in sizes.items()
        ]

    def over(self, poses: Poses) -> Ranges:
        gains, cylinders = at_ends(poses.of_length), enumerate(poses.mount.cylinders)
        return Ranges.either_way((AT_BORE_MM2 / each.bore / 2 * gains[:, :, n] for n, each in cylinders), poses)

    def offsets(self, analysis: Analysis) -> list[Offset]:
        return [
            Offset(each.id, (), (number,), (AT_BORE_MM2 / each.bore / 2,), free=True)
            for number, each in enumerate(analysis.mount.cylinders)
        ]

    def slopes(self, analysis: Analysis, sides: Mapping[EndName, int]) -> Iterator[Slope]:
        for each in analysis.mount.cylinders:
            per_unit = {end: -abs(_gain(analysis, each.id, end)) * AT_BORE_MM2 / each.bore**2 / 2 for end in ENDS}
            yield Slope("bore", each.id, each.bore, per_unit)

    def slope_along(self, analysis: Analysis, end: EndName, side: int, ways: Ways) -> Array:
        total, found = ways.zero(), analysis.sensitivities
        for number, each in enumerate(analysis.mount.cylinders):
            gain = _gain(analysis, each.id, end)
            if abs(gain) > STILL:
                slope = ways.by_length[:, number, found.cases[end]]
                total += AT_BORE_MM2 / each.bore / 2 * (1 if gain > 0 else -1) * slope
        return total

    def law(self) -> tuple[sp.Symbol, sp.Expr]:
        gain, size, error = sp.symbols("s_i w_i e_i", real=True)
        return error, size * sp.Abs(gain)

    def columns(self) -> tuple[Column, ...]:
        return (
            Column("end per unit", "s_i", "ratio", "how far the end rises per unit of the cylinder"),
            Column("warmth", "w_i", "length", "how much longer it is when warm"),
        )

    def term(self, analysis: Analysis, end: EndName, source: Source) -> Term:
        bore = next(each.bore for each in analysis.mount.cylinders if each.id == source.id)
        return Term(source, (_gain(analysis, source.id, end), AT_BORE_MM2 / bore / 2))


def _gain(analysis: Analysis, name: str, end: EndName) -> float:
    number = [each.id for each in analysis.mount.cylinders].index(name)
    return float(analysis.sensitivities.of_length(end)[number])


@pytest.fixture
def warmth() -> Iterator[None]:
    """The made-up source is listed; what is kept of the list is made anew."""
    kept = (vocabulary, vocabulary_json)
    with pytest.MonkeyPatch.context() as patch:
        patch.setitem(KINDS, Warmth.KIND, Warmth())
        for each in kept:
            each.cache_clear()
        yield
    for each in kept:
        each.cache_clear()


def of_warmth(answer: dict[str, Any], end: str) -> list[dict[str, Any]]:
    return [each for each in answer["budget"][end]["sources"] if each["kind"] == "warmth"]


def rows(mount: Mount) -> list[dict[str, str]]:
    text = csv_bytes(Analysis(mount)).decode().removeprefix("\ufeff")
    return list(csv.DictReader(io.StringIO(text, newline="")))


# A source of error


@pytest.mark.usefixtures("warmth")
def test_a_new_source_is_in_the_budget_and_its_worst() -> None:
    with_it = readout(TWIN)
    with pytest.MonkeyPatch.context() as patch:
        patch.delitem(KINDS, Warmth.KIND)
        without = readout(TWIN)
    for end in ENDS:
        added = of_warmth(with_it, end)
        assert {each["id"] for each in added} == {"left", "right"}
        assert with_it["budget"][end]["high"] - without["budget"][end]["high"] == pytest.approx(
            sum(each["high"] for each in added)
        )
        assert sum(each["share"] for each in with_it["budget"][end]["sources"]) == pytest.approx(1)


@pytest.mark.usefixtures("warmth")
def test_a_new_source_is_in_the_spread_and_in_the_true_pose_at_its_worst() -> None:
    with_it = detail(TWIN)
    with pytest.MonkeyPatch.context() as patch:
        patch.delitem(KINDS, Warmth.KIND)
        without = detail(TWIN)
    for end in ENDS:
        assert with_it["spread"][end]["deviation"] > without["spread"][end]["deviation"]
        assert with_it["worst"][end]["high"]["value"] > without["worst"][end]["high"]["value"]


@pytest.mark.usefixtures("warmth")
def test_a_new_source_is_in_what_to_change_and_its_slope_is_that_of_a_changed_document() -> None:
    improve, step = detail(TWIN)["improve"], 1e-3
    by_bore = {each["id"]: each["per_unit"] for each in improve["changes"] if each["what"] == "bore"}
    assert set(by_bore) == {"left", "right"}
    for name, per_unit in by_bore.items():
        up, down = (worsts(with_change(TWIN, "bore", name, by)) for by in (step, -step))
        for end in ENDS:
            assert per_unit[end] == pytest.approx((up[end] - down[end]) / (2 * step), rel=1e-4, abs=1e-7)


@pytest.mark.usefixtures("warmth")
def test_a_new_source_is_in_the_gradient_by_every_pivot() -> None:
    gradients, step = detail(TWIN)["improve"]["pivots"], 1e-3
    up, down = (worsts(with_change(TWIN, "pivot x", "right / 1", by)) for by in (step, -step))
    for end in ENDS:
        assert gradients["right / 1"][end][0] == pytest.approx((up[end] - down[end]) / (2 * step), rel=1e-3, abs=1e-7)


def worsts(mount: Mount) -> dict[EndName, float]:
    budget = readout(mount)["budget"]
    return {end: budget[end]["worst"] for end in ENDS}


@pytest.mark.usefixtures("warmth")
def test_a_new_source_is_worked_out_with_its_formula_and_is_part_of_the_sum() -> None:
    steps = {step["key"]: step for step in working(TWIN, {}, "left", "right")["steps"]}
    own = steps["warmth"]
    assert own["title"] == Warmth.TITLE
    assert own["table"]
    total = own["lines"][-1]["result"]["value"]
    assert total == pytest.approx(sum(each["high"] for each in of_warmth(readout(TWIN), "right")))
    assert "e_warmth" in {symbol["name"] for symbol in steps["worst"]["symbols"]}
    assert any("warmth" in str(law.symbol) for law in every_law())


@pytest.mark.usefixtures("warmth")
def test_a_new_source_is_in_the_table_for_a_spreadsheet() -> None:
    written = {(row["item"], row["quantity"]) for row in rows(TWIN) if row["section"] == "source"}
    for end in ENDS:
        assert ("left", f"{end} end, warmth, high") in written


@pytest.mark.usefixtures("warmth")
def test_where_a_new_source_lacks_something_that_is_said() -> None:
    dry = read_mount({key: value for key, value in as_document(TWIN).items() if key != "oil"})
    answer = readout(dry)
    assert of_warmth(answer, "left") == []
    assert reasons(answer)["budget.warmth"] == "needs oil that gets warm"
    assert "needs oil that gets warm" in {row["value"] for row in rows(dry) if row["section"] == "absent"}


@pytest.mark.usefixtures("warmth")
def test_every_page_and_the_vocabulary_know_the_words_of_a_new_source() -> None:
    [words] = [each for each in client_alone().get("/vocabulary").json()["sources"] if each["kind"] == "warmth"]
    assert (words["label"], words["short"], words["title"]) == (Warmth.LABEL, Warmth.SHORT, Warmth.TITLE)
    for page in ("/", "/handout", "/compare"):
        assert Warmth.TITLE in client_alone().get(page).text


@pytest.mark.usefixtures("warmth")
def test_a_new_source_is_answered_over_the_network_and_printed_at_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answer = client_alone().post("/readout", json={"mount": as_document(TWIN)}).json()
    assert of_warmth(answer, "left") == of_warmth(readout(TWIN), "left") != []
    assert main(["readout", str(written(tmp_path))]) == 0
    assert of_warmth(json.loads(capsys.readouterr().out), "left") == of_warmth(answer, "left")


def written(folder: Path) -> Path:
    file = folder / "mount.json"
    file.write_text(as_text(TWIN), encoding="utf-8")
    return file


# A warning


def painted_red(analysis: Analysis) -> Iterator[Message]:
    """Made up: the first cylinder of every mount."""
    name = analysis.mount.cylinders[0].id
    values = {"name": word(name), "size": (12.5, "fine")}
    yield Message("painted-red", "'{name}' is painted red for {size}", [name], values)


def test_a_new_warning_is_in_the_readout_the_table_and_at_the_terminal(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(all_warnings, "WARNINGS", (*all_warnings.WARNINGS, painted_red))
    [warning] = [each for each in readout(TWIN)["warnings"] if each["code"] == "painted-red"]
    assert warning["members"] == ["left"]
    sentence = "'left' is painted red for 12.5\N{NO-BREAK SPACE}mm"
    assert ("left", "painted-red", sentence) in {(row["item"], row["quantity"], row["value"]) for row in rows(TWIN)}
    assert warning in client_alone().post("/readout", json={"mount": as_document(TWIN)}).json()["warnings"]
    assert main(["readout", str(written(tmp_path))]) == 0
    assert warning in json.loads(capsys.readouterr().out)["warnings"]


# An export


def as_title(analysis: Analysis, worked: bool) -> bytes:
    """Made up: the title, and how the mount stands."""
    return f"{analysis.mount.title}, {'worked' if worked else 'drawn'}".encode()


@pytest.mark.parametrize("has_poses", [False, True])
def test_a_new_export_has_its_route_its_description_and_its_command(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, has_poses: bool
) -> None:
    monkeypatch.setitem(
        EXPORTS, "txt", Export("txt", "the title alone", "its title", "text/plain", as_title, has_poses)
    )
    pose = {"pose": "worked"} if has_poses else {}
    stands = "worked" if has_poses else "drawn"
    answer = client_alone().post("/export/txt", json={"mount": as_document(TWIN), **pose})
    assert (answer.status_code, answer.text) == (200, f"{TWIN.title}, {stands}")
    assert answer.headers["content-type"].startswith("text/plain")
    assert ".txt" in answer.headers["content-disposition"]
    described = client_alone().get("/openapi.json").json()["paths"]["/export/txt"]["post"]
    assert described["summary"] == "The title alone"
    assert "text/plain" in described["responses"]["200"]["content"]
    out = tmp_path / "title.txt"
    assert main(["export-txt", str(written(tmp_path)), str(out), *(["--pose", "worked"] if has_poses else [])]) == 0
    assert out.read_text() == f"{TWIN.title}, {stands}"


def test_a_new_export_is_offered_among_the_files_of_the_page(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(EXPORTS, "txt", Export("txt", "the title alone", "its title", "text/plain", as_title, True))
    page = client_alone().get("/").text
    for pose in ("drawn", "worked"):
        assert f'data-export="txt" data-pose="{pose}" aria-label="TXT as {pose}"' in page
    assert "its title" in page


def test_a_new_export_stands_in_the_help(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setitem(EXPORTS, "txt", Export("txt", "the title alone", "its title", "text/plain", as_title))
    with pytest.raises(SystemExit):
        main(["--help"])
    assert "write the title alone" in " ".join(capsys.readouterr().out.split())
