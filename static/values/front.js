/**
 * Where the mounts of a front stand on its plot: coupling along, error up, load ratio by the size of the mark.
 * @module values/front
 */

import { roundLevels } from "./contours.js";
import { goalName } from "./goals.js";
import { precise } from "./messages.js";
import { inward } from "./units.js";
import { goalKind } from "./vocabulary.js";

/** @typedef {{what: GoalWhat, over: GoalOver}} Traded what a search trades */
/** @typedef {{width: number, height: number, left: number, right: number, top: number, bottom: number}} Room pixels */

/** Radius of the smallest and the largest mark, pixels. */
const RADIUS = [4.5, 9];

/**
 * @typedef {Object} Axis
 * @property {number} from
 * @property {number} to
 * @property {number[]} ticks document units
 * @property {number} digits of a tick's number
 */

/**
 * An axis that holds all values and ends on round numbers.
 * @param {number[]} values document units @param {Traded} of @param {System} system
 * @returns {Axis}
 */
export function axisOf(values, of, system) {
  const one = inward(1, goalKind(of.what).measure, system);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const apart = high - low > 1e-9 * Math.max(Math.abs(high), 1e-9) ? high - low : Math.max(Math.abs(high), one) * 0.5;
  const [from, to] = [Math.max(0, low - 0.08 * apart), high + 0.08 * apart];
  const { levels, step } = roundLevels(from, to, 5, one);
  return { from, to, ticks: levels, digits: Math.max(0, -Math.floor(Math.log10(step / one) + 1e-9)) };
}

/** Which objective stands where on the plot, by its place among them; up is the error. @param {Traded[]} objectives */
export function placesOf(objectives) {
  const find = (/** @type {GoalWhat[]} */ whats) => objectives.findIndex(({ what }) => whats.includes(what));
  return { up: find(["error"]), along: find(["coupling", "residual"]), size: find(["load ratio"]) };
}

/**
 * Values to pixels, and the sizes of marks.
 * @param {number[][]} rows objectives of every mark @param {Traded[]} objectives
 * @param {Room} room @param {System} system
 */
export function plotOf(rows, objectives, room, system) {
  const { up, along, size } = placesOf(objectives);
  const column = (/** @type {number} */ at) => rows.map((each) => each[at]).filter(Number.isFinite);
  const [x, y] = [axisOf(column(along), objectives[along], system), axisOf(column(up), objectives[up], system)];
  const sizes = size < 0 ? [] : column(size);
  const [least, most] = [Math.min(...sizes), Math.max(...sizes)];
  const across = room.width - room.left - room.right;
  const high = room.height - room.top - room.bottom;
  const px = (/** @type {number} */ value) => room.left + ((value - x.from) / (x.to - x.from)) * across;
  const py = (/** @type {number} */ value) => room.height - room.bottom - ((value - y.from) / (y.to - y.from)) * high;
  return {
    x,
    y,
    px,
    py,
    /** @param {number[]} row @returns {[number, number]} */
    at: (row) => [px(row[along]), py(row[up])],
    /** @param {number[]} row its area tells the load ratio */
    radius: (row) => {
      if (size < 0 || !(most > least)) return (RADIUS[0] + RADIUS[1]) / 2;
      const share = Math.min(Math.max((row[size] - least) / (most - least), 0), 1);
      return Math.sqrt(RADIUS[0] ** 2 + share * (RADIUS[1] ** 2 - RADIUS[0] ** 2));
    },
  };
}

/** What a mount of a front has, in words. @param {number[]} row @param {Traded[]} objectives @param {System} system */
export function rowWords(row, objectives, system) {
  return objectives
    .map((each, at) => `${goalName(each)} ${precise(row[at], goalKind(each.what).measure, system)}`)
    .join(", ");
}

/**
 * What a search has shown, and no more than that.
 * @param {{tried: number, seed: number, steps: number}} found
 */
export function foundWords({ tried, seed, steps }) {
  return (
    `The best of ${tried.toLocaleString("en").replaceAll(",", "\u00a0")} tried within these boxes, at these poses ` +
    `(${steps} strokes a side), seed ${seed}.`
  );
}
