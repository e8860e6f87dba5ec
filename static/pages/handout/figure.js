/**
 * A number of the readout in print: it knows its place there, and its value unrounded.
 * @module pages/handout/figure
 */

import { at } from "./at.js";
import { h } from "../../values/shapes.js";
import { amount } from "../../values/units.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */

/**
 * @param {import("./state.js").Printed} state @param {(string|number)[]} path place in the readout
 * @param {import("../../values/units.js").Quantity} quantity
 * @param {{sign?: boolean, digits?: number, size?: boolean}} [how] size: without its sign
 */
export function figure(state, path, quantity, how = {}) {
  const value = at(state.answered, path);
  return given(path, value, amount(how.size && value !== null ? Math.abs(value) : value, quantity, state.system, how));
}

/**
 * A number shown in words of one's own.
 * @param {(string|number)[]} path
 * @param {number|null|undefined} value
 * @param {string} shown
 */
export function given(path, value, shown) {
  return h(
    "output",
    { key: JSON.stringify(path), "data-path": JSON.stringify(path), "data-value": value ?? "" },
    shown,
  );
}

/** Words and numbers in a row. @param {(string|Shape)[]} parts @returns {Shape[]} */
export function sentence(parts) {
  return parts.map((part, index) =>
    typeof part === "string" ? h("span", { key: index }, part) : { ...part, attrs: { ...part.attrs, key: index } },
  );
}
