/**
 * The clearance a new joint is taken to have: none would say that a mount is better than any can be made.
 * @module document/clearance
 */

import { amount, customs } from "../values/units.js";

/** @typedef {{system: System, sizes: Sizes|null}} Usual the user's units, and what is usual in either */

/** The pin that joints of a blade so wide are likely to have. @param {Mount} mount @param {UsualPin[]} pins */
function likelyPin({ blade }, pins) {
  const width = blade.right[0] - blade.left[0];
  const off = (/** @type {UsualPin} */ pin) => Math.abs(pin.blade - width);
  return pins.reduce((best, each) => (off(each) < off(best) ? each : best));
}

/** The clearance most joints of a mount have, mm; undefined where no joint has any. @param {Mount} mount */
function mostUsed(mount) {
  const plays = mount.members
    .flatMap((each) => (each.ends ? [...each.ends] : [each]).map((joint) => joint.clearance ?? 0))
    .filter(Boolean);
  const often = (/** @type {number} */ play) => plays.filter((each) => each === play).length;
  return /** @type {number|undefined} */ (plays.sort((a, b) => often(b) - often(a))[0]);
}

/**
 * For a new joint: what most joints of the mount have, else the middle of a loose fit of a likely pin.
 * @param {Mount} mount @param {Usual} usual
 * @returns {{clearance?: number}}
 */
export function usualPlay(mount, { system, sizes }) {
  const clearance =
    mostUsed(mount) ?? (sizes ? likelyPin(mount, sizes[customs(system).trade].pins).clearance : undefined);
  return clearance === undefined ? {} : { clearance };
}

/**
 * Where a clearance is from, if it is one that a new joint is given for want of a better: for words beside its field.
 * @param {Mount} mount @param {number|undefined} clearance @param {Usual} usual
 * @returns {string|null}
 */
export function playSource(mount, clearance, { system, sizes }) {
  if (!clearance || !sizes) return null;
  const pins = Object.values(sizes).map((series) => likelyPin(mount, series.pins));
  const pin = pins.find((each) => Math.abs(each.clearance - clearance) < 1e-6);
  if (!pin) return null;
  return (
    `${amount(clearance, "error", system)} is the middle of the fit ${pin.fit} (ISO 286) of a pin of ` +
    `${amount(pin.size, "fine", system)}, likely for a blade so wide: a guess until you enter your own.`
  );
}
