/**
 * What would help the goal that fails worst: each change made and measured again, to be tried on the sheet and taken.
 * @module panels/suggestions
 */

import { readOf } from "../core/goals.js";
import { said } from "../core/server.js";
import { isWanted, suggestedFor } from "../core/suggester.js";
import { OVER_WORDS, goalWords } from "../values/goals.js";
import { asSentence, precise } from "../values/messages.js";
import { own } from "../values/own.js";
import { h } from "../values/shapes.js";
import { goalKind } from "../values/vocabulary.js";
import { messageWords } from "../values/words.js";
import { ghostNumbers } from "./ghostnumbers.js";

/** @typedef {import("../core/store.js").State} State */

/** What a ghost made of a suggestion is named. @param {number} index */
export function suggestionName(index) {
  return `suggestion ${index}`;
}

/** A suggestion's change as a step is called. @param {State} state @param {Suggestion} suggestion */
export function changeName({ mount, system }, suggestion) {
  return messageWords(suggestion.says, mount, system);
}

/** @param {State} state @returns {Shape[]} */
export function suggestions(state) {
  const { goals } = state.wishes;
  const asked = suggestedFor(state);
  if (!goals.length) return [line("Set a goal first: what would help is then tried and listed here.")];
  if (!isWanted(state)) {
    const reading = readOf(state);
    if (!reading?.answer) return [line(reading?.error ? "Nothing to try: the goals are not judged." : "asking…")];
    const met = reading.answer.every((each) => each.met);
    return [line(met ? "Nothing to do: every goal is met." : "No goal that can be judged is missed.")];
  }
  if (!asked) return [h("p", { key: "wait", class: "said quiet", role: "status" }, "trying changes…")];
  if (!asked.answer) return [line(`Nothing was tried. ${said(asked.error, state.system)}`)];
  const { worst, suggestions: found, says, kinds } = asked.answer;
  return [
    ...(worst === null || !found.length
      ? []
      : [
          h("p", { key: "about", class: "said quiet" }, [
            h("span", { key: "words" }, "Fails worst: "),
            h("b", { key: "goal" }, goalWords(goals[worst], state.system)),
            h("span", { key: "how" }, ". Each change was made and measured again."),
          ]),
        ]),
    ...says.map((each, index) =>
      h(
        "p",
        { key: `says ${index}`, class: "said", "data-says": each.code },
        `${asSentence(messageWords(each, state.mount, state.system))}.`,
      ),
    ),
    ...kindButtons(kinds),
    h(
      "ol",
      { key: "list", class: "suggestions" },
      found.map((each, index) => row(state, asked.answer?.goals ?? [], each, index)),
    ),
  ];
}

/** @param {string} words */
function line(words) {
  return h("p", { key: "why", class: "said quiet" }, words);
}

/** Shipped mounts that do what no change of this one does. @param {string[]} kinds */
function kindButtons(kinds) {
  if (!kinds.length) return [];
  return [
    h("div", { key: "kinds", class: "kinds", role: "group", "aria-label": "kinds of mount that meet the goal" }, [
      ...kinds.map((name) =>
        h("button", { key: name, type: "button", "data-kind": name }, `open ${name.replaceAll("-", " ")}`),
      ),
    ]),
  ];
}

/** @param {State} state @param {GoalRead[]} before @param {Suggestion} suggestion @param {number} index */
function row(state, before, suggestion, index) {
  const tried = state.ghost?.of === suggestionName(index);
  const words = changeName(state, suggestion);
  const { centre } = suggestion;
  return h("li", { key: index, class: tried ? "suggestion tried" : "suggestion", "data-suggestion": index }, [
    h("p", { key: "words", class: "said" }, asSentence(words)),
    ...(centre
      ? [h("p", { key: "centre", class: "said quiet" }, asSentence(messageWords(centre, state.mount, state.system)))]
      : []),
    h(
      "ul",
      { key: "goals", class: "outcomes" },
      suggestion.goals.map((after, at) => outcome(state.system, before[at], after)),
    ),
    h("div", { key: "buttons", class: "row-buttons" }, [
      h(
        "button",
        { key: "try", type: "button", "data-try": index, "aria-pressed": String(tried), "aria-label": `try: ${words}` },
        "try",
      ),
      h("button", { key: "apply", type: "button", "data-apply": index, "aria-label": `apply: ${words}` }, "apply"),
    ]),
    ...(tried && state.ghost ? ghostNumbers(state, state.ghost) : []),
  ]);
}

/**
 * A goal before and after a change.
 * @param {System} system @param {GoalRead|undefined} before @param {GoalRead} after
 */
function outcome(system, before, after) {
  const { label, measure } = goalKind(after.what);
  const shown = (/** @type {number|null|undefined} */ value) =>
    value === null || value === undefined ? "–" : precise(value, measure, system);
  const mark = after.met === null ? "none" : after.met ? "met" : "missed";
  const signs = /** @type {Record<string, string>} */ ({ met: "✓", missed: "✗" });
  return h("li", { key: `${after.what} ${after.over}`, class: `outcome ${mark}`, "data-outcome": after.what }, [
    h("span", { key: "sign", class: "goal-sign", "aria-hidden": "true" }, own(signs, mark) ?? "–"),
    h("span", { key: "label" }, `${label}${after.over === "travel" ? `, ${OVER_WORDS.travel}` : ""} `),
    h("span", { key: "values", class: "whole" }, [
      h("span", { key: "before" }, shown(before?.value)),
      h("span", { key: "to" }, " → "),
      h("b", { key: "after" }, shown(after.value)),
      h("span", { key: "met", class: "only-spoken" }, mark === "none" ? " not known" : ` ${mark}`),
    ]),
  ]);
}
