/**
 * A typed value that cannot be taken: said beside its field, above everything else, until it is typed anew. What was
 * typed stays, so that it can be mended.
 * @module core/complaint
 */

import { isUnsure } from "../values/units.js";

const NO_NUMBER = "No number: write it like 12, 3.5 mm, 1 1/4 in, 8' 6, 29.7e6 or 205 GPa";
const TWO_NUMBERS = "Could be two numbers: write 1200 or 1.2, not 1,200";
const ID = "complaint";

/** Say beside a field that what is typed there is no number, or could be two. @param {Entry} input */
export function refuseNumber(input) {
  refuse(input, isUnsure(input.value) ? TWO_NUMBERS : NO_NUMBER);
}

/** @returns {HTMLElement} */
function plate() {
  const found = document.getElementById(ID);
  if (found) return found;
  const made = document.createElement("p");
  made.id = ID;
  made.className = "complaint";
  made.role = "alert";
  made.popover = "manual";
  document.body.append(made);
  addEventListener("scroll", quiet, true);
  addEventListener("resize", quiet);
  document.addEventListener("input", (event) => accept(event.target));
  return made;
}

function quiet() {
  document.getElementById(ID)?.hidePopover();
}

/** @typedef {import("./entry.js").Entry} Entry */

/** @param {Element} entry */
export function isRefused(entry) {
  return entry.getAttribute("aria-invalid") === "true";
}

/** @param {Entry} input @param {string} why */
export function refuse(input, why) {
  const shown = plate();
  input.setAttribute("aria-invalid", "true");
  input.setAttribute("aria-errormessage", ID);
  shown.textContent = why;
  shown.showPopover();
  const field = input.getBoundingClientRect();
  const own = shown.getBoundingClientRect();
  const below = field.bottom + 4 + own.height < innerHeight;
  shown.style.left = `${Math.max(6, Math.min(field.left, innerWidth - own.width - 6))}px`;
  shown.style.top = `${below ? field.bottom + 4 : field.top - own.height - 4}px`;
}

/** What is refused anywhere is no longer asked for, as when another mount is opened. */
export function acceptAll() {
  for (const each of document.querySelectorAll("[aria-invalid=true]")) accept(each);
}

/** @param {EventTarget|null} input */
export function accept(input) {
  if (!(input instanceof Element) || !isRefused(input)) return;
  input.removeAttribute("aria-invalid");
  input.removeAttribute("aria-errormessage");
  quiet();
}
