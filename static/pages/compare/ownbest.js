/**
 * Both over the same run, each with its own best setting: which it is, how it was found, and what comes of it.
 * @module pages/compare/ownbest
 */

import { h } from "../../values/shapes.js";
import { asSentence } from "../../values/messages.js";
import { amount } from "../../values/units.js";
import { vocabulary } from "../../values/vocabulary.js";
import { messageWords } from "../../values/words.js";
import { WAYS, runTable, sentenceOf } from "./runs.js";

/** @typedef {import("../../values/shapes.js").Shape} Shape */
/** @typedef {{found: RunsCompared, mounts: Mount[], system: System}} ShownRuns */

const NAMES = /** @type {const} */ (["a", "b"]);

/** @param {ShownRuns} shown @returns {Shape[]} */
export function bestShapes(shown) {
  return [
    h("h2", { key: "head", class: "part-head" }, "Each at its own best"),
    ...bestSentences(shown),
    ...shown.found.own_best.flatMap((at) =>
      at.a.state === "not made" && at.b.state === "not made"
        ? []
        : [
            h("div", { key: `table ${at.way}`, class: "best-table", "data-best-of": at.way }, [
              h("h3", { key: "way" }, named(at)),
              runTable(withOwn(shown, at)),
            ]),
          ],
    ),
  ];
}

/** How it was found, and a sentence a way of controlling both. @param {ShownRuns} shown @returns {Shape[]} */
export function bestSentences(shown) {
  const { found, system } = shown;
  const { starts, off } = vocabulary.tuning;
  const tried = Math.max(0, ...found.own_best.flatMap(({ best }) => best.map((each) => each.tried)));
  const what = found.run.control.valve === "on/off" ? "flow to the cylinders" : "gain";
  const how =
    `Equal settings can flatter either. Here each has its own ${what}: of ${tried} tried, the one that brings both ` +
    `ends to grade soonest and to rest, from each of ${starts} starts ${amount(off, "error", system)} off, on level ` +
    "ground without load. With it each makes the run above.";
  return [
    ...(tried ? [h("p", { key: "how", class: "quiet" }, how)] : []),
    ...found.own_best.map((at) =>
      h("p", { key: at.way, class: "sentence", "data-best-sentence": at.way }, bestWords(shown, at)),
    ),
  ];
}

/** @param {AtOwnBest} at */
function named({ way }) {
  const words = WAYS[way];
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

/**
 * Which setting each has, and what came of it.
 * @param {ShownRuns} shown @param {AtOwnBest} at
 */
export function bestWords(shown, at) {
  const { mounts, system } = shown;
  const quantity = at.valve === "on/off" ? "flow" : "rate";
  const what = at.valve === "on/off" ? "flow" : "gain";
  const settings = at.best.flatMap(({ setting }, index) =>
    setting === null ? [] : [`${"AB"[index]} at ${what} ${amount(setting, quantity, system)}`],
  );
  const lead = `${named(at)}${settings.length ? `, ${settings.join(", ")}` : ""}: `;
  const missing = NAMES.flatMap((name, index) => {
    const { state, why } = at[name];
    if (state !== "not made" || !why) return [];
    return [`${name.toUpperCase()} has none: ${messageWords(why, mounts[index], system)}.`];
  });
  if (missing.length) return lead + asSentence(missing.join(" "));
  return lead + sentenceOf(withOwn(shown, at));
}

/**
 * The same as at equal settings; why a number is not ranked is not said again.
 * @param {ShownRuns} shown @param {AtOwnBest} at @returns {ShownRuns}
 */
function withOwn({ found, ...more }, { a, b, rows }) {
  const told = new Set(found.rows.map(({ why }) => why?.code));
  const again = (/** @type {Compared} */ { why }) =>
    why && told.has(why.code) ? { ...why, text: "as above", values: {} } : why;
  return { ...more, found: { ...found, a, b, rows: rows.map((row) => ({ ...row, why: again(row) })) } };
}
