/** From millimetres with y up to pixels with y down. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { drawn, standing } from "../../static/values/placed.js";
import { View, fit } from "../../static/values/view.js";

/** @param {readonly number[]} found @param {readonly number[]} expected */
function near(found, expected) {
  found.forEach((value, index) => assert.ok(Math.abs(value - expected[index]) < 1e-9, `${found} is not ${expected}`));
}

test("a view goes there and back", () => {
  const view = new View(0.25, 100, 400).zoomed([300, 200], 1.7).shifted(5, -3);
  near(view.invert(view.apply([-850, 300])), [-850, 300]);
});

test("zooming keeps the pixel under the pointer where it is, also at the smallest scale", () => {
  const view = new View(0.25, 100, 400);
  for (const factor of [1.7, 0.2, 1e-9, 1e9])
    near(view.zoomed([300, 200], factor).apply(view.invert([300, 200])), [300, 200]);
});

test("a fitted view shows every point inside its margins", () => {
  const margin = { left: 148, right: 100, top: 34, bottom: 124 };
  /** @type {[number, number][]} */
  const points = [
    [-1200, 0],
    [1200, 0],
    [-850, 1150],
  ];
  for (const size of [
    { width: 900, height: 600 },
    { width: 500, height: 1200 },
  ]) {
    const view = fit(points, size, margin);
    for (const [x, y] of points.map((point) => view.apply(point))) {
      assert.ok(x >= margin.left - 1e-9 && x <= size.width - margin.right + 1e-9);
      assert.ok(y >= margin.top - 1e-9 && y <= size.height - margin.bottom + 1e-9);
    }
  }
});

test("one point alone is shown without dividing by its size", () => {
  const view = fit([[10, 20]], { width: 900, height: 600 }, { left: 0, right: 0, top: 0, bottom: 0 });
  near(view.apply([10, 20]), [450, 300]);
});

test("a point of a turned body is found where it stands and again where it was drawn", () => {
  const body = { drawn: /** @type {const} */ ([10, 20]), at: /** @type {const} */ ([-5, 40]), angle: 90 };
  near(standing([40, 20], body), [-5, 70]);
  near(drawn([-5, 70], body), [40, 20]);
  near(standing([40, 20], undefined), [40, 20]);
});
