/**
 * The panels under the headline numbers, one at a time.
 * @module panels/tabs
 */

import { h } from "../values/shapes.js";
import { budget } from "./budget.js";
import { change } from "./change.js";
import { demonstrate } from "./demonstrate.js";
import { dial } from "./dial.js";
import { forces } from "./forces.js";
import { help } from "./help.js";
import { inputs } from "./inputs.js";
import { members } from "./members.js";
import { spread } from "./spread.js";
import { working } from "./working.js";

/** @typedef {import("../core/store.js").State} State */

/** @type {[string, string, (state: State) => import("../values/shapes.js").Shape[]][]} */
const PANELS = [
  ["budget", "Budget", budget],
  ["dial", "Load test", dial],
  ["spread", "Spread", spread],
  ["change", "Change", change],
  ["forces", "Forces", forces],
  ["working", "Working", working],
  ["show", "Show", demonstrate],
  ["members", "Members", members],
  ["inputs", "Inputs", inputs],
];

/** Panels without an answer in them. */
const OPEN_WHILE_GUESSING = new Set(["show", "members", "inputs"]);

/** What stands in a panel while the class guesses. */
function guessing() {
  return [
    h("p", { key: "why", class: "said quiet" }, "Hidden until the class has guessed."),
    h(
      "button",
      { key: "quiz", type: "button", class: "wide-button", "data-demo": "quiz", "aria-pressed": "true" },
      "show the numbers",
    ),
  ];
}

/** @param {State} state */
export function tabs(state) {
  return PANELS.map(([name, label]) => {
    const open = state.tab === name;
    return h(
      "button",
      {
        key: name,
        type: "button",
        role: "tab",
        id: `tab-${name}`,
        "data-tab": name,
        "aria-selected": open ? "true" : "false",
        "aria-controls": "panel",
        tabindex: open ? 0 : -1,
      },
      label,
    );
  });
}

/** The open panel. @param {State} state */
export function panel(state) {
  const [name, , render] = PANELS.find(([each]) => each === state.tab) ?? PANELS[0];
  const hidden = state.demo.quiz && !OPEN_WHILE_GUESSING.has(name);
  return [
    h(
      "div",
      { key: hidden ? "hidden" : name, class: `panel panel-${name}` },
      hidden ? guessing() : [...render(state), ...help(name)],
    ),
  ];
}

/** The tab beside another, round the end. @param {string} name @param {number} step */
export function beside(name, step) {
  const at = PANELS.findIndex(([each]) => each === name);
  return PANELS[(at + step + PANELS.length) % PANELS.length][0];
}
