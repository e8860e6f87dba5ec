/**
 * Closed length and stroke of a cylinder. Its closed length is its stroke and a dead length, which barrel, piston and
 * eyes take up whatever the stroke.
 * @module document/lengths
 */

import { cylinders, drawnLength, tidy } from "./mount.js";
import { MM_PER_INCH, customs } from "../values/units.js";

/** @typedef {{retracted: number, stroke: number}} Lengths mm */

/** What a cylinder drawn by hand is taken to be until its sizes are entered, mm. */
const USUAL = {
  metric: { bore: 63, rod: 36, step: 5 },
  inch: { bore: 2.5 * MM_PER_INCH, rod: 1.5 * MM_PER_INCH, step: MM_PER_INCH / 4 },
};
/** Stroke of a usual cylinder that is half out, as a share of its length. */
const STROKE_SHARE = 0.3;
/** The least stroke, in steps: with less of it a round one might not be in reach. */
const LEAST = 2;

/** What of the closed length is no stroke, mm. @param {Lengths} cylinder */
export function deadLength({ retracted, stroke }) {
  return tidy(retracted - stroke);
}

/**
 * A usual cylinder that is about half out at a length, round in the user's units.
 * @param {number} length mm @param {System} [system]
 */
export function sizesFor(length, system = "metric") {
  const { bore, rod } = USUAL[customs(system).trade];
  return { bore: tidy(bore), rod: tidy(rod), ...usualLengths(length, system) };
}

/** @param {number} length mm @param {System} system @returns {Lengths} */
function usualLengths(length, system) {
  const { step } = USUAL[customs(system).trade];
  const stroke = Math.max(LEAST, Math.round((STROKE_SHARE * length) / step)) * step;
  const retracted = Math.max(1, Math.round((length - stroke / 2) / step)) * step;
  return { retracted: tidy(retracted), stroke: tidy(stroke) };
}

/**
 * A cylinder fitted to where its ends are: half out there, to within a round stroke, with the dead length it has. Where
 * that leaves no stroke it is a usual one of that length.
 * @param {Cylinder} cylinder @param {System} system
 * @returns {Cylinder}
 */
export function fitted(cylinder, system) {
  const length = drawnLength(cylinder);
  const dead = deadLength(cylinder);
  const { step } = USUAL[customs(system).trade];
  const stroke = Math.round((length - dead) / 1.5 / step) * step;
  const retracted = stroke + dead;
  if (stroke < LEAST * step || retracted <= 0) return { ...cylinder, ...usualLengths(length, system) };
  return { ...cylinder, retracted: tidy(retracted), stroke: tidy(stroke) };
}

/**
 * @param {Mount} mount @param {Set<string>} ids of cylinders to fit to where their ends are @param {System} system
 * @returns {Mount}
 */
export function withFitted(mount, ids, system) {
  const members = mount.members.map((each) =>
    each.kind === "cylinder" && ids.has(each.id) ? fitted(each, system) : each,
  );
  return { ...mount, members };
}

/**
 * The mount after its joints were moved, with the closed lengths following the distances, so that every cylinder is as
 * far out as it was.
 * @param {Mount} before the move @param {Mount} after it
 * @returns {Mount}
 */
export function followed(before, after) {
  const was = new Map(cylinders(before).map((each) => [each.id, each]));
  const members = after.members.map((each) => {
    const old = each.kind === "cylinder" ? was.get(each.id) : undefined;
    if (!old || each.kind !== "cylinder") return each;
    const retracted = tidy(old.retracted + drawnLength(each) - drawnLength(old));
    return retracted > 0 && retracted !== each.retracted ? { ...each, retracted } : each;
  });
  return { ...after, members };
}

/**
 * Whether a cylinder is drawn longer or shorter than before.
 * @param {Mount} before @param {Mount} after @param {number} index among the members
 */
export function isRedrawn(before, after, index) {
  const [was, is] = [before, after].map(({ members }) => members[index]);
  return was?.kind === "cylinder" && is?.kind === "cylinder" && drawnLength(was) !== drawnLength(is);
}

const CHOICE = "closed length";

/** Whether this person had closed lengths follow the distance last. */
export function prefersFollowing() {
  try {
    return localStorage.getItem(CHOICE) === "follows";
  } catch {
    return false;
  }
}

/** @param {boolean} follow */
export function preferFollowing(follow) {
  try {
    localStorage.setItem(CHOICE, follow ? "follows" : "kept");
  } catch {
    // Private windows may refuse to keep it.
  }
}
