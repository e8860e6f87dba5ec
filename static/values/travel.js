/**
 * A mount over its travel, as the server sends it in one block, and what there is to read off it.
 * @module values/travel
 */

import { own } from "./own.js";
import { amount } from "./units.js";

/**
 * @typedef {Object} Over a mount over the strokes of one or two cylinders
 * @property {string[]} cylinders by id: the first along a row, the second from row to row
 * @property {Record<string, number[]>} strokes of each, mm longer than drawn
 * @property {Record<string, number>} drawn the value of each layer as the mount is drawn
 * @property {Record<string, AtWorst>} worst of each layer, farthest from nought, and where
 * @property {DeadCentres[]} dead_centres that end the travel
 * @property {Beyond[]} [beyond] the nearest beyond the strokes, where they were asked for
 * @property {[number, number]} shape rows, and values a row
 * @property {Record<string, Float32Array>} layers by name; NaN where there is no number
 */

/**
 * What came over the line.
 * @param {ArrayBuffer} block a line of JSON, then 32-bit numbers, layer by layer
 * @returns {Over & {seq: number}}
 */
export function unpacked(block) {
  const bytes = new Uint8Array(block);
  const end = bytes.indexOf(10);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(0, end)));
  const count = head.shape[0] * head.shape[1];
  const layers = head.layers.map((/** @type {string} */ name, /** @type {number} */ index) => [
    name,
    new Float32Array(block, end + 1 + 4 * count * index, count),
  ]);
  return { ...head, layers: Object.fromEntries(layers) };
}

/** What `POST /travel` answers. @param {Travelled} answer @returns {Over} */
export function overOf({ layers, ...rest }) {
  const flat = Object.entries(layers).map(([name, rows]) => [
    name,
    Float32Array.from(rows.flat(), (each) => each ?? NaN),
  ]);
  const rows = Object.values(layers)[0] ?? [[]];
  return { ...rest, shape: [rows.length, rows[0].length], layers: Object.fromEntries(flat) };
}

/** A layer as a grid. @param {Over} over @param {string} name @returns {import("./contours.js").Grid|null} */
export function gridOf(over, name) {
  const values = own(over.layers, name);
  return values ? { wide: over.shape[1], high: over.shape[0], values } : null;
}

/**
 * The least and the greatest of the numbers there are.
 * @param {Iterable<number>} values @returns {[number, number]|null}
 */
export function rangeOf(values) {
  let [least, most] = [Infinity, -Infinity];
  for (const each of values) {
    if (each < least) least = each;
    if (each > most) most = each;
  }
  return least <= most ? [least, most] : null;
}

/** @typedef {Pick<Over, "cylinders"|"strokes">} Strokes */

/**
 * How far a cylinder goes, mm longer than drawn.
 * @param {Strokes} over @param {string} id @returns {[number, number]}
 */
export function endsOf(over, id) {
  const along = over.strokes[id];
  return [along[0], along[along.length - 1]];
}

/** Nearer than this to the end of a stroke is at it, mm. */
const AT_END = 1e-3;

/**
 * Where a cylinder stands, in a word or two.
 * @param {Strokes} over @param {string} id @param {number} move mm longer than drawn @param {System} system
 */
function standsWords(over, id, move, system) {
  const [least, most] = endsOf(over, id);
  if (Math.abs(move - most) < AT_END) return "fully out";
  if (Math.abs(move - least) < AT_END) return "fully in";
  if (Math.abs(move) < AT_END) return "as drawn";
  return amount(move, "fine", system, { sign: true });
}

/**
 * Where on its travel a mount stands, in words.
 * @param {Strokes} over @param {Command} command mm longer than drawn @param {System} system
 */
export function whereWords(over, command, system) {
  const words = over.cylinders.map((id) => standsWords(over, id, own(command, id) ?? 0, system));
  if (words.length > 1 && words.every((each) => each === words[0]))
    return words[0] === "as drawn" ? words[0] : `both ${words[0]}`;
  return over.cylinders.map((id, index) => `${id} ${words[index]}`).join(", ");
}

/** Points of a dead centre's line farther apart than this, in cells, are two lines. */
const APART = 3;

/**
 * The lines of dead centres, in cells of the grid.
 * @param {Over} over @returns {[number, number][][]}
 */
export function deadLines(over) {
  const [first, second] = over.cylinders;
  const cells = (/** @type {string} */ id, /** @type {number} */ at) => {
    const [least, most] = endsOf(over, id);
    return ((at - least) / (most - least)) * (over.strokes[id].length - 1);
  };
  return over.dead_centres.flatMap(({ points }) => {
    /** @type {[number, number][][]} */
    const lines = [];
    for (const [x, y] of points) {
      /** @type {[number, number]} */
      const at = [cells(first, x), second === undefined ? 0 : cells(second, y)];
      const line = lines[lines.length - 1];
      const last = line?.[line.length - 1];
      if (last && Math.hypot(at[0] - last[0], at[1] - last[1]) < APART) line.push(at);
      else lines.push([at]);
    }
    return lines;
  });
}

/**
 * The dead centres that one cylinder meets while the other stays where it is, mm longer than drawn.
 * @param {Over} over @param {string} id @param {Command} command
 * @returns {number[]}
 */
export function metBy(over, id, command) {
  const axis = over.cylinders.indexOf(id);
  if (axis < 0) return [];
  const other = over.cylinders[1 - axis];
  const along = (/** @type {number} */ cell) => {
    const [least, most] = endsOf(over, id);
    return least + (cell * (most - least)) / (over.strokes[id].length - 1);
  };
  if (other === undefined) return deadLines(over).flatMap((line) => line.map(([x]) => along(x)));
  const [least, most] = endsOf(over, other);
  const level = (((own(command, other) ?? 0) - least) / (most - least)) * (over.strokes[other].length - 1);
  return deadLines(over).flatMap((line) =>
    line.slice(1).flatMap((to, index) => {
      const from = line[index];
      const [a, b] = [from[1 - axis] - level, to[1 - axis] - level];
      if (a > 0 === b > 0) return [];
      return [along(from[axis] + ((to[axis] - from[axis]) * a) / (a - b))];
    }),
  );
}

/**
 * What there is to say of the dead centres of a cylinder.
 * @param {string} id @param {number[]} met inside its stroke @param {Beyond[]} beyond @param {System} system
 */
export function deadWords(id, met, beyond, system) {
  const inside = met.map((at) => `dead centre at ${amount(at, "fine", system, { sign: true })}`);
  const past = beyond
    .filter(({ cylinder }) => cylinder === id)
    .map(({ by, stroke }) => `${amount(by, "length", system)} beyond fully ${stroke > 0 ? "out" : "in"}`);
  return [...inside, ...(past.length ? [`dead centre ${past.join(", ")}`] : [])].join("; ");
}
