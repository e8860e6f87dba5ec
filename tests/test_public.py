"""What scripts find in the package by name."""

import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import app

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("name", app.__all__)
def test_every_public_name_is_there_and_documented(name: str) -> None:
    found = getattr(app, name)
    assert found.__name__ == name
    assert inspect.getdoc(found)


@pytest.mark.parametrize("name", app.__all__)
def test_no_public_name_is_that_of_a_module_of_the_package(name: str) -> None:
    assert name not in {path.stem for path in (ROOT / "app").iterdir()}


def test_a_name_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(AttributeError, match="has no attribute 'reed_file'; it offers Analysis, "):
        _ = app.reed_file  # type: ignore[attr-defined]


def test_a_notebook_offers_the_public_names_behind_the_dot() -> None:
    assert dir(app) == sorted(app.__all__)


def test_nothing_is_loaded_before_it_is_asked_for() -> None:
    script = "import sys, app; print('sympy' in sys.modules); app.Mount; print('app.document.models' in sys.modules)"
    ran = subprocess.run([sys.executable, "-c", script], cwd=ROOT, check=True, capture_output=True, text=True)
    assert ran.stdout.split() == ["False", "True"]
