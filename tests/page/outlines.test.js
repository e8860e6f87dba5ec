/** Outlines drawn by hand. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { renamedBody, withoutBody } from "../../static/document/draw.js";
import { partnerOf } from "../../static/document/mirror.js";
import { handle, moved } from "../../static/document/mount.js";
import {
  cornerAdded,
  cornerName,
  cornerRemoved,
  outlinesOf,
  withOutline,
  withoutOutline,
} from "../../static/document/outlines.js";
import { held } from "../../static/document/settle.js";
import { mountNamed } from "./mounts.js";

/** @type {[number, number][]} */
const CORNERS = [
  [-900, 900],
  [-500, 900],
  [-500, 1300],
];

const plain = mountNamed("6-crank-and-drop-rod");
const mount = withOutline(plain, "crank", CORNERS);

test("an outline is kept with its body, and without one the document says nothing of outlines", () => {
  assert.deepEqual(outlinesOf(mount, "crank"), [CORNERS]);
  assert.deepEqual(outlinesOf(mount, "blade"), []);
  assert.ok(!("outlines" in withoutOutline(mount, 0)));
});

test("a corner is moved like a joint and mirrors nothing", () => {
  const name = cornerName(0, 1);
  const next = moved(mount, name, [-480, 870]);
  assert.deepEqual(handle(next, name)?.at, [-480, 870]);
  assert.equal(handle(next, name)?.body, "crank");
  assert.equal(partnerOf(mount, name), null);
});

test("a corner is added in the middle of its side and taken out again, and of three none is left over", () => {
  const more = cornerAdded(mount, cornerName(0, 2));
  assert.deepEqual(outlinesOf(more, "crank")[0][3], [-700, 1100]);
  const back = cornerRemoved(more, cornerName(0, 3));
  assert.deepEqual(outlinesOf(back, "crank"), [CORNERS]);
  assert.ok(!("outlines" in cornerRemoved(back, cornerName(0, 0))));
});

test("an outline goes with a body that is renamed, and with one that is taken out", () => {
  assert.deepEqual(outlinesOf(renamedBody(mount, "crank", "bell crank"), "bell crank"), [CORNERS]);
  assert.ok(!("outlines" in held(mount, withoutBody(mount, "crank")).mount));
});
