/**
 * Construction lines and points of a document: joints rest on them while they are drawn and dragged.
 * @module document/construction
 */

import { tidy } from "../values/tidy.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {{at: Point, angle: number}} Line degrees from level to the right */
/** @typedef {"level"|"plumb"|"through"|"parallel"|"point"} Set how a line is set */

/** @type {{set: Set, words: string, places: number}[]} */
export const SETS = [
  { set: "level", words: "level", places: 1 },
  { set: "plumb", words: "plumb", places: 1 },
  { set: "through", words: "through two", places: 2 },
  { set: "parallel", words: "parallel to", places: 2 },
  { set: "point", words: "point", places: 1 },
];

/** @param {Mount} mount @param {ConstructionLine[]} construction @returns {Mount} */
function withConstruction(mount, construction) {
  const { construction: _, ...others } = mount;
  return construction.length ? { ...others, construction } : others;
}

/** @param {Mount} mount @param {Point} at @param {number} [angle] degrees; a point has none @returns {Mount} */
export function withLine(mount, at, angle) {
  const place = /** @type {[number, number]} */ ([tidy(at[0]), tidy(at[1])]);
  const line = angle === undefined ? { at: place } : { at: place, angle: tidy(((angle % 180) + 180) % 180) };
  return withConstruction(mount, [...(mount.construction ?? []), line]);
}

/** @param {Mount} mount @param {number} index @returns {Mount} */
export function withoutLine(mount, index) {
  return withConstruction(
    mount,
    (mount.construction ?? []).filter((_, each) => each !== index),
  );
}

/** What the handle of a line or point is called. @param {number} index */
export function lineName(index) {
  return `construction/${index}`;
}

/** Which line or point a handle is; null for any other. @param {string|null} name @returns {number|null} */
export function lineOf(name) {
  const match = /^construction\/(\d+)$/.exec(name ?? "");
  return match ? Number(match[1]) : null;
}

/** The handle of a line or point. @param {Mount} mount @param {number} index */
export function lineHandle(mount, index) {
  const line = mount.construction?.[index];
  if (!line) return undefined;
  const label = typeof line.angle === "number" ? "construction line" : "construction point";
  return { name: lineName(index), at: line.at, body: "frame", label: `${label} ${index + 1}`, member: null };
}

/** @param {Mount} mount @param {string} name @param {[number, number]} at mm @returns {Mount} */
export function lineMoved(mount, name, at) {
  const moving = lineOf(name);
  return withConstruction(
    mount,
    (mount.construction ?? []).map((each, index) => (index === moving ? { ...each, at } : each)),
  );
}

/** The construction points. @param {Mount} mount @returns {Point[]} */
export function constructionPoints(mount) {
  return (mount.construction ?? []).filter((each) => typeof each.angle !== "number").map((each) => each.at);
}

/** The construction lines. @param {Mount} mount @returns {Line[]} */
export function constructionLines(mount) {
  return (mount.construction ?? []).flatMap(({ at, angle }) => (typeof angle === "number" ? [{ at, angle }] : []));
}

/** @param {number} degrees @returns {[number, number]} exact along the axes */
export function runOf(degrees) {
  if (degrees % 180 === 0) return [1, 0];
  if (degrees % 180 === 90 || degrees % 180 === -90) return [0, 1];
  return [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
}

/** The point of a line nearest to a place. @param {Line} line @param {Point} to @returns {[number, number]} */
export function footOn({ at, angle }, to) {
  const [x, y] = runOf(angle);
  const along = (to[0] - at[0]) * x + (to[1] - at[1]) * y;
  return [at[0] + along * x, at[1] + along * y];
}

/**
 * Where two lines meet; null where they run alike.
 * @param {Line} one @param {Line} other @returns {[number, number]|null}
 */
export function meeting(one, other) {
  const [[ax, ay], [bx, by]] = [runOf(one.angle), runOf(other.angle)];
  const cross = ax * by - ay * bx;
  if (Math.abs(cross) < 1e-9) return null;
  const along = ((other.at[0] - one.at[0]) * by - (other.at[1] - one.at[1]) * bx) / cross;
  return [one.at[0] + along * ax, one.at[1] + along * ay];
}
