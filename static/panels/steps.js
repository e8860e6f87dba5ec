/**
 * The steps that undo goes through, by what was done: the newest on top, any of them to go to.
 * @module panels/steps
 */

import { deedOf } from "../document/deeds.js";
import { h } from "../values/shapes.js";

/** @typedef {import("../core/store.js").State} State */

/** So many are listed either way of the one that is shown. */
const NEAR = 150;
const BEGINNING = "as it was opened";

/** @param {State} state */
export function stepList({ stepsOpen, history: { steps, at } }) {
  if (!stepsOpen) return [];
  const first = Math.max(0, at - NEAR);
  const listed = steps.slice(first, at + NEAR + 1).map((_, index) => first + index);
  return [
    h("header", { key: "head" }, [
      h("h2", { key: "title" }, "Steps"),
      h("button", { key: "close", type: "button", "data-action": "steps", "aria-label": "put the steps away" }, "×"),
    ]),
    h(
      "ol",
      { key: "list", class: "step-list", reversed: true },
      listed.reverse().map((index) =>
        h("li", { key: index, class: index > at ? "undone" : "" }, [
          h(
            "button",
            {
              key: "go",
              type: "button",
              "data-jump": index,
              "aria-current": index === at ? "step" : null,
              tabindex: index === at ? 0 : -1,
            },
            index ? deedOf(steps[index - 1], steps[index]) : BEGINNING,
          ),
        ]),
      ),
    ),
  ];
}

/** What the buttons undo and redo say of themselves. @param {State} state */
export function undoWords({ history: { steps, at } }) {
  const words = (/** @type {number} */ index) =>
    index > 0 && index < steps.length ? `: ${deedOf(steps[index - 1], steps[index])}` : "";
  return { undo: `Undo${words(at)} (Ctrl+Z)`, redo: `Redo${words(at + 1)} (Ctrl+Y)` };
}
