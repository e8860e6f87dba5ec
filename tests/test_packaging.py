"""What the package declares, what goes into it, and that it runs where nothing else of the project is."""

import ast
import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import httpx2 as httpx
import pytest

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
UV = shutil.which("uv", path=os.pathsep.join([str(Path(sys.executable).parent), os.environ.get("PATH", "")]))
SCRIPTS = "Scripts" if sys.platform == "win32" else "bin"


def plain(name: str) -> str:
    """A distribution's name as it is compared: case and hyphens do not count."""
    return re.split(r"[\s<>=!~;\[]", name)[0].lower().replace("_", "-")


def imported(folder: str) -> set[str]:
    """The distributions that the modules of a folder import, at their top or within a function."""
    modules: set[str] = set()
    for path in (ROOT / folder).rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                modules |= {each.name.split(".")[0] for each in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                modules.add(node.module.split(".")[0])
    distributions = packages_distributions()
    foreign = modules - set(sys.stdlib_module_names) - {"app", "tests"}
    return {plain(name) for module in foreign for name in distributions.get(module, [module])}


def test_everything_the_application_imports_is_a_declared_dependency() -> None:
    assert imported("app") - {plain(each) for each in PROJECT["dependencies"]} == set()


def test_everything_the_tests_import_is_declared_too() -> None:
    extras = PROJECT["optional-dependencies"]
    declared = PROJECT["dependencies"] + extras["test"] + extras["docs"]
    assert imported("tests") - {plain(each) for each in declared} == set()


def test_every_dependency_has_the_lowest_version_it_was_tested_with() -> None:
    extras = PROJECT["optional-dependencies"]
    declared = PROJECT["dependencies"] + extras["test"] + extras["docs"]
    assert [each for each in declared if not re.fullmatch(r"[a-z0-9-]+>=[0-9.]+", each)] == []


# The wheel


def run(*command: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run([str(part) for part in command], cwd=cwd, check=False, capture_output=True, text=True)


def worked(*command: str | Path) -> None:
    """Run a command of uv, from its cache if all is there and else with the registry, or one of pip."""
    ways = [[*command, "--offline"], command] if command[0] == UV else [command]
    said = [ran.stderr for way in ways if (ran := run(*way, cwd=ROOT)).returncode]
    assert len(said) < len(ways), said[-1]


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    if UV:
        worked(UV, "build", "--wheel", "--out-dir", folder, ROOT)
    else:
        worked(sys.executable, "-m", "pip", "wheel", "--no-deps", "--wheel-dir", folder, ROOT)
    [built] = folder.glob("*.whl")
    return built


@pytest.fixture(scope="session")
def blade_mount(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The command, installed from the wheel into an environment of its own."""
    folder = tmp_path_factory.mktemp("installed")
    python = folder / SCRIPTS / "python"
    if UV:
        worked(UV, "venv", "--allow-existing", "--python", sys.executable, folder)
        worked(UV, "pip", "install", "--python", python, wheel)
    else:
        worked(sys.executable, "-m", "venv", folder)
        worked(python, "-m", "pip", "install", wheel)
    return folder / SCRIPTS / "blade-mount"


@pytest.fixture
def neighbourhood(tmp_path: Path) -> Path:
    """A working folder in which other things called app lie about, each of which ends whatever takes it up."""
    taken_up = "raise SystemExit('the neighbour was taken up')"
    (tmp_path / "app.py").write_text(taken_up)
    (tmp_path / "app").mkdir()
    (tmp_path / "app" / "__init__.py").write_text(taken_up)
    return tmp_path


@pytest.fixture
def address(blade_mount: Path, neighbourhood: Path) -> Iterator[str]:
    """Where the installed command serves, started among those neighbours."""
    command = [str(blade_mount), "--no-open", "--data", "data"]
    process = subprocess.Popen(command, cwd=neighbourhood, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    said = ""
    try:
        while not (found := re.search(r"http://\S+", said)):
            line = process.stdout.readline()
            assert line, f"it ended before it said where it serves:\n{said}"
            said += line
        yield found.group()
    finally:
        process.terminate()
        process.communicate(timeout=10)


def test_the_wheel_holds_the_page_the_shipped_mounts_and_the_mark_of_types_but_no_picture(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as opened:
        held = set(opened.namelist())
    beside = [path for folder in ("static", "templates", "scenarios") for path in (ROOT / folder).rglob("*.*")]
    assert {f"app/{path.relative_to(ROOT).as_posix()}" for path in beside if path.is_file()} - held == set()
    assert "app/py.typed" in held
    assert [name for name in held if name.endswith((".png", ".jpg", ".pyc"))] == []
    assert {name.split("/")[0].removesuffix(".dist-info").split("-")[0] for name in held} == {
        "app",
        "blade_mount_sketcher",
    }


def test_the_installed_command_prints_a_readout_whatever_lies_in_the_folder(
    blade_mount: Path, neighbourhood: Path
) -> None:
    file = ROOT / "scenarios" / "3-twin-cylinders.json"
    ran = run(blade_mount, "readout", file, cwd=neighbourhood)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert json.loads(ran.stdout)["budget"]["inside"] is True
    assert run(blade_mount, "scenarios", cwd=neighbourhood).stdout.count("\n") == len(list(file.parent.glob("*.json")))


def test_the_installed_command_serves_the_page_its_files_and_readouts(address: str) -> None:
    page = httpx.get(address)
    assert page.status_code == 200
    for kept, file in re.findall(r'(?:src|href)="/(static/state-[0-9a-f]+/([^"]+))"', page.text):
        assert httpx.get(address + kept).content == (ROOT / "static" / file).read_bytes()
    document = json.loads((ROOT / "scenarios" / "3-twin-cylinders.json").read_text(encoding="utf-8"))
    answer = httpx.post(f"{address}readout", json={"mount": document})
    assert answer.status_code == 200
    assert answer.json()["budget"]["inside"] is True
