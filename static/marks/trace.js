/**
 * The path both ends have taken while a cylinder works.
 * @module marks/trace
 */

import { h, through } from "../svg.js";

/** @param {import("../scene.js").Scene} scene */
export function traces(scene) {
  if (!scene.traces || scene.traces.length < 2) return [];
  const hue = `hue-${scene.hues.get(scene.chosen ?? "") ?? 7}`;
  return ["left", "right"].map((end) =>
    h("path", { key: end, d: through(scene.traces.map((/** @type {any} */ each) => scene.pixel(each[end]))), class: `${hue} end-trace` }),
  );
}
