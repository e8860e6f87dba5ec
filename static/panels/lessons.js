/**
 * The lessons: a list of those that ship and those of the one who teaches, and the page where one is written.
 * @module panels/lessons
 */

import { QUESTIONS } from "../core/questions.js";
import { MOVES, REVEALS, VIEWS } from "../document/lessons.js";
import { h } from "../values/shapes.js";

/** @typedef {import("../core/lessonbook.js").Shelved} Shelved */
/** @typedef {{name: string, mount: Mount}[]} Shipped */

/** @type {[string, string][]} */
const ASKED = [
  ["", "nothing is asked"],
  ...QUESTIONS.map(({ name, label }) => /** @type {[string, string]} */ ([name, label])),
];
/** Stands for a mount that the step carries itself. */
const OWN = "its own";

/** @param {Shelved} state @param {Shipped} mounts @returns {Shape[]} */
export function lessonShapes(state, mounts) {
  return state.draft ? written(state, mounts) : listed(state);
}

/** @param {string} what @param {string} words @param {import("../values/shapes.js").Attributes} [more] */
function button(what, words, more = {}) {
  return h("button", { key: what, type: "button", "data-lesson": what, ...more }, words);
}

/** @param {Shelved} state */
function listed({ shipped, own, away }) {
  return [
    h("div", { key: "new", class: "tool-row" }, [
      button("new", "write one, from the sheet as it is"),
      button("open", "open a file…"),
      ...(away ? [button("back", "bring it back")] : []),
    ]),
    h("h3", { key: "shipped" }, "Ready to teach"),
    ...shipped.map(({ name, title, note, steps }) =>
      entry(name, title, note, steps, [
        button("play", "teach it", { "data-of": name, "aria-label": `teach “${title}”` }),
        button("copy", "copy and change", { "data-of": name, "aria-label": `copy and change “${title}”` }),
        button("save", "save", { "data-of": name, "aria-label": `save “${title}” as a file` }),
      ]),
    ),
    h("h3", { key: "own" }, "Your own"),
    ...(own.length ? [] : [h("p", { key: "none", class: "quiet" }, "None yet.")]),
    ...own.map(({ id, title, steps }) =>
      entry(id, title, "", steps, [
        button("play", "teach it", { "data-of": id, "aria-label": `teach “${title}”` }),
        button("edit", "change", { "data-of": id, "aria-label": `change “${title}”` }),
        button("save", "save", { "data-of": id, "aria-label": `save “${title}” as a file` }),
        button("away", "×", { "data-of": id, "aria-label": `take “${title}” off the list` }),
      ]),
    ),
  ];
}

/** @param {string} key @param {string} title @param {string} note @param {number} steps @param {Shape[]} ways */
function entry(key, title, note, steps, ways) {
  return h("section", { key, class: "lesson-entry", "aria-label": title }, [
    h("div", { key: "words" }, [
      h("strong", { key: "title" }, title),
      h("span", { key: "steps", class: "quiet" }, ` ${steps} ${steps === 1 ? "step" : "steps"}`),
      ...(note ? [h("p", { key: "note", class: "quiet" }, note)] : []),
    ]),
    h("div", { key: "ways", class: "tool-row" }, ways),
  ]);
}

/** @param {Shelved} state @param {Shipped} mounts */
function written({ draft, removed }, mounts) {
  if (!draft) return [];
  const { document } = draft;
  const field = { key: "entry", type: "text", autocomplete: "off" };
  return [
    h("div", { key: "head", class: "tool-row" }, [
      button("list", "to the list"),
      button("play", "teach it", { "data-of": draft.id }),
      button("save", "save as a file", { "data-of": draft.id }),
    ]),
    h("label", { key: "title", class: "lesson-field" }, [
      h("span", { key: "l" }, "title"),
      h("input", { ...field, maxlength: 120, "data-lesson-field": "title", value: document.title }),
    ]),
    h("label", { key: "note", class: "lesson-field" }, [
      h("span", { key: "l" }, "what it teaches"),
      h("textarea", {
        key: "entry",
        rows: 2,
        maxlength: 2000,
        "data-lesson-field": "note",
        value: document.note ?? "",
      }),
    ]),
    h(
      "ol",
      { key: "steps", class: "lesson-steps" },
      document.steps.map((step, at) => written1(step, at, document.steps.length, mounts)),
    ),
    h("div", { key: "add", class: "tool-row" }, [
      button("take", "take the sheet as a step"),
      button("add", "add a step"),
      ...(removed ? [button("put-back", "put the step back")] : []),
    ]),
  ];
}

/** One step. @param {LessonStep} step @param {number} at @param {number} of @param {Shipped} mounts */
function written1(step, at, of, mounts) {
  const number = at + 1;
  const way = (/** @type {string} */ what, /** @type {string} */ words, /** @type {string} */ label, off = false) =>
    button(what, words, { "data-at": at, "aria-label": `${label} ${number}`, disabled: off });
  const choice = (
    /** @type {string} */ name,
    /** @type {string} */ label,
    /** @type {[string, string][]} */ all,
    now = "",
  ) =>
    h("label", { key: name, class: "lesson-choice" }, [
      h("span", { key: "l" }, label),
      h(
        "select",
        {
          key: "entry",
          "data-lesson-field": name,
          "data-at": at,
          "aria-label": `${label}, step ${number}`,
          value: now,
        },
        all.map(([value, words]) => h("option", { key: value, value }, words)),
      ),
    ]);
  const mountsWith = (/** @type {string|Mount|null|undefined} */ given) => [
    ...mounts.map(({ name, mount }) => /** @type {[string, string]} */ ([name, mount.title])),
    ...(given && typeof given !== "string"
      ? [/** @type {[string, string]} */ ([OWN, `${given.title} (its own)`])]
      : []),
  ];
  const chosen = (/** @type {string|Mount|null|undefined} */ given) =>
    given && typeof given !== "string" ? OWN : (given ?? "");
  return h("li", { key: at, class: "lesson-step", "data-step": at }, [
    h("label", { key: "say", class: "lesson-field" }, [
      h("span", { key: "l" }, "what is said"),
      h("input", {
        key: "entry",
        type: "text",
        maxlength: 200,
        autocomplete: "off",
        "data-lesson-field": "say",
        "data-at": at,
        "aria-label": `what is said, step ${number}`,
        value: step.say ?? "",
      }),
    ]),
    h("div", { key: "choices", class: "lesson-choices" }, [
      choice("mount", "mount", mountsWith(step.mount), chosen(step.mount)),
      choice("in_inches", "in inches", [["", "the same mount"], ...mountsWith(step.in_inches)], chosen(step.in_inches)),
      choice("question", "first asked", ASKED, step.question ?? ""),
      choice("view", "on the wall", VIEWS, step.view),
      choice("reveal", "revealed", REVEALS, step.reveal ?? "line by line"),
      choice("moves", "on the drawing", MOVES, step.moves ?? ""),
      h("label", { key: "minutes", class: "lesson-choice" }, [
        h("span", { key: "l" }, "minutes"),
        h("input", {
          key: "entry",
          type: "text",
          inputmode: "decimal",
          "data-lesson-field": "minutes",
          "data-at": at,
          "aria-label": `minutes, step ${number}`,
          value: step.minutes ?? 1,
        }),
      ]),
    ]),
    h("div", { key: "ways", class: "tool-row" }, [
      way("up", "↑", "move up step", at === 0),
      way("down", "↓", "move down step", at === of - 1),
      way("retake", "take the sheet instead", "take the sheet instead of step"),
      way("from", "teach from here", "teach from step"),
      way("remove", "×", "remove step", of === 1),
    ]),
  ]);
}
