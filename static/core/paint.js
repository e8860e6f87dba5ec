/**
 * Makes the page match a description, touching only what changed.
 * @module core/paint
 */

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
