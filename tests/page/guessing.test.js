/** While a class guesses, neither the sheet nor what is sent to phones gives an answer away. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { shownOf } from "../../static/pages/sketch/sharing.js";
import { firstState } from "../../static/core/store.js";
import { asking, forward } from "../../static/core/wallsteps.js";
import { mountNamed } from "./mounts.js";

/** A state with numbers that nobody should see. */
function told() {
  const state = firstState();
  state.mount = mountNamed("3-twin-cylinders");
  const readout = { pose: { bodies: {} }, mobility: { members: [] }, coupling: { worst: -0.17 } };
  // any: as much of a readout as is looked at here.
  return { ...state, readout: /** @type {any} */ (readout), answered: /** @type {any} */ (readout) };
}

test("phones are sent the mount as it stands, and its numbers only once they are shown", () => {
  const state = told();
  const asked = { ...state, demo: { ...state.demo, ...asking(state) } };
  assert.deepEqual(shownOf(asked).readout, { pose: { bodies: {} }, mobility: { members: [] }, warnings: [] });
  assert.equal(shownOf(asked).answered, null);
  assert.equal(shownOf({ ...asked, demo: { ...asked.demo, ...forward(asked) } }).answered, state.answered);
});
