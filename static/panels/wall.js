/**
 * The trainer's wall: one thing at a time in letters that read from the back row, and a strip of controls.
 * @module panels/wall
 */

import { offGrade } from "../core/demonstration.js";
import { questionOf, sumOnWall, sumsOf } from "../core/sums.js";
import { h } from "../values/shapes.js";
import { amount } from "../values/units.js";
import { planeOnWall } from "./strokeplane.js";
import { traces } from "./traces.js";

/** @typedef {import("../core/store.js").State} State */

/** What takes the wall besides the sums: rooms of the readout, by name and button. @type {[string, string][]} */
export const ROOMS = [
  ["numbers", "four numbers"],
  ["budget", "budget"],
  ["dial", "load test"],
  ["working", "working"],
  ["plane", "stroke plane"],
];

/** The sum, or the question alone while the class guesses; and below it what plays. @param {State} state */
export function board(state) {
  const { demo } = state;
  if (!demo.wall) return [];
  const shown = demo.quiz ? question(state) : demo.board === "plane" ? planeOnWall(state) : sum(state);
  return [...shown, h("div", { key: "playing", class: "board-playing" }, playing(state))];
}

/** @param {State} state */
function question(state) {
  const asked = questionOf(state);
  return [
    h("p", { key: "question", class: "board-question" }, asked?.words ?? "What do you expect?"),
    h("p", { key: "hidden", class: "board-quiet" }, "The numbers are hidden until the class has guessed."),
  ];
}

/** @param {State} state */
function sum(state) {
  const found = sumOnWall(state);
  if (!found) return [];
  const lines = found.lines.slice(0, state.demo.lines);
  const left = found.lines.length - lines.length;
  return [
    h("h2", { key: "title", class: "board-title" }, found.title),
    h(
      "ol",
      { key: found.name, class: "board-lines" },
      lines.map((line, index) =>
        h("li", { key: index, class: `board-line${index === lines.length - 1 && left ? " newest" : ""}` }, [
          h("span", { key: "words", class: "board-words" }, line.words),
          h("span", { key: "result", class: "board-result" }, line.result),
        ]),
      ),
    ),
  ];
}

/** Traces of the stroke and the count of moves. @param {State} state */
function playing(state) {
  const { demo, system } = state;
  const errors = demo.correction && offGrade(demo.correction, state.answered);
  return [
    ...(demo.traces && demo.traces.length > 1 ? [traces(demo.traces, state)] : []),
    ...(demo.correction && !demo.quiz
      ? [
          h("p", { key: "count", class: "board-quiet", role: "status" }, [
            h(
              "strong",
              { key: "n", "data-readout": "demo-moves", "data-value": demo.correction.moves },
              `${demo.correction.moves} ${demo.correction.moves === 1 ? "move" : "moves"}. `,
            ),
            h("span", { key: "w" }, demo.correction.words),
          ]),
          ...(errors
            ? [
                h(
                  "p",
                  { key: "errors", class: "board-quiet" },
                  `off grade: left ${amount(errors.left, "error", system, { sign: true })}, right ` +
                    `${amount(errors.right, "error", system, { sign: true })}`,
                ),
              ]
            : []),
        ]
      : []),
  ];
}

/** What works the wall. @param {State} state */
export function strip(state) {
  const { demo } = state;
  if (!demo.wall) return [];
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
  const boards = [...sumsOf(state).map(({ name, label }) => [name, label]), ...ROOMS];
  const lines = sumOnWall(state)?.lines.length ?? 0;
  const part = (/** @type {string} */ name, /** @type {string} */ label, /** @type {Shape[]} */ kids) =>
    h("div", { key: name, class: `strip-part strip-${name}`, role: "group", "aria-label": label }, kids);
  return [
    part("boards", "what stands on the wall", [
      ...boards.map(([name, label]) =>
        h(
          "button",
          { key: name, type: "button", "data-board": name, "aria-pressed": demo.board === name ? "true" : "false" },
          label,
        ),
      ),
    ]),
    part("class", "for the class", [
      ...(lines && !demo.quiz
        ? [
            h("button", { key: "lines", type: "button", "data-demo": "lines" }, "line by line"),
            h(
              "button",
              { key: "next", type: "button", "data-demo": "next", disabled: demo.lines >= lines },
              "next line",
            ),
          ]
        : []),
      h(
        "button",
        { key: "quiz", type: "button", "data-demo": "quiz", "aria-pressed": demo.quiz ? "true" : "false" },
        demo.quiz ? "show the numbers" : "hide the numbers",
      ),
      h("button", { key: "wall", type: "button", "data-demo": "wall" }, "leave the wall"),
    ]),
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
