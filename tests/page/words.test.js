/** Sentences of the page. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { apportion } from "../../static/values/words.js";

test("parts that are shown add up to the total that is shown", () => {
  for (const parts of [[0.004, 0.004, 0.004], [1.005, 2.005, 0.333], [-0.004, 0.009, 0.0051], [0.0], []]) {
    const counts = apportion(parts, 2);
    const sum = (/** @type {number[]} */ each) => each.reduce((total, part) => total + part, 0);
    assert.equal(sum(counts), Math.round(sum(parts) * 100));
    counts.forEach((count, index) => assert.ok(Math.abs(count - 100 * parts[index]) <= 1));
  }
});
