/**
 * What a designer wants of a mount and what may change for it: goals, what is free, what is locked. They are no part of
 * the document: the browser keeps them beside the mount's id.
 * @module document/wishes
 */

import { customs, inward } from "../values/units.js";
import { vocabulary } from "../values/vocabulary.js";
import { jointId, splitJoint } from "../values/joint.js";

/** @typedef {readonly [number, number]} Range from and to, document units */

/**
 * A pivot that may stand anywhere within a box, mm as drawn; an axis without a range stays.
 * @typedef {Object} Box
 * @property {string} joint
 * @property {Range|null} x
 * @property {Range|null} y
 * @property {boolean} alike whether the joint that mirrors it takes the mirrored steps
 * @property {boolean} whole whether the other end of its member takes the same steps
 */

/**
 * A number that may be one of several.
 * @typedef {Object} Choice
 * @property {string} place as the server names it: `left cylinder.bore`
 * @property {number[]} choices document units, smallest first
 * @property {boolean} alike whether the same number on the other side goes with it
 */

/**
 * @typedef {Object} Wishes
 * @property {Goal[]} goals
 * @property {Box[]} boxes
 * @property {Choice[]} choices
 * @property {string[]} locked joints and members that suggestions leave as they are, by name
 */

/** @type {Wishes} */
export const NO_WISHES = { goals: [], boxes: [], choices: [], locked: [] };

/** Whether nothing is wished for. @param {Wishes} wishes */
export function isIdle(wishes) {
  return Object.values(wishes).every((each) => !each.length);
}

const USUAL = { coupling: 0.1, residual: 0.05, "load ratio": 1.5, "joint use": 0.5 };
/**
 * What a goal begins with, in document units, round in those of the trade; the error with the mount's own tolerance.
 * @type {Record<"metric"|"inch", Record<GoalWhat, number>>}
 */
const BEGUN = {
  metric: { ...USUAL, error: 3, pressure: 16 },
  inch: { ...USUAL, error: inward(0.125, "error", "inch"), pressure: inward(2000, "pressure", "inch") },
};

/** @param {Mount} mount @param {GoalWhat} what @param {System} system @returns {Goal} */
export function newGoal(mount, what, system) {
  const most = what === "error" && mount.tolerance ? mount.tolerance : BEGUN[customs(system).trade][what];
  return { what, most, over: "pose" };
}

/** The kinds of goal that are not set yet. @param {Goal[]} goals @returns {GoalWhat[]} */
export function unset(goals) {
  return vocabulary.goals.map(({ what }) => what).filter((what) => !goals.some((each) => each.what === what));
}

/** The goals with another in one's place. @param {Goal[]} goals @param {number} index @param {Partial<Goal>} change */
export function withGoal(goals, index, change) {
  return goals.map((each, at) => (at === index ? { ...each, ...change } : each));
}

/**
 * The wishes by the names that members have in the next document.
 * @param {Wishes} wishes @param {Map<string, string>} names
 */
export function renamed(wishes, names) {
  if (!names.size) return wishes;
  const joint = (/** @type {string} */ name) => {
    const [owner, end] = splitJoint(name);
    return names.has(owner) ? jointId(/** @type {string} */ (names.get(owner)), end ? Number(end) : undefined) : name;
  };
  const place = (/** @type {string} */ name) => {
    const at = name.lastIndexOf(".");
    return joint(name.slice(0, at)) + name.slice(at);
  };
  return {
    ...wishes,
    boxes: wishes.boxes.map((each) => ({ ...each, joint: joint(each.joint) })),
    choices: wishes.choices.map((each) => ({ ...each, place: place(each.place) })),
    locked: wishes.locked.map(joint),
  };
}

/** What was kept, as far as it can be read. @param {unknown} kept @returns {Wishes} */
export function readWishes(kept) {
  const found = /** @type {Partial<Record<keyof Wishes, unknown>>} */ (isTree(kept) ? kept : {});
  return {
    goals: listed(found.goals).filter(isGoal),
    boxes: listed(found.boxes).filter(isBox),
    choices: listed(found.choices).filter(isChoice),
    locked: listed(found.locked).filter((each) => typeof each === "string"),
  };
}

/** @param {unknown} value @returns {unknown[]} */
function listed(value) {
  return Array.isArray(value) ? value : [];
}

/** @param {unknown} value @returns {value is Record<string, unknown>} */
function isTree(value) {
  return typeof value === "object" && value !== null;
}

/** @param {unknown} value @returns {value is Goal} */
function isGoal(value) {
  return (
    isTree(value) &&
    vocabulary.goals.some(({ what }) => what === value.what) &&
    Number.isFinite(value.most) &&
    (value.over === "pose" || value.over === "travel")
  );
}

/** @param {unknown} value @returns {value is Range} */
function isRange(value) {
  return Array.isArray(value) && value.length === 2 && value.every(Number.isFinite);
}

/** @param {unknown} value @returns {value is Box} */
function isBox(value) {
  return (
    isTree(value) &&
    typeof value.joint === "string" &&
    [value.x, value.y].every((each) => each === null || isRange(each)) &&
    typeof value.alike === "boolean" &&
    typeof value.whole === "boolean"
  );
}

/** @param {unknown} value @returns {value is Choice} */
function isChoice(value) {
  return (
    isTree(value) &&
    typeof value.place === "string" &&
    Array.isArray(value.choices) &&
    value.choices.every(Number.isFinite) &&
    typeof value.alike === "boolean"
  );
}
