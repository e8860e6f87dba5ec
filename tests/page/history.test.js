/** Undo and redo. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { DEEPEST, History } from "../../static/core/history.js";

/** A mount that is known by its title. @param {number|string} title @returns {Mount} */
const titled = (title) => ({ format: 1, title: `${title}`, blade: { left: [0, 0], right: [1, 0] }, members: [] });

/** @param {number} count */
function walked(count) {
  const history = new History([{ mount: titled(0), command: {} }]);
  for (let number = 1; number <= count; number += 1) history.push({ mount: titled(number), command: {} });
  return history;
}

test("one goes back to the beginning and forward to the end", () => {
  const history = walked(3);
  assert.deepEqual(
    [-1, -1, -1].map((by) => history.step(/** @type {-1} */ (by))?.mount.title),
    ["2", "1", "0"],
  );
  assert.equal(history.step(-1), null);
  assert.deepEqual(
    [1, 1, 1].map((by) => history.step(/** @type {1} */ (by))?.mount.title),
    ["1", "2", "3"],
  );
  assert.equal(history.step(1), null);
});

test("a change made after going back takes the place of what lay ahead", () => {
  const history = walked(3);
  history.step(-1);
  history.push({ mount: titled("other"), command: {} });
  assert.equal(history.ahead, false);
  assert.equal(history.step(-1)?.mount.title, "2");
});

test("the oldest steps are let go, and the row is said to have changed from its beginning", () => {
  const history = walked(DEEPEST);
  /** @type {number[]} */
  const changed = [];
  history.onChange = (from) => changed.push(from);
  history.push({ mount: titled("newest"), command: {} });
  assert.equal(history.steps.length, DEEPEST + 1);
  assert.equal(history.steps[0].mount.title, "1");
  assert.deepEqual(changed, [0]);
});
