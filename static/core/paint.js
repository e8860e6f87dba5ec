/**
 * Makes the page match a description, touching only what changed.
 * @module core/paint
 */

import { fill } from "./entry.js";

/** @typedef {import("../values/shapes.js").Attributes} Attributes */
/** @typedef {import("../values/shapes.js").Shape} Shape */

/** @type {Record<string, string>} */
const SPACES = { svg: "http://www.w3.org/2000/svg", math: "http://www.w3.org/1998/Math/MathML" };

/** @type {WeakMap<Element, Attributes>} */
const painted = new WeakMap();
/**
 * What an element was last painted from: a shape that is kept and given again is not gone through again.
 * @type {WeakMap<Element, Shape>}
 */
const last = new WeakMap();

/**
 * Make the children of an element match the shapes, keeping elements whose key and tag are the same.
 * @param {Element} parent
 * @param {Shape[]} shapes
 */
export function paint(parent, shapes) {
  const old = new Map();
  if (parent.firstChild && !parent.firstElementChild) parent.textContent = "";
  for (const child of [...parent.children]) {
    const key = keyOf(child);
    // A name that stands twice in a refused document gives a key twice: the second is made anew each time.
    if (old.has(key)) child.remove();
    else old.set(key, child);
  }
  const keys = shapes.map((shape, index) => `${shape.tag}:${shape.attrs.key ?? index}`);
  // What is gone goes first, so that what stays need not be moved: moving takes the focus away.
  const wanted = new Set(keys);
  for (const [key, child] of old) {
    if (!wanted.has(key)) child.remove();
  }
  /** @type {Element|null} */
  let before = null;
  shapes.forEach((shape, index) => {
    const key = keys[index];
    let element = old.get(key);
    if (element) old.delete(key);
    else {
      element = document.createElementNS(SPACES[shape.tag] ?? parent.namespaceURI, shape.tag);
      element.__key = key;
    }
    if (last.get(element) !== shape) {
      dress(element, shape.attrs, isEntry(shape));
      if (typeof shape.kids === "string") write(element, shape.kids);
      else if (shape.kids.length || element.childNodes.length) paint(element, shape.kids);
      // A choice can be shown once there is something to choose from.
      if (isEntry(shape) && shape.attrs.value !== undefined) fill(element, String(shape.attrs.value ?? ""));
      last.set(element, shape);
    }
    const next = before ? before.nextElementSibling : parent.firstElementChild;
    if (next !== element) parent.insertBefore(element, next);
    before = element;
  });
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

/** @param {Element & {__key?: string}} element */
function keyOf(element) {
  return element.__key ?? element;
}

/**
 * @param {Element} element
 * @param {Attributes} attrs
 * @param {boolean} entry whether its value is what stands in it, which is filled in by itself
 */
function dress(element, attrs, entry) {
  const before = painted.get(element) ?? {};
  for (const name in before) {
    if (!(name in attrs)) element.removeAttribute(name);
  }
  for (const [name, value] of Object.entries(attrs)) {
    if (name === "key" || (entry && name === "value") || before[name] === value) continue;
    if (value === null || value === undefined || value === false) element.removeAttribute(name);
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  painted.set(element, attrs);
}
