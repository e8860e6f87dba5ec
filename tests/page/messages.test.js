/** Messages of the server's, filled in with the reader's units. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { filled, precise } from "../../static/values/messages.js";

test("a value is shown in the reader's units and a word as it is", () => {
  /** @type {import("../../static/values/messages.js").Sentence} */
  const message = {
    text: "'{name}' needs {needed}",
    values: { name: ["tilt {needed}", "word"], needed: [21, "pressure"] },
  };
  assert.equal(filled(message, "metric"), "'tilt {needed}' needs 21.0\u00a0MPa");
  assert.equal(filled(message, "inch"), "'tilt {needed}' needs 3046\u00a0psi");
});

test("a joint is called what the panel calls it", () => {
  /** @type {import("../../static/values/messages.js").Sentence} */
  const message = { text: "joint '{joint}'", values: { joint: ["tilt / 2", "joint"] } };
  assert.equal(
    filled(message, "metric", () => "tilt, rod end"),
    "joint 'tilt, rod end'",
  );
});

test("what stands in braces and is no value stays as it is", () => {
  assert.equal(filled({ text: "a {brace}", values: {} }, "metric"), "a {brace}");
});

test("a small number keeps two figures and no idle zeros", () => {
  assert.equal(precise(0.001, "fine", "metric"), "0.001\u00a0mm");
  assert.equal(precise(0.0042, "error", "metric"), "0.0042\u00a0mm");
  assert.equal(precise(-3, "fine", "metric"), "−3.0\u00a0mm");
  assert.equal(precise(0, "fine", "metric"), "0.0\u00a0mm");
});
