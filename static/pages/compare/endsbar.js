/**
 * The command at the ends: where both mounts are asked to bring them, with a slider and a number each.
 * @module pages/compare/endsbar
 */

import { fill } from "../../core/entry.js";
import { mark, write } from "../../core/paint.js";
import { outward, unit } from "../../values/units.js";
import { ENDS } from "./ends.js";

/** How far the sliders reach either way, mm; farther once more was asked for. */
const REACH_MM = 50;

export class EndsBar {
  /** @param {<T extends Element>(selector: string) => T} find */
  constructor(find) {
    this.find = find;
    /** @type {import("./ends.js").Heights} */
    this.asked = { left: 0, right: 0 };
    this.reach = { left: REACH_MM, right: REACH_MM };
  }

  /** Take note of where the ends should be. @param {Partial<import("./ends.js").Heights>} change mm */
  wish(change) {
    const { asked, reach } = this;
    Object.assign(asked, change);
    for (const end of ENDS) reach[end] = Math.max(reach[end], Math.ceil(Math.abs(asked[end]) / 10) * 10);
  }

  /** @param {System} system */
  show(system) {
    const { asked, reach, find } = this;
    for (const end of ENDS) {
      const range = /** @type {HTMLInputElement} */ (find(`[data-end="${end}"]`));
      mark(range, "min", String(-reach[end]));
      mark(range, "max", String(reach[end]));
      fill(range, String(asked[end]));
      const typed = /** @type {HTMLInputElement} */ (find(`[data-end-typed="${end}"]`));
      mark(typed, "aria-label", `${end} end, ${unit("fine", system)} up`);
      fill(typed, outward(Math.round(asked[end] * 1000) / 1000, "fine", system));
      write(find(`[data-end-unit="${end}"]`), `${unit("fine", system)} up`);
    }
  }
}
