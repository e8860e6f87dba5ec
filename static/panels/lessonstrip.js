/**
 * The part of the wall's strip that a lesson has: its steps, and the way out of it.
 * @module panels/lessonstrip
 */

import { minutesOf } from "../core/lessonsteps.js";
import { h } from "../values/shapes.js";

/** @typedef {import("../core/lessonsteps.js").Playing} Playing */

/** The steps of a lesson by number, the one that is shown pressed. @param {Playing} lesson @returns {Shape[]} */
export function lessonPart(lesson) {
  const { document, at } = lesson;
  const { before, all } = minutesOf(lesson);
  const step = document.steps[at];
  const until = before + (step.minutes ?? 1);
  return [
    h("span", { key: "title", class: "strip-words strip-lesson-title" }, document.title),
    ...document.steps.map((_, index) =>
      h(
        "button",
        {
          key: index,
          type: "button",
          "data-lesson-step": index,
          "aria-label": `step ${index + 1} of ${document.steps.length}`,
          "aria-pressed": index === at ? "true" : "false",
        },
        String(index + 1),
      ),
    ),
    h("span", { key: "minutes", class: "strip-minutes" }, `until minute ${until} of ${all}`),
    h("button", { key: "leave", type: "button", "data-demo": "leave-lesson" }, "end the lesson"),
  ];
}
