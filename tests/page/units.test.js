/** What is typed and shown in either system of units. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { DASH, amount, inward, number, outward, read, unit } from "../../static/values/units.js";

/** @type {import("../../static/values/units.js").Quantity[]} */
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

test("feet, inches and fractions are read as a tape measure has them", () => {
  for (const [typed, inches] of /** @type {const} */ ([
    ["2' 9 1/2\"", 33.5],
    ["33-1/2", 33.5],
    ["-1/8", -0.125],
  ])) {
    const mm = read(typed, "fine", "inch");
    assert.ok(mm !== null && Math.abs(mm - inches * 25.4) < 1e-9, `${typed} is ${mm} mm`);
  }
});

test("what is no number of its kind is not read", () => {
  for (const typed of ["", "far", "1 2", "1/0", "3 kg", "1e999", "-1,200"])
    assert.equal(read(typed, "fine", "metric"), null);
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
