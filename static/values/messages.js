/**
 * Messages of the server's: a sentence with places, filled in with the reader's units.
 * @module values/messages
 */

import { own } from "./own.js";
import { amount, inTrade } from "./units.js";
import { vocabulary } from "./vocabulary.js";

/** @typedef {import("./units.js").Quantity} Quantity */
/** @typedef {[number|string, string]} Value a number and its quantity, or a word and what it names */
/** @typedef {{text: string, values: Record<string, Value>}} Sentence */

/**
 * A whole sentence. What stands in braces and is no value stays as it is.
 * @param {Sentence} message
 * @param {System} system
 * @param {(joint: string) => string} [jointName] what a joint is called on the panels
 */
export function filled({ text, values }, system, jointName = (joint) => joint) {
  return inTrade(text, system).replace(/\{(\w+)\}/g, (place, name) => {
    const value = own(values, name);
    if (!value) return place;
    const [what, kind] = value;
    if (typeof what === "string") return kind === "joint" ? jointName(what) : what;
    return precise(what, /** @type {Quantity} */ (kind), system);
  });
}

/**
 * A number with the decimals of its quantity, and more where fewer than two figures would be left: 0.004 mm, not
 * 0.00 mm.
 * @param {number} value @param {Quantity} quantity @param {System} system
 */
export function precise(value, quantity, system) {
  const { factor, digits } = vocabulary.quantities[quantity][system];
  const size = Math.abs(value) / factor;
  if (!size || !Number.isFinite(size)) return amount(value, quantity, system);
  let places = Math.min(Math.max(digits, 1 - Math.floor(Math.log10(size))), 20);
  while (places > digits && Number(size.toFixed(places - 1)) === Number(size.toFixed(places))) places -= 1;
  return amount(value, quantity, system, { digits: places });
}

/** A sentence as it stands at the head of a line. @param {string} words */
export function asSentence(words) {
  return words.replace(/^./u, (letter) => letter.toUpperCase());
}
