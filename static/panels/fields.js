/**
 * Entry fields that know their place in the document and what they measure.
 * @module panels/fields
 */

import { vocabulary } from "../values/vocabulary.js";
import { isRefused } from "../core/complaint.js";
import { loadSize } from "../document/mount.js";
import { valueAt } from "../document/places.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";

/** @typedef {import("../values/units.js").Quantity} Quantity */

/**
 * @param {string} place in the document @param {string} label @param {Quantity} quantity
 * @param {import("../values/units.js").System} system @param {string} [of] whose it is, for those who hear the page
 */
export function field(place, label, quantity, system, of = "") {
  return h("label", { key: place, class: "field" }, [
    h("span", { key: "label", class: "field-label" }, label),
    entry(place, quantity, `${label}${of ? ` of ${of}` : ""}`, system),
    h("span", { key: "unit", class: "field-unit" }, unit(quantity, system)),
  ]);
}

/**
 * The entry alone, for a number.
 * @param {string} place
 * @param {Quantity} quantity
 * @param {string} name
 * @param {import("../values/units.js").System} system
 */
export function entry(place, quantity, name, system) {
  return h("input", {
    key: "input",
    type: "text",
    inputmode: "decimal",
    "data-place": place,
    "data-quantity": quantity,
    placeholder: place.endsWith("clearance") ? "0" : null,
    "aria-label": `${name}, ${unit(quantity, system)}`.replace(/, $/, ""),
    autocomplete: "off",
  });
}

/** The entry alone, for words. @param {string} place @param {string} name */
export function wordEntry(place, name) {
  return h("input", {
    key: "input",
    type: "text",
    maxlength: place === "note" ? vocabulary.limits.note : vocabulary.limits.name,
    "data-place": place,
    "data-quantity": "words",
    "aria-label": name,
    autocomplete: "off",
  });
}

/** Which body a joint sits on. @param {string} place @param {string} name @param {any} mount */
export function bodySelect(place, name, mount) {
  const bodies = ["frame", "blade", ...(mount.bodies ?? [])];
  return h(
    "select",
    { key: place, "data-place": place, "data-quantity": "words", "aria-label": name },
    bodies.map((body) => h("option", { key: body, value: body }, body)),
  );
}

/** @param {string} place @param {string} label @param {string} [of] */
export function wordField(place, label, of = "") {
  return h("label", { key: place, class: "field words" }, [
    h("span", { key: "label", class: "field-label" }, label),
    wordEntry(place, `${label}${of ? ` of ${of}` : ""}`),
  ]);
}

/** What a document that does not say it means. @type {Record<string, string>} */
const USUAL = { display: "metric" };

/**
 * Show a value in a field, unless something else is being typed there.
 * @param {HTMLInputElement|HTMLSelectElement} input
 * @param {string} value
 */
export function shown(input, value) {
  if (document.activeElement === input && input.dataset.filled !== input.value) return;
  if (input.value !== value) input.value = value;
  if (input instanceof HTMLInputElement) input.dataset.filled = value;
}

/** What a field shows that is no plain value of the document. @param {any} mount @param {string} place */
function derived(mount, place) {
  if (!mount.load || !place.startsWith("load/")) return undefined;
  const { size, degrees } = loadSize(mount.load);
  return place === "load/size" ? size : degrees;
}

/** A heading with fields under it. @param {string} title @param {import("../values/shapes.js").Shape[]} fields */
export function group(title, fields) {
  return h("fieldset", { key: title, class: "fields" }, [h("legend", { key: "legend" }, title), ...fields]);
}

/**
 * Put what the document says into every field that is not being typed in.
 * @param {Element} root @param {import("../core/store.js").State} state
 */
export function fill(root, state) {
  for (const input of /** @type {NodeListOf<HTMLInputElement|HTMLSelectElement>} */ (
    root.querySelectorAll("[data-place]")
  )) {
    if (isRefused(input)) continue;
    const place = input.dataset.place ?? "";
    const value = state.drafts[place] ?? derived(state.mount, place) ?? valueAt(state.mount, place) ?? USUAL[place];
    const quantity = input.dataset.quantity;
    shown(
      input,
      value === undefined || value === null
        ? ""
        : quantity === "words"
          ? value
          : outward(value, /** @type {Quantity} */ (quantity), state.system),
    );
  }
}
