/**
 * Drawing by description: what an element is, before it stands on the page.
 * @module values/shapes
 */

/**
 * @typedef {Object<string, string|number|boolean|null|undefined>} Attributes
 * @typedef {{tag: string, attrs: Attributes, kids: Shape[]|string}} Shape
 */

/**
 * Describe an element.
 * @param {string} tag
 * @param {Attributes} [attrs] null, undefined and false leave an attribute out; `key` identifies it among its siblings
 * @param {Shape[]|string} [kids]
 * @returns {Shape}
 */
export function h(tag, attrs = {}, kids = []) {
  return { tag, attrs, kids };
}

/**
 * Round for an attribute: a hundredth of a pixel is enough.
 * @param {number} value
 */
export function px(value) {
  return Math.round(value * 100) / 100;
}

/**
 * A path through points.
 * @param {ReadonlyArray<readonly [number, number]>} points
 * @param {boolean} [closed]
 */
export function through(points, closed = false) {
  return `M${points.map(([x, y]) => `${px(x)} ${px(y)}`).join("L")}${closed ? "Z" : ""}`;
}

/**
 * A straight line.
 * @param {readonly [number, number]} a
 * @param {readonly [number, number]} b
 * @param {Attributes} attrs
 */
export function line(a, b, attrs) {
  return h("line", { x1: px(a[0]), y1: px(a[1]), x2: px(b[0]), y2: px(b[1]), ...attrs });
}

/**
 * A shape that says what it is when the pointer rests on it.
 * @param {string} words
 * @param {Shape} shape
 */
export function explained(words, shape) {
  return h("g", { key: shape.attrs.key }, [h("title", { key: "title" }, words), shape]);
}

/**
 * A text.
 * @param {readonly [number, number]} at
 * @param {string} words
 * @param {Attributes} [attrs]
 */
export function text(at, words, attrs = {}) {
  return h("text", { x: px(at[0]), y: px(at[1]), ...attrs }, words);
}
