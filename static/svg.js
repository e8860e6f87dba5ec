/**
 * Drawing by description: a renderer returns shapes, `paint` makes the page match them, touching only what changed.
 * @module svg
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

/** @type {Record<string, string>} */
const SPACES = { svg: "http://www.w3.org/2000/svg", math: "http://www.w3.org/1998/Math/MathML" };

/** @type {WeakMap<Element, Attributes>} */
const painted = new WeakMap();
/** What an element was last painted from: a shape that is kept and given again is not gone through again. @type {WeakMap<Element, Shape>} */
const last = new WeakMap();

/**
 * Make the children of an element match the shapes, keeping elements whose key and tag are the same.
 * @param {Element} parent
 * @param {Shape[]} shapes
 */
export function paint(parent, shapes) {
  const old = new Map();
  for (const child of [...parent.children]) {
    const key = keyOf(child);
    // A name that stands twice in a refused document gives a key twice: the second is made anew each time.
    if (old.has(key)) child.remove();
    else old.set(key, child);
  }
  /** @type {Element|null} */
  let before = null;
  shapes.forEach((shape, index) => {
    const key = `${shape.tag}:${shape.attrs.key ?? index}`;
    let element = old.get(key);
    if (element) old.delete(key);
    else {
      element = document.createElementNS(SPACES[shape.tag] ?? parent.namespaceURI, shape.tag);
      element.__key = key;
    }
    if (last.get(element) !== shape) {
      dress(element, shape.attrs);
      if (typeof shape.kids === "string") {
        if (element.textContent !== shape.kids || element.childElementCount) element.textContent = shape.kids;
      } else if (shape.kids.length || element.childElementCount) paint(element, shape.kids);
      last.set(element, shape);
    }
    const next = before ? before.nextElementSibling : parent.firstElementChild;
    if (next !== element) parent.insertBefore(element, next);
    before = element;
  });
  for (const child of old.values()) child.remove();
}

/** @param {any} element */
function keyOf(element) {
  return element.__key ?? element;
}

/**
 * @param {Element} element
 * @param {Attributes} attrs
 */
function dress(element, attrs) {
  const before = painted.get(element) ?? {};
  for (const name in before) {
    if (!(name in attrs)) element.removeAttribute(name);
  }
  for (const [name, value] of Object.entries(attrs)) {
    if (name === "key" || before[name] === value) continue;
    if (value === null || value === undefined || value === false) element.removeAttribute(name);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  painted.set(element, attrs);
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
  return h("g", { key: shape.attrs.key, class: "explained" }, [h("title", { key: "title" }, words), shape]);
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
