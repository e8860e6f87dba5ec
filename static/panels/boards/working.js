/**
 * The working on the wall: one formula, its numbers and its result at a time.
 * @module panels/boards/working
 */

import { isWorking, pageNumber, pageOnWall, pagesOf, stepsOfWorking, whyNone } from "../../core/wallpages.js";
import { piecesOf } from "../../values/mathlines.js";
import { h } from "../../values/shapes.js";

/** @typedef {import("../../core/store.js").State} State */

/** @param {State} state @returns {Shape[]} */
export function workingOnWall(state) {
  const page = pageOnWall(state);
  if (!page) return [h("p", { key: "why", class: "board-quiet", role: "status" }, whyNone(state))];
  const { line, listing } = page;
  const of = `${state.working?.cylinder ?? ""}, ${state.working?.end ?? ""} end`;
  return [
    h("h2", { key: "title", class: "board-title" }, page.title),
    h("p", { key: "of", class: "board-quiet page-of" }, `${of}, page ${pageNumber(state)} of ${pagesOf(state).length}`),
    h(
      "div",
      {
        key: "page",
        class: "wall-page",
        "data-step": page.step,
        "data-line": line?.symbol,
        "aria-busy": state.working?.holds ? "false" : "true",
      },
      [
        ...(page.words ? [h("p", { key: "words", class: "page-words" }, page.words)] : []),
        ...(line ? formula(line) : []),
        ...(listing ? list(listing) : []),
      ],
    ),
  ];
}

/** The steps of the working, to go to one of them. @param {State} state @returns {Shape[]} */
export function stepChoice(state) {
  if (!isWorking(state) || state.demo.quiz || state.demo.unveiled) return [];
  const steps = stepsOfWorking(state);
  const now = pageOnWall(state)?.step;
  if (steps.length < 2) return [];
  return [
    h(
      "select",
      { key: "steps", "aria-label": "step of the working", "data-wall-page": true },
      steps.map(({ step, title, page }) => h("option", { key: step, value: page, selected: step === now }, title)),
    ),
  ];
}

/** @param {DrawnLine} line @returns {Shape[]} */
function formula(line) {
  return [
    h("p", { key: "meaning", class: "board-quiet" }, line.meaning),
    h("div", { key: `formula ${line.symbol}`, class: "wall-formula" }, piecesOf(line.formula)),
    ...(line.substituted
      ? [h("div", { key: `numbers ${line.symbol}`, class: "wall-formula numbers" }, piecesOf(line.substituted))]
      : []),
    h("output", { key: "value", class: "wall-result", "data-value": line.result.value }, `= ${line.result.shown}`),
  ];
}

/** @param {import("../../core/wallpages.js").Listing} listing @returns {Shape[]} */
function list({ head, rows, more }) {
  return [
    h("ol", { key: "rows", class: "board-lines" }, [
      h("li", { key: "head", class: "board-line page-head" }, [
        h("span", { key: "words", class: "board-words" }, "largest first"),
        h("span", { key: "result", class: "board-result" }, head),
      ]),
      ...rows.map(({ label, shown }) =>
        h("li", { key: label, class: "board-line" }, [
          h("span", { key: "words", class: "board-words" }, label),
          h("span", { key: "result", class: "board-result" }, shown),
        ]),
      ),
    ]),
    ...(more
      ? [h("p", { key: "more", class: "board-quiet" }, `and ${more} more: all of them stand in the readout`)]
      : []),
  ];
}
