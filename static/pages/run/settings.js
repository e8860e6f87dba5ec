/**
 * The settings of a run on their form: what is set stands in the fields, what is left open as what it comes to.
 * @module pages/run/settings
 */

import { accept, refuseNumber } from "../../core/complaint.js";
import { fill, isUntouched, taken } from "../../core/entry.js";
import { mark, write } from "../../core/paint.js";
import { inTrade, outward, read, unit } from "../../values/units.js";

/** @typedef {import("../../values/units.js").Quantity} Quantity */
/** @typedef {Record<string, string|number|null|undefined>} Part */

/** What each kind of ground begins with. @type {Record<string, Part>} */
const GROUNDS = {
  flat: { kind: "flat" },
  step: { kind: "step", height: 30, side: "left", at: 8 },
  bump: { kind: "bump", height: -30, side: "left", at: 4 },
  waves: { kind: "waves", height: 40, length: 6 },
  rough: { kind: "rough", class: "C" },
};

/**
 * Settings that are worked out where they are left open, by what the answer calls them.
 * @type {Record<string, "gain"|"dead_band"|"track">}
 */
const OPEN = { "control.gain": "gain", "control.dead_band": "dead_band", "machine.track": "track" };

/** @param {RunSettings} settings @param {string} path */
export function valueAt(settings, path) {
  const [part, key] = path.includes(".") ? path.split(".") : [null, path];
  const whole = /** @type {Part & Record<string, Part>} */ (/** @type {unknown} */ (settings));
  return part ? (whole[part]?.[key] ?? null) : (whole[key] ?? null);
}

/** @param {RunSettings} settings @param {string} path @param {string|number|null} value @returns {RunSettings} */
export function withValue(settings, path, value) {
  const whole = /** @type {Record<string, Part>} */ (/** @type {unknown} */ (settings));
  const [part, key] = path.includes(".") ? path.split(".") : [null, path];
  if (path === "ground.kind")
    return { ...settings, ground: /** @type {RunSettings["ground"]} */ (GROUNDS[String(value)]) };
  const next = part ? { ...whole, [part]: { ...whole[part], [key]: value } } : { ...whole, [key]: value };
  return /** @type {RunSettings} */ (/** @type {unknown} */ (next));
}

/**
 * Show settings in the form.
 * @param {Element} form @param {RunSettings} settings
 * @param {{gain: number, dead_band: number, track: number}|null} used what was left open, worked out
 * @param {System} system
 */
export function showSettings(form, settings, used, system) {
  for (const field of /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("[data-setting]"))) {
    const path = String(field.dataset.setting);
    const value = valueAt(settings, path);
    const label = /** @type {HTMLElement} */ (field.closest("label"));
    const grounds = (label.dataset.grounds ?? "").split(" ").filter(Boolean);
    mark(label, "hidden", grounds.length > 0 && !grounds.includes(settings.ground.kind));
    const measure = /** @type {Quantity|undefined} */ (field.dataset.measure);
    if (!measure) {
      for (const option of field.querySelectorAll("option")) write(option, inTrade(own(option), system));
      fill(field, String(value ?? ""));
      continue;
    }
    fill(field, value === null ? "" : outward(Number(value), measure, system));
    const open = OPEN[path] && used ? outward(rounded(used[OPEN[path]]), measure, system) : "";
    mark(field, "placeholder", open);
    write(/** @type {Element} */ (label.querySelector(".unit")), unit(measure, system));
  }
}

/** The words an option came with. @param {HTMLOptionElement} option */
function own(option) {
  return (option.dataset.words ??= option.textContent ?? "");
}

/** @param {number} value */
function rounded(value) {
  return Number(value.toPrecision(3));
}

/**
 * What a changed field says, put into the settings; null where it says nothing new or nothing that can be taken.
 * @param {HTMLInputElement} field @param {RunSettings} settings @param {System} system
 */
export function changedBy(field, settings, system) {
  const path = String(field.dataset.setting);
  const measure = /** @type {Quantity|undefined} */ (field.dataset.measure);
  if (!measure) return withValue(settings, path, field.value);
  if (isUntouched(field)) return null;
  if (!field.value.trim() && OPEN[path]) {
    accept(field);
    return withValue(settings, path, null);
  }
  const value = read(field.value, measure, system);
  if (value === null) {
    refuseNumber(field);
    return null;
  }
  accept(field);
  taken(field);
  return withValue(settings, path, value);
}
