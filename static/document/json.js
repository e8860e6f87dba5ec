/**
 * JSON from outside, looked at before it is taken apart: what is larger or nested deeper than any mount is refused, and
 * what no eye sees is marked.
 * @module document/json
 */

import { marked } from "../values/marked.js";

/** As much as the server takes. */
export const LARGEST = 256 * 1024;

/** A mount in a link is seven deep. */
const DEEPEST = 30;

/**
 * @param {string} text @returns {unknown} the value
 * @throws {SyntaxError} where it is no JSON
 * @throws {RangeError} where it is nested too deeply to be a mount
 */
export function fromJson(text) {
  let depth = 0;
  let quoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const letter = text[at];
    if (letter === '"') quoted = !quoted;
    else if (quoted && letter === "\\") at += 1;
    else if (!quoted && (letter === "[" || letter === "{")) depth += 1;
    else if (!quoted && (letter === "]" || letter === "}")) depth -= 1;
    if (depth > DEEPEST) throw new RangeError(`nested more than ${DEEPEST} deep`);
  }
  return JSON.parse(text, (_, value) => (typeof value === "string" ? marked(value) : value));
}
