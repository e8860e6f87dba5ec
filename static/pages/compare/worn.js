/**
 * Both mounts with their joints worn: every clearance at least so large, before and after side by side.
 * @module pages/compare/worn
 */

import { h } from "../../values/shapes.js";
import { amount, outward, unit } from "../../values/units.js";
import { answerOf } from "../../core/server.js";
import { Asking } from "./asking.js";

/** What the field begins with, mm. */
export const USUAL_MM = 1;

/**
 * A mount whose joints are worn to at least a clearance.
 * @param {Mount} mount @param {number} to mm @returns {Mount}
 */
export function worn(mount, to) {
  const wider = (/** @type {{clearance?: number}} */ { clearance = 0 }) => ({ clearance: Math.max(clearance, to) });
  const members = mount.members.map((each) =>
    each.ends ? { ...each, ends: each.ends.map((end) => ({ ...end, ...wider(end) })) } : { ...each, ...wider(each) },
  );
  return /** @type {Mount} */ ({ ...mount, members });
}

export class Worn {
  /** @param {() => void} changed */
  constructor(changed) {
    this.to = USUAL_MM;
    /** @type {Comparison|null} */
    this.found = null;
    /** @type {Asking<import("./asking.js").Question, Comparison>} */
    this.asking = new Asking(
      (question) => answerOf("/compare", question),
      (found) => {
        this.found = found;
        changed();
      },
    );
  }

  /** @param {import("./asking.js").Question} question of the two as they are */
  want({ a, b, ...more }) {
    const { to } = this;
    this.asking.want({
      a: { ...a, mount: worn(a.mount, to) },
      b: { ...b, mount: worn(b.mount, to) },
      ...more,
    });
  }

  /** @param {Comparison|null} before @param {System} system @returns {import("../../values/shapes.js").Shape[]} */
  fields(before, system) {
    const lines = before && this.found ? wornWords(before, this.found, system) : [];
    return [
      h("label", { key: "to", class: "both-field" }, [
        h("span", { key: "l", class: "both-lead" }, "With pins worn to"),
        h("input", {
          key: "input",
          type: "text",
          inputmode: "decimal",
          autocomplete: "off",
          "data-worn": "",
          "aria-label": `clearance the joints of both are worn to, ${unit("error", system)}`,
          value: outward(this.to, "error", system),
        }),
        h("span", { key: "u", class: "quiet" }, unit("error", system)),
      ]),
      ...lines.map((words, index) => h("p", { key: index, class: "said", "data-worn-of": "ab"[index] }, words)),
    ];
  }
}

/**
 * The worst edge error of either before and after.
 * @param {Comparison} before @param {Comparison} after @param {System} system
 */
export function wornWords(before, after, system) {
  return /** @type {const} */ (["a", "b"]).map((name) => {
    const [was, now] = [before[name], after[name]];
    const shown = (/** @type {Verdict} */ each) =>
      each.worst === null ? "not known" : amount(each.worst, "error", system);
    return `${name.toUpperCase()}: worst edge error ${shown(was)}, ${was.state}; worn ${shown(now)}, ${now.state}.`;
  });
}
