/** Guesses of a class, and how they lie beside the answer. */

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  MOST_TYPED,
  NO_GUESSES,
  guessesOf,
  laid,
  ticks,
  withSent,
  withTyped,
  withoutLast,
} from "../../static/core/guesses.js";

test("typed and sent guesses of one question stand together, smallest first", () => {
  const typed = withTyped(withTyped(NO_GUESSES, "how far?", 3), "how far?", -1);
  const both = withSent(typed, "how far?", [2, 5]);
  assert.deepEqual(guessesOf(both, "how far?"), [-1, 2, 3, 5]);
  assert.deepEqual(guessesOf(withoutLast(both), "how far?"), [2, 3, 5]);
});

test("another question begins without guesses", () => {
  const first = withTyped(NO_GUESSES, "how far?", 3);
  assert.deepEqual(guessesOf(first, "how many times?"), []);
  assert.deepEqual(withTyped(first, "how many times?", 6).typed, [6]);
  assert.deepEqual(withSent(first, "how many times?", [1]), { of: "how many times?", typed: [], sent: [1] });
});

test("no more are typed than a class has heads", () => {
  let guesses = NO_GUESSES;
  for (let each = 0; each < MOST_TYPED + 5; each += 1) guesses = withTyped(guesses, "?", each);
  assert.equal(guesses.typed.length, MOST_TYPED);
});

test("answer and guesses lie in order along the scale", () => {
  const along = laid([-2, 1, 4], -1.7, 0);
  const shares = along.dots.map((each) => each.share);
  assert.deepEqual(
    [...shares].sort((a, b) => a - b),
    shares,
  );
  assert.ok(along.at(-2) < along.at(-1.7) && along.at(-1.7) < along.at(1));
  assert.ok(along.dots.every((each) => !each.beyond));
});

test("guesses that are alike stand over one another", () => {
  const along = laid([6, 6, 6, 1], 6, 0);
  assert.deepEqual(
    along.dots.map((each) => each.level),
    [0, 1, 2, 0],
  );
  assert.equal(along.levels, 3);
});

test("a wild guess stands at the edge and does not squeeze the others", () => {
  const along = laid([4, 5, 6, 7, 1e6], 6, 0);
  assert.deepEqual(
    along.dots.map((each) => each.beyond),
    [false, false, false, false, true],
  );
  assert.equal(along.dots.at(-1)?.share, 1);
  assert.ok(along.to < 20);
});

test("an answer alone has a scale, and so has one of zero", () => {
  for (const [guesses, answer] of /** @type {[number[], number][]} */ ([
    [[], 0],
    [[0], 0],
    [[], -3],
  ])) {
    const along = laid(guesses, answer, 0);
    assert.ok(along.to > along.from);
    assert.ok(along.at(answer) > 0 && along.at(answer) < 1);
  }
});

test("ticks are round, and no more than asked for", () => {
  assert.deepEqual(ticks(-0.5, 6.4, 4), [0, 2, 4, 6]);
  for (const to of [0.013, 0.7, 9.9, 4400]) {
    const found = ticks(0, to, 4);
    assert.ok(found.length >= 2 && found.length <= 5, String(found));
  }
});
