/** What a picture is made of, and when a part of it is enough. */

import assert from "node:assert/strict";
import test from "node:test";
import { besideOnly, noting } from "../../static/core/reading.js";
import { firstState } from "../../static/core/store.js";

test("what is read of a state is noted, a spread as all of it", () => {
  /** @type {Set<string>} */
  const read = new Set();
  const state = noting(firstState(), read);
  const { mount } = state;
  assert.equal(mount, null);
  assert.equal(state.travel.plane, null);
  assert.deepEqual([...read], ["mount", "travel"]);
  assert.deepEqual(Object.keys({ ...state }), Object.keys(firstState()));
  assert.ok(read.has("search"));
});

test("a travel that comes changes a part of the picture, with anything else all of it", () => {
  const before = firstState();
  const travel = { ...before.travel };
  assert.deepEqual(besideOnly({ ...before, travel }, before), ["travel"]);
  assert.equal(besideOnly({ ...before }, before), null);
  assert.equal(besideOnly({ ...before, travel, tab: "loads" }, before), null);
});
