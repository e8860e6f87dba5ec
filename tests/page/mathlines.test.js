/** A formula broken where a line may end. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { piecesOf } from "../../static/values/mathlines.js";
import { h } from "../../static/values/shapes.js";

const mo = (/** @type {string} */ sign) => h("mo", {}, sign);
const mn = (/** @type {string} */ number) => h("mn", {}, number);
const row = (/** @type {import("../../static/values/shapes.js").Shape[]} */ ...kids) => h("mrow", {}, kids);
const math = (/** @type {import("../../static/values/shapes.js").Shape[]} */ ...kids) => h("math", {}, [row(...kids)]);

/** Its letters in a row. @param {import("../../static/values/shapes.js").Shape} shape @returns {string} */
function letters({ kids }) {
  return typeof kids === "string" ? kids : kids.map(letters).join("");
}

/** @param {import("../../static/values/shapes.js").Shape} whole @param {number} [widest] */
function pieces(whole, widest) {
  return piecesOf(whole, widest).map(letters);
}

test("a line may end before a sign between two numbers, never within brackets or after a sign", () => {
  const negative = row(mo("("), row(mo("−"), mn("850")), mo(")"));
  const sum = row(mn("2"), mo("·"), row(mo("("), mn("3"), mo("−"), negative, mo(")")), mo("+"), mn("4"));
  assert.deepEqual(pieces(math(mo("="), sum)), ["=2", "·(3−(−850))", "+4"]);
  assert.deepEqual(pieces(math(mo("="), row(mo("−"), mn("5")))), ["=−5"]);
});

test("a sign that begins a piece keeps the room on both sides that it has in the whole", () => {
  const [, second] = piecesOf(math(mn("1"), mo("+"), mn("2")));
  assert.deepEqual(second.kids, [row(h("mo", { form: "infix" }, "+"), mn("2"))]);
});

test("a fraction too wide for the wall becomes a quotient, within whose brackets a line may end", () => {
  const fraction = h("mfrac", {}, [row(mn("123456"), mo("+"), mn("654321")), row(mn("2"))]);
  assert.deepEqual(pieces(math(mo("="), fraction)), ["=123456+6543212"]);
  assert.deepEqual(pieces(math(mo("="), fraction), 4), ["=(123456", "+654321)/2"]);
});
