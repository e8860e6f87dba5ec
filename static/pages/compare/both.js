/**
 * The customer's numbers, put into both mounts at once: blade width, load, tolerance, joint clearance.
 * @module pages/compare/both
 */

import { loadSize, loadTurned, tidy } from "../../document/mount.js";
import { h } from "../../values/shapes.js";
import { outward, unit } from "../../values/units.js";
import { widened, widthOf } from "./widening.js";
import { joints } from "../../document/joints.js";

/** @typedef {import("../../values/units.js").Quantity} Quantity */
/** @typedef {import("./widening.js").Carry} Carry */
/** @typedef {"width"|"mass"|"load"|"tolerance"|"clearance"} Key */

/**
 * A number that both mounts have.
 * @typedef {Object} Both
 * @property {string} label
 * @property {Quantity} quantity
 * @property {(mount: Mount) => number|undefined} of
 * @property {(mount: Mount, value: number, carry: Carry) => Mount} put
 */

/** @type {Record<Key, Both>} */
export const BOTH = {
  width: { label: "blade width", quantity: "fine", of: widthOf, put: widened },
  mass: { label: "mass by length", quantity: "line mass", of: massByMetre, put: withMassByMetre },
  load: {
    label: "load",
    quantity: "force",
    of: (mount) => (mount.load ? tidy(loadSize(mount.load).size) : undefined),
    put: (mount, value) =>
      loadTurned(
        mount.load ? mount : { ...mount, load: { at: mount.blade.right, force: [0, 1] } },
        mount.load ? loadSize(mount.load).degrees : 90,
        value,
      ),
  },
  tolerance: {
    label: "tolerance ±",
    quantity: "error",
    of: (mount) => mount.tolerance ?? undefined,
    put: (mount, value) => ({ ...mount, tolerance: value }),
  },
  clearance: { label: "clearance in every joint", quantity: "error", of: clearance, put: withClearance },
};

/**
 * The fields, with what both say where they say the same.
 * @param {Mount} a
 * @param {Mount} b
 * @param {System} system
 * @returns {import("../../values/shapes.js").Shape[]}
 */
export function bothFields(a, b, system) {
  return [
    h("span", { key: "lead", class: "both-lead" }, "Put into both:"),
    ...Object.entries(BOTH).map(([key, { label, quantity, of }]) => {
      const [one, two] = [of(a), of(b)];
      const same = one !== undefined && one === two;
      return h("label", { key, class: "both-field" }, [
        h("span", { key: "label" }, label),
        h("input", {
          key: "input",
          type: "text",
          inputmode: "decimal",
          "data-both": key,
          "aria-label": `${label} of both mounts, ${unit(quantity, system)}`,
          autocomplete: "off",
          placeholder: same ? "" : "differ",
          value: same ? outward(one, quantity, system) : "",
        }),
        h("span", { key: "unit", class: "quiet" }, unit(quantity, system)),
      ]);
    }),
  ];
}

/** Kilograms a metre of edge; none where the document gives no mass. @param {Mount} mount */
function massByMetre(mount) {
  const { mass } = mount.blade;
  return typeof mass === "number" ? tidy((mass * 1000) / widthOf(mount)) : undefined;
}

/** @param {Mount} mount @param {number} value kg a metre @returns {Mount} */
function withMassByMetre(mount, value) {
  const { left, right, mass_centre: centre } = mount.blade;
  const middle = /** @type {[number, number]} */ ([tidy((left[0] + right[0]) / 2), tidy((left[1] + right[1]) / 2)]);
  const mass = tidy((value * widthOf(mount)) / 1000);
  return { ...mount, blade: { ...mount.blade, mass, mass_centre: centre ?? middle } };
}

/** The one clearance every joint has, if it is one. @param {Mount} mount */
function clearance(mount) {
  const values = new Set(joints(mount).map((each) => each.clearance));
  return values.size === 1 ? [...values][0] : undefined;
}

/** @param {Mount} mount @param {number} value mm @returns {Mount} */
function withClearance(mount, value) {
  const members = mount.members.map((each) =>
    each.ends
      ? { ...each, ends: each.ends.map((end) => ({ ...end, clearance: value })) }
      : { ...each, clearance: value },
  );
  return { ...mount, members };
}
