/** What is free in a search, as the page keeps it and as the server is asked. */

import assert from "node:assert/strict";
import { test } from "node:test";
import {
  boxAbout,
  boxCorners,
  freeAsked,
  freeCount,
  jointWithin,
  lockedJoints,
  twinPlace,
  withBox,
} from "../../static/document/free.js";
import { NO_WISHES } from "../../static/document/wishes.js";
import { mountNamed } from "./mounts.js";

const twin = mountNamed("3-twin-cylinders");
const pivot = mountNamed("1-centre-pivot");

/** @param {string} joint */
const about = (joint) => /** @type {import("../../static/document/wishes.js").Box} */ (boxAbout(twin, joint, "metric"));

test("a new box is round its joint, and its pair goes with it", () => {
  const box = about("left cylinder / 2");
  assert.deepEqual([box.x, box.y, box.alike], [[-1050, -650], [100, 500], true]);
});

test("a joint without one that mirrors it moves alone", () => {
  assert.equal(boxAbout(pivot, "centre pivot", "metric")?.alike, false);
});

test("a box takes the place of those of the joints it moves", () => {
  const [right, left] = [about("right cylinder / 2"), about("left cylinder / 2")];
  assert.deepEqual(withBox(twin, [right], left), [left]);
});

test("a search is asked for boxes with what goes along, and for choices with the other side", () => {
  const box = { ...about("left cylinder / 2"), y: null, whole: true };
  const choice = { place: "left cylinder.bore", choices: [50, 63], alike: true };
  const asked = freeAsked(twin, { ...NO_WISHES, boxes: [box], choices: [choice] });
  assert.deepEqual(asked, [
    { joint: "left cylinder / 2", x: [-1050, -650], with: ["left cylinder / 1"], alike: true },
    { place: "left cylinder.bore", choices: [50, 63], alike: "right cylinder.bore" },
  ]);
  assert.equal(freeCount(asked), 2);
});

test("what the mount has no more is not asked for", () => {
  const wishes = { ...NO_WISHES, boxes: [about("left cylinder / 2")], choices: [] };
  assert.deepEqual(freeAsked(pivot, wishes), []);
});

test("the box of the other side is the mirrored one", () => {
  const all = boxCorners(twin, about("left cylinder / 2"));
  assert.deepEqual(
    all.map((each) => each.joint),
    ["left cylinder / 2", "right cylinder / 2"],
  );
  assert.deepEqual(
    all[1].corners.map(([x]) => x),
    [1050, 650],
  );
});

test("the other end of a whole member has its box where it stands", () => {
  const [, along] = boxCorners(twin, { ...about("left cylinder / 2"), whole: true });
  assert.deepEqual(along.corners, [
    [-1050, 950],
    [-650, 1350],
  ]);
});

test("a rectangle is about the joint nearest to its middle", () => {
  const joints = /** @type {{name: string, at: [number, number]}[]} */ ([
    { name: "near", at: [48, 52] },
    { name: "far", at: [10, 10] },
  ]);
  assert.equal(jointWithin(joints, [0, 0], [100, 100]), "near");
  assert.equal(jointWithin(joints, [30, 30], [5, 5]), "far");
  assert.equal(jointWithin(joints, [200, 200], [300, 300]), null);
});

test("a locked member has all its joints locked", () => {
  const names = lockedJoints(twin, ["side stay", "left cylinder / 1"]).map((each) => each.name);
  assert.deepEqual(names, ["left cylinder / 1", "side stay / 1", "side stay / 2"]);
});

test("a number's twin is that of the member on the other side", () => {
  assert.equal(twinPlace(twin, "left cylinder / 1.clearance"), "right cylinder / 1.clearance");
  assert.equal(twinPlace(pivot, "tilt cylinder.bore"), null);
});
