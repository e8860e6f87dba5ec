/**
 * The correction that both mounts are asked for: which end, and how far up.
 * @module pages/compare/wanted
 */

import { h } from "../../values/shapes.js";
import { outward, unit } from "../../values/units.js";

/** @typedef {{end: EndName, rise: number}} Wanted rise in mm */

/** @returns {Wanted} */
export function usual() {
  return { end: "right", rise: 20 };
}

/**
 * @param {Wanted} wanted @param {System} system
 * @returns {import("../../values/shapes.js").Shape[]}
 */
export function wantedFields({ end, rise }, system) {
  return [
    h("span", { key: "lead", class: "both-lead" }, "Correct the"),
    h(
      "div",
      { key: "end", class: "pair", role: "group", "aria-label": "the end that is corrected" },
      /** @type {const} */ (["left", "right"]).map((each) =>
        h(
          "button",
          { key: each, type: "button", "data-correct": each, "aria-pressed": each === end ? "true" : "false" },
          each,
        ),
      ),
    ),
    h("label", { key: "rise", class: "both-field" }, [
      h("span", { key: "w" }, "end by"),
      h("input", {
        key: "input",
        type: "text",
        inputmode: "decimal",
        autocomplete: "off",
        "data-rise": "",
        "aria-label": `correction asked of both, ${unit("error", system)} up`,
        value: outward(rise, "error", system),
      }),
      h("span", { key: "u", class: "quiet" }, `${unit("error", system)} up`),
    ]),
  ];
}

/** As a part of a link. @param {Wanted} wanted */
export function wantedPart({ end, rise }) {
  return `${end},${rise}`;
}

/** What a link asks for. @param {string|undefined} part @returns {Wanted} */
export function wantedAboard(part) {
  const [end, rise] = (part ?? "").split(",");
  const size = Number(rise);
  return (end === "left" || end === "right") && rise && Number.isFinite(size) && Math.abs(size) <= 10000
    ? { end, rise: size }
    : usual();
}
