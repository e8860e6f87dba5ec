"""The page's modules by themselves, in the browser they run in."""

import math
from typing import Any

import pytest
from playwright.sync_api import Page

from app.document import units


def call(modules: Page, module: str, expression: str, *given: Any) -> Any:  # noqa: ANN401 - any JSON value
    """Evaluate an expression with a module as ``m`` and the given values as ``a``."""
    script = f"async (a) => {{ const m = await import('/static/{module}'); return {expression}; }}"
    return modules.evaluate(script, list(given))


def test_unit_factors_are_those_of_the_engine(modules: Page) -> None:
    measures = ["fine", "force", "pressure", "mass"]
    found = call(modules, "values/units.js", "a[0].map((each) => m.inward(1, each, 'inch'))", measures)
    assert found == [units.MM_PER_INCH, units.NEWTON_PER_LBF, units.MPA_PER_PSI, units.KG_PER_POUND]


@pytest.mark.parametrize(
    ("typed", "quantity", "system", "mm"),
    [
        ("12", "fine", "metric", 12),
        ("3.5 mm", "fine", "inch", 3.5),
        ("0.14 in", "fine", "metric", 3.556),
        ("1/8", "fine", "inch", 3.175),
        ("1 1/4", "fine", "inch", 31.75),
        ("-36 1/2 in", "fine", "metric", -927.1),
        ("−4,5", "fine", "metric", -4.5),
        ('2"', "fine", "metric", 50.8),
        ("1.2 m", "fine", "inch", 1200),
        ("200 bar", "pressure", "metric", 20),
        ("2.5", "force", "metric", 2500),
        ("100 lbf", "force", "metric", 444.82216152605),
        ("33-1/2", "fine", "inch", 850.9),
        ("33 1/2 inches", "fine", "metric", 850.9),
        ("2' 9 1/2\"", "fine", "metric", 850.9),
        ("2″", "fine", "metric", 50.8),
        ("205 GPa", "modulus", "metric", 205_000),
        ("290 lbs", "mass", "metric", 290 * 0.45359237),
        ("0,125", "fine", "metric", 0.125),
        ("-1,200", "fine", "metric", None),
        ("far", "fine", "metric", None),
        ("1/0", "fine", "inch", None),
        ("1 2", "fine", "inch", None),
        ("3 kg", "fine", "metric", None),
        ("", "fine", "metric", None),
        ("1e999", "fine", "metric", None),
    ],
)
def test_typed_quantities_are_read_in_either_system(
    modules: Page, typed: str, quantity: str, system: str, mm: float | None
) -> None:
    found = call(modules, "values/units.js", "m.read(a[0], a[1], a[2])", typed, quantity, system)
    assert found == (None if mm is None else pytest.approx(mm, rel=1e-12))


def test_numbers_are_shown_with_a_true_minus_and_no_negative_nought(modules: Page) -> None:
    shown = call(
        modules,
        "values/units.js",
        "a.map((v) => m.number(v, 'error', 'metric', {sign: true}))",
        1.234,
        -1.236,
        -0.001,
        None,
    )
    assert shown == ["+1.23", "−1.24", "0.00", "–"]


def test_the_view_goes_there_and_back_and_zooms_about_a_pixel(modules: Page) -> None:
    script = """(() => {
      const view = new m.View(0.25, 100, 400).zoomed([300, 200], 1.7).shifted(5, -3);
      const point = [-850, 300];
      const fixed = new m.View(0.25, 100, 400).invert([300, 200]);
      const held = new m.View(0.25, 100, 400).zoomed([300, 200], 1.7).apply(fixed);
      return {back: view.invert(view.apply(point)), held};
    })()"""
    found = call(modules, "values/view.js", script)
    assert found["back"] == pytest.approx([-850, 300])
    assert found["held"] == pytest.approx([300, 200])


def test_a_body_stands_where_the_engine_says_and_is_drawn_back(modules: Page) -> None:
    body = {"drawn": [10, 20], "at": [-5, 40], "angle": 7.5}
    there, back = call(
        modules, "values/placed.js", "[m.standing([300, 90], a[0]), m.drawn(m.standing([300, 90], a[0]), a[0])]", body
    )
    turn = math.radians(7.5)
    assert there == pytest.approx(
        [-5 + 290 * math.cos(turn) - 70 * math.sin(turn), 40 + 290 * math.sin(turn) + 70 * math.cos(turn)]
    )
    assert back == pytest.approx([300, 90])


def test_shown_parts_add_up_to_the_shown_total(modules: Page) -> None:
    for parts in ([0.004, 0.004, 0.004], [1.005, 2.005, 0.333], [-0.004, 0.009, 0.0051], [0.0]):
        counts = call(modules, "values/words.js", "m.apportion(a[0], 2)", parts)
        assert sum(counts) == round(sum(parts) * 100)
        assert all(abs(count - 100 * part) <= 1 for count, part in zip(counts, parts, strict=True))


def test_a_mount_packed_in_a_link_comes_out_equal_and_a_cut_link_says_so(modules: Page) -> None:
    mount = {"title": "Löffel – ±3 mm", "members": [{"at": [1.5, -2]}] * 40}
    assert call(modules, "document/link.js", "m.pack(a[0]).then(m.unpack)", mount) == mount
    said = call(
        modules, "document/link.js", "m.pack(a[0]).then((t) => m.unpack(t.slice(0, 40))).catch((e) => e.message)", mount
    )
    assert said.startswith("This link carries no mount that can be read")


def test_joints_rest_on_the_grid_on_others_and_level_with_others(modules: Page) -> None:
    how = {"grid": 10, "near": 8, "others": [[103, 57], [400, 233]]}
    rests = call(modules, "sheet/snap.js", "[[98, 60], [317, 42], [317, 230]].map((at) => m.snap(at, a[0]).at)", how)
    assert rests == [[103, 57], [320, 40], [320, 233]]


def test_places_are_read_and_written_as_the_server_writes_them(modules: Page) -> None:
    mount = {"members": [{"ends": [{"at": [1, 2]}, {"at": [3, 4]}]}], "oil": {"bulk_modulus": 1400}}
    found = call(
        modules,
        "document/places.js",
        "[m.valueAt(a[0], 'members[0].ends[1].at[0]'), m.withValueAt(a[0], 'members[0].ends[1].at[0]', 9), "
        "m.withValueAt(a[0], 'oil.bulk_modulus', undefined)]",
        mount,
    )
    assert found[0] == 3
    assert found[1]["members"][0]["ends"] == [{"at": [1, 2]}, {"at": [9, 4]}]
    assert "oil" not in found[2]


def test_history_goes_at_least_five_hundred_deep(modules: Page) -> None:
    script = """(() => {
      const history = new m.History([{mount: 0, command: {}}]);
      for (let n = 1; n <= 700; n += 1) history.push({mount: n, command: {}});
      let back = 0;
      while (history.step(-1)) back += 1;
      return [back, history.steps[history.at].mount];
    })()"""
    assert call(modules, "core/history.js", script) == [700, 0]
