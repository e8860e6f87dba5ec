/** How a mount stands to a goal, in words and in either system of units. */

import assert from "node:assert/strict";
import { test } from "node:test";
import { goalWords, metWords, standingWords } from "../../static/values/goals.js";

/**
 * @param {GoalWhat} what @param {number} most @param {number|null} value @param {GoalOver} [over]
 * @returns {GoalRead}
 */
const read = (what, most, value, over = "pose") => ({
  what,
  most,
  over,
  value,
  met: value === null ? null : value <= most,
});

test("a missed goal says by how much", () => {
  assert.deepEqual(standingWords(read("error", 3, 4.25), "metric"), {
    mark: "missed",
    value: "4.25\u00a0mm",
    words: "missed by 1.25\u00a0mm",
  });
});

test("a goal that is missed by a hair says so with as many decimals as that takes", () => {
  assert.equal(standingWords(read("coupling", 0.1, 0.1004), "metric").words, "missed by 0.0004");
});

test("a met goal says what is to spare, in inches for who reads inches", () => {
  assert.equal(standingWords(read("error", 25.4, 12.7), "inch").words, "met, 0.500\u00a0in to spare");
});

test("a goal that is met to the last digit has none to spare", () => {
  assert.equal(standingWords(read("joint use", 0.5, 0.5), "metric").words, "met, none to spare");
});

test("a goal without a number says why rather than passing", () => {
  const standing = standingWords(read("pressure", 16, null, "travel"), "metric");
  assert.equal(standing.mark, "none");
  assert.match(standing.words, /whole travel/);
  const unrated = standingWords(read("joint use", 0.5, null), "metric");
  assert.equal(unrated.words, "not known: it needs a rating at a joint, and a load or a mass with its centre");
});

test("a goal is named with what it is about, how much and where", () => {
  assert.equal(
    goalWords({ what: "load ratio", most: 1.3, over: "travel" }, "metric"),
    "load ratio over the travel at most 1.30",
  );
});

test("goals that are met are counted", () => {
  assert.equal(metWords([read("error", 3, 4), read("coupling", 0.1, 0)]), "1 of 2 goals met.");
  assert.equal(metWords([read("error", 3, 2)]), "The goal is met.");
});
