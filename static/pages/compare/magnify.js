/**
 * Errors are drawn at one magnification on both mounts, so that the eye may compare them.
 * @module pages/compare/magnify
 */

import { magnificationFor } from "../../sheet/magnification.js";
import { staffRoom } from "../../sheet/marks/staff.js";

/** @param {import("./side.js").Side[]} sides @param {import("../../values/view.js").View} view */
export function alikeMagnification(sides, view) {
  const budgets = sides.flatMap(({ store }) => store.state.answered?.budget ?? []);
  if (!budgets.length) return;
  const most = (/** @type {"left"|"right"} */ end) => ({ worst: Math.max(...budgets.map((each) => each[end].worst)) });
  const together = {
    budget: {
      left: most("left"),
      right: most("right"),
      tolerance: Math.max(...budgets.map((each) => each.tolerance ?? 0)),
    },
  };
  const [{ sheet, store: first }] = sides;
  const magnification = magnificationFor(together, view.scale, staffRoom(sheet.size), first.state.magnification);
  for (const { store } of sides) {
    if (store.state.magnification !== magnification) store.set({ magnification });
  }
}
