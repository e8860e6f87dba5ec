/** What a step is called. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { deedOf } from "../../static/document/deeds.js";
import { moved } from "../../static/document/mount.js";
import { withValueAt } from "../../static/document/places.js";
import { mountNamed } from "./mounts.js";

const TWIN = mountNamed("3-twin-cylinders");

/** @param {Mount} mount @param {Command} [command] */
const after = (mount, command = {}) => deedOf({ mount: TWIN, command: {} }, { mount, command });

/** @param {string} id */
const place = (id) => `members[${TWIN.members.findIndex((each) => each.id === id)}]`;

test("a joint that moved is named", () => {
  assert.equal(after(moved(TWIN, "left cylinder / 2", [-900, 210])), "move left cylinder / 2");
  assert.equal(after(moved(TWIN, "blade/left", [-1300, 0])), "move blade, left end");
});

test("of joints that moved together two are named", () => {
  const two = moved(moved(TWIN, "left cylinder / 1", [-800, 1000]), "left cylinder / 2", [-900, 210]);
  assert.equal(after(two), "move left cylinder / 1 and left cylinder / 2");
  const more = moved(two, "right cylinder / 1", [800, 1000]);
  assert.equal(after(more), "move left cylinder / 1, left cylinder / 2 and 1 more");
});

test("members come, go and are renamed by name", () => {
  const [first, ...others] = TWIN.members;
  const without = { ...TWIN, members: others };
  assert.equal(after(without), `take out ${first.id}`);
  assert.equal(deedOf({ mount: without, command: {} }, { mount: TWIN, command: {} }), `add ${first.id}`);
  assert.equal(after({ ...TWIN, members: [{ ...first, id: "lift" }, ...others] }), `rename ${first.id} to lift`);
});

test("a number is named with what it is of", () => {
  assert.equal(after(withValueAt(TWIN, `${place("left cylinder")}.bore`, 90)), "change bore of left cylinder");
  const clearance = `${place("left cylinder")}.ends[1].clearance`;
  assert.equal(after(withValueAt(TWIN, clearance, 1)), "change clearance of left cylinder / 2");
  assert.equal(after(withValueAt(TWIN, "oil.bulk_modulus", 900)), "change the oil");
  assert.equal(after(withValueAt(TWIN, "load", undefined)), "take away the load");
  assert.equal(after({ ...TWIN, title: "Low pivot" }), "change the title");
});

test("strokes are named by cylinder", () => {
  assert.equal(after(TWIN, { "left cylinder": 12 }), "work left cylinder");
  const worked = { mount: TWIN, command: { "left cylinder": 12 } };
  assert.equal(deedOf(worked, { mount: TWIN, command: {} }), "back to as drawn");
});

test("every shipped mount made of another has a name for the step", () => {
  const words = deedOf({ mount: TWIN, command: {} }, { mount: mountNamed("6-crank-and-drop-rod"), command: {} });
  assert.match(words, /^(add|rename|take out) /);
});
