/**
 * Entry fields that know their place in the document and what they measure.
 * @module panels/fields
 */

import { isRefused } from "../complaint.js";
import { loadSize } from "../mount.js";
import { valueAt } from "../places.js";
import { h } from "../svg.js";
import { outward, unit } from "../units.js";

/** @typedef {import("../units.js").Quantity} Quantity */

/**
 * @param {string} place in the document @param {string} label @param {Quantity} quantity
 * @param {import("../units.js").System} system @param {string} [of] whose it is, for those who hear the page
 */
export function field(place, label, quantity, system, of = "") {
  const name = unit(quantity, system);
  return h("label", { key: place, class: "field" }, [
    h("span", { key: "label", class: "field-label" }, label),
    h("input", { key: "input", type: "text", inputmode: "decimal", "data-place": place, "data-quantity": quantity, placeholder: place.endsWith("clearance") ? "0" : null, "aria-label": `${label}${of ? ` of ${of}` : ""}, ${name}`, autocomplete: "off" }),
    h("span", { key: "unit", class: "field-unit" }, name),
  ]);
}

/** @param {string} place @param {string} label @param {string} [of] */
export function wordField(place, label, of = "") {
  return h("label", { key: place, class: "field words" }, [
    h("span", { key: "label", class: "field-label" }, label),
    h("input", { key: "input", type: "text", maxlength: 60, "data-place": place, "data-quantity": "words", "aria-label": `${label}${of ? ` of ${of}` : ""}`, autocomplete: "off" }),
  ]);
}

/** What a field shows that is no plain value of the document. @param {any} mount @param {string} place */
function derived(mount, place) {
  if (!mount.load || !place.startsWith("load/")) return undefined;
  const { size, degrees } = loadSize(mount.load);
  return place === "load/size" ? size : degrees;
}

/** A heading with fields under it. @param {string} title @param {import("../svg.js").Shape[]} fields */
export function group(title, fields) {
  return h("fieldset", { key: title, class: "fields" }, [h("legend", { key: "legend" }, title), ...fields]);
}

/**
 * Put what the document says into every field that is not being typed in.
 * @param {Element} root @param {import("../store.js").State} state
 */
export function fill(root, state) {
  for (const input of /** @type {NodeListOf<HTMLInputElement|HTMLSelectElement>} */ (root.querySelectorAll("[data-place]"))) {
    if (document.activeElement === input || isRefused(input)) continue;
    const place = input.dataset.place ?? "";
    const value = state.drafts[place] ?? derived(state.mount, place) ?? valueAt(state.mount, place);
    const quantity = input.dataset.quantity;
    input.value = value === undefined || value === null ? "" : quantity === "words" ? value : outward(value, /** @type {Quantity} */ (quantity), state.system);
  }
}
