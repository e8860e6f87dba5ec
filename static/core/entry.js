/**
 * What stands in an entry field: what the document says, unless something else is being typed there, asked about or
 * refused.
 * @module core/entry
 */

import { isRefused } from "./complaint.js";

/** @typedef {HTMLInputElement|HTMLSelectElement|HTMLTextAreaElement} Entry */

/**
 * What a field was last filled with, and how the browser wrote that.
 * @type {WeakMap<Entry, {text: string, as: string}>}
 */
const filled = new WeakMap();
/** What was typed and is being asked about. @type {WeakMap<Entry, string>} */
const asked = new WeakMap();

/** A difference of a slider that is none. */
const SAME = 1e-6;

/**
 * Show what the document says, where the field does not show it yet and is not somebody's just now.
 * @param {Entry} entry
 * @param {string} text
 */
export function fill(entry, text) {
  const last = filled.get(entry);
  if (last && last.text === text && last.as === entry.value) return;
  if (asked.has(entry) || isOnesOwn(entry)) return;
  const same = entry.type === "range" ? Math.abs(Number(entry.value) - Number(text)) <= SAME : entry.value === text;
  if (!same) entry.value = text;
  filled.set(entry, { text, as: entry.value });
}

/**
 * Whether something is being typed there, or stands there to be mended; what is chosen or slid is done at once.
 * @param {Entry} entry
 */
function isOnesOwn(entry) {
  if (entry.type === "range" || entry.type === "select-one") return false;
  const last = filled.get(entry);
  return isRefused(entry) || (document.activeElement === entry && last !== undefined && last.as !== entry.value);
}

/**
 * Whether a field holds nothing new: it shows what the document says, or that is asked about already.
 * @param {Entry} entry
 */
export function isUntouched(entry) {
  return filled.get(entry)?.as === entry.value || asked.get(entry) === entry.value;
}

/** What was typed has been taken; the field may show it as the document writes it. @param {Entry} entry */
export function taken(entry) {
  filled.set(entry, { text: "", as: entry.value });
}

/**
 * Keep what was typed in its field until it is known whether it is taken.
 * @param {Entry} entry @param {() => Promise<boolean>} asking whether it was taken
 */
export async function whileAsked(entry, asking) {
  const typed = entry.value;
  asked.set(entry, typed);
  const yes = await asking();
  if (asked.get(entry) === typed) asked.delete(entry);
  // What was typed since is not what was asked about.
  if (yes && entry.value === typed) taken(entry);
}
