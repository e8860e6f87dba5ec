/**
 * What held dimensions make of a change. What was moved goes where it was put and what is held to it follows, moving no
 * farther than it must; the ends of the blade stay. Where that cannot be, what was moved goes to the nearest place that
 * the dimensions leave it; where nothing fits them, the change cannot be made.
 * @module document/settle
 */

import { dimensionWords, dimensionsKept, handleOf, jointPlaces } from "./dimensions.js";
import { outlinesKept } from "./outlines.js";
import { moved } from "./mount.js";

/** @typedef {readonly [number, number]} Point */
/** @typedef {Map<string, Point>} Places by joint, as the document calls them */
/** @typedef {{dimension: Dimension, size: number}} Held size: signed where it is level or upright, mm */
/** @typedef {{index: number, size: number}} Asked a dimension that is given another size, mm */

const CLOSED_MM = 1e-9;
const MOST_STEPS = 60;
/** Followers are kept finer than what is typed, so that nothing drifts. */
const FINE = 1e9;
/** What is left of a direction that others settle. */
const DEPENDENT = 1e-5;

/**
 * @param {Mount} before @param {Mount} after the same with something moved @param {Asked[]} [asked]
 * @returns {{mount: Mount, fighting: Dimension[]}} where some fight the change, the mount is as it was before
 */
export function settled(before, after, asked = []) {
  const dimensions = after.dimensions ?? [];
  if (!dimensions.length) return { mount: after, fighting: [] };
  const [was, now] = [before, after].map(jointPlaces);
  const sizes = dimensions.map((dimension, index) => ({
    dimension,
    size: sizeOf(dimension, was, now, asked.find((each) => each.index === index)?.size),
  }));
  const blade = ["blade / left", "blade / right"];
  const changed = [...now].filter(([name, at]) => !same(at, was.get(name))).map(([name]) => name);
  const first = asked.map(({ index }) => dimensions[index].between[0]);
  let best = /** @type {{places: Places, off: number[]}|null} */ (null);
  for (const fixed of [[...changed, ...blade, ...first], [...first, ...blade], blade]) {
    best = closed(sizes, now, new Set(fixed));
    if (!best.off.some((each) => each > CLOSED_MM)) return { mount: placed(after, now, best.places), fighting: [] };
  }
  const off = best?.off ?? [];
  const fighting = dimensions.filter((_, index) => off[index] > 1e-3 && !asked.some((each) => each.index === index));
  return { mount: before, fighting: fighting.length ? fighting : dimensions };
}

/**
 * A change of any kind with what is held: joints that are gone let go, renamed members keep what is held to them.
 * @param {Mount} before @param {Mount} after
 */
export function held(before, after) {
  return settled(before, outlinesKept(dimensionsKept(before, after)));
}

/**
 * Whether others settle what a dimension would hold, so that it says nothing new.
 * @param {Mount} mount @param {Dimension} dimension
 */
export function isHeldAlready(mount, dimension) {
  const places = jointPlaces(mount);
  const all = [...(mount.dimensions ?? []), dimension];
  const joints = [...new Set(all.flatMap(({ between }) => between))];
  const column = new Map(joints.map((name, index) => [name, 2 * index]));
  const rows = all.map((each) => rowOf(each, places, column, 2 * joints.length));
  const row = /** @type {number[]} */ (rows.pop());
  const dots = (/** @type {number[]} */ one) => one.reduce((sum, value, at) => sum + value * row[at], 0);
  const shares = solved(grammed(rows), rows.map(dots));
  const left = row.map((value, at) => value - rows.reduce((sum, each, number) => sum + each[at] * shares[number], 0));
  return Math.hypot(...left) < DEPENDENT;
}

/**
 * Why a change cannot be made, in words.
 * @param {Dimension[]} fighting
 */
export function fightWords(fighting) {
  const named = fighting.slice(0, 3).map(dimensionWords);
  return `Held dimensions do not let it: ${named.join("; ")}. Take one of them out, or give it another size.`;
}

/** @param {Point} a @param {Point|undefined} b */
function same(a, b) {
  return b !== undefined && a[0] === b[0] && a[1] === b[1];
}

/** @param {Dimension} dimension @param {Places} was @param {Places} now @param {number} [wanted] */
function sizeOf({ between, way }, was, now, wanted) {
  const places = between.every((each) => was.has(each)) ? was : now;
  const [a, b] = between.map((each) => places.get(each) ?? [0, 0]);
  if (way === "along") return wanted ?? Math.hypot(b[0] - a[0], b[1] - a[1]);
  const drawn = way === "level" ? b[0] - a[0] : b[1] - a[1];
  return wanted === undefined ? drawn : drawn < 0 ? -wanted : wanted;
}

/**
 * The places that fit the dimensions, nearest to where they are, with some joints fixed.
 * @param {Held[]} held @param {Places} start @param {Set<string>} fixed
 * @returns {{places: Places, off: number[]}} off: by how much each dimension misses, mm
 */
function closed(held, start, fixed) {
  const places = new Map(start);
  const free = [...new Set(held.flatMap(({ dimension }) => dimension.between))].filter((each) => !fixed.has(each));
  const column = new Map(free.map((name, index) => [name, 2 * index]));
  let off = held.map((each) => miss(each, places));
  for (let step = 0; step < MOST_STEPS && off.some((each) => Math.abs(each) > CLOSED_MM); step += 1) {
    const rows = held.map(({ dimension }) => rowOf(dimension, places, column, 2 * free.length));
    const by = leastMove(rows, off);
    for (const [name, at] of column) {
      const [x, y] = /** @type {Point} */ (places.get(name));
      places.set(name, [x - by[at], y - by[at + 1]]);
    }
    off = held.map((each) => miss(each, places));
  }
  return { places, off: off.map(Math.abs) };
}

/** @param {Held} held @param {Places} places */
function miss({ dimension: { between, way }, size }, places) {
  const [a, b] = between.map((each) => places.get(each) ?? [0, 0]);
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  return (way === "along" ? Math.hypot(dx, dy) : way === "level" ? dx : dy) - size;
}

/** @param {Dimension} dimension @param {Places} places @param {Map<string, number>} column @param {number} width */
function rowOf({ between, way }, places, column, width) {
  const [a, b] = between.map((each) => places.get(each) ?? [0, 0]);
  const apart = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const direction =
    way === "along" ? [(b[0] - a[0]) / apart, (b[1] - a[1]) / apart] : way === "level" ? [1, 0] : [0, 1];
  const row = new Array(width).fill(0);
  between.forEach((name, which) => {
    const at = column.get(name);
    if (at === undefined) return;
    row[at] += which ? direction[0] : -direction[0];
    row[at + 1] += which ? direction[1] : -direction[1];
  });
  return row;
}

/**
 * The shortest move that takes up what is off: x = Jᵀ (J Jᵀ)⁻¹ r, with dimensions that say the same taken once.
 * @param {number[][]} rows @param {number[]} off @returns {number[]}
 */
function leastMove(rows, off) {
  const shares = solved(grammed(rows), off);
  return (rows[0] ?? []).map((_, at) => rows.reduce((sum, row, number) => sum + row[at] * shares[number], 0));
}

/** Every row times every other. @param {number[][]} rows */
function grammed(rows) {
  return rows.map((one) => rows.map((other) => one.reduce((sum, value, at) => sum + value * other[at], 0)));
}

/**
 * Gauss with pivoting on the diagonal; rows that say nothing new have no share.
 * @param {number[][]} matrix symmetric @param {number[]} right
 */
function solved(matrix, right) {
  const rows = matrix.map((row, number) => [...row, right[number]]);
  const size = rows.length;
  /** @type {number[]} */
  const order = [];
  for (let step = 0; step < size; step += 1) {
    let pivot = -1;
    for (let each = 0; each < size; each += 1)
      if (!order.includes(each) && (pivot < 0 || rows[each][each] > rows[pivot][pivot])) pivot = each;
    if (rows[pivot][pivot] < 1e-10) break;
    order.push(pivot);
    for (let each = 0; each < size; each += 1) {
      if (each === pivot) continue;
      const share = rows[each][pivot] / rows[pivot][pivot];
      if (share) for (let at = 0; at <= size; at += 1) rows[each][at] -= share * rows[pivot][at];
    }
  }
  return rows.map((row, number) => (order.includes(number) ? row[size] / row[number] : 0));
}

/** @param {Mount} mount @param {Places} now @param {Places} places */
function placed(mount, now, places) {
  let next = mount;
  const fine = (/** @type {number} */ each) => Math.round(each * FINE) / FINE;
  for (const [name, at] of places)
    if (!same(at, now.get(name))) next = moved(next, handleOf(name), [fine(at[0]), fine(at[1])], false);
  return next;
}
