/** In what two mounts differ, and how one takes over the loads of the other. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { takenOver, unlike, withGroupOf } from "../../static/pages/compare/differences.js";
import { mountNamed } from "./mounts.js";

const NONE = { load: null, tolerance: null, oil: null, valve: null, sensors: null };

/** A shipped mount without loads. @returns {Mount} */
function bare() {
  const { format, title, blade, members } = mountNamed("3-twin-cylinders");
  return { format, title, blade: { left: blade.left, right: blade.right }, members };
}

test("what a document says is null is the same as what it does not say", () => {
  const mount = bare();
  const { left, right } = mount.blade;
  const said = { ...mount, ...NONE, blade: { left, right, mass: null, mass_centre: null } };
  assert.deepEqual([...unlike(mount, said)], []);
});

test("taking over the loads of a mount that says null takes them away", () => {
  const taken = takenOver({ ...bare(), ...NONE }, mountNamed("3-twin-cylinders"), "metric");
  assert.equal(taken.mount.load, undefined);
  assert.equal(taken.mount.tolerance, undefined);
});

/** A mount with a load of 1 kN upward. @param {Mount} mount @param {[number, number]} at @returns {Mount} */
const loaded = (mount, at) => ({ ...mount, load: { at, force: [0, 1000] } });

/** A mount whose right end stands farther out. @param {Mount} mount @param {number} by mm @returns {Mount} */
function wider(mount, by) {
  const [x, y] = mount.blade.right;
  return { ...mount, blade: { ...mount.blade, right: [x + by, y] } };
}

test("a load taken over acts at the same share of a wider edge, as far above it", () => {
  const mount = mountNamed("3-twin-cylinders");
  const { left, right } = mount.blade;
  const [x, y] = [(left[0] + right[0]) / 2, left[1] + 40];
  assert.deepEqual(takenOver(loaded(mount, [x, y]), wider(mount, 1000), "metric").mount.load?.at, [x + 500, y]);
});

test("a blade taken over takes the load at its end along", () => {
  const mount = mountNamed("3-twin-cylinders");
  const { blade, load } = withGroupOf(wider(mount, 200), loaded(mount, mount.blade.right), "blade");
  assert.deepEqual(load?.at, blade.right);
});
