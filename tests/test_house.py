"""What is added by a file and a line: a file whose line was forgotten is told, and so is what only half knows it."""

import importlib
import re
from pathlib import Path
from types import ModuleType

import pytest

from app import shipped_mounts
from app.document.units import CUSTOMS, FORMULA_UNITS, LENGTH_STEPS, QUANTITIES, SYSTEMS, System
from app.export import EXPORTS
from app.members import KINDS as MEMBERS
from app.results.warnings import WARNINGS
from app.shipped import folder
from app.sources import KINDS as SOURCES

ROOT = Path(__file__).parents[1]

HELPING = {
    "app.members": {"joint", "member", "outline"},
    "app.sources": {"play", "source"},
    "app.export": {
        "bodies",
        "construction",
        "figure",
        "files",
        "papers",
        "placing",
        "shapes",
        "titleblock",
    },
    "app.results.warnings": set(),
}
"""Modules beside a list that stand for nothing in it."""


def modules_beside(package: str) -> set[str]:
    """The modules of a package that each stand for one thing of its list."""
    found = {path.stem for path in (ROOT / package.replace(".", "/")).glob("*.py")}
    return found - {"__init__"} - HELPING[package]


def listed(things: list[object]) -> set[str]:
    """The modules that define what stands in a list."""
    return {str(getattr(each, "__module__", "")).rsplit(".", 1)[-1] for each in things}


def test_every_kind_of_member_with_a_file_is_listed() -> None:
    assert modules_beside("app.members") == listed(list(MEMBERS.values()))


def test_every_kind_of_source_with_a_file_is_listed() -> None:
    assert modules_beside("app.sources") == listed([type(each) for each in SOURCES.values()])


def test_every_warning_with_a_file_is_listed() -> None:
    assert modules_beside("app.results.warnings") == listed(list(WARNINGS))


def test_every_export_with_a_file_is_listed() -> None:
    assert modules_beside("app.export") == set(EXPORTS)


@pytest.mark.parametrize("package", HELPING)
def test_every_module_that_stands_for_nothing_is_there(package: str) -> None:
    for name in HELPING[package]:
        assert isinstance(importlib.import_module(f"{package}.{name}"), ModuleType)


def test_every_kind_of_source_but_one_has_a_hatch_of_its_own() -> None:
    patterns = (folder("templates") / "_patterns.html").read_text(encoding="utf-8")
    hatched = set(re.findall(r'id="hatch-([^"]+)"', patterns))
    assert {kind for kind in SOURCES if kind not in hatched} == {"oil"}, "a hatch in templates/_patterns.html"


def test_every_hatch_of_a_source_is_drawn_by_one_module() -> None:
    looks = re.compile(r"(?:cue|swatch)-\$\{")
    drawing = {path.name for path in folder("static").rglob("*.js") if looks.search(path.read_text(encoding="utf-8"))}
    assert drawing == {"cues.js"}


def test_shipped_mounts_come_by_their_numbers_however_many_there_are(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    whole = (ROOT / "scenarios" / "1-centre-pivot.json").read_text(encoding="utf-8")
    for name in ("10-tenth", "2-second", "1-first", "unnumbered"):
        (tmp_path / f"{name}.json").write_text(whole, encoding="utf-8")
    monkeypatch.setattr("app.shipped.folder", lambda _: tmp_path)
    shipped_mounts.cache_clear()
    try:
        assert list(shipped_mounts()) == ["1-first", "2-second", "10-tenth", "unnumbered"]
    finally:
        shipped_mounts.cache_clear()


def test_every_warning_has_a_test_that_names_its_code() -> None:
    tests = "".join(
        path.read_text(encoding="utf-8") for path in (ROOT / "tests").rglob("*.py") if path != Path(__file__)
    )
    files = (ROOT / "app" / "results" / "warnings").glob("*.py")
    code = re.compile(r'Message\(\s*"([a-z]+(?:-[a-z]+)*)"')
    codes = {found for path in files for found in code.findall(path.read_text(encoding="utf-8"))}
    assert codes
    assert {each for each in codes if f'"{each}"' not in tests} == set()


@pytest.mark.parametrize("table", [LENGTH_STEPS, CUSTOMS, *QUANTITIES.values(), *FORMULA_UNITS.values()])
def test_every_table_of_units_has_every_system(table: dict[System, object]) -> None:
    assert tuple(table) == SYSTEMS


def test_nothing_asks_which_system_it_is_instead_of_what_stands_in_its_tables() -> None:
    asks = re.compile(r'(?:system|chosen) ===? "(?:metric|inch)" (?:\?|else|:)|if system == "')
    files = [*(ROOT / "app").rglob("*.py"), *folder("static").rglob("*.js"), *folder("templates").glob("*.html")]
    assert {str(path.relative_to(ROOT)) for path in files if asks.search(path.read_text(encoding="utf-8"))} == {
        "static/document/link.js"
    }
