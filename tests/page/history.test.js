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

test("presses of a key within a second of one another are one step, and undo takes them back together", () => {
  const history = walked(1);
  for (const [title, at] of /** @type {const} */ ([
    ["a", 0],
    ["b", 900],
    ["c", 1800],
  ]))
    history.push({ mount: titled(title), command: {} }, "nudge rod / 1", at);
  assert.equal(history.steps.length, 3);
  assert.equal(history.step(-1)?.mount.title, "1");
});

test("a press after a pause, of something else, or after an undo is a step of its own", () => {
  const history = walked(0);
  const press = (/** @type {string} */ title, /** @type {string|null} */ of, /** @type {number} */ at) =>
    history.push({ mount: titled(title), command: {} }, of, at);
  press("a", "nudge rod / 1", 0);
  press("b", "nudge rod / 1", 1001);
  press("c", "nudge rod / 2", 1002);
  press("d", null, 1003);
  press("e", "nudge rod / 2", 1004);
  assert.equal(history.steps.length, 6);
  history.step(-1);
  history.step(1);
  press("f", "nudge rod / 2", 1005);
  assert.equal(history.steps.length, 7);
});

test("a burst says from which step on the row has changed, so that it is kept", () => {
  const history = walked(2);
  /** @type {number[]} */
  const said = [];
  history.onChange = (from) => said.push(from);
  history.push({ mount: titled("a"), command: {} }, "nudge rod / 1", 0);
  history.push({ mount: titled("b"), command: {} }, "nudge rod / 1", 10);
  assert.deepEqual(said, [3, 3]);
});

test("one jumps to any step and on from there", () => {
  const history = walked(4);
  assert.equal(history.jump(1)?.mount.title, "1");
  assert.equal(history.jump(1), null);
  assert.equal(history.jump(9), null);
  assert.equal(history.jump(4)?.mount.title, "4");
});
