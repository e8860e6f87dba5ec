/**
 * A length or an angle typed while the second end of a rod or cylinder is in hand: figures go to the entry, Tab to the
 * other one, Enter sets the end.
 * @module pages/sketch/spanentry
 */

import { accept, refuse, refuseNumber } from "../../core/complaint.js";
import { isUntouched } from "../../core/entry.js";
import { read } from "../../values/units.js";

/** What a number begins with. */
const BEGINS = /^[\d.,−-]$/;

/**
 * @param {import("../../core/store.js").Store} store
 * @param {import("../../sheet/drafter.js").Drafter} drafter
 * @param {SVGSVGElement} svg
 * @returns {() => void} sets the end that is in hand
 */
export function listenToSpan(store, drafter, svg) {
  /** @param {HTMLInputElement} entry @returns {boolean} whether it holds a number, or nothing new */
  const take = (entry) => {
    const what = /** @type {"length"|"angle"} */ (entry.dataset.draft);
    const words = entry.value.trim();
    if (isUntouched(entry)) return true;
    if (words === "") {
      drafter.type(what, undefined);
      return true;
    }
    const measure = /** @type {"fine"|"angle"} */ (entry.dataset.quantity);
    const value = read(words, measure, store.state.system);
    if (value === null || (what === "length" && value <= 0)) return false;
    drafter.type(what, value);
    return true;
  };

  /** @param {HTMLInputElement|null} entry */
  const set = (entry) => {
    const { draft } = store.state;
    if (drafter.set()) svg.focus({ preventScroll: true });
    else if (entry && draft?.first)
      refuse(entry, `Both ends on ${draft.first.body} would hold nothing: choose another body after "join to"`);
  };

  document.addEventListener("input", ({ target }) => {
    if (target instanceof HTMLInputElement && target.dataset.draft) take(target);
  });

  addEventListener(
    "keydown",
    (event) => {
      const { target } = event;
      if (target instanceof HTMLInputElement && target.dataset.draft) {
        if (event.key === "Enter") {
          if (take(target)) set(target);
          else refuseNumber(target);
        } else if (event.key === "Escape") {
          accept(target);
          drafter.type("length", undefined);
          drafter.type("angle", undefined);
          svg.focus({ preventScroll: true });
        } else return;
        event.preventDefault();
        event.stopPropagation();
        return;
      }
      const typing = target instanceof HTMLInputElement || target instanceof HTMLSelectElement;
      if (typing || event.ctrlKey || event.metaKey || event.altKey || !drafter.takesSpan || !BEGINS.test(event.key))
        return;
      const entry = /** @type {HTMLInputElement|null} */ (document.querySelector('[data-draft="length"]'));
      if (!entry) return;
      entry.focus();
      entry.value = event.key;
      take(entry);
      event.preventDefault();
      event.stopPropagation();
    },
    true,
  );

  document.addEventListener("focusin", ({ target }) => {
    if (target instanceof HTMLInputElement && target.dataset.draft) target.select();
  });

  return () => set(document.querySelector('[data-draft="length"]'));
}
