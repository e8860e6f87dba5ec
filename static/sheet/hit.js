/**
 * Which body lies under a pixel.
 * @module sheet/hit
 */

import { bodyShapes } from "./marks/bodies.js";

/** @typedef {readonly [number, number]} Point */

const MARGIN = 13;

/**
 * The topmost moving body under a pixel, else the frame.
 * @param {import("./scene.js").Scene} scene
 * @param {Point} at
 */
export function bodyAt(scene, at) {
  return bodiesAt(scene, at)[0] ?? "frame";
}

/** Every moving body under a pixel, topmost first. @param {import("./scene.js").Scene} scene @param {Point} at */
export function bodiesAt(scene, at) {
  const found = [];
  for (const [body, polygons] of bodyShapes(scene)) {
    const margin = body === "blade" ? 4 : MARGIN;
    if (polygons.some((polygon) => within(polygon, at, margin))) found.push(body);
  }
  return found.reverse();
}

/** @param {Point[]} polygon @param {Point} at @param {number} margin */
function within(polygon, at, margin) {
  let inside = false;
  let nearest = Infinity;
  polygon.forEach((a, index) => {
    const b = polygon[(index + 1) % polygon.length];
    if (a[1] > at[1] !== b[1] > at[1] && at[0] < ((b[0] - a[0]) * (at[1] - a[1])) / (b[1] - a[1]) + a[0])
      inside = !inside;
    nearest = Math.min(nearest, toSegment(at, a, b));
  });
  return inside || nearest <= margin;
}

/** @param {Point} p @param {Point} a @param {Point} b */
function toSegment(p, a, b) {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const share = Math.min(Math.max(((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy || 1), 0), 1);
  return Math.hypot(p[0] - a[0] - share * dx, p[1] - a[1] - share * dy);
}
