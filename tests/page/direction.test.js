/** Which way a slide runs, turned by its handle. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { directionDegrees, directionName, directionTurned, withTurned } from "../../static/document/direction.js";
import { partnerOf, turnedAlike } from "../../static/document/mirror.js";
import { handle, moved } from "../../static/document/mount.js";
import { mountNamed } from "./mounts.js";

const mount = mountNamed("2-pivot-on-carriage");
const index = mount.members.findIndex((each) => each.kind === "slide");
const name = directionName(index);

/** @param {Mount} mount */
const slideOf = (mount) => /** @type {Slide} */ (mount.members[index]);

test("the handle stands on the guide, and dragged level turns the slide level exactly", () => {
  assert.equal(handle(mount, name)?.at[0], slideOf(mount).at[0]);
  const [x, y] = slideOf(mount).at;
  assert.deepEqual(slideOf(moved(mount, name, [x - 300, y])).direction, [1, 0]);
  assert.equal(partnerOf(mount, name), null);
});

test("keys turn it by steps, and a half turn is the same guide", () => {
  assert.equal(directionDegrees(slideOf(withTurned(mount, name, -5))), 85);
  assert.deepEqual(slideOf(directionTurned(mount, index, 270)).direction, [0, 1]);
});

test("while both sides are alike the slide on the other side turns the mirrored way", () => {
  const [x, y] = slideOf(mount).at;
  const one = { ...slideOf(mount), at: /** @type {[number, number]} */ ([x - 200, y]) };
  const other = { ...one, id: "other", at: /** @type {[number, number]} */ ([x + 200, y]) };
  const members = mount.members.map((each, at) => (at === index ? one : each));
  const both = { ...mount, alike: true, members: [...members, other] };
  const next = turnedAlike(directionTurned(both, index, 60), name);
  assert.equal(directionDegrees(/** @type {Slide} */ (next.members.at(-1))), 120);
  const alone = directionTurned({ ...both, alike: undefined }, index, 60);
  assert.equal(turnedAlike(alone, name), alone);
});
