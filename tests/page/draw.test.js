/** What the drawing tools make of a mount. */

import assert from "node:assert/strict";
import { bodyNames } from "../../static/document/bodies.js";
import { test } from "node:test";

import { TOOLS, addBody, addLink, isLink, renamedBody, withoutBody } from "../../static/document/draw.js";
import { drawnLength } from "../../static/document/mount.js";
import { vocabulary } from "../../static/values/vocabulary.js";
import { mountNamed, shipped } from "./mounts.js";

/** @param {Mount} mount @returns {string[]} */
const ids = (mount) => mount.members.map((each) => each.id);

/** The newest of a mount's members, which has two ends. @param {Mount} mount */
const newest = (mount) => /** @type {Rod|Cylinder} */ (mount.members.at(-1));

test("every kind of member has its tool, and one between two ends is drawn by two places", () => {
  for (const { kind, ends } of vocabulary.members) {
    assert.ok(Object.hasOwn(TOOLS, kind), `${kind} has no tool`);
    assert.equal(isLink(kind), ends.length === 2);
    assert.equal(TOOLS[kind].places, ends.length || 1);
  }
});

test("a new rod takes a name that is free", () => {
  const mount = mountNamed("3-twin-cylinders");
  const hold = (/** @type {string} */ body, /** @type {number} */ x) => ({ body, at: /** @type {const} */ ([x, 100]) });
  const once = addLink(mount, "rod", hold("frame", 0), hold("blade", 300));
  const twice = addLink(once, "rod", hold("frame", 0), hold("blade", 300));
  assert.deepEqual(ids(twice).slice(-2), ["rod 1", "rod 2"]);
  assert.equal(drawnLength(newest(twice)), 300);
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
