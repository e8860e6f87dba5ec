/** Reading and changing a mount on the page. */

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  commandFor,
  handle,
  handles,
  hues,
  loadSize,
  loadTurned,
  moved,
  strokeRange,
} from "../../static/document/mount.js";
import { mountNamed, shipped } from "./mounts.js";

/** @template T @param {T} value @returns {T} frozen all through, so that a change to it fails */
function frozen(value) {
  if (typeof value === "object" && value !== null) Object.values(value).forEach(frozen);
  return Object.freeze(value);
}

test("every handle of every shipped mount goes where it is moved, and the mount it was taken from stays", () => {
  for (const [name, shippedMount] of shipped()) {
    const mount = frozen(shippedMount);
    for (const each of handles(mount).filter((one) => !one.name.startsWith("load/"))) {
      const next = moved(mount, each.name, [each.at[0] + 12.5, each.at[1] - 3]);
      assert.deepEqual(handle(next, each.name)?.at, [each.at[0] + 12.5, each.at[1] - 3], `${name}: ${each.name}`);
    }
  }
});

test("the load stays on the edge, between its ends", () => {
  const mount = mountNamed("3-twin-cylinders");
  assert.deepEqual(moved(mount, "load/at", [100, 250]).load?.at, [100, 0]);
  assert.deepEqual(moved(mount, "load/at", [9999, 0]).load?.at, mount.blade.right);
});

test("the load keeps its size when it is turned", () => {
  const mount = loadTurned(mountNamed("3-twin-cylinders"), 135, 2500);
  const { size, degrees } = loadSize(/** @type {Load} */ (mount.load));
  assert.ok(Math.abs(size - 2500) < 1e-6);
  assert.equal(degrees, 135);
});

test("a renamed cylinder keeps its stroke, and one that is gone loses it", () => {
  const mount = mountNamed("3-twin-cylinders");
  const [first, ...others] = mount.members;
  const renamed = { ...mount, members: [{ ...first, id: "near cylinder" }, ...others] };
  assert.deepEqual(commandFor(mount, renamed, { [first.id]: 20 }), { "near cylinder": 20 });
  assert.deepEqual(commandFor(mount, { ...mount, members: others }, { [first.id]: 20 }), {});
});

test("a command that still holds is the same object, so nobody takes it for a change", () => {
  const mount = mountNamed("3-twin-cylinders");
  const command = { [mount.members[0].id]: 5 };
  assert.equal(commandFor(mount, { ...mount, title: "another" }, command), command);
});

test("a stroke reaches from closed to fully out, as seen from the drawing", () => {
  const cylinder = /** @type {Cylinder} */ ({
    ...{ kind: "cylinder", id: "upright", bore: 63, rod: 36, retracted: 400, stroke: 250 },
    ends: [
      { on: "frame", at: [0, 0] },
      { on: "blade", at: [0, 500] },
    ],
  });
  assert.deepEqual(strokeRange(cylinder), [-100, 150]);
});

test("cylinders take the first hues", () => {
  const mount = mountNamed("3-twin-cylinders");
  const numbers = hues(mount);
  const cylinders = mount.members.filter((each) => each.kind === "cylinder");
  assert.deepEqual(
    cylinders.map((each) => numbers.get(each.id)),
    [0, 1],
  );
});
