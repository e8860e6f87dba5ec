/** What the drawing tools make of a mount. */

import assert from "node:assert/strict";
import { bodyNames } from "../../static/document/bodies.js";
import { test } from "node:test";

import { addBody, addLink, duplicated, mirrored, renamedBody, withoutBody } from "../../static/document/draw.js";
import { drawnLength } from "../../static/document/mount.js";
import { partnerOf } from "../../static/document/mirror.js";
import { mountNamed, shipped } from "./mounts.js";

/** @param {Mount} mount @returns {string[]} */
const ids = (mount) => mount.members.map((each) => each.id);

/** The newest of a mount's members, which has two ends. @param {Mount} mount */
const newest = (mount) => /** @type {Rod|Cylinder} */ (mount.members.at(-1));

test("a new rod takes a name that is free", () => {
  const mount = mountNamed("3-twin-cylinders");
  const hold = (/** @type {string} */ body, /** @type {number} */ x) => ({ body, at: /** @type {const} */ ([x, 100]) });
  const once = addLink(mount, "rod", hold("frame", 0), hold("blade", 300));
  const twice = addLink(once, "rod", hold("frame", 0), hold("blade", 300));
  assert.deepEqual(ids(twice).slice(-2), ["rod 1", "rod 2"]);
  assert.equal(drawnLength(newest(twice)), 300);
});

test("copies stand beside the originals under names of their own", () => {
  const mount = mountNamed("3-twin-cylinders");
  const original = /** @type {Cylinder} */ (mount.members[0]);
  const next = duplicated(mount, new Set(["left cylinder"]), 40);
  assert.equal(newest(next).id, "left cylinder 1");
  assert.equal(newest(next).ends[0].at[0], original.ends[0].at[0] + 40);
});

test("what is mirrored lies as far on the other side, and what is mirrored twice where it was", () => {
  const mount = { ...mountNamed("3-twin-cylinders"), members: mountNamed("3-twin-cylinders").members.slice(0, 1) };
  const next = mirrored(mount, new Set(["left cylinder"]));
  assert.deepEqual(ids(next), ["left cylinder", "right cylinder"]);
  assert.equal(partnerOf(next, "left cylinder / 1"), "right cylinder / 1");
  const back = mirrored(next, new Set(["right cylinder"]));
  assert.deepEqual(newest(back).ends, mount.members[0].ends);
});

test("a crank that is mirrored with all its members is a body of its own, and what is shared stays shared", () => {
  const drawn = mountNamed("6-crank-and-drop-rod");
  const mount = {
    ...drawn,
    outlines: [
      {
        body: "crank",
        points: /** @type {[number, number][]} */ ([
          [-900, 900],
          [-500, 900],
          [-500, 1300],
        ]),
      },
    ],
  };
  const all = new Set(["crank pivot", "crank cylinder", "drop rod"]);
  const next = mirrored(mount, all);
  assert.deepEqual(bodyNames(next), ["crank", "crank 1"]);
  const copies = next.members.slice(mount.members.length);
  assert.deepEqual(copies.flatMap((each) => each.joins ?? each.ends.map((end) => end.on)).sort(), [
    "blade",
    "crank 1",
    "crank 1",
    "crank 1",
    "frame",
    "frame",
  ]);
  assert.deepEqual(next.outlines?.[1], {
    body: "crank 1",
    points: [
      [900, 900],
      [500, 900],
      [500, 1300],
    ],
  });
  assert.deepEqual(bodyNames(mirrored(mount, new Set(["drop rod"]))), ["crank"]);
});

test("a body that is renamed is renamed wherever it is held, and one that is gone takes its members along", () => {
  for (const [name, mount] of shipped().filter(([, each]) => each.bodies?.length)) {
    const [body] = bodyNames(mount);
    const renamed = JSON.stringify(renamedBody(mount, body, "new name").members);
    assert.ok(!renamed.includes(`"on":"${body}"`), name);
    assert.ok(!JSON.stringify(withoutBody(mount, body).members).includes(`"${body}"`), name);
  }
});

test("a new body takes a name that is free", () => {
  const { mount, name } = addBody(addBody(mountNamed("3-twin-cylinders")).mount);
  assert.equal(name, "body 2");
  assert.deepEqual(mount.bodies, ["body 1", "body 2"]);
});
