/** Sentences of the page. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { apportion, readoutWords } from "../../static/values/words.js";

test("parts that are shown add up to the total that is shown", () => {
  for (const parts of [[0.004, 0.004, 0.004], [1.005, 2.005, 0.333], [-0.004, 0.009, 0.0051], [0.0], []]) {
    const counts = apportion(parts, 2);
    const sum = (/** @type {number[]} */ each) => each.reduce((total, part) => total + part, 0);
    assert.equal(sum(counts), Math.round(sum(parts) * 100));
    counts.forEach((count, index) => assert.ok(Math.abs(count - 100 * parts[index]) <= 1));
  }
});

test("a number that is not there says why in words", () => {
  const end = { worst: 2 };
  const reason = (/** @type {string} */ text) => ({ code: "", text, members: [], values: {} });
  const answer = /** @type {Located} */ (
    /** @type {unknown} */ ({
      budget: { left: end, right: end, tolerance: null, inside: null },
      coupling: { worst: null, interaction: null, moves: null },
      actuators: {},
      absent: {
        "coupling.worst": reason("no cylinder moves either end"),
        "coupling.moves": reason("one cylinder moves both ends together"),
        "actuators.force": reason("needs a load"),
      },
    })
  );
  assert.deepEqual(readoutWords(answer, "metric"), [
    "coupling no cylinder moves either end",
    "worst edge error 2.00\u00a0mm, right end; no tolerance is set",
    "cylinder load needs a load",
    "to correct one end alone: one cylinder moves both ends together",
  ]);
});
