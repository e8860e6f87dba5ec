/**
 * Entry fields that know their place in the document, what they measure and what the document says there.
 * @module panels/fields
 */

import { bodyNames } from "../document/bodies.js";
import { vocabulary } from "../values/vocabulary.js";
import { loadSize } from "../document/mount.js";
import { valueAt } from "../document/places.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/units.js").Quantity} Quantity */

/**
 * @param {State} state
 * @param {string} place in the document
 * @param {string} label
 * @param {Quantity} quantity
 * @param {string} [of] whose it is, for those who hear the page
 */
export function field(state, place, label, quantity, of = "") {
  return h("label", { key: place, class: "field" }, [
    h("span", { key: "label", class: "field-label" }, label),
    entry(state, place, quantity, `${label}${of ? ` of ${of}` : ""}`),
    h("span", { key: "unit", class: "field-unit" }, unit(quantity, state.system)),
  ]);
}

/**
 * The entry alone, for a number.
 * @param {State} state
 * @param {string} place
 * @param {Quantity} quantity
 * @param {string} name
 */
export function entry(state, place, quantity, name) {
  const value = said(state, place);
  return h("input", {
    key: "input",
    type: "text",
    inputmode: "decimal",
    "data-place": place,
    "data-quantity": quantity,
    placeholder: place.endsWith("clearance") ? "0" : null,
    "aria-label": `${name}, ${unit(quantity, state.system)}`.replace(/, $/, ""),
    autocomplete: "off",
    value: typeof value === "number" ? outward(value, quantity, state.system) : "",
  });
}

/**
 * The entry alone, for words.
 * @param {State} state
 * @param {string} place
 * @param {string} name
 * @param {Record<string, string>} [more] attributes
 */
export function wordEntry(state, place, name, more = {}) {
  return h("input", {
    key: "input",
    type: "text",
    maxlength: place === "note" ? vocabulary.limits.note : vocabulary.limits.name,
    "data-place": place,
    "data-quantity": "words",
    ...more,
    "aria-label": name,
    autocomplete: "off",
    value: String(said(state, place) ?? ""),
  });
}

/**
 * A choice of a few words.
 * @param {State} state
 * @param {string} place
 * @param {string} name
 * @param {[string, string][]} choices what the document says, and how it is shown
 */
export function choice(state, place, name, choices) {
  return h(
    "select",
    {
      key: place,
      "data-place": place,
      "data-quantity": "words",
      "aria-label": name,
      value: String(said(state, place) ?? ""),
    },
    choices.map(([value, words]) => h("option", { key: value, value }, words)),
  );
}

/** Which body a joint sits on. @param {State} state @param {string} place @param {string} name */
export function bodySelect(state, place, name) {
  const bodies = ["frame", "blade", ...bodyNames(state.mount)];
  return choice(
    state,
    place,
    name,
    bodies.map((body) => [body, body]),
  );
}

/** @param {State} state @param {string} place @param {string} label @param {string} [of] */
export function wordField(state, place, label, of = "") {
  return h("label", { key: place, class: "field words" }, [
    h("span", { key: "label", class: "field-label" }, label),
    wordEntry(state, place, `${label}${of ? ` of ${of}` : ""}`),
  ]);
}

/** A heading with fields under it. @param {string} title @param {import("../values/shapes.js").Shape[]} fields */
export function group(title, fields) {
  return h("fieldset", { key: title, class: "fields" }, [h("legend", { key: "legend" }, title), ...fields]);
}

/** What a document that does not say it means. @type {Record<string, string>} */
const USUAL = { display: "metric" };

/**
 * What the document says at a place, or what waits there for the rest of its group.
 * @param {State} state
 * @param {string} place
 */
function said({ drafts, mount }, place) {
  return drafts[place] ?? derived(mount, place) ?? valueAt(mount, place) ?? USUAL[place];
}

/** What a field shows that is no plain value of the document. @param {Mount} mount @param {string} place */
function derived(mount, place) {
  if (!mount.load || !place.startsWith("load/")) return undefined;
  const { size, degrees } = loadSize(mount.load);
  return place === "load/size" ? size : degrees;
}
