/** What is typed and shown in either system of units. */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { DASH, amount, inward, isUnsure, number, outward, read, unit } from "../../static/values/units.js";

/** @typedef {import("../../static/values/units.js").Quantity} Quantity */

/** @type {[string, Quantity, System, number|null][]} */
const EXAMPLES = JSON.parse(readFileSync(new URL("../typed_numbers.json", import.meta.url), "utf8"));

/** @type {Quantity[]} */
const QUANTITIES = [
  "error",
  "length",
  "fine",
  "force",
  "pressure",
  "modulus",
  "mass",
  "area",
  "volume",
  "flow",
  "speed",
];

test("what a field shows is read back as the same number in either system", () => {
  for (const quantity of QUANTITIES) {
    for (const system of /** @type {const} */ (["metric", "inch"])) {
      const shown = outward(inward(12.5, quantity, system), quantity, system);
      const back = read(shown, quantity, system);
      assert.equal(shown, "12.5");
      assert.ok(back !== null && Math.abs(back - inward(12.5, quantity, system)) < 1e-9, `${quantity} ${system}`);
    }
  }
});

test("a typed number is read as the table has it that the server is held to as well", () => {
  for (const [typed, quantity, system, value] of EXAMPLES) {
    const read_ = read(typed, quantity, system);
    if (value === null) assert.equal(read_, null, typed);
    else assert.ok(read_ !== null && Math.abs(read_ - value) <= 1e-12 * Math.abs(value), `${typed} is ${read_}`);
  }
});

test("a comma that may part thousands or decimals is told apart from what is no number at all", () => {
  for (const typed of ["1,200", "-29,700 ksi", "1,200 mm"]) assert.ok(isUnsure(typed), typed);
  for (const typed of ["1,20", "0,125", "far", "29,700,000", ""]) assert.ok(!isUnsure(typed), typed);
});

test("a number that is not known is a dash without a unit", () => {
  for (const value of [null, undefined, NaN, Infinity]) assert.equal(amount(value, "force", "metric"), DASH);
});

test("a number that rounds to zero carries no sign", () => {
  assert.equal(number(-0.004, "error", "metric", { sign: true }), "0.00");
  assert.equal(number(0.006, "error", "metric", { sign: true }), "+0.01");
  assert.equal(number(-0.006, "error", "metric"), "−0.01");
});

test("every quantity has its unit in both systems", () => {
  assert.deepEqual(
    QUANTITIES.map((quantity) => unit(quantity, "inch")),
    ["in", "in", "in", "lbf", "psi", "psi", "lb", "in²", "in³", "gal/min", "in/s"],
  );
});
