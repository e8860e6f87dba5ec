/** Closed length and stroke of a cylinder: invented, fitted to a distance, and following it. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { deadLength, fitted, followed, isRedrawn, sizesFor, withFitted } from "../../static/document/lengths.js";
import { drawnLength, moved, strokeRange } from "../../static/document/mount.js";
import { mountNamed } from "./mounts.js";

const INCH = 25.4;

/** @param {number} length mm @param {{retracted: number, stroke: number}} sizes @returns {Cylinder} */
const drawn = (length, sizes) => ({
  kind: "cylinder",
  id: "new",
  ends: [
    { on: "frame", at: [0, length] },
    { on: "blade", at: [0, 0] },
  ],
  bore: 63,
  rod: 36,
  ...sizes,
});

/** @param {Mount} mount @param {number} index */
const cylinder = (mount, index) => /** @type {Cylinder} */ (mount.members[index]);

/** @param {number} value mm @param {number} step mm */
const isWhole = (value, step) => Math.abs(value / step - Math.round(value / step)) < 1e-6;

test("a drawn cylinder is about half out and round in the user's units, whatever its length", () => {
  for (const [system, step] of /** @type {[System, number][]} */ ([
    ["metric", 5],
    ["inch", INCH / 4],
  ])) {
    for (const length of [40, 300, 812, 2500]) {
      const sizes = sizesFor(length, system);
      const [shortest, longest] = strokeRange(drawn(length, sizes));
      assert.ok(shortest < 0 && longest > 0, `${system} ${length}`);
      assert.ok(Math.abs(shortest + longest) <= step, `${system} ${length}: ${shortest} to ${longest}`);
      assert.ok(isWhole(sizes.retracted, step) && isWhole(sizes.stroke, step), `${system} ${length}`);
    }
  }
});

test("a drawn cylinder has a bore and a piston rod that can be bought", () => {
  assert.deepEqual([sizesFor(800).bore, sizesFor(800).rod], [63, 36]);
  assert.deepEqual([sizesFor(800, "inch").bore, sizesFor(800, "inch").rod], [63.5, 38.1]);
});

test("a cylinder fitted to a distance is half out there and has the dead length it had", () => {
  for (const length of [500, 850, 2210]) {
    const next = fitted(drawn(length, { retracted: 720, stroke: 260 }), "metric");
    const out = length - next.retracted;
    assert.equal(deadLength(next), 460);
    assert.ok(Math.abs(out - next.stroke / 2) <= 3.75, `${length}: ${out} of ${next.stroke}`);
    assert.ok(isWhole(next.stroke, 5));
  }
});

test("where the dead length leaves no stroke, a fitted cylinder is a usual one of that length", () => {
  const next = fitted(drawn(300, { retracted: 720, stroke: 260 }), "metric");
  assert.deepEqual({ retracted: next.retracted, stroke: next.stroke }, { retracted: 255, stroke: 90 });
});

test("fitting leaves every other member as it is", () => {
  const mount = mountNamed("3-twin-cylinders");
  const next = withFitted(mount, new Set(["left cylinder"]), "metric");
  assert.deepEqual(next.members.slice(1), mount.members.slice(1));
  assert.deepEqual([cylinder(next, 0).retracted, cylinder(next, 0).stroke], [720, 260]);
});

test("a closed length that follows keeps the cylinder as far out as it was, there and back", () => {
  const mount = mountNamed("3-twin-cylinders");
  const away = followed(mount, moved(mount, "left cylinder / 1", [-850, 1800]));
  assert.equal(cylinder(away, 0).retracted, 1370);
  assert.equal(drawnLength(cylinder(away, 0)) - cylinder(away, 0).retracted, 130);
  assert.deepEqual(followed(mount, moved(away, "left cylinder / 1", [-850, 1150])), mount);
});

test("a closed length does not follow to nothing", () => {
  const mount = mountNamed("3-twin-cylinders");
  assert.equal(cylinder(followed(mount, moved(mount, "left cylinder / 1", [-850, 305])), 0).retracted, 720);
});

test("a cylinder is redrawn when an end of it is moved, and not by its sizes", () => {
  const mount = mountNamed("3-twin-cylinders");
  assert.ok(isRedrawn(mount, moved(mount, "left cylinder / 1", [-850, 1800]), 0));
  assert.ok(!isRedrawn(mount, moved(mount, "left cylinder / 1", [-850, 1800]), 1));
  assert.ok(!isRedrawn(mount, withFitted(mount, new Set(["left cylinder"]), "inch"), 0));
});
