/**
 * What stands under the headline numbers: a tab a question, each with its parts in one column.
 * @module panels/tabs
 */

import { h } from "../values/shapes.js";
import { budget } from "./budget.js";
import { change } from "./change.js";
import { dial } from "./dial.js";
import { forces } from "./forces.js";
import { free } from "./free.js";
import { goals } from "./goals.js";
import { dimensionList } from "./held.js";
import { help } from "./help.js";
import { inputs, pickedNumbers } from "./inputs.js";
import { members } from "./members.js";
import { otherAssemblies } from "./assemblies.js";
import { curves, deadCentres, worstOverTravel } from "./travel.js";
import { search } from "./search.js";
import { spread } from "./spread.js";
import { suggestions } from "./suggestions.js";
import { working } from "./working.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/shapes.js").Shape} Shape */

/**
 * A part of a panel: its name, what stands over it where a panel has several, and what is in it.
 * @typedef {[string, string, (state: State) => Shape[]]} Part
 */

/** @type {[string, string, Part[]][]} */
const PANELS = [
  [
    "error",
    "Error",
    [
      ["budget", "Budget", budget],
      ["dial", "Load test", dial],
      ["spread", "Spread", spread],
    ],
  ],
  ["loads", "Loads", [["forces", "Forces", forces]]],
  [
    "travel",
    "Travel",
    [
      ["curves", "Curves", curves],
      ["worst-travel", "Worst over the travel", worstOverTravel],
      ["dead", "Dead centres", deadCentres],
      ["assemblies", "Other ways to assemble", otherAssemblies],
    ],
  ],
  [
    "improve",
    "Improve",
    [
      ["goals", "Goals", goals],
      ["suggestions", "What would help", suggestions],
      ["free", "Free and locked", free],
      ["search", "Search", search],
      ["change", "What to change first", change],
    ],
  ],
  ["working", "Working", [["working", "Working", working]]],
  [
    "numbers",
    "Numbers",
    [
      ["picked", "Picked", pickedNumbers],
      ["members", "Members", members],
      ["dimensions", "Held dimensions", dimensionList],
      ["inputs", "Inputs", inputs],
    ],
  ],
];

/** Panels without an answer in them. */
const OPEN_WHILE_GUESSING = new Set(["numbers"]);

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
  const [name, , parts] = PANELS.find(([each]) => each === state.tab) ?? PANELS[0];
  const hidden = state.demo.quiz && !OPEN_WHILE_GUESSING.has(name);
  return [
    h(
      "div",
      { key: hidden ? "hidden" : name, class: `panel panel-${name}` },
      hidden ? guessing() : parts.map((part) => partOf(state, part, parts.length > 1)),
    ),
  ];
}

/** @param {State} state @param {Part} part @param {boolean} titled */
function partOf(state, [name, title, render], titled) {
  return h("section", { key: name, class: `part part-${name}`, "data-part": name, "aria-label": title }, [
    h("h2", { key: "title", class: titled ? "part-title" : "only-spoken" }, title),
    ...render(state),
    ...help(name),
  ]);
}

/** The tab beside another, round the end. @param {string} name @param {number} step */
export function beside(name, step) {
  const at = PANELS.findIndex(([each]) => each === name);
  return PANELS[(at + step + PANELS.length) % PANELS.length][0];
}
