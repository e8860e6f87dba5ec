"""Numbers as people type them, by the table the page's own reader is held to as well (tests/page/units.test.js)."""

import json
from pathlib import Path

import pytest

from app.document.typed import read_typed
from app.document.units import Measure, System

EXAMPLES = json.loads((Path(__file__).parents[1] / "typed_numbers.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(("typed", "measure", "system", "value"), EXAMPLES)
def test_a_typed_number_is_read_as_the_table_has_it(
    typed: str, measure: Measure, system: System, value: float | None
) -> None:
    assert read_typed(typed, measure, system) == (value if value is None else pytest.approx(value, rel=1e-12))


def test_a_text_far_too_long_is_no_number() -> None:
    assert read_typed("1" * 61, "fine") is None
    assert read_typed("1 " * 10_000, "fine") is None
