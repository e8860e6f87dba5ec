/** Places in a document, written as the server writes them. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { withField } from "../../static/document/edits.js";
import { alike, valueAt, withValueAt } from "../../static/document/places.js";
import { firstState } from "../../static/core/store.js";
import { mountNamed } from "./mounts.js";

const MOUNT = { members: [{ ends: [{ at: [1, 2] }, { at: [3, 4] }] }], oil: { bulk_modulus: 1400 } };

test("a value is found and put at a place", () => {
  assert.equal(valueAt(MOUNT, "members[0].ends[1].at[0]"), 3);
  assert.equal(valueAt(MOUNT, "load.at[0]"), undefined);
  assert.deepEqual(withValueAt(MOUNT, "members[0].ends[1].at[0]", 9).members[0].ends, [{ at: [1, 2] }, { at: [9, 4] }]);
});

test("an empty value takes its key away, and a group that is left empty", () => {
  assert.deepEqual(withValueAt(MOUNT, "oil.bulk_modulus", undefined), { members: MOUNT.members });
});

test("documents are alike whatever the order of their keys, and not when one has more", () => {
  assert.ok(alike({ a: [1, { b: 2 }], c: null }, { c: null, a: [1, { b: 2 }] }));
  assert.ok(!alike({ a: 1 }, { a: 1, b: 2 }));
  assert.ok(!alike([1, 2], [2, 1]));
  assert.ok(!alike(null, {}));
});

test("a valve waits until both of its numbers are typed", () => {
  const { valve: _, ...mount } = mountNamed("3-twin-cylinders");
  const half = withField({ ...firstState(), mount }, "valve.flow", 40);
  assert.equal(half.mount.valve, undefined);
  assert.deepEqual(half.drafts, { "valve.flow": 40 });
  const whole = withField({ ...firstState(), ...half }, "valve.smallest_pulse", 2);
  assert.deepEqual(whole.mount.valve, { flow: 40, smallest_pulse: 2 });
  assert.deepEqual(whole.drafts, {});
});
