/** Members copied out of a mount and pasted into one. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { bodyNames } from "../../static/document/bodies.js";
import { copiedText, pasted, readCutting } from "../../static/document/clipboard.js";
import { withHeld } from "../../static/document/dimensions.js";
import { withOutline } from "../../static/document/outlines.js";
import { mountNamed } from "./mounts.js";

/** @param {Mount} mount @param {...string} ids */
function cut(mount, ...ids) {
  const found = readCutting(copiedText(mount, new Set(ids)));
  assert.ok(found);
  return found;
}

const crank = withHeld(
  withOutline(mountNamed("6-crank-and-drop-rod"), "crank", [
    [-900, 900],
    [-500, 900],
    [-500, 1300],
  ]),
  ["drop rod / 1", "drop rod / 2"],
  "along",
);

test("what is pasted into another mount brings its bodies, their outlines and what is held, where it was drawn", () => {
  const twin = mountNamed("3-twin-cylinders");
  const next = pasted(twin, cut(crank, "drop rod", "crank pivot"), 40);
  assert.deepEqual(bodyNames(next), [...bodyNames(twin), "crank"]);
  assert.deepEqual(next.members.slice(twin.members.length), [
    crank.members.find((each) => each.id === "crank pivot"),
    crank.members.find((each) => each.id === "drop rod"),
  ]);
  assert.deepEqual([next.outlines, next.dimensions], [crank.outlines, crank.dimensions]);
});

test("what is pasted where it was copied takes free names and lies beside it, on the same bodies", () => {
  const next = pasted(crank, cut(crank, "drop rod"), 40);
  assert.deepEqual(bodyNames(next), ["crank"]);
  const [was, is] = [crank, next].map(
    ({ members }) => /** @type {Rod} */ (members.findLast((each) => each.kind === "rod")),
  );
  assert.equal(is.id, "drop rod 1");
  const first = /** @type {Rod} */ (crank.members.find((each) => each.id === "drop rod"));
  assert.deepEqual(is.ends[0].at, [first.ends[0].at[0] + 40, first.ends[0].at[1] - 40]);
  assert.notEqual(was, is);
  assert.deepEqual(next.dimensions?.[1].between, ["drop rod 1 / 1", "drop rod 1 / 2"]);
  assert.equal(next.outlines?.length, 1);
});

test("any other text is none of ours", () => {
  for (const text of ["", "12", "null", "{}", "[1]", '{"holds": "blade mount members"}'])
    assert.equal(readCutting(text), null);
});
