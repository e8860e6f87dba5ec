/**
 * The customer's numbers, put into both mounts at once: blade width, load, tolerance, joint clearance.
 * @module pages/compare/both
 */

import { loadSize, loadTurned, tidy } from "../../document/mount.js";
import { h } from "../../values/shapes.js";
import { outward, unit } from "../../values/units.js";
import { joints } from "../../document/joints.js";

/** @typedef {import("../../values/units.js").Quantity} Quantity */
/** @typedef {"width"|"load"|"tolerance"|"clearance"} Key */

/**
 * A number that both mounts have.
 * @typedef {Object} Both
 * @property {string} label
 * @property {Quantity} quantity
 * @property {(mount: Mount) => number|undefined} of
 * @property {(mount: Mount, value: number) => Mount} put
 */

/** @type {Record<Key, Both>} */
export const BOTH = {
  width: { label: "blade width", quantity: "fine", of: width, put: withWidth },
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
 * @param {import("../../values/units.js").System} system
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

/** @param {Mount} mount */
function width({ blade: { left, right } }) {
  return tidy(Math.hypot(right[0] - left[0], right[1] - left[1]));
}

/**
 * Both ends moved alike along the edge; a load at an end stays at that end.
 * @param {Mount} mount
 * @param {number} value mm
 * @returns {Mount}
 */
function withWidth(mount, value) {
  const { left, right } = mount.blade;
  const share = value / width(mount);
  const middle = [0, 1].map((axis) => (left[axis] + right[axis]) / 2);
  const along = (/** @type {0|1} */ axis, /** @type {number[]} */ at) =>
    tidy(middle[axis] + share * (at[axis] - middle[axis]));
  /** @type {(at: number[]) => [number, number]} */
  const out = (at) => [along(0, at), along(1, at)];
  const { load } = mount;
  const atEnd = load && [left, right].find((end) => Math.hypot(end[0] - load.at[0], end[1] - load.at[1]) < 1e-6);
  return {
    ...mount,
    blade: { ...mount.blade, left: out(left), right: out(right) },
    ...(load && atEnd ? { load: { ...load, at: out(atEnd) } } : {}),
  };
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
