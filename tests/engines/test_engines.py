"""Open, drag, work a stroke, type a title, follow the working, show the wall and print, in Firefox and in WebKit.

Chromium does all of this, and the rest, in the test line. Run with ``python -m pytest tests/engines --engines``.
"""

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.browser.conftest import Server
from tests.browser.conftest import server as server
from tests.engines.engine import ENGINES, Engine, EngineMissing

LIVE = "document.querySelector('#readout[data-state=live]')"
KEPT = "document.querySelector('#kept').textContent === 'kept'"
TITLE = "Drawn in another engine"

pytestmark = pytest.mark.engines


@pytest.fixture(params=list(ENGINES))
def engine(request: pytest.FixtureRequest, server: Server, tmp_path: Path) -> Iterator[Engine]:
    """The sketch, open and live, in one engine; an error on its console fails the test."""
    folder = tmp_path / "profile"
    folder.mkdir(mode=0o700)
    started = ENGINES[request.param](folder)
    try:
        started.start()
        started.open(server.url)
        started.wait(LIVE)
        yield started
        assert started.complaints == []
    except EngineMissing as missing:
        pytest.skip(str(missing))
    finally:
        started.stop()


def number(engine: Engine, name: str) -> float:
    return float(engine.value(f"document.querySelector('[data-readout={name}]').dataset.value"))


def words(engine: Engine, selector: str) -> str:
    return str(engine.value(f"document.querySelector('{selector}').textContent"))


def test_a_joint_is_dragged_and_put_back(engine: Engine) -> None:
    before = number(engine, "coupling")
    engine.drag('[data-handle="left cylinder / 2"]', -40, 0)
    engine.wait(KEPT)
    engine.wait(LIVE)
    assert number(engine, "coupling") > before + 0.05
    engine.click('[data-action="undo"]')
    engine.wait(f"document.querySelector('[data-readout=coupling]').dataset.value === '{before}'")


def test_a_stroke_is_worked_and_its_number_typed(engine: Engine) -> None:
    engine.drag('[data-stroke="left cylinder"]', 20, 0)
    engine.wait("document.querySelector('[data-stroke-typed=\"left cylinder\"]').value !== '0'")
    engine.click('[data-stroke-typed="left cylinder"]')
    engine.value("document.activeElement.select()")
    engine.type("12.5")
    engine.wait("document.querySelector('[data-stroke=\"left cylinder\"]').value === '12.5'")


def test_a_title_is_typed_and_kept(engine: Engine) -> None:
    engine.click("#titleblock input")
    engine.value("document.activeElement.select()")
    engine.type(TITLE)
    engine.wait(f"document.querySelector('#mount-title').textContent === '{TITLE}'")
    engine.wait(KEPT)
    engine.value("location.reload()")
    engine.wait(f"document.querySelector('#mount-title').textContent === '{TITLE}' && {LIVE}")


def test_the_formulas_of_the_working_are_drawn(engine: Engine) -> None:
    engine.click("#tab-working")
    engine.wait("document.querySelector('#panel math')?.getBoundingClientRect().height > 8")
    fraction = "[...document.querySelectorAll('#panel mfrac')].map((each) => each.getBoundingClientRect())"
    assert engine.value(f"{fraction}.some(({{ width, height }}) => width > 4 && height > 20)")


def test_the_wall_shows_its_sum_and_is_left(engine: Engine) -> None:
    engine.click("#tab-error")
    engine.press("w")
    engine.wait("document.body.classList.contains('wall') && document.querySelector('#board').innerText.length > 20")
    assert engine.value("document.querySelector('#board').getBoundingClientRect().height > 100")
    engine.press("\ue00c")
    engine.wait("!document.body.classList.contains('wall')")


def test_variants_and_steps_stand_where_they_are_asked_for(engine: Engine) -> None:
    engine.drag('[data-handle="left cylinder / 2"]', -40, 0)
    engine.wait(KEPT)
    engine.click('[data-action="steps"]')
    engine.wait("document.querySelectorAll('#steps-room [data-jump]').length === 2")
    engine.press("\ue00c")
    engine.click('[data-action="variants"]')
    engine.click('[data-action="vary"]')
    engine.wait("document.querySelector('.variant-ghost')")
    engine.wait("[...document.querySelectorAll('[data-headline=worst]')].every((each) => each.dataset.value)")
    assert engine.value("document.querySelectorAll('[data-variant-row]').length") == 3


def test_the_handout_is_printed_on_one_sheet(engine: Engine) -> None:
    title = words(engine, "#mount-title")
    engine.click('[data-action="files"]')
    engine.click('#files [data-action="handout"]')
    engine.wait("location.pathname === '/handout' && document.body.innerText.includes('Worst edge error')")
    assert title in engine.value("document.body.innerText")
    if engine.prints:
        read = PdfReader(io.BytesIO(engine.printed()))
        assert len(read.pages) == 1
        assert title in read.pages[0].extract_text()
