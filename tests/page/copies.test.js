/** Copies of what is picked, beside it and on the other side, with what is held between them. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { bodyNames } from "../../static/document/bodies.js";
import { duplicated, mirrored } from "../../static/document/copies.js";
import { partnerOf } from "../../static/document/mirror.js";
import { mountNamed } from "./mounts.js";

/** @param {Mount} mount @returns {string[]} */
const ids = (mount) => mount.members.map((each) => each.id);

/** The newest of a mount's members, which has two ends. @param {Mount} mount */
const newest = (mount) => /** @type {Rod|Cylinder} */ (mount.members.at(-1));

/** @param {string[]} names @returns {import("../../static/document/copies.js").Picked} */
const members = (...names) => ({ members: new Set(names), lines: new Set() });

/** A mount with its left cylinder alone, held. @param {Dimension[]} dimensions @returns {Mount} */
const heldLeft = (...dimensions) => {
  const mount = mountNamed("3-twin-cylinders");
  return { ...mount, members: mount.members.slice(0, 1), dimensions };
};

test("copies stand beside the originals under names of their own", () => {
  const mount = mountNamed("3-twin-cylinders");
  const original = /** @type {Cylinder} */ (mount.members[0]);
  const next = duplicated(mount, members("left cylinder"), 40);
  assert.equal(newest(next).id, "left cylinder 1");
  assert.equal(newest(next).ends[0].at[0], original.ends[0].at[0] + 40);
});

test("what is mirrored lies as far on the other side, and what is mirrored twice where it was", () => {
  const mount = { ...mountNamed("3-twin-cylinders"), members: mountNamed("3-twin-cylinders").members.slice(0, 1) };
  const next = mirrored(mount, members("left cylinder"));
  assert.deepEqual(ids(next), ["left cylinder", "right cylinder"]);
  assert.equal(partnerOf(next, "left cylinder / 1"), "right cylinder / 1");
  const back = mirrored(next, members("right cylinder"));
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
  const all = ["crank pivot", "crank cylinder", "drop rod"];
  const next = mirrored(mount, members(...all));
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
  assert.deepEqual(bodyNames(mirrored(mount, members("drop rod"))), ["crank"]);
});

test("what is held between what is mirrored is held on the other side too, and to the other end of the blade", () => {
  const mount = heldLeft(
    { between: ["left cylinder / 1", "left cylinder / 2"], way: "level" },
    { between: ["left cylinder / 2", "blade / left"], way: "upright" },
  );
  assert.deepEqual(mirrored(mount, members("left cylinder")).dimensions?.slice(2), [
    { between: ["right cylinder / 1", "right cylinder / 2"], way: "level" },
    { between: ["right cylinder / 2", "blade / right"], way: "upright" },
  ]);
  assert.deepEqual(duplicated(mount, members("left cylinder"), 40).dimensions?.slice(2), [
    { between: ["left cylinder 1 / 1", "left cylinder 1 / 2"], way: "level" },
  ]);
});

test("a mirrored dimension that the others settle is left out", () => {
  const mount = heldLeft(
    { between: ["left cylinder / 2", "blade / left"], way: "level" },
    { between: ["left cylinder / 2", "blade / right"], way: "level" },
  );
  assert.deepEqual(mirrored(mount, members("left cylinder")).dimensions?.slice(2), [
    { between: ["right cylinder / 2", "blade / right"], way: "level" },
  ]);
});

test("construction lines are mirrored too, but for those that lie on themselves", () => {
  const construction = [{ at: [-300, 500], angle: 30 }, { at: [-200, 700] }, { at: [-100, 900], angle: 0 }];
  const mount = /** @type {Mount} */ ({ ...mountNamed("3-twin-cylinders"), construction });
  const next = mirrored(mount, { members: new Set(), lines: new Set([0, 1, 2]) });
  assert.deepEqual(next.construction?.slice(3), [{ at: [300, 500], angle: 150 }, { at: [200, 700] }]);
  const beside = duplicated(mount, { members: new Set(), lines: new Set([0]) }, 40);
  assert.deepEqual(beside.construction?.slice(3), [{ at: [-260, 460], angle: 30 }]);
});
