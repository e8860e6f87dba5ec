/**
 * The way forward and back on the wall: from a question to its answer, to the first line of its sum, and line by line.
 * @module core/wallsteps
 */

import { NO_GUESSES } from "./guesses.js";
import { firstLines, stepShown } from "./lessonsteps.js";
import { questionOf } from "./questions.js";
import { sumOnWall, sumsOf } from "./sums.js";
import { isWorking, pageNumber, pagesOf } from "./wallpages.js";

/** @typedef {import("./store.js").State} State */
/** @typedef {Partial<import("./store.js").Demo>} Change of what the wall shows */

/** Hide the numbers and ask. @param {State} state @param {string|null} [name] of the question @returns {Change} */
export function asking({ demo }, name = demo.question) {
  const again = name !== demo.question || demo.unveiled;
  return { quiz: true, unveiled: false, question: name, guesses: again ? NO_GUESSES : demo.guesses };
}

/** Show the answer with what was guessed. @param {State} state @returns {Change} */
export function unveiling(state) {
  const asked = questionOf(state);
  const board = stepShown(state)?.view ?? asked?.shows;
  return { quiz: false, unveiled: Boolean(asked), ...(asked ? { question: asked.name, board } : {}) };
}

/** Another thing on the wall, whole. @param {string} board @returns {Change} */
export function onWall(board) {
  return { board, lines: Infinity, unveiled: false, question: null };
}

/** How many lines of its sum are on the wall, or which page of the working, of how many. @param {State} state */
export function linesOn(state) {
  if (isWorking(state)) return { shown: pageNumber(state), all: pagesOf(state).length };
  const all = sumOnWall(state)?.lines.length ?? 0;
  return { shown: Math.min(state.demo.lines, all), all };
}

/**
 * One step on; null at the end of what is on the wall, where a lesson goes on to its next step.
 * @param {State} state @returns {Change|null}
 */
export function forward(state) {
  const { demo } = state;
  if (demo.quiz) return unveiling(state);
  if (demo.unveiled) return { unveiled: false, question: null, lines: firstLines(stepShown(state)) };
  const { shown, all } = linesOn(state);
  if (!all) return null;
  if (!Number.isFinite(demo.lines) && !isWorking(state)) return state.lesson ? null : { lines: 1 };
  return shown < all ? { lines: shown + 1 } : null;
}

/** One step back; null where the wall began. @param {State} state @returns {Change|null} */
export function backward(state) {
  const { demo } = state;
  const taught = stepShown(state);
  if (demo.quiz) return taught ? null : { quiz: false, question: null };
  if (demo.unveiled) return { quiz: true, unveiled: false };
  const { shown } = linesOn(state);
  if (Number.isFinite(demo.lines) && shown > 1) return { lines: shown - 1 };
  return taught?.question ? { unveiled: true, question: taught.question } : null;
}

/** The sum after the one on the wall, round the end. @param {State} state @returns {Change|null} */
export function nextSum(state) {
  const names = sumsOf(state).map((each) => each.name);
  if (!names.length) return null;
  const at = names.indexOf(state.demo.board);
  return { ...onWall(names[(at + 1) % names.length]), quiz: false, lines: 1 };
}

/** What the next press of the way on brings. @param {State} state */
export function nextWords({ demo, lesson, ...state }) {
  if (demo.quiz) return "show the answer";
  if (demo.unveiled) return lesson ? "go on" : "the sum";
  if (lesson && !forward({ ...state, demo, lesson })) return "next step";
  return demo.board === "working" ? "next page" : "next line";
}
