/** What joints are called, in the document's answers and on the sheet. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { joints } from "../../static/document/joints.js";
import { handles } from "../../static/document/mount.js";
import { jointId, splitJoint } from "../../static/values/joint.js";
import { shipped } from "./mounts.js";

test("the ends of a rod are its name and a number, a pin goes by its own", () => {
  assert.equal(jointId("side stay", 2), "side stay / 2");
  assert.equal(jointId("ball"), "ball");
});

test("a joint is taken apart as it was put together", () => {
  for (const member of ["side stay", "a / b", "2"]) {
    for (const end of [1, 2]) assert.deepEqual(splitJoint(jointId(member, end)), [member, String(end)]);
  }
  assert.deepEqual(splitJoint("ball"), ["ball", ""]);
});

test("every joint of every shipped mount has a handle of the same name", () => {
  for (const [name, mount] of shipped()) {
    const held = new Set(handles(mount).map((each) => each.name));
    assert.deepEqual(
      joints(mount).filter((each) => !held.has(each.name)),
      [],
      name,
    );
  }
});
