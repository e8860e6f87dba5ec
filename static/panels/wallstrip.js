/**
 * The strip of controls under the trainer's wall.
 * @module panels/wallstrip
 */

import { customs, systemAfter } from "../values/units.js";
import { lessonPart } from "./lessonstrip.js";
import { questionOf, questionsOf } from "../core/questions.js";
import { sumsOf } from "../core/sums.js";
import { backward, forward, nextWords } from "../core/wallsteps.js";
import { h } from "../values/shapes.js";
import { guessEntry } from "./guesses.js";
import { stepChoice } from "./boards/working.js";
import { BOARDS } from "./wall.js";

/** @typedef {import("../core/store.js").State} State */

/** What works the wall. @param {State} state */
export function strip(state) {
  const { demo } = state;
  if (!demo.wall) return [];
  const boards = [...sumsOf(state).map(({ name, label }) => [name, label]), ...BOARDS];
  const part = (/** @type {string} */ name, /** @type {string} */ label, /** @type {Shape[]} */ kids) =>
    h("div", { key: name, class: `strip-part strip-${name}`, role: "group", "aria-label": label }, kids);
  const button = (/** @type {string} */ action, /** @type {string} */ words, /** @type {boolean} */ off = false) =>
    h("button", { key: action, type: "button", "data-demo": action, disabled: off }, words);
  const { lesson } = state;
  const last = lesson ? lesson.at === lesson.document.steps.length - 1 : true;
  const on = forward(state);
  const choices = lesson
    ? part("lesson", "the lesson", lessonPart(lesson))
    : demo.quiz
      ? part("questions", "what the class is asked", questions(state))
      : part(
          "boards",
          "what stands on the wall",
          boards.map(([name, label]) =>
            h(
              "button",
              { key: name, type: "button", "data-board": name, "aria-pressed": demo.board === name ? "true" : "false" },
              label,
            ),
          ),
        );
  return [
    choices,
    part("class", "for the class", [
      ...guessEntry(state),
      ...stepChoice(state),
      button("back", "back", !backward(state) && !lesson?.at),
      button("next", nextWords(state), !on && last),
      ...(demo.quiz || lesson ? [] : [button("quiz", "ask the class")]),
      ...(demo.quiz || lesson ? [] : [button("lessons", "lessons")]),
      button("units", customs(systemAfter(state.system)).block),
      button("wall", "leave the wall"),
    ]),
    ...(demo.quiz ? [] : working(state, part)),
  ];
}

/** The questions this mount has. @param {State} state @returns {Shape[]} */
function questions(state) {
  const now = questionOf(state)?.name;
  return questionsOf(state).map(({ label, question: { name } }) =>
    h(
      "button",
      { key: name, type: "button", "data-question": name, "aria-pressed": name === now ? "true" : "false" },
      label,
    ),
  );
}

/**
 * What makes the blade move: none of it while the class guesses.
 * @param {State} state @param {(name: string, label: string, kids: Shape[]) => Shape} part @returns {Shape[]}
 */
function working(state, part) {
  const { demo } = state;
  const ready = Boolean(state.answered?.actuators && state.chosen);
  const act = (/** @type {string} */ action, /** @type {string} */ words, /** @type {boolean} */ pressed = false) =>
    h(
      "button",
      {
        key: action,
        type: "button",
        "data-demo": action,
        disabled: !ready,
        "aria-pressed": pressed ? "true" : "false",
      },
      words,
    );
  return [
    part("work", `work ${state.chosen ?? "a cylinder"}`, [
      h("span", { key: "what", class: "strip-words" }, `work ${state.chosen ?? "a cylinder"}`),
      act("play", demo.playing === "stroke" ? "pause" : "to and fro", demo.playing === "stroke"),
      act("step", "one step"),
      act("stop", "back to rest"),
    ]),
    part("slop", "let the play show", [
      act("swing", demo.playing === "slop" ? "hold it still" : "swing from stop to stop", demo.playing === "slop"),
      h("label", { key: "times", class: "times" }, [
        h("span", { key: "label" }, `slop ${demo.times} times life size`),
        h("input", {
          key: "range",
          type: "range",
          min: 1,
          max: 100,
          step: 1,
          value: demo.times,
          "data-demo-times": true,
          "aria-label": "slop, times life size",
        }),
      ]),
    ]),
    part("correct", `correct the ${state.end} end`, [
      h("button", { key: "end", type: "button", "data-action": "swap-end" }, `correct the ${state.end} end`),
      act("turns", "one after the other"),
      act("together", "together"),
    ]),
  ];
}
