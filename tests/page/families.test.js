import assert from "node:assert/strict";
import { test } from "node:test";

import { arranged, shortened, titleOfCopy } from "../../static/document/families.js";

/** @param {string} id @param {string|null} origin @param {string} family @param {string} [note] */
const kept = (id, origin, family, note = "") => ({ id, title: `mount ${id}`, note, origin, family, changed: "" });

const ENTRIES = [
  kept("4", "2", "3-twin-cylinders"),
  kept("9", null, "9", "the low pivot"),
  kept("2", "3-twin-cylinders", "3-twin-cylinders"),
  kept("10", "2", "3-twin-cylinders"),
];

/** @param {ReturnType<typeof arranged>} found */
const ids = (found) => found.map(({ entry, depth }) => `${"> ".repeat(depth)}${entry.id}`);

test("mounts stand as they were changed, or by title with numbers in order", () => {
  assert.deepEqual(ids(arranged(ENTRIES, "changed")), ["4", "9", "2", "10"]);
  assert.deepEqual(ids(arranged(ENTRIES, "title")), ["2", "4", "9", "10"]);
});

test("variants stand together, each below what it was copied from", () => {
  assert.deepEqual(ids(arranged(ENTRIES, "family")), ["2", "> 4", "> 10", "9"]);
});

test("a search finds mounts with all of its words in title or note", () => {
  assert.deepEqual(ids(arranged(ENTRIES, "changed", "MOUNT pivot ")), ["9"]);
  assert.deepEqual(ids(arranged(ENTRIES, "changed", "mount nothing")), []);
});

test("a variant whose parent is not found stands for itself", () => {
  assert.deepEqual(ids(arranged(ENTRIES, "family", "mount 10")), ["10"]);
});

test("a copy has the next letter that no variant has", () => {
  assert.equal(titleOfCopy("Low pivot", [], 80), "Low pivot, B");
  assert.equal(titleOfCopy("Low pivot, B", ["Low pivot", "Low pivot, B"], 80), "Low pivot, C");
  const all = [..."BCDEFGHIJKLMNOPQRSTUVWXYZ"].map((letter) => `Low pivot, ${letter}`);
  assert.equal(titleOfCopy("Low pivot", all, 80), "Low pivot, 27");
});

test("the title of a copy is no longer than a title may be", () => {
  assert.equal(titleOfCopy("Low pivot 🚜", [], 13), "Low pivot , B");
});

test("a title that is cut keeps the end that tells it from its variants", () => {
  assert.equal(shortened("Two upright cylinders and a side stay, B", 20), "Two upright c…tay, B");
  assert.equal(shortened("Low pivot, B", 20), "Low pivot, B");
});
