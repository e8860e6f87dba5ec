/**
 * Where a moved joint comes to rest: on the grid, on another joint, on a construction line, or in a horizontal or
 * vertical line with a joint.
 * @module sheet/snap
 */

import { footOn, meeting } from "../document/construction.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {{at: [number, number], guides: {from: Point, to: Point}[]}} Snapped */

/**
 * @param {Point} at mm
 * @param {{grid: number, near: number, others: Point[], lines?: import("../document/construction.js").Line[]}} what
 *   near: how many mm count as near
 * @returns {Snapped}
 */
export function snap(at, { grid, near, others, lines = [] }) {
  const on = others.find((other) => Math.hypot(other[0] - at[0], other[1] - at[1]) < near);
  if (on) return { at: [on[0], on[1]], guides: [] };
  const beside = lines.filter((line) => away(footOn(line, at), at) < near);
  const corner = beside
    .flatMap((one) => beside.map((other) => meeting(one, other)))
    .find((each) => each && away(each, at) < near);
  if (corner) return { at: corner, guides: [] };
  /** @type {[number, number]} */
  const rest = [Math.round(at[0] / grid) * grid, Math.round(at[1] / grid) * grid];
  /** @type {Snapped["guides"]} */
  const guides = [];
  for (const axis of /** @type {const} */ ([0, 1])) {
    const aligned = nearestAlong(at, others, axis, near * 0.6);
    if (!aligned) continue;
    rest[axis] = aligned[axis];
    guides.push({ from: aligned, to: rest });
  }
  const [line] = beside.sort((a, b) => away(footOn(a, at), at) - away(footOn(b, at), at));
  return line ? { at: footOn(line, rest), guides: [] } : { at: rest, guides };
}

/** @param {Point} a @param {Point} b */
function away(a, b) {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** @param {Point} at @param {Point[]} others @param {0|1} axis @param {number} near */
function nearestAlong(at, others, axis, near) {
  let best = null;
  let least = near;
  for (const other of others) {
    const off = Math.abs(other[axis] - at[axis]);
    if (off < least) {
      least = off;
      best = other;
    }
  }
  return best;
}
