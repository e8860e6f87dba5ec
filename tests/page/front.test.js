/** The plot of a search's front: where its marks stand, and what is said of them. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { axisOf, foundWords, plotOf, rowWords } from "../../static/values/front.js";

/** @type {Goal[]} */
const TRADED = [
  { what: "error", most: 0, over: "pose" },
  { what: "coupling", most: 0, over: "pose" },
  { what: "load ratio", most: 0, over: "pose" },
];
const ROOM = { width: 300, height: 200, left: 40, right: 10, top: 10, bottom: 30 };
const ROWS = [
  [2.0, 0.3, 1.0],
  [3.0, 0.1, 1.5],
];

test("less error stands lower, less coupling farther left", () => {
  const plot = plotOf(ROWS, TRADED, ROOM, "metric");
  const [[x0, y0], [x1, y1]] = ROWS.map((row) => plot.at(row));
  assert.ok(x1 < x0 && y1 < y0);
});

test("every mark stands inside the plot", () => {
  const plot = plotOf(ROWS, TRADED, ROOM, "metric");
  for (const row of ROWS) {
    const [x, y] = plot.at(row);
    assert.ok(x >= 40 && x <= 290 && y >= 10 && y <= 170);
  }
});

test("more load ratio makes a larger mark", () => {
  const plot = plotOf(ROWS, TRADED, ROOM, "metric");
  assert.ok(plot.radius(ROWS[1]) > plot.radius(ROWS[0]));
});

test("mounts that are alike in a number still have an axis for it", () => {
  const axis = axisOf([2, 2], TRADED[0], "metric");
  assert.ok(axis.from < 2 && axis.to > 2 && axis.ticks.length > 1);
});

test("an axis of inches has its numbers at round inches", () => {
  const { ticks } = axisOf([2.54, 25.4], TRADED[0], "inch");
  assert.ok(ticks.every((each) => Math.abs((each / 25.4) * 20 - Math.round((each / 25.4) * 20)) < 1e-9));
});

test("what was found claims no more than was tried", () => {
  const words = foundWords({ tried: 19876, seed: 4, steps: 5 });
  assert.match(words, /best of 19\u00a0876 tried within these boxes, at these poses \(5 strokes a side\), seed 4/);
  assert.doesNotMatch(words, /optim/);
});

test("a mount of the front is told by all that is traded", () => {
  assert.equal(rowWords(ROWS[1], TRADED, "metric"), "worst error 3.00\u00a0mm, coupling 0.10, load ratio 1.50");
});
