/** Lines of equal value and areas between values over a grid, from surfaces whose lines are known. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { areaBetween, areaWithout, linesAt, roundLevels } from "../../static/values/contours.js";

/** @typedef {import("../../static/values/contours.js").Place} Place */

/** A grid of a function of column and row. @param {number} size @param {(x: number, y: number) => number} of */
function gridOf(size, of) {
  const values = new Float64Array(size * size);
  for (let row = 0; row < size; row += 1)
    for (let column = 0; column < size; column += 1) values[row * size + column] = of(column, row);
  return { wide: size, high: size, values };
}

/** @param {Place[]} shape */
function areaOf(shape) {
  const twice = shape.map(([x, y], index) => {
    const [nextX, nextY] = shape[(index + 1) % shape.length];
    return x * nextY - nextX * y;
  });
  return Math.abs(twice.reduce((sum, each) => sum + each, 0)) / 2;
}

/** @param {Place[][]} shapes */
const wholeOf = (shapes) => shapes.reduce((sum, each) => sum + areaOf(each), 0);

test("a plane has one straight line at each value, from edge to edge", () => {
  const lines = linesAt(
    gridOf(9, (x, y) => x + 2 * y),
    7.5,
  );
  assert.equal(lines.length, 1);
  for (const [x, y] of lines[0]) assert.ok(Math.abs(x + 2 * y - 7.5) < 1e-12);
  const ends = [lines[0][0], lines[0][lines[0].length - 1]].map(([x]) => x).sort();
  assert.deepEqual(ends, [0, 7.5]);
});

test("a hill has one closed line, as long as its circle", () => {
  const lines = linesAt(
    gridOf(81, (x, y) => Math.hypot(x - 40, y - 40)),
    25,
  );
  assert.equal(lines.length, 1);
  const [line] = lines;
  assert.deepEqual(line[0], line[line.length - 1]);
  const length = line
    .slice(1)
    .reduce((sum, [x, y], index) => sum + Math.hypot(x - line[index][0], y - line[index][1]), 0);
  assert.ok(Math.abs(length - 50 * Math.PI) < 0.1);
});

test("at a saddle two lines pass each other and neither ends there", () => {
  const lines = linesAt(
    gridOf(10, (x, y) => (x - 4.5) * (y - 4.5)),
    0.1,
  );
  assert.equal(lines.length, 2);
  for (const line of lines)
    for (const [x, y] of [line[0], line[line.length - 1]]) assert.ok([x, y].some((each) => each === 0 || each === 9));
});

test("there is no line where there is no number", () => {
  const grid = gridOf(9, (x, y) => (x > 4 ? NaN : y));
  const [line] = linesAt(grid, 3.5);
  assert.deepEqual([Math.min(...line.map(([x]) => x)), Math.max(...line.map(([x]) => x))], [0, 4]);
});

test("what is inside and outside a value makes up the whole, each as large as it is", () => {
  const grid = gridOf(41, (x, y) => Math.hypot(x - 20, y - 20));
  const inside = wholeOf(areaBetween(grid, -Infinity, 15));
  const outside = wholeOf(areaBetween(grid, 15, Infinity));
  assert.ok(Math.abs(inside + outside - 1600) < 1e-9);
  assert.ok(Math.abs(inside - Math.PI * 225) < 2);
});

test("whole squares of a row are one shape", () => {
  assert.equal(
    areaBetween(
      gridOf(41, () => 1),
      0,
      2,
    ).length,
    40,
  );
});

test("where the mount cannot go there is an area of its own, and no other", () => {
  const grid = gridOf(9, (x) => (x > 4 ? NaN : 1));
  assert.equal(wholeOf(areaWithout(grid)), 4 * 8);
  assert.equal(wholeOf(areaBetween(grid, 0, 2)), 4 * 8);
});

test("values are round in the unit that is shown, and no more than asked for", () => {
  assert.deepEqual(roundLevels(-45, 43, 10), {
    step: 10,
    levels: [-40, -30, -20, -10, 0, 10, 20, 30, 40].map((each) => each + 0),
  });
  const inches = roundLevels(-100, 100, 10, 25.4);
  assert.equal(inches.step, 25.4);
  assert.equal(inches.levels.length, 7);
  assert.deepEqual(roundLevels(3, 3, 10).levels, []);
});
