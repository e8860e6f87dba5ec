/**
 * What a step of a lesson puts on the wall.
 * @module core/lessonsteps
 */

import { customs } from "../values/units.js";
import { NO_GUESSES } from "./guesses.js";

/**
 * A lesson that is played, and its step.
 * @typedef {{document: Lesson, at: number}} Playing
 */

/** @typedef {Partial<import("./store.js").Demo>} Change of what the wall shows */

/** The step that is shown, if a lesson is played. @param {{lesson: Playing|null}} state @returns {LessonStep|null} */
export function stepShown({ lesson }) {
  return lesson?.document.steps[lesson.at] ?? null;
}

/** The mount of a step: name of a shipped one or a document. @param {LessonStep} step @param {System} system */
export function mountOf(step, system) {
  return (customs(system).trade === "inch" ? step.in_inches : null) ?? step.mount;
}

/** How many lines of its sum a step begins with. @param {LessonStep|null} step */
export function firstLines(step) {
  return step?.reveal === "at once" ? Infinity : 1;
}

/**
 * What stands on the wall when a step begins: its question, or what it shows.
 * @param {LessonStep} step @returns {Change}
 */
export function wallOf(step) {
  return {
    wall: true,
    board: step.view,
    lines: firstLines(step),
    quiz: Boolean(step.question),
    question: step.question ?? null,
    unveiled: false,
    guesses: NO_GUESSES,
  };
}

/** The minutes before a step and of the whole lesson. @param {Playing} lesson */
export function minutesOf({ document: { steps }, at }) {
  const sum = (/** @type {LessonStep[]} */ some) => some.reduce((all, { minutes }) => all + (minutes ?? 1), 0);
  return { before: sum(steps.slice(0, at)), all: sum(steps) };
}

/**
 * The sheet and what stands beside it, as a step of a lesson.
 * @param {import("./store.js").State} state @returns {LessonStep}
 */
export function stepOfSheet({ mount, shipped, command, chosen, end, demo }) {
  const worked = Object.fromEntries(Object.entries(command).filter(([, move]) => move));
  const board = /** @type {LessonStep["view"]} */ (demo.board);
  const question = demo.quiz || demo.unveiled ? demo.question : null;
  return {
    mount: shipped ?? mount,
    ...(Object.keys(worked).length ? { command: worked } : {}),
    ...(chosen ? { cylinder: chosen } : {}),
    end,
    view: board,
    ...(question ? { question: /** @type {LessonStep["question"]} */ (question) } : {}),
  };
}
