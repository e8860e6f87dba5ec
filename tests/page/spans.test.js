/** Lengths and angles of rods and cylinders, as they are typed. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { tidy } from "../../static/document/mount.js";
import { reached, spanOfMember, spanned } from "../../static/document/spans.js";

/** @type {Rod} */
const ROD = {
  kind: "rod",
  id: "stay",
  ends: [
    { on: "frame", at: [100, 50] },
    { on: "blade", at: [400, 450] },
  ],
};

test("a typed length leaves the direction to the hand", () => {
  assert.deepEqual(reached([0, 0], [30, 40], { length: 100 }), [60, 80]);
});

test("a typed angle leaves the length to the hand, in whole steps", () => {
  assert.deepEqual(reached([10, 20], [18, 333], { angle: 90 }, 10), [10, 330]);
  assert.deepEqual(reached([10, 20], [18, -333], { angle: 90 }, 10), [10, 20]);
});

test("a typed length and angle leave nothing to the hand, and along the axes no rounding dust", () => {
  assert.deepEqual(reached([1, 2], [77, 5], { length: 304.8, angle: 180 }), [-303.8, 2]);
  assert.deepEqual(reached([1, 2], [77, 5], { length: 10, angle: -90 }), [1, -8]);
});

test("a member keeps its direction when its length is set, whichever end stays", () => {
  for (const moving of [0, 1])
    assert.deepEqual(
      spanned(ROD, moving, { length: 250 }).map((each) => tidy(each)),
      [250, 250],
    );
});

test("a member keeps its length when its angle is set, whichever end stays", () => {
  assert.equal(spanOfMember(ROD).length, 500);
  assert.deepEqual(spanned(ROD, 1, { angle: 0 }), [600, 50]);
  assert.deepEqual(spanned(ROD, 0, { angle: 90 }), [400, -50]);
});
