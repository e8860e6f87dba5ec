/**
 * Makes the page match a description, touching only what changed.
 * @module core/paint
 */

import { fill } from "./entry.js";

/** @typedef {import("../values/shapes.js").Attributes} Attributes */
/** @typedef {import("../values/shapes.js").Shape} Shape */

/** @type {Record<string, string>} */
const SPACES = { svg: "http://www.w3.org/2000/svg", math: "http://www.w3.org/1998/Math/MathML" };

/**
 * What an element stands for.
 * @typedef {Object} Drawn
 * @property {string} tag
 * @property {unknown} key by which it is known among its siblings
 * @property {Shape|null} shape it was last painted from: one that is kept and given again is not gone through again
 * @property {Attributes} attrs
 * @property {number} count of those
 */

/** @typedef {Element & {__drawn?: Drawn}} Kept an element that was painted */

/**
 * Make the children of an element match the shapes, keeping elements whose key and tag are the same.
 * @param {Element} parent
 * @param {Shape[]} shapes
 */
export function paint(parent, shapes) {
  if (stand(parent, shapes)) {
    let child = parent.firstElementChild;
    for (const shape of shapes) {
      const element = /** @type {Kept} */ (child);
      child = element.nextElementSibling;
      draw(element, shape);
    }
    return;
  }
  /** @type {Map<unknown, Kept>} */
  const old = new Map();
  if (parent.firstChild && !parent.firstElementChild) parent.textContent = "";
  for (const child of /** @type {Kept[]} */ ([...parent.children])) {
    const drawn = child.__drawn;
    const key = drawn ? `${drawn.tag}:${drawn.key}` : child;
    // A name that stands twice in a refused document gives a key twice: the second is made anew each time.
    if (old.has(key)) child.remove();
    else old.set(key, child);
  }
  const keys = shapes.map((shape, index) => `${shape.tag}:${shape.attrs.key ?? index}`);
  // What is gone goes first, so that what stays need not be moved: moving takes the focus away.
  const wanted = new Set(keys);
  for (const [key, child] of old) {
    if (!wanted.has(/** @type {string} */ (key))) child.remove();
  }
  /** @type {Element|null} */
  let before = null;
  shapes.forEach((shape, index) => {
    const { tag, attrs } = shape;
    const known = old.get(keys[index]);
    if (known) old.delete(keys[index]);
    const element = known ?? /** @type {Kept} */ (document.createElementNS(SPACES[tag] ?? parent.namespaceURI, tag));
    element.__drawn ??= { tag, key: attrs.key ?? index, shape: null, attrs: {}, count: 0 };
    draw(element, shape);
    const next = before ? before.nextElementSibling : parent.firstElementChild;
    if (next !== element) parent.insertBefore(element, next);
    before = element;
  });
}

/**
 * Whether the children of an element are those of the shapes already, in their order, as in most pictures.
 * @param {Element} parent @param {Shape[]} shapes
 */
function stand(parent, shapes) {
  let child = parent.firstElementChild;
  if (!child) return !shapes.length && !parent.firstChild;
  for (let index = 0; index < shapes.length; index += 1) {
    const drawn = child && /** @type {Kept} */ (child).__drawn;
    const { tag, attrs } = shapes[index];
    if (!drawn || drawn.tag !== tag || drawn.key !== (attrs.key ?? index)) return false;
    child = /** @type {Element} */ (child).nextElementSibling;
  }
  return !child;
}

/** @param {Kept} element @param {Shape} shape */
function draw(element, shape) {
  const drawn = /** @type {Drawn} */ (element.__drawn);
  const before = drawn.shape;
  if (before === shape) return;
  const entry = isEntry(shape);
  dress(element, drawn, shape.attrs, entry);
  const { kids } = shape;
  if (typeof kids === "string") {
    if (before?.kids !== kids) write(element, kids);
  } else if (kids.length || element.firstChild) paint(element, kids);
  // A choice can be shown once there is something to choose from.
  if (entry && shape.attrs.value !== undefined)
    fill(/** @type {import("./entry.js").Entry} */ (element), String(shape.attrs.value ?? ""));
  drawn.shape = shape;
}

/** Whether it is a field that something is entered in: its value is what stands in it. @param {Shape} shape */
function isEntry({ tag }) {
  return tag === "input" || tag === "select" || tag === "textarea";
}

/**
 * The words of an element that holds nothing else, touched only when they change.
 * @param {Element} element
 * @param {string} words
 */
export function write(element, words) {
  if (element.textContent !== words || element.childElementCount) element.textContent = words;
}

/**
 * An attribute of an element that stands on the page anyway, touched only when it changes.
 * @param {Element} element
 * @param {string} name
 * @param {string|boolean} value true: there, without a value; false: not there
 */
export function mark(element, name, value) {
  const wanted = typeof value === "string" ? value : value ? "" : null;
  if (element.getAttribute(name) === wanted) return;
  if (wanted === null) element.removeAttribute(name);
  else element.setAttribute(name, wanted);
}

/**
 * @param {Element} element
 * @param {Drawn} drawn
 * @param {Attributes} attrs
 * @param {boolean} entry whether its value is what stands in it, which is filled in by itself
 */
function dress(element, drawn, attrs, entry) {
  const before = drawn.attrs;
  let [count, kept] = [0, 0];
  for (const name in attrs) {
    const value = attrs[name];
    count += 1;
    if (name in before) kept += 1;
    if (before[name] === value || name === "key" || (entry && name === "value")) continue;
    if (value === null || value === undefined || value === false) element.removeAttribute(name);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  if (kept < drawn.count) for (const name in before) if (!(name in attrs)) element.removeAttribute(name);
  Object.assign(drawn, { attrs, count });
}
