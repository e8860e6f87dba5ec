/** What a designer wishes for, as the browser keeps it. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { NO_WISHES, isIdle, newGoal, readWishes, renamed, unset, withGoal } from "../../static/document/wishes.js";
import { outward } from "../../static/values/units.js";
import { mountNamed } from "./mounts.js";

const twin = mountNamed("3-twin-cylinders");

const WISHES = readWishes({
  goals: [{ what: "error", most: 3, over: "pose" }],
  boxes: [{ joint: "rod / 1", x: [0, 10], y: null, alike: true, whole: false }],
  choices: [{ place: "rod / 2.clearance", choices: [0.1, 0.2], alike: false }],
  locked: ["rod", "pin"],
});

test("the error begins with the mount's own tolerance", () => {
  assert.equal(newGoal({ ...twin, tolerance: 4 }, "error", "metric").most, 4);
  assert.equal(newGoal(twin, "coupling", "metric").most, 0.1);
});

test("a goal begins with a number that is round in the units shown", () => {
  assert.equal(newGoal(twin, "pressure", "metric").most, 16);
  assert.equal(outward(newGoal(twin, "pressure", "inch").most, "pressure", "inch"), "2000");
  assert.equal(outward(newGoal({ ...twin, tolerance: null }, "error", "inch").most, "error", "inch"), "0.125");
});

test("a kind of goal that is set is not offered again", () => {
  assert.ok(!unset(WISHES.goals).includes("error"));
  assert.ok(unset(WISHES.goals).includes("coupling"));
});

test("a goal is changed and the others stay", () => {
  assert.deepEqual(withGoal(WISHES.goals, 0, { over: "travel" }), [{ what: "error", most: 3, over: "travel" }]);
});

test("wishes go with a member that gets another name", () => {
  const next = renamed(WISHES, new Map([["rod", "stay"]]));
  assert.equal(next.boxes[0].joint, "stay / 1");
  assert.equal(next.choices[0].place, "stay / 2.clearance");
  assert.deepEqual(next.locked, ["stay", "pin"]);
});

test("what cannot be read of what was kept is left out", () => {
  const kept = { goals: [{ what: "beauty", most: 1, over: "pose" }, 7], boxes: [{ joint: "a", x: [1] }], locked: [3] };
  assert.ok(isIdle(readWishes(kept)));
  assert.ok(isIdle(readWishes(null)));
  assert.ok(isIdle(NO_WISHES));
});
