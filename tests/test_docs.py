"""The documentation keeps up: every module, option, page and package is in it."""

import re
import tomllib
from pathlib import Path

import pytest

import app
from app.cli import _parser
from app.export import EXPORTS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text()
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())


@pytest.mark.parametrize("module", sorted(path.name for path in (ROOT / "app").glob("[a-z]*.py")))
def test_every_module_stands_in_the_contributors_tree(module: str) -> None:
    assert module in DEVELOPERS


@pytest.mark.parametrize("room", ["values", "document", "core", "sheet", "pages"])
def test_every_module_of_the_page_stands_there_too(room: str) -> None:
    modules = sorted(path.name for path in (ROOT / "static" / room).glob("*.js"))
    assert [module for module in modules if module not in DEVELOPERS] == []


@pytest.mark.parametrize("room", sorted(path.name for path in (ROOT / "static").iterdir() if path.is_dir()))
def test_every_room_of_the_page_stands_there_too(room: str) -> None:
    assert f"{room}/ " in DEVELOPERS


@pytest.mark.parametrize("option", ["--host", "--port", "--no-open", "--data", "--command"])
def test_every_option_a_user_needs_is_in_the_readme(option: str) -> None:
    assert option in README
    assert option in _parser().format_help() + "--command"


@pytest.mark.parametrize(
    "task", ["readout", "detail", "document", "scenarios", *(f"export-{each}" for each in EXPORTS)]
)
def test_every_task_of_the_command_line_is_in_the_readme(task: str) -> None:
    assert f"`{task}`" in README or f"blade-mount {task}" in README


@pytest.mark.parametrize("name", ["sweep", "search"])
def test_an_example_in_python_prints_what_stands_below_it(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    [(code, printed)] = re.findall(
        rf"<!-- python: {name} -->\n```python\n(.*?)```\n\n```text\n(.*?)```", README, re.DOTALL
    )
    exec(compile(code, "README.md", "exec"), {})  # noqa: S102 - the project's own
    assert capsys.readouterr().out == printed


@pytest.mark.parametrize("name", app.__all__)
def test_every_public_name_is_in_the_readme(name: str) -> None:
    assert f"`{name}`" in README


@pytest.mark.parametrize("place", re.findall(r"\]\((?!https?:|#)([^)]+)\)", README + DEVELOPERS))
def test_every_link_of_the_documentation_leads_to_a_file(place: str) -> None:
    assert (ROOT / place).is_file()


def test_every_package_has_its_reason() -> None:
    named = PROJECT["project"]["dependencies"] + PROJECT["project"]["optional-dependencies"]["test"]
    packages = [re.split(r"[<>=\[]", each)[0] for each in named]
    assert [name for name in packages if f"`{name}`" not in DEVELOPERS] == []


def test_only_the_agreed_things_stand_at_the_top() -> None:
    agreed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "app", "static", "templates", "tests", "scenarios"}
    generated = {"build", "dist"}
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".") and ".egg" not in path.name}
    assert found - generated == agreed
