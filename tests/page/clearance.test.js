/** What clearance a new joint has, and what is said of it. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { bareBlade } from "../../static/document/bare.js";
import { playSource } from "../../static/document/clearance.js";
import { addJoint, addLink } from "../../static/document/draw.js";
import { mountNamed } from "./mounts.js";

const TWIN = "3-twin-cylinders";
const INCH = 25.4;

/** @param {string} label @param {number} size @param {number} clearance mm */
const pin = (label, size, clearance) => ({ label, size, blade: 60 * size, fit: "H11/c11", clearance });
/** @type {Sizes} */
const SIZES = {
  metric: { bores: [], rods: [], pins: [pin("20 mm", 20, 0.24), pin("40 mm", 40, 0.28)], source: "" },
  inch: { bores: [], rods: [], pins: [pin("1 1/2 in", 1.5 * INCH, 0.2794)], source: "" },
};
/** @type {import("../../static/document/clearance.js").Usual} */
const METRIC = { system: "metric", sizes: SIZES };
/** @type {import("../../static/document/clearance.js").Usual} */
const INCHES = { system: "inch", sizes: SIZES };

/** @param {string} body @param {number} x @returns {import("../../static/document/draw.js").Hold} */
const hold = (body, x) => ({ body, at: [x, 300] });

/** The clearances of the newest member. @param {Mount} mount */
function newest(mount) {
  const member = /** @type {Member} */ (mount.members.at(-1));
  return (member.ends ? [...member.ends] : [member]).map((joint) => joint.clearance);
}

test("a new joint has the clearance most joints of its mount have", () => {
  const next = addLink(mountNamed(TWIN), "cylinder", hold("frame", 0), hold("blade", 500), METRIC);
  assert.deepEqual(newest(next), [0.15, 0.15]);
});

test("the first joint of a bare blade has the middle of a loose fit, not none", () => {
  for (const [usual, clearance] of /** @type {const} */ ([
    [METRIC, 0.28],
    [INCHES, 0.2794],
  ])) {
    const bare = bareBlade(mountNamed(TWIN), usual.system);
    assert.deepEqual(newest(addJoint(bare, "pin", "frame", hold("blade", 0), usual)), [clearance]);
  }
});

test("a small blade is taken to have thin pins", () => {
  const bare = bareBlade(mountNamed(TWIN), "metric");
  const small = { ...bare, blade: { ...bare.blade, left: bare.blade.right, right: bare.blade.right } };
  assert.deepEqual(newest(addJoint(small, "pin", "frame", hold("blade", 0), METRIC)), [0.24]);
});

test("a clearance that was only supposed says so, in either unit, and one that was entered does not", () => {
  const bare = bareBlade(mountNamed(TWIN), "metric");
  const words = playSource(bare, 0.28, METRIC) ?? "";
  assert.match(words, /^0\.28\u00a0mm is the middle of the fit H11\/c11 \(ISO 286\) of a pin of 40\.0\u00a0mm/);
  assert.match(playSource(bare, 0.28, INCHES) ?? "", /^0\.011\u00a0in .* 1\.57\u00a0in/);
  for (const entered of [0.15, 0, undefined]) assert.equal(playSource(bare, entered, METRIC), null);
  assert.equal(playSource(bare, 0.28, { system: "metric", sizes: null }), null);
});
