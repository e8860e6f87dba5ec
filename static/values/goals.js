/**
 * How a mount stands to a goal, in words.
 * @module values/goals
 */

import { precise } from "./messages.js";
import { amount } from "./units.js";
import { goalKind } from "./vocabulary.js";

/** @type {Record<GoalOver, string>} */
export const OVER_WORDS = { pose: "as it stands", travel: "over the travel" };

/** What a goal is about, with where it is looked at. @param {{what: GoalWhat, over: GoalOver}} goal */
export function goalName({ what, over }) {
  return goalKind(what).label + (over === "travel" ? ` ${OVER_WORDS.travel}` : "");
}

/** A goal as a sentence has it: coupling at most 0.10. @param {Goal} goal @param {System} system */
export function goalWords(goal, system) {
  return `${goalName(goal)} at most ${precise(goal.most, goalKind(goal.what).measure, system)}`;
}

/**
 * How a mount stands to a goal.
 * @param {GoalRead} read @param {System} system
 * @returns {{mark: "met"|"missed"|"none", value: string, words: string}}
 */
export function standingWords(read, system) {
  const { measure, lacks } = goalKind(read.what);
  if (read.value === null) {
    const words =
      read.over === "travel"
        ? `not known: it does not go through its whole travel, or ${lacks}`
        : `not known: ${lacks}`;
    return { mark: "none", value: "–", words };
  }
  const value = amount(read.value, measure, system);
  const apart = Math.abs(read.most - read.value);
  // Equal to the last digit: no margin to speak of.
  const size = apart > 1e-9 * Math.max(read.most, 1) ? precise(apart, measure, system) : null;
  if (read.met) return { mark: "met", value, words: size ? `met, ${size} to spare` : "met, none to spare" };
  return { mark: "missed", value, words: `missed by ${size ?? precise(0, measure, system)}` };
}

/** How many are met, in a line. @param {GoalRead[]} read */
export function metWords(read) {
  const met = read.filter((each) => each.met).length;
  if (met === read.length) return read.length === 1 ? "The goal is met." : `All ${read.length} goals are met.`;
  return `${met} of ${read.length} ${read.length === 1 ? "goal" : "goals"} met.`;
}
