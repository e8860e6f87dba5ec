/**
 * MathML from the server as shapes: read as XML, and only plain formula elements without attributes are taken over.
 * @module values/math
 */

import { h } from "./shapes.js";

const TOKENS = new Set(["mi", "mn", "mo", "mtext"]);
const LAYOUT = new Set([
  "mrow",
  "mfrac",
  "msub",
  "msup",
  "msubsup",
  "msqrt",
  "munder",
  "mover",
  "munderover",
  "mtable",
  "mtr",
  "mtd",
]);

/** @type {Map<string, string>} */
const NAMELESS = new Map();

/**
 * @param {string} source MathML without its outer element
 * @param {Map<string, string>} [names] what to call elements that look like this, by their shape as JSON
 * @returns {import("./shapes.js").Shape}
 */
export function mathOf(source, names = new Map()) {
  const read = new DOMParser().parseFromString(`<math>${source}</math>`, "application/xml");
  return h("math", { key: "math" }, shapes(read.documentElement, names));
}

/** @param {Element} parent @param {Map<string, string>} names @returns {import("./shapes.js").Shape[]} */
function shapes(parent, names) {
  return [...parent.children].flatMap((element) => {
    const tag = element.localName;
    if (!TOKENS.has(tag) && !LAYOUT.has(tag)) return [];
    // What stands inside a symbol with an index is part of that symbol's name.
    const inner = tag === "msub" || tag === "msubsup" ? NAMELESS : names;
    const shape = h(tag, {}, TOKENS.has(tag) ? (element.textContent ?? "") : shapes(element, inner));
    const symbol = tag === "msubsup" && Array.isArray(shape.kids) ? h("msub", {}, shape.kids.slice(0, 2)) : shape;
    const name = names.get(JSON.stringify(h("math", { key: "math" }, [plain(symbol)])));
    return [name === undefined ? shape : h(tag, { class: "highlights", "data-highlight": name }, shape.kids)];
  });
}

/**
 * A shape without names inside it.
 * @param {import("./shapes.js").Shape} shape
 * @returns {import("./shapes.js").Shape}
 */
function plain(shape) {
  return h(shape.tag, {}, typeof shape.kids === "string" ? shape.kids : shape.kids.map(plain));
}
