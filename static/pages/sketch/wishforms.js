/**
 * What is typed and chosen of goals, of what is free and of a search: no part of the document, so nothing is asked.
 * @module pages/sketch/wishforms
 */

import { accept, refuse, refuseNumber } from "../../core/complaint.js";
import { taken } from "../../core/entry.js";
import { withGoal } from "../../document/wishes.js";
import { read } from "../../values/units.js";

/** @typedef {import("../../core/entry.js").Entry} Entry */
/** @typedef {import("../../document/wishes.js").Wishes} Wishes */

/**
 * @param {import("../../core/store.js").Store} store
 * @returns {Record<string, (entry: Entry, what: string) => void>} by the attribute that says what a field is for
 */
export function wishForms(store) {
  /** @param {Entry} entry @param {(wishes: Wishes) => Partial<Wishes>} change */
  const wish = (entry, change) => {
    taken(entry);
    store.set(({ wishes }) => ({ wishes: { ...wishes, ...change(wishes) } }));
  };
  /** A typed number in document units; null where it is none, which is said beside it. @param {Entry} entry */
  const numberIn = (entry) => {
    const quantity = /** @type {import("../../values/units.js").Quantity} */ (entry.dataset.quantity);
    const value = read(entry.value, quantity, store.state.system);
    if (value === null) refuseNumber(entry);
    else accept(entry);
    return value;
  };
  return {
    goalMost: (entry, index) => {
      const most = numberIn(entry);
      if (most !== null && most < 0) refuse(entry, "A goal is how much there may be at most: write 0 or more");
      else if (most !== null) wish(entry, ({ goals }) => ({ goals: withGoal(goals, Number(index), { most }) }));
    },
    goalOver: (entry, index) => {
      const over = entry.value === "travel" ? "travel" : "pose";
      wish(entry, ({ goals }) => ({ goals: withGoal(goals, Number(index), { over }) }));
    },
  };
}
