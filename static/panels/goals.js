/**
 * Goals: a row each, met or missed and by how much; typed in place.
 * @module panels/goals
 */

import { readOf } from "../core/goals.js";
import { said } from "../core/server.js";
import { unset } from "../document/wishes.js";
import { OVER_WORDS, metWords, standingWords } from "../values/goals.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";
import { goalKind } from "../values/vocabulary.js";

/** @typedef {import("../core/store.js").State} State */

/** Beside its colour a standing has a sign. */
const SIGNS = { met: "✓", missed: "✗", none: "–", waiting: "–" };

/** @param {State} state @returns {import("../values/shapes.js").Shape[]} */
export function goals(state) {
  const { goals: set } = state.wishes;
  const reading = readOf(state);
  const left = unset(set);
  return [
    ...(set.length
      ? [
          h(
            "ul",
            { key: "goals", class: "goals" },
            set.map((goal, index) => row(state, goal, index, reading?.answer?.[index] ?? null)),
          ),
        ]
      : [h("p", { key: "none", class: "said quiet" }, "Say what this mount has to reach; then see what would help.")]),
    h("div", { key: "add", class: "add-goals", role: "group", "aria-label": "add a goal" }, [
      ...left.map((what) =>
        h("button", { key: what, type: "button", "data-add-goal": what }, `+ ${goalKind(what).label}`),
      ),
    ]),
    h("p", { key: "sum", class: "said", role: "status" }, sumWords(state, reading)),
  ];
}

/** @param {State} state @param {import("../core/goals.js").GoalsAsked|null} reading */
function sumWords(state, reading) {
  if (!state.wishes.goals.length) return "";
  if (reading?.error) return `Not judged. ${said(reading.error, state.system)}`;
  return reading?.answer ? metWords(reading.answer) : "asking…";
}

/** @param {State} state @param {Goal} goal @param {number} index @param {GoalRead|null} read */
function row({ system }, goal, index, read) {
  const { label, measure } = goalKind(goal.what);
  const standing = read && standingWords(read, system);
  const mark = standing?.mark ?? "waiting";
  return h("li", { key: `${goal.what} ${index}`, class: `goal ${mark}`, "data-goal": goal.what, "data-met": mark }, [
    h("span", { key: "sign", class: "goal-sign", "aria-hidden": "true" }, SIGNS[mark]),
    h("label", { key: "most", class: "goal-most" }, [
      h("span", { key: "label" }, `${label} at most `),
      h("span", { key: "typed", class: "goal-typed" }, [
        h("input", {
          key: "input",
          type: "text",
          inputmode: "decimal",
          "data-goal-most": index,
          "data-quantity": measure,
          "aria-label": `${label} at most${unit(measure, system) ? `, ${unit(measure, system)}` : ""}`,
          autocomplete: "off",
          value: outward(goal.most, measure, system),
        }),
        h("span", { key: "unit", class: "field-unit" }, unit(measure, system)),
      ]),
    ]),
    h(
      "select",
      { key: "over", "data-goal-over": index, "aria-label": `where ${label} is looked at`, value: goal.over },
      Object.entries(OVER_WORDS).map(([value, words]) => h("option", { key: value, value }, words)),
    ),
    h(
      "button",
      { key: "drop", type: "button", class: "drop", "data-drop-goal": index, "aria-label": `no goal for ${label}` },
      "×",
    ),
    h("p", { key: "standing", class: "goal-standing", "data-value": read?.value ?? "" }, [
      h("b", { key: "value" }, standing?.value ?? "–"),
      h("span", { key: "words" }, standing ? ` ${standing.words}` : " asking…"),
    ]),
  ]);
}
