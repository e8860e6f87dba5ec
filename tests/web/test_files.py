"""The page's files: kept for good under an address that changes with them."""

import os
import re
from pathlib import Path

import pytest
from starlette.applications import Starlette
from starlette.routing import Mount
from starlette.testclient import TestClient

from app.web.files import PageFiles
from tests.web.client import client


@pytest.fixture
def served(tmp_path: Path) -> tuple[PageFiles, Path]:
    (tmp_path / "core").mkdir()
    script = tmp_path / "core" / "one.js"
    script.write_text("export const one = 1;")
    return PageFiles(tmp_path), script


def asked(files: PageFiles, path: str) -> tuple[str, str | None]:
    answer = TestClient(Starlette(routes=[Mount("/static", files)])).get(f"/static/{path}")
    return answer.text, answer.headers.get("cache-control")


def test_every_file_a_page_names_may_be_kept_for_good() -> None:
    named = re.findall(r'(?:src|href)="(/static/[^"]+)"', client().get("/").text)
    assert len(named) > 3
    for path in named:
        answer = client().get(path)
        assert answer.status_code == 200
        assert answer.headers["cache-control"] == "max-age=31536000, immutable"


def test_a_file_at_its_plain_address_is_asked_for_again() -> None:
    assert client().get("/static/pages/sketch.js").headers["cache-control"] == "no-cache"


def test_a_changed_file_has_another_address_and_the_old_one_is_kept_no_more(served: tuple[PageFiles, Path]) -> None:
    files, script = served
    before = files.state()
    assert files.state() == before
    assert asked(files, f"{before}/core/one.js") == ("export const one = 1;", "max-age=31536000, immutable")
    script.write_text("export const one = 2;")
    os.utime(script, ns=(1, 1))
    after = files.state()
    assert after != before
    assert asked(files, f"{after}/core/one.js") == ("export const one = 2;", "max-age=31536000, immutable")
    assert asked(files, f"{before}/core/one.js") == ("export const one = 2;", None)
