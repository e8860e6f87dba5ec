/**
 * The working in short: a few plain sums with this mount's own numbers.
 * @module pages/handout/working
 */

import { h } from "../../values/shapes.js";
import { amount } from "../../values/units.js";
import { messageWords, sourceName, verdict, worstOf } from "../../values/words.js";
import { at } from "./at.js";
import { digitsOf, partsOf } from "./budget.js";
import { figure, given, sentence } from "./figure.js";
import { worseEnd } from "./state.js";

/** @typedef {import("./state.js").Printed} State */
/** @typedef {import("../../values/shapes.js").Shape} Shape */
/** @typedef {(string|Shape)[]} Line */

/** Largest sources named in the sum. */
const NAMED = 4;

/** @param {State} state @param {ShortLine[]} short the server's lines @returns {Shape[]} */
export function working(state, short) {
  const { budget } = state.answered;
  if (!budget) return [];
  const lines = [...short.map((each) => shortLine(state, each)), sum(state, budget), rss(state, budget)];
  return [
    h("h2", { key: "h" }, "The working in short"),
    h(
      "ol",
      { key: "lines", class: "working" },
      lines.map((line, index) => h("li", { key: index }, sentence(line))),
    ),
  ];
}

/**
 * A line of the server's: words as they are, numbers in the reader's units, each with its place in the readout.
 * @param {State} state @param {ShortLine} line @returns {Line}
 */
function shortLine(state, { text, values, paths }) {
  return text.split(/(\{\w+\})/).map((part) => {
    const name = part.match(/^\{(\w+)\}$/)?.[1];
    const value = name && values[name];
    if (!name || !value) return part;
    const shown = messageWords({ text: part, values }, state.mount, state.system);
    return paths[name] ? given(paths[name], at(state.answered, paths[name]), shown) : shown;
  });
}

/** @param {State} state @param {Budget} budget @returns {Line} */
function sum(state, budget) {
  const end = worseEnd(budget);
  const digits = digitsOf(state.system);
  const parts = partsOf(budget, end, state.system).filter((each) => each.count > 0);
  const shown = (/** @type {number} */ count) => (count / 10 ** digits).toFixed(digits);
  const named = parts.slice(0, NAMED);
  const rest = parts.slice(NAMED);
  const restCount = rest.reduce((total, each) => total + each.count, 0);
  const terms = named.flatMap((each, index) => [
    index ? " + " : "",
    given(each.path, each.value, shown(each.count)),
    ` (${sourceName(state.mount, each.source)})`,
  ]);
  const judged = state.detail?.answer ?? null;
  const { words } = verdict(budget, judged, state.system, (reason) => messageWords(reason, state.mount, state.system));
  const { value, searched } = worstOf(budget, judged, end);
  return [
    `All at their worst at the ${end} end: `,
    ...terms,
    ...(rest.length ? [` + ${shown(restCount)} (${rest.length} smaller)`] : []),
    " = ",
    figure(state, ["budget", end, "worst"], "error"),
    ...(budget.tolerance === null
      ? [", no tolerance set."]
      : [
          ...(searched ? [`; solved again ${amount(value, "error", state.system)},`] : []),
          " against ±",
          figure(state, ["budget", "tolerance"], "error"),
          `: ${words}.`,
        ]),
  ];
}

/** @param {State} state @param {Budget} budget @returns {Line} */
function rss(state, budget) {
  const end = worseEnd(budget);
  const spread = state.detail?.answer.spread;
  const covered = spread
    ? `, which covers ${amount(spread[end].within_rss, "percent", state.system)} of the draws`
    : "";
  return [
    `Statistically, the middle of the ranges plus the root sum of squares of their half widths, ${end} end: `,
    figure(state, ["budget", end, "rss"], "error"),
    `${covered}.`,
  ];
}
