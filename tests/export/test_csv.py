"""The table, read back as a spreadsheet reads it."""

import csv
import io
import math
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from app.analysis import Analysis
from app.document.messages import filled
from app.document.models import Mount
from app.document.reading import read_mount
from app.document.units import QUANTITIES, Measure, System
from app.export.csv import COLUMNS, csv_bytes, safe, shortened
from app.results.budget import Budget, BudgetEnd
from app.results.detail import detail
from app.results.forces import JointForce
from app.shipped import shipped_mounts
from tests.answers import readout
from tests.mounts import Document, document, end, extras, pin, rod, twin
from tests.samples import crossed

Table = list[dict[str, str]]


BEYOND = ("true worst", "spread", "wear")


def text_of(mount: Mount, command: dict[str, float] | None = None, system: System = "metric") -> str:
    return csv_bytes(Analysis(mount, command), system).decode()


def table(mount: Mount, command: dict[str, float] | None = None, system: System = "metric") -> Table:
    return list(csv.DictReader(io.StringIO(text_of(mount, command, system).removeprefix("\ufeff"), newline="")))


def repr_of(number: float) -> str:
    return repr(as_written(number))


def as_written(number: float) -> float:
    """A number to the figures that are written: twelve, and nothing of what rounding leaves of nought."""
    return 0.0 if abs(number) < 1e-12 else float(f"{number:.12g}")


def value(found: Table, section: str, item: str, quantity: str) -> tuple[str, str]:
    """The value and unit of the one row of that name."""
    [row] = [row for row in found if (row["section"], row["item"], row["quantity"]) == (section, item, quantity)]
    return row["value"], row["unit"]


def numbers(answer: Any) -> Iterator[float]:  # noqa: ANN401 - any part of a readout
    """Every number of a readout, at any depth; those of a message stand in its sentence."""
    if isinstance(answer, dict) and answer.keys() == {"code", "text", "members", "values"}:
        return
    if isinstance(answer, dict):
        for part in answer.values():
            yield from numbers(part)
    elif isinstance(answer, list | tuple):
        for part in answer:
            yield from numbers(part)
    elif isinstance(answer, int | float) and not isinstance(answer, bool):
        yield float(answer)


def written_numbers(found: Table) -> Iterator[float]:
    for row in found:
        try:
            yield float(row["value"])
        except ValueError:
            continue


@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_every_number_of_the_readout_is_in_the_table_once_and_equal(name: str) -> None:
    mount = shipped_mounts()[name]
    command = {mount.cylinders[0].id: 12.5}
    found = [row for row in table(mount, command) if row["section"] not in BEYOND]
    assert sorted(written_numbers(found)) == sorted(map(as_written, numbers(readout(mount, command))))


MEASURED: dict[str, Measure] = {"mm": "fine", "N": "force", "MPa": "pressure", "mm/s": "speed"}


@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_in_inches_every_number_is_the_readouts_converted_and_its_unit_says_so(name: str) -> None:
    mount = shipped_mounts()[name]
    command = {mount.cylinders[0].id: 12.5}
    for metric, inch in zip(table(mount, command), table(mount, command, "inch"), strict=True):
        assert [inch["section"], inch["item"]] == [metric["section"], metric["item"]]
        assert inch["quantity"] == {"cross fall": "cross slope"}.get(metric["quantity"], metric["quantity"])
        measure = MEASURED.get(metric["unit"])
        shown = QUANTITIES[measure]["inch"] if measure else None
        assert inch["unit"] == (shown.unit if shown else {"mm/mm": "in/in"}.get(metric["unit"], metric["unit"]))
        if is_number(metric["value"]):
            factor = shown.factor if shown else 1
            assert float(inch["value"]) == pytest.approx(float(metric["value"]) / factor, rel=1e-11, abs=1e-12)


def test_in_inches_the_headline_numbers_are_those_of_the_readout() -> None:
    mount = read_mount(twin(**extras()))
    answer, found = readout(mount), table(mount, {}, "inch")
    worst, force = answer["budget"]["left"]["worst"], answer["forces"]["left / 1"]["load"][1]
    assert value(found, "budget", "left end", "worst") == (repr_of(worst / 25.4), "in")
    assert value(found, "force", "left / 1", "under the load, y") == (repr_of(force / 4.4482216152605), "lbf")
    assert value(found, "budget", "", "tolerance") == (repr_of(4 / 25.4), "in")


def test_in_inches_sentences_are_in_inches_too() -> None:
    mount, command = read_mount(twin(**extras())), {"left": 900.0}
    stopped = readout(mount, command)["pose"]["stopped"]
    said, _ = value(table(mount, command, "inch"), "pose", "left", "stopped")
    assert said == filled(stopped["text"], stopped["values"], "inch") != as_said(stopped)


@pytest.mark.parametrize(("name", "system"), crossed(list(shipped_mounts()), ["metric", "inch"]))
def test_no_number_drags_a_binary_tail(name: str, system: System) -> None:
    found = table(shipped_mounts()[name], {shipped_mounts()[name].cylinders[0].id: 12.5}, system)
    values = [row["value"] for row in found if is_number(row["value"])]
    figures = [text.lower().split("e")[0].strip("-").replace(".", "").strip("0") for text in values]
    assert max(map(len, figures)) <= 12
    assert "-0.0" not in values


@pytest.mark.parametrize(
    ("number", "written"),
    [(0.1 + 0.2, 0.3), (850.0000000000001, 850.0), (-0.0, 0.0), (1.4e-14, 0.0), (2 / 3, 0.666666666667), (1e9, 1e9)],
)
def test_a_number_is_written_with_the_figures_that_matter(number: float, written: float) -> None:
    assert repr(shortened(number)) == repr(written)


def test_what_is_worked_out_beyond_the_readout_is_in_the_table_too() -> None:
    mount = shipped_mounts()["3-twin-cylinders"]
    found, more = table(mount), detail(mount)
    assert more.worst
    assert more.worst.right.high
    assert more.spread
    assert more.wear
    assert value(found, "true worst", "", "inside the tolerance by the true worst") == ("yes", "")
    written, unit = value(found, "true worst", "right end", "high, the farthest that was found")
    assert (float(written), unit) == (as_written(more.worst.right.high.value), "mm")
    written, _ = value(found, "spread", "nothing known of the play", "right end, share of draws within the rss")
    assert float(written) == as_written(more.spread.right.within_rss)
    written, _ = value(found, "wear", "", "all play may grow by this factor, by the linear sums")
    assert written == repr(as_written(more.wear.factor or 0.0))


def test_a_loose_mounts_table_has_its_motions_and_the_reasons() -> None:
    loose = read_mount(document([rod("stay", end("frame", (0, 500)), end("blade", (0, 100)))]))
    found = table(loose)
    assert sorted(written_numbers(found)) == sorted(map(as_written, numbers(readout(loose))))
    assert value(found, "mobility", "", "state") == ("loose", "")
    assert value(found, "absent", "budget", "reason") == ("the mount hangs loose: hold it first", "")


def test_what_stopped_a_stroke_and_what_is_warned_of_stand_as_the_readouts_sentences() -> None:
    mount, command = read_mount(twin(**extras())), {"left": 900.0}
    found, answer = table(mount, command), readout(mount, command)
    stopped, warnings = answer["pose"]["stopped"], answer["warnings"]
    assert value(found, "pose", "left", "stopped") == (as_said(stopped), "")
    assert warnings
    assert [row["value"] for row in found if row["section"] == "warning"] == [as_said(each) for each in warnings]


def as_said(message: dict[str, Any]) -> str:
    return filled(message["text"], message["values"])


def test_a_bound_mounts_table_says_what_fights_and_what_would_free_it() -> None:
    mount = read_mount(bound())
    found, mobility = table(mount), readout(mount)["mobility"]
    assert value(found, "mobility", "", "state") == ("bound", "")
    assert [row["item"] for row in found if row["quantity"] == "involved"] == mobility["members"]
    frees = [row["item"] for row in found if row["quantity"] == "taken away alone, frees the mount"]
    assert frees == mobility["freeing"] != []
    assert value(found, "absent", "budget", "reason") == ("the mount is bound: free it first", "")


def bound() -> Document:
    plain = twin()
    return {**plain, "members": [*plain["members"], pin("lock", "frame", "blade", (0, 300))]}


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_every_source_of_the_budget_stands_under_its_own_end(name: str, side: str) -> None:
    mount = shipped_mounts()[name]
    sources = readout(mount)["budget"][side]["sources"]
    rows = [row for row in table(mount) if row["section"] == "source" and row["quantity"].startswith(f"{side} end, ")]
    written = [
        (row["item"], row["quantity"], float(row["value"]), row["unit"]) for row in rows if is_number(row["value"])
    ]
    assert written == [
        (source["id"], f"{side} end, {source['kind']}, {quantity}", as_written(number), unit)
        for source in sources
        for quantity, number, unit in quantities(source)
        if number is not None
    ]


def quantities(source: dict[str, Any]) -> list[tuple[str, float | None, str]]:
    """What the table says of one source in numbers: words, number and unit, in its order."""
    moved = zip(("low", "high"), source["moved"] or (), strict=False)
    return [
        ("low", source["low"], "mm"),
        ("high", source["high"], "mm"),
        ("share of the worst", source["share"], ""),
        *((f"moved by the load, {way}", value, "mm") for way, value in moved),
        ("push reverses at this multiple of the load", source["reverses_at"], ""),
    ]


@pytest.mark.parametrize("name", list(shipped_mounts()))
def test_every_joint_force_stands_under_its_own_joint_and_load(name: str) -> None:
    mount = shipped_mounts()[name]
    forces, found = readout(mount)["forces"], table(mount)
    rows = [row for row in found if row["section"] == "force" and row["quantity"].endswith((" x", " y", "worst"))]
    assert [(row["item"], row["quantity"], float(row["value"]), row["unit"]) for row in rows] == [
        (joint, quantity, as_written(number), "N")
        for joint, force in forces.items()
        for quantity, number in (
            ("under the load, x", force["load"][0]),
            ("under the load, y", force["load"][1]),
            ("under the weight, x", force["weight"][0]),
            ("under the weight, y", force["weight"][1]),
            ("together, x", force["together"][0]),
            ("together, y", force["together"][1]),
            ("worst", force["worst"]),
        )
    ]


def test_the_headline_numbers_stand_with_their_units() -> None:
    mount = read_mount(twin(**extras()))
    answer = readout(mount, {"left": 10.0})
    found = table(mount, {"left": 10.0})
    assert value(found, "pose", "left", "longer than drawn") == ("10.0", "mm")
    assert value(found, "budget", "left end", "worst") == (repr_of(answer["budget"]["left"]["worst"]), "mm")
    assert value(found, "budget", "", "tolerance") == ("4.0", "mm")
    inside = "yes" if answer["budget"]["inside"] else "no"
    assert value(found, "budget", "", "inside the tolerance by the linear sums") == (inside, "")
    assert value(found, "force", "left / 1", "under the load, y") == (
        repr_of(answer["forces"]["left / 1"]["load"][1]),
        "N",
    )
    assert value(found, "cylinder", "left", "pressure under the load") == (
        repr_of(answer["actuators"]["left"]["pressure"]),
        "MPa",
    )
    assert value(found, "cylinder", "left", "per unit longer, left end") == (
        repr_of(answer["actuators"]["left"]["left"]),
        "mm/mm",
    )
    assert value(found, "cylinder", "right", "speed, shorten, left end")[1] == "mm/s"


@pytest.mark.parametrize(
    ("kind", "section", "quantity", "unit"),
    [
        (BudgetEnd, "budget", "rss", "mm"),
        (Budget, "budget", "tolerance", "mm"),
        (JointForce, "force", "worst", "N"),
        (JointForce, "force", "rating", "N"),
    ],
)
def test_units_are_those_the_readout_documents(kind: type, section: str, quantity: str, unit: str) -> None:
    described = TypeAdapter(kind).json_schema()["properties"][quantity]["description"]
    assert unit in described.replace(".", "").split()
    rows = [row for row in table(shipped_mounts()["3-twin-cylinders"]) if row["section"] == section]
    assert {row["unit"] for row in rows if row["quantity"] == quantity} == {unit}


@pytest.mark.parametrize(
    ("section", "quantity", "unit"),
    [
        ("pose", "cross fall", ""),
        ("pose", "turn", "degrees"),
        ("pose", "length", "mm"),
        ("cylinder", "coupling", ""),
        ("cylinder", "force under the weight, + pushed shorter", "N"),
        ("cylinder", "relief setting", "MPa"),
        ("cylinder", "pressure over relief setting", ""),
        ("cylinder", "smallest step, lengthen, left end", "mm"),
        ("cylinder", "speed, lengthen, right end", "mm/s"),
        ("cylinder", "stroke", "mm"),
        ("coupling", "interaction", ""),
        ("force", "worst or stall over rating", ""),
        ("dial", "reads at the left end", "mm"),
    ],
)
def test_a_length_a_force_a_pressure_and_a_ratio_each_have_their_own_unit(
    section: str, quantity: str, unit: str
) -> None:
    """By dimension: a ratio of two like things has none."""
    rows = [
        row for row in table(read_mount(twin(**extras()))) if (row["section"], row["quantity"]) == (section, quantity)
    ]
    assert {row["unit"] for row in rows} == {unit}


@pytest.mark.parametrize(("system", "name"), [("metric", "cross fall"), ("inch", "cross slope")])
def test_the_slope_across_goes_by_the_name_of_the_trade(system: System, name: str) -> None:
    named = [row["quantity"] for row in table(read_mount(twin()), system=system) if row["quantity"].startswith("cross")]
    assert named == [name]


def test_a_number_that_is_not_there_is_an_empty_cell_with_its_unit_and_a_reason() -> None:
    found = table(read_mount(twin()))
    assert value(found, "cylinder", "left", "force under the load, + pushed shorter") == ("", "N")
    assert value(found, "absent", "actuators.force", "reason") == ("needs a load", "")


def test_the_file_is_what_spreadsheets_expect() -> None:
    """RFC 4180: a header line, CRLF, the same number of fields in every line. The byte order mark: common practice."""
    text = text_of(read_mount(twin(title='One, "two"')))
    assert text.startswith("\ufeff" + ",".join(COLUMNS) + "\r\n")
    assert text.count("\n") == text.count("\r\n")
    lines = list(csv.reader(io.StringIO(text, newline="")))
    assert {len(line) for line in lines} == {5}
    assert lines[1] == ["mount", "", "title", 'One, "two"', ""]


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+1", "'+1"),
        ("-1", "'-1"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("＝1", "'＝1"),
        (" =1", " '=1"),
        ("\t=1", "\t'=1"),
        ("a\n=1", "a\n'=1"),
        ("left;=1+1", "left;'=1+1"),
        ("a; -1", "a; '-1"),
        ('a;"=1+1;b', "a;\"'=1+1;b"),
        ('a;" "=1', 'a;" "\'=1'),
        ('"=1', "\"'=1"),
        (' " "\t=1', ' " "\t\'=1'),
        ("\ufeff\u200b\xa0=1", "\ufeff\u200b\xa0'=1"),
        ("\r\r\n@A1", "\r\r\n'@A1"),
        ("left-right = 3", "left-right = 3"),
        ("it's 5", "it's 5"),
        ("", ""),
    ],
)
def test_no_text_is_taken_for_a_formula(text: str, written: str) -> None:
    """The characters: OWASP, CSV Injection (from memory): = + - @, tab and line ends, and their wide forms."""
    assert safe(text) == written


def test_no_cell_a_user_names_starts_a_formula_and_negative_numbers_stay_numbers() -> None:
    names = {"left": "=left", "right": "-right", "stay": "+stay|' calc'!A0"}
    mount = read_mount(renamed(twin(title="@title", **extras()), names))
    found = table(mount)
    texts = [cell for row in found for cell in row.values() if not is_number(cell)]
    assert [cell for cell in texts if cell[:1] in ("=", "+", "-", "@")] == []
    assert {"'=left", "'-right / 1", "'@title"} <= set(texts)
    assert any(number < 0 for number in written_numbers(found))


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_no_cell_starts_a_formula_wherever_the_spreadsheet_splits(delimiter: str) -> None:
    """Where the comma is the decimal sign, a spreadsheet splits at semicolons; an opening quote then falls away."""
    text = text_of(read_mount(twin(title='a;"=1+1;b\t"=1\n"=1;=1')))
    cells = [cell for row in csv.reader(io.StringIO(text, newline=""), delimiter=delimiter) for cell in row]
    assert [cell for cell in cells if not is_number(cell) and cell.lstrip()[:1] in ("=", "+", "-", "@")] == []
    assert any("'=1+1" in cell for cell in cells)


BLANK = st.sampled_from([*' "\t\r\n;', "\xa0", "\u2003", "\u200b", "\u2060", "\ufeff", "a"])


@given(st.lists(BLANK, max_size=6), st.sampled_from("=+-@＝＋－＠"), st.sampled_from(",;\t"))
def test_whatever_stands_before_a_sign_no_cell_runs(before: list[str], sign: str, delimiter: str) -> None:
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerow([safe("".join(before) + sign + "cmd|' /c calc'!A0"), "next"])
    for row in csv.reader(io.StringIO(text.getvalue(), newline=""), delimiter=delimiter):
        for cell in row:
            assert cell.strip(' "\t\r\n\xa0\u2003\u200b\u2060\ufeff')[:1] not in tuple("=+-@＝＋－＠")


def renamed(drawn: Document, names: dict[str, str]) -> Document:
    return {**drawn, "members": [{**member, "id": names[member["id"]]} for member in drawn["members"]]}


def is_number(cell: str) -> bool:
    try:
        return math.isfinite(float(cell))
    except ValueError:
        return False
