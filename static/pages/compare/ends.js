/**
 * The ends of the blade: how far each stands above where it was drawn.
 * @module pages/compare/ends
 */

/** @typedef {"left"|"right"} End */
/** @typedef {import("../../document/link.js").Heights} Heights mm, + upward */

export const ENDS = /** @type {const} */ (["left", "right"]);

/** @param {Located} readout @param {Mount} mount @returns {Heights} */
export function lifts(readout, mount) {
  const { left, right } = readout.pose.ends;
  return { left: left[1] - mount.blade.left[1], right: right[1] - mount.blade.right[1] };
}
