import assert from "node:assert/strict";
import { test } from "node:test";

import { commandOf } from "../../static/core/variants.js";
import { variantGhosts } from "../../static/sheet/marks/variants.js";
import { mountNamed } from "./mounts.js";

test("a variant is told what its own cylinders of that name are told", () => {
  const names = mountNamed("3-twin-cylinders").members.map((each) => each.id);
  const [left] = names.filter((each) => each.includes("left"));
  assert.deepEqual(commandOf({ [left]: 12, gone: 3 }, mountNamed("3-twin-cylinders")), { [left]: 12 });
  assert.deepEqual(commandOf({ [left]: 0 }, mountNamed("3-twin-cylinders")), {});
});

test("a ghost is one outline of all its bodies and members, and its name", () => {
  const mount = mountNamed("3-twin-cylinders");
  /** @type {(body: string, at: readonly [number, number]) => [number, number]} */
  const place = (_, [x, y]) => [x, -y];
  const scene = /** @type {import("../../static/sheet/scene.js").Scene} */ ({
    variants: [{ id: "b", title: "Low pivot", mount, place }],
  });
  const [outline, name] = variantGhosts(scene);
  const cylinders = mount.members.filter((each) => each.kind === "cylinder").length;
  const closed = String(outline.attrs.d).split("Z").length - 1;
  assert.ok(closed >= 1 + cylinders, `${closed} closed outlines`);
  assert.match(JSON.stringify(name), /Low pivot/);
});
