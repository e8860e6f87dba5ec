/**
 * The front of a search as a table, and the mount of it that is shown as a ghost: what changed in it, take or keep it.
 * @module panels/fronttable
 */

import { goalName } from "../values/goals.js";
import { precise } from "../values/messages.js";
import { h } from "../values/shapes.js";
import { number, unit } from "../values/units.js";
import { goalKind } from "../values/vocabulary.js";
import { jointName } from "../values/words.js";
import { ghostNumbers } from "./ghostnumbers.js";

/** @typedef {import("../core/store.js").State} State */

const OF = "front ";

/** What a ghost made of a mount of the front is named. @param {number} index */
export function frontName(index) {
  return OF + index;
}

/** The mount of the front that is shown, by its place. @param {State} state @returns {number|null} */
export function shownCandidate({ ghost }) {
  return ghost?.of.startsWith(OF) ? Number(ghost.of.slice(OF.length)) : null;
}

/** @param {State} state @param {Searched} answer @returns {Shape[]} */
export function frontTable(state, answer) {
  const { system } = state;
  const { objectives, front } = answer;
  const shown = shownCandidate(state);
  const heads = objectives.map((each) => {
    const units = unit(goalKind(each.what).measure, system);
    return `${goalName(each)}${units ? ` ${units}` : ""}`;
  });
  return [
    ...(shown !== null && front[shown] ? [card(state, answer, shown)] : []),
    h("table", { key: "front", class: "front-table" }, [
      h("thead", { key: "head" }, [
        h("tr", { key: "row" }, [
          ...["mount", ...heads, "goals"].map((words) => h("th", { key: words, scope: "col" }, words)),
          h("td", { key: "show" }, ""),
        ]),
      ]),
      h(
        "tbody",
        { key: "body" },
        front.map((each, index) =>
          h("tr", { key: index, class: shown === index ? "shown" : "" }, [
            h("th", { key: "mount", scope: "row" }, String(index + 1)),
            ...each.objectives.map((value, at) =>
              h("td", { key: at }, number(value, goalKind(objectives[at].what).measure, system)),
            ),
            h("td", { key: "goals", class: each.meets ? "meets" : "misses" }, each.meets ? "✓ met" : "✗ missed"),
            h("td", { key: "show" }, [
              h(
                "button",
                {
                  key: "show",
                  type: "button",
                  "data-show": index,
                  "aria-pressed": String(shown === index),
                  "aria-label": `show mount ${index + 1}`,
                },
                "show",
              ),
            ]),
          ]),
        ),
      ),
    ]),
  ];
}

/** @param {State} state @param {Searched} answer @param {number} index */
function card(state, { labels, front }, index) {
  const candidate = front[index];
  return h("div", { key: "card", class: "suggestion tried", role: "group", "aria-label": `mount ${index + 1}` }, [
    h(
      "p",
      { key: "name", class: "said" },
      `Mount ${index + 1}, dashed on the sheet: ${freeWords(state, labels, candidate)}`,
    ),
    h("div", { key: "buttons", class: "row-buttons" }, [
      h("button", { key: "take", type: "button", "data-take": index }, "take it"),
      h("button", { key: "keep", type: "button", "data-keep-front": index }, "keep as a variant"),
    ]),
    ...(state.ghost ? ghostNumbers(state, state.ghost) : []),
  ]);
}

/** Its free numbers. @param {State} state @param {string[]} labels @param {Candidate} candidate */
function freeWords({ system, mount }, labels, { values }) {
  return labels
    .map((label, at) => {
      const [, name, key] = /^(.*)(?:, |\.)(\w+)$/.exec(label) ?? ["", label, ""];
      return `${jointName(mount, name)}, ${key} ${precise(values[at], key === "clearance" ? "error" : "fine", system)}`;
    })
    .join("; ");
}
