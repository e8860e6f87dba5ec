/**
 * The trainer's wall: one thing at a time in letters that read from the back row.
 * @module panels/wall
 */

import { offGrade } from "../core/demonstration.js";
import { stepShown } from "../core/lessonsteps.js";
import { sumOnWall } from "../core/sums.js";
import { own } from "../values/own.js";
import { h } from "../values/shapes.js";
import { budgetOnWall } from "./boards/budget.js";
import { dialOnWall } from "./boards/dial.js";
import { bandShape } from "./boards/band.js";
import { workingOnWall } from "./boards/working.js";
import { amount } from "../values/units.js";
import { answered, asked } from "./guesses.js";
import { planeOnWall } from "./strokeplane.js";
import { traces } from "./traces.js";

/** @typedef {import("../core/store.js").State} State */

/** What takes the wall besides the sums, by name and button. @type {[string, string][]} */
export const BOARDS = [
  ["numbers", "four numbers"],
  ["budget", "budget"],
  ["dial", "load test"],
  ["working", "working"],
  ["plane", "stroke plane"],
  ["run", "run"],
];

/** The one that is a room of the readout. */
export const ROOM = "numbers";

/** Those that are drawn for the wall alone; a page may have more. @type {Record<string, (state: State) => Shape[]>} */
const DRAWN = { budget: budgetOnWall, dial: dialOnWall, plane: planeOnWall, working: workingOnWall };

/**
 * What stands there, or the question alone while the class guesses; and below it what plays.
 * @param {State} state @param {Record<string, (state: State) => Shape[]>} [more] boards of the page
 */
export function board(state, more = {}) {
  const { demo } = state;
  if (!demo.wall) return [];
  const free = own({ ...DRAWN, ...more }, demo.board) ?? sum;
  const shown = (demo.quiz ? asked : demo.unveiled ? answered : free)(state);
  return [...said(state), ...shown, h("div", { key: "playing", class: "board-playing" }, playing(state))];
}

/** What the step of a lesson says. @param {State} state */
function said(state) {
  const words = stepShown(state)?.say;
  return words ? [h("p", { key: "say", class: "board-say" }, words)] : [];
}

/** @param {State} state */
function sum(state) {
  const found = sumOnWall(state);
  if (!found) return [];
  const lines = found.lines.slice(0, state.demo.lines);
  const left = found.lines.length - lines.length;
  return [
    h("h2", { key: "title", class: "board-title" }, found.title),
    ...(found.band ? [bandShape(found.band(lines.length))] : []),
    h(
      "ol",
      { key: found.name, class: "board-lines", "data-all": found.lines.length },
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
    ...(demo.correction
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
