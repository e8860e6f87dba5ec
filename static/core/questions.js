/**
 * What a class is asked before it is shown: questions drawn from the mount on the sheet, with their answers.
 * @module core/questions
 */

import { own } from "../values/own.js";
import { amount, customs } from "../values/units.js";
import { inTurnWords, worstOf } from "../values/words.js";

/** @typedef {import("./store.js").State} State */
/** @typedef {State & {mount: Mount, answered: Located}} Shown a state whose numbers are there */

/**
 * A question and its answer in document units, more or less by `unsure`; `shows` is what takes the wall with it.
 * @typedef {Object} Question
 * @property {string} name of its kind
 * @property {string} words
 * @property {Quantity} quantity
 * @property {number} answer
 * @property {number} unsure
 * @property {string} [said] what is said of the answer besides its number
 * @property {string} shows
 */

/** @typedef {Omit<Question, "name"|"unsure"|"shows"> & {unsure?: number}} Asked */

const SMALL = 1e-9;

/**
 * The kinds, by name, button and what takes the wall with their answer, in the order of a lesson.
 * @type {[string, string, string, (state: Shown) => Asked|null][]}
 */
const KINDS = [
  ["ends", "other end", "ratio", otherEnd],
  ["lever", "lever", "lever", lever],
  ["slop", "slop", "play", slop],
  ["load", "load", "lever", load],
  ["dial", "dial", "dial", dial],
  ["oil", "oil", "oil", oil],
  ["worst", "worst error", "error", worst],
  ["turns", "ends in turn", "turns", turns],
];

/** The kinds a lesson may name. */
export const QUESTIONS = KINDS.map(([name, label]) => ({ name, label }));

/** Whether the numbers of a state are there. @param {State} state @returns {state is Shown} */
export function isShown(state) {
  return Boolean(state.answered?.budget);
}

/**
 * The questions this mount has, by name and button.
 * @param {State} state @returns {{label: string, question: Question}[]}
 */
export function questionsOf(state) {
  if (!isShown(state)) return [];
  return KINDS.flatMap(([name, label, shows, make]) => {
    const asked = make(state);
    return asked ? [{ label, question: { unsure: 0, ...asked, name, shows } }] : [];
  });
}

/**
 * What the class is asked: the chosen question, else that of the sum on the wall, else the first there is. A lesson
 * asks its own question or none.
 * @param {State} state @returns {Question|null}
 */
export function questionOf(state) {
  const all = questionsOf(state).map((each) => each.question);
  const { question, board } = state.demo;
  const wanted = all.find((each) => each.name === question);
  if (wanted || (question && state.lesson)) return wanted ?? null;
  return all.find((each) => each.shows === board) ?? all[0] ?? null;
}

/** The end that can be farther out. @param {Shown} state @returns {EndName} */
export function worseEnd({ answered: { budget } }) {
  return budget.left.worst > budget.right.worst ? "left" : "right";
}

/** @param {EndName} end @returns {EndName} */
export function otherOf(end) {
  return end === "left" ? "right" : "left";
}

/** The cylinder in hand, where it tilts the blade. @param {Shown} state */
export function chosenOf(state) {
  const name = state.chosen ?? "";
  const actuator = own(state.answered.actuators, name);
  return actuator && actuator.coupling !== null ? { name, actuator, coupling: actuator.coupling } : null;
}

/** The load of a mount in words. @param {Shown} state */
export function loadWords({ mount: { load }, system }) {
  return load ? amount(Math.hypot(...load.force), "force", system) : "";
}

/** How far one end takes the other along. @param {Shown} state @returns {Asked|null} */
function otherEnd(state) {
  const found = chosenOf(state);
  if (!found) return null;
  const { lead } = found.actuator;
  const raised = customs(state.system).rise;
  const rise = amount(raised, "length", state.system, { digits: 0 });
  const words = `How far does the ${otherOf(lead)} end rise? (− if it drops)`;
  return {
    words: `${found.name} raises the ${lead} end by ${rise}. ${words}`,
    quantity: "error",
    answer: found.coupling * raised,
  };
}

/** How many times as far an end moves as the cylinder. @param {Shown} state @returns {Asked|null} */
function lever(state) {
  const found = chosenOf(state);
  if (!found) return null;
  const { name, actuator } = found;
  const gain = Math.abs(actuator[actuator.lead]);
  if (gain < SMALL) return null;
  const words = `${name} is worked a little. How many times as far does the ${actuator.lead} end move?`;
  return { words, quantity: "ratio", answer: gain };
}

/** What slop alone does at the worse end, stop to stop. @param {Shown} state @returns {Asked|null} */
function slop(state) {
  const end = worseEnd(state);
  const found = state.answered.budget[end].sources.filter((each) => each.kind === "clearance" && each.high > SMALL);
  if (!found.length) return null;
  return {
    words: `Only the joints are loose. How far can the ${end} end be swung, from stop to stop?`,
    quantity: "error",
    answer: found.reduce((sum, each) => sum + each.high - each.low, 0),
  };
}

/** What the load on the edge is at the cylinder. @param {Shown} state @returns {Asked|null} */
function load(state) {
  const found = chosenOf(state);
  if (!found || found.actuator.load_ratio === null || !state.mount.load) return null;
  return {
    words: `${loadWords(state)} pushes on the edge. How many times that does ${found.name} carry?`,
    quantity: "ratio",
    answer: found.actuator.load_ratio,
  };
}

/** What a dial reads when the load comes on. @param {Shown} state @returns {Asked|null} */
function dial(state) {
  const found = state.answered.dial;
  if (!found) return null;
  const end = Math.abs(found.left) > Math.abs(found.right) ? "left" : "right";
  return {
    words: `A dial at the ${end} end is set to zero. Then ${loadWords(state)} comes on. What does it read?`,
    quantity: "error",
    answer: found[end],
    unsure: found.unsure[end],
  };
}

/** What the oil of the cylinder costs at the edge. @param {Shown} state @returns {Asked|null} */
function oil(state) {
  const found = chosenOf(state);
  if (!found || !state.mount.load) return null;
  const { name, actuator } = found;
  const end = actuator.lead;
  const source = state.answered.budget[end].sources.find((each) => each.kind === "oil" && each.member === name);
  const most = source ? Math.max(Math.abs(source.low), Math.abs(source.high)) : 0;
  if (most < SMALL) return null;
  return {
    words: `Under ${loadWords(state)} the oil of ${name} gives way. How far does the ${end} end go for it?`,
    quantity: "error",
    answer: most,
  };
}

/** All at its worst, as the headline has it. @param {Shown} state @returns {Asked|null} */
function worst(state) {
  const { mount, answered, detail } = state;
  const judged = detail?.mount === mount ? detail.answer : null;
  const end = worseEnd(state);
  return {
    words: `All at its worst: how far out can the ${end} end be?`,
    quantity: "error",
    answer: worstOf(answered.budget, judged, end).value,
  };
}

/** What one round of corrections leaves. @param {Shown} state @returns {Asked|null} */
function turns(state) {
  const found = state.answered.coupling;
  if (found.residual === null) return null;
  return {
    words: "One end is out. Each is corrected once with its own cylinder: what share of the error is left?",
    quantity: "percent",
    answer: Math.abs(found.residual),
    said: inTurnWords(found),
  };
}
