/** Construction lines and points, and what rests on them. */

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  constructionLines,
  constructionPoints,
  footOn,
  lineName,
  meeting,
  withLine,
  withoutLine,
} from "../../static/document/construction.js";
import { partnerOf } from "../../static/document/mirror.js";
import { handle, moved } from "../../static/document/mount.js";
import { snap } from "../../static/sheet/snap.js";
import { mountNamed } from "./mounts.js";

const plain = mountNamed("3-twin-cylinders");
const mount = withLine(withLine(withLine(plain, [0, 705], 0), [123, 0], 270), [50, 60]);
const HOW = { grid: 10, near: 9, others: [], lines: constructionLines(mount) };

test("lines and points are kept apart, and an angle is kept within half a turn", () => {
  assert.deepEqual(constructionLines(mount), [
    { at: [0, 705], angle: 0 },
    { at: [123, 0], angle: 90 },
  ]);
  assert.deepEqual(constructionPoints(mount), [[50, 60]]);
});

test("what is near a line rests on it, on the grid along it, and where lines meet on both", () => {
  assert.deepEqual(snap([317, 701], HOW).at, [320, 705]);
  assert.deepEqual(snap([126, 42], HOW).at, [123, 40]);
  assert.deepEqual(snap([126, 701], HOW).at, [123, 705]);
  assert.deepEqual(snap([317, 690], HOW).at, [320, 690]);
});

test("slanting lines are rested on and met exactly", () => {
  const slanting = { at: /** @type {[number, number]} */ ([0, 0]), angle: 45 };
  const [x, y] = footOn(slanting, [100, 0]);
  assert.ok(Math.abs(x - 50) < 1e-9 && Math.abs(y - 50) < 1e-9);
  const met = meeting(slanting, { at: [30, 0], angle: 90 });
  assert.ok(met && Math.abs(met[1] - 30) < 1e-9);
  assert.equal(meeting(slanting, slanting), null);
});

test("a line is moved and taken away like anything picked, and mirrors nothing", () => {
  const next = moved(mount, lineName(1), [200, 5]);
  assert.deepEqual(handle(next, lineName(1))?.at, [200, 5]);
  assert.equal(partnerOf(mount, lineName(2)), null);
  assert.ok(!("construction" in withoutLine(withoutLine(withoutLine(mount, 0), 0), 0)));
});
