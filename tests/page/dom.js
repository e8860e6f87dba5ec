/** As much of a page as painting needs, and a count of how often it was touched. */

/** How often anything was written since it was last set to zero. */
export const touched = { count: 0 };

class FakeElement {
  /** @param {string|null} space @param {string} tag */
  constructor(space, tag) {
    this.namespaceURI = space;
    this.localName = tag;
    /** @type {FakeElement|null} */
    this.parent = null;
    /** @type {FakeElement[]} */
    this.children = [];
    this.words = "";
    /** @type {Map<string, string>} */
    this.attributes = new Map();
    this.stands = "";
  }

  get type() {
    return this.localName === "select" ? "select-one" : (this.attributes.get("type") ?? "text");
  }

  get value() {
    return this.stands;
  }

  set value(value) {
    touched.count += 1;
    // A choice can only be one of those that are there.
    const there = this.children.some((each) => each.getAttribute("value") === value);
    this.stands = this.localName === "select" && !there ? "" : value;
  }

  /** @returns {string} */
  get textContent() {
    return this.words + this.children.map((each) => each.textContent).join("");
  }

  set textContent(words) {
    touched.count += 1;
    this.children = [];
    this.words = words;
  }

  get childElementCount() {
    return this.children.length;
  }

  /** @returns {(string|FakeElement)[]} */
  get childNodes() {
    return this.words ? [this.words, ...this.children] : this.children;
  }

  get firstChild() {
    return this.childNodes[0] ?? null;
  }

  get firstElementChild() {
    return this.children[0] ?? null;
  }

  get nextElementSibling() {
    const siblings = this.parent?.children ?? [];
    return siblings[siblings.indexOf(this) + 1] ?? null;
  }

  /** @param {string} name */
  getAttribute(name) {
    return this.attributes.get(name) ?? null;
  }

  /** @param {string} name @param {string} value */
  setAttribute(name, value) {
    touched.count += 1;
    this.attributes.set(name, value);
  }

  /** @param {string} name */
  removeAttribute(name) {
    if (this.attributes.delete(name)) touched.count += 1;
  }

  /** @param {FakeElement} child @param {FakeElement|null} before */
  insertBefore(child, before) {
    touched.count += 1;
    child.remove();
    child.parent = this;
    this.children.splice(before ? this.children.indexOf(before) : this.children.length, 0, child);
  }

  remove() {
    if (!this.parent) return;
    touched.count += 1;
    this.parent.children.splice(this.parent.children.indexOf(this), 1);
    this.parent = null;
  }

  focus() {
    page.activeElement = this;
  }
}

const page = {
  /** @type {FakeElement|null} */
  activeElement: null,
  /** @param {string|null} space @param {string} tag */
  createElementNS: (space, tag) => new FakeElement(space, tag),
};

/** @typedef {any} Room any: it stands in for an element, of which it has only what painting asks */

/** An empty room to paint in; from here on there is a page. @returns {Room} */
export function room() {
  Object.assign(globalThis, { document: page });
  page.activeElement = null;
  return new FakeElement("http://www.w3.org/1999/xhtml", "div");
}
