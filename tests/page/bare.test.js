/** What a new mount begins with. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { bareBlade } from "../../static/document/bare.js";
import { outward } from "../../static/values/units.js";
import { mountNamed } from "./mounts.js";

const TWIN = mountNamed("3-twin-cylinders");

/** @param {number} value @param {import("../../static/values/units.js").Quantity} quantity */
const inInches = (value, quantity) => outward(value, quantity, "inch");

test("a bare blade in millimetres keeps the blade and load of the mount it came from", () => {
  const bare = bareBlade(TWIN, "metric");
  assert.deepEqual(bare.blade, TWIN.blade);
  assert.deepEqual([bare.load, bare.oil, bare.tolerance], [TWIN.load, TWIN.oil, TWIN.tolerance]);
  assert.deepEqual([bare.members, bare.bodies], [[], []]);
});

test("a bare blade in inches is round in inches", () => {
  const { blade, load, oil, valve, sensors, tolerance, display } = bareBlade(TWIN, "inch");
  assert.equal(display, "inch");
  assert.equal(inInches(blade.right[0] - blade.left[0], "fine"), "96");
  assert.equal(inInches(blade.mass ?? 0, "mass"), "650");
  assert.equal(inInches(load?.force[1] ?? 0, "force"), "250");
  assert.equal(inInches(oil?.bulk_modulus ?? 0, "modulus"), "200000");
  assert.equal(inInches(oil?.relief_pressure ?? 0, "pressure"), "2500");
  assert.equal(inInches(valve?.flow ?? 0, "flow"), "3");
  assert.equal(inInches(valve?.smallest_pulse ?? 0, "volume"), "0.05");
  assert.equal(inInches(tolerance ?? 0, "error"), "0.125");
  assert.deepEqual(
    [...(blade.mass_centre ?? []), ...(sensors?.left ?? [])].map((each) => inInches(each, "fine")),
    ["0", "8", "-40", "66"],
  );
});

test("a bare blade from a mount in inches keeps that mount's blade, and begins anew in millimetres", () => {
  const inches = bareBlade(TWIN, "inch");
  const wide = { ...inches, blade: { ...inches.blade, right: /** @type {[number, number]} */ ([1524, 0]) } };
  assert.equal(bareBlade(wide, "inch").blade.right[0], 1524);
  assert.deepEqual(bareBlade(wide, "metric").blade, TWIN.blade);
});
