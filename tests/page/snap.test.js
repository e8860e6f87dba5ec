/** Where a moved joint comes to rest. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { snap } from "../../static/sheet/snap.js";

/** @type {{grid: number, near: number, others: [number, number][]}} */
const HOW = {
  grid: 10,
  near: 8,
  others: [
    [103, 57],
    [400, 233],
  ],
};

test("a joint rests on the grid where nothing else is near", () => {
  assert.deepEqual(snap([317, 42], HOW), { at: [320, 40], guides: [] });
});

test("a joint rests on another joint that is near", () => {
  assert.deepEqual(snap([98, 60], HOW).at, [103, 57]);
});

test("a joint rests in line with another, and a guide shows with which", () => {
  const { at, guides } = snap([317, 230], HOW);
  assert.deepEqual(at, [320, 233]);
  assert.deepEqual(guides, [{ from: [400, 233], to: [320, 233] }]);
});
