/**
 * Outlines drawn by hand: polygons that a body carries.
 * @module document/outlines
 */

import { bodyNames } from "./bodies.js";
import { tidy } from "../values/tidy.js";

/** @typedef {readonly [number, number]} Point */

const LEAST_CORNERS = 3;

/** @param {Mount} mount @param {BodyOutline[]} outlines @returns {Mount} */
function withOutlines(mount, outlines) {
  const { outlines: _, ...others } = mount;
  return outlines.length ? { ...others, outlines } : others;
}

/** @param {Mount} mount @param {string} body @param {Point[]} points mm as drawn @returns {Mount} */
export function withOutline(mount, body, points) {
  const corners = points.map(([x, y]) => /** @type {[number, number]} */ ([tidy(x), tidy(y)]));
  return withOutlines(mount, [...(mount.outlines ?? []), { body, points: corners }]);
}

/** @param {Mount} mount @param {number} index @returns {Mount} */
export function withoutOutline(mount, index) {
  return withOutlines(
    mount,
    (mount.outlines ?? []).filter((_, each) => each !== index),
  );
}

/** The mount without outlines of bodies it does not have. @param {Mount} mount @returns {Mount} */
export function outlinesKept(mount) {
  const known = new Set(["frame", "blade", ...bodyNames(mount)]);
  const outlines = mount.outlines ?? [];
  return outlines.every((each) => known.has(each.body))
    ? mount
    : withOutlines(
        mount,
        outlines.filter((each) => known.has(each.body)),
      );
}

/** @param {Mount} mount @param {string} body @returns {[number, number][][]} mm as drawn */
export function outlinesOf(mount, body) {
  return (mount.outlines ?? []).filter((each) => each.body === body).map((each) => each.points);
}

/** What a corner's handle is called. @param {number} index of the outline @param {number} corner */
export function cornerName(index, corner) {
  return `outline/${index}/${corner}`;
}

/**
 * Which corner a handle is.
 * @param {string|null} name
 * @returns {{index: number, corner: number}|null} null for any other handle
 */
export function cornerOf(name) {
  const match = /^outline\/(\d+)\/(\d+)$/.exec(name ?? "");
  return match ? { index: Number(match[1]), corner: Number(match[2]) } : null;
}

/**
 * The handles of an outline's corners.
 * @param {Mount} mount @param {number} index
 * @returns {{name: string, at: [number, number], body: string, label: string, member: null}[]}
 */
export function cornerHandles(mount, index) {
  const outline = mount.outlines?.[index];
  return (outline?.points ?? []).map((at, corner) => ({
    name: cornerName(index, corner),
    at,
    body: outline?.body ?? "",
    label: `outline of ${outline?.body}, corner ${corner + 1}`,
    member: null,
  }));
}

/** @param {Mount} mount @param {number} index @param {(points: [number, number][]) => [number, number][]} change */
function withPoints(mount, index, change) {
  const outlines = (mount.outlines ?? []).map((each, at) =>
    at === index ? { ...each, points: change(each.points) } : each,
  );
  return withOutlines(mount, outlines);
}

/** @param {Mount} mount @param {string} name of a corner @param {[number, number]} at mm as drawn @returns {Mount} */
export function cornerMoved(mount, name, at) {
  const found = cornerOf(name);
  if (!found) return mount;
  return withPoints(mount, found.index, (points) =>
    points.map((each, corner) => (corner === found.corner ? at : each)),
  );
}

/** One more corner in the middle of the side that begins at one. @param {Mount} mount @param {string} name */
export function cornerAdded(mount, name) {
  const found = cornerOf(name);
  if (!found) return mount;
  return withPoints(mount, found.index, (points) => {
    const [a, b] = [points[found.corner], points[(found.corner + 1) % points.length]];
    const middle = /** @type {[number, number]} */ ([tidy((a[0] + b[0]) / 2), tidy((a[1] + b[1]) / 2)]);
    return [...points.slice(0, found.corner + 1), middle, ...points.slice(found.corner + 1)];
  });
}

/** One corner less; an outline of three is taken away. @param {Mount} mount @param {string} name @returns {Mount} */
export function cornerRemoved(mount, name) {
  const found = cornerOf(name);
  if (!found) return mount;
  if ((mount.outlines?.[found.index]?.points.length ?? 0) <= LEAST_CORNERS) return withoutOutline(mount, found.index);
  return withPoints(mount, found.index, (points) => points.filter((_, corner) => corner !== found.corner));
}
