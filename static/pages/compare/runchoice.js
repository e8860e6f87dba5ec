/**
 * Which run both mounts make: the correction they are asked for, one that is ready to make, or one's own.
 * @module pages/compare/runchoice
 */

import { h } from "../../values/shapes.js";

/** @typedef {import("./wanted.js").Wanted} Wanted */

/** Chance shows in one run as well as in another: ground and noise are tried so many times. */
const SEEDS = 8;
/** How far off grade an end may start, mm. */
const FARTHEST_OFF = 500;

/** @type {[string, string][]} */
const CHOICES = [
  ["correction", "the correction"],
  ["rut", "a rut under one wheel"],
  ["rough", "rough ground"],
];

/**
 * The settings of a run: to correct an end upward it starts too low.
 * @param {ReadyRun[]} ready @param {string} name @param {Wanted} wanted @returns {RunSettings}
 */
export function settingsFor(ready, name, { end, rise }) {
  const found = ready.find((each) => each.name === (name === "correction" ? "disturb" : name)) ?? ready[0];
  if (name !== "correction") return { ...found.run, seeds: found.run.ground.kind === "rough" ? SEEDS : 1 };
  const off = Math.max(-FARTHEST_OFF, Math.min(FARTHEST_OFF, -rise)) + 0;
  return { ...found.run, start: { left: 0, right: 0, [end]: off } };
}

/**
 * Which of them is asked for.
 * @param {ReadyRun[]} ready @param {RunSettings|null} run null for the correction @param {Wanted} wanted
 */
export function chosen(ready, run, wanted) {
  if (!run) return "correction";
  const text = JSON.stringify(run);
  return CHOICES.find(([name]) => JSON.stringify(settingsFor(ready, name, wanted)) === text)?.[0] ?? "own";
}

/** @param {string} current @returns {import("../../values/shapes.js").Shape} */
export function runChoices(current) {
  return h(
    "div",
    { key: "choices", class: "pair", role: "group", "aria-label": "the run both make" },
    [...CHOICES, ...(current === "own" ? [["own", "as set"]] : [])].map(([name, words]) =>
      h(
        "button",
        { key: name, type: "button", "data-run-choice": name, "aria-pressed": name === current ? "true" : "false" },
        words,
      ),
    ),
  );
}
