/**
 * The error budget as a table that may run over several pages.
 * @module pages/handout/budget
 */

import { cue, swatch } from "../../values/cues.js";
import { vocabulary } from "../../values/vocabulary.js";
import { hues } from "../../document/mount.js";
import { h, px } from "../../values/shapes.js";
import { decimals, mmPerUnit, number, unit } from "../../values/units.js";
import { apportion, playSuffix, sourceName } from "../../values/words.js";
import { figure, given } from "./figure.js";

/** @typedef {import("./state.js").Printed} State */

/**
 * What a source adds to an end: where that stands in the readout, mm, and the digits shown.
 * @typedef {{source: BudgetSource, path: (string|number)[], value: number, count: number}} Part
 */
/** @typedef {{key: string, id: string, kind: string, member: string|null, left: Part, right: Part}} Row */

const ENDS = /** @type {const} */ (["left", "right"]);
const HALF = 30;

/**
 * @param {State} state
 * @param {number} [fits] rows there is room for
 * @returns {import("../../values/shapes.js").Shape[]}
 */
export function budgetTable(state, fits = Infinity) {
  const { budget } = state.answered;
  const { system } = state;
  if (!budget)
    return [h("h2", { key: "h" }, "Error budget"), h("p", { key: "none" }, "– none: the mount must be located first")];
  const way = Object.fromEntries(ENDS.map((end) => [end, budget[end].high >= -budget[end].low ? "high" : "low"]));
  const all = rowsOf(budget, system);
  const rows = all.length > fits + 1 ? all.slice(0, fits) : all;
  const rest = all.slice(rows.length);
  const most = Math.max(budget.left.worst, budget.right.worst, budget.tolerance ?? 0, 1e-9) * 1.04;
  const tones = hues(state.mount);
  const digits = digitsOf(system);
  const kinds = new Set(rows.map((row) => row.kind));
  return [
    h("table", { key: "budget", class: "budget" }, [
      h("thead", { key: "head" }, [
        h("tr", { key: "name" }, [
          h("th", { key: "n", colspan: 4, class: "table-name" }, `Error budget, ${unit("error", system)}`),
        ]),
        h("tr", { key: "heads" }, [
          h("th", { key: "what", scope: "col" }, "each source's part of the worse way"),
          ...[
            h("th", { key: "left", scope: "col" }, `left ${way.left === "high" ? "↑" : "↓"}`),
            h("td", { key: "bar" }, ""),
            h("th", { key: "right", scope: "col" }, `right ${way.right === "high" ? "↑" : "↓"}`),
          ],
        ]),
      ]),
      h("tbody", { key: "body" }, [
        ...rows.map((row) =>
          h(
            "tr",
            {
              key: row.key,
              class: `hue-${tones.get(row.member ?? `allowance ${row.id.split(" / ")[0]}`) ?? 7}`,
              "data-source": row.id,
              "data-kind": row.kind,
            },
            [
              h("th", { key: "what", scope: "row" }, [
                swatch(row.kind),
                h("span", { key: "n" }, sourceName(state.mount, row) + playSuffix(row.left.source)),
              ]),
              h("td", { key: "left" }, [
                given(row.left.path, row.left.value, (row.left.count / 10 ** digits).toFixed(digits)),
              ]),
              h("td", { key: "bar", class: "gauge" }, [
                bar(
                  Math.abs(row.left.value) / most,
                  Math.abs(row.right.value) / most,
                  row.kind,
                  budget.tolerance === null ? null : budget.tolerance / most,
                ),
              ]),
              h("td", { key: "right" }, [
                given(row.right.path, row.right.value, (row.right.count / 10 ** digits).toFixed(digits)),
              ]),
            ],
          ),
        ),
        ...(rest.length
          ? [
              h("tr", { key: "rest" }, [
                h("th", { key: "what", scope: "row" }, `${rest.length} smaller sources together`),
                h("td", { key: "left" }, together(rest, "left", digits)),
                h("td", { key: "bar" }, ""),
                h("td", { key: "right" }, together(rest, "right", digits)),
              ]),
            ]
          : []),
        ...totalsOf(budget).map(({ name, label, left, right }) =>
          h("tr", { key: name, class: "total" }, [
            h("th", { key: "what", scope: "row" }, label),
            h("td", { key: "left" }, [total(state, "left", name, left)]),
            h("td", { key: "bar", class: "gauge" }, [
              bar(left / most, right / most, "total", budget.tolerance === null ? null : budget.tolerance / most),
            ]),
            h("td", { key: "right" }, [total(state, "right", name, right)]),
          ]),
        ),
      ]),
    ]),
    h(
      "p",
      { key: "key", class: "key" },
      vocabulary.sources
        .filter(({ kind }) => kinds.has(kind))
        .map(({ kind, short: words }) => h("span", { key: kind }, [swatch(kind), h("span", { key: "w" }, words)])),
    ),
  ];
}

/** The shown digits of several rows added. @param {Row[]} rows @param {"left"|"right"} end @param {number} digits */
function together(rows, end, digits) {
  return (rows.reduce((sum, row) => sum + row[end].count, 0) / 10 ** digits).toFixed(digits);
}

/** The sums of both ends, mm. @param {Budget} budget */
function totalsOf({ left, right }) {
  const sums = [
    { name: "worst", label: "all at their worst", left: left.worst, right: right.worst },
    {
      name: "worst_under_load",
      label: "play as the load moves it",
      left: left.worst_under_load,
      right: right.worst_under_load,
    },
    { name: "rss", label: "statistical (rss)", left: left.rss, right: right.rss },
  ];
  return sums.flatMap(({ name, label, ...ends }) =>
    ends.left === null || ends.right === null ? [] : [{ name, label, left: ends.left, right: ends.right }],
  );
}

/** @param {State} state @param {EndName} end @param {string} name @param {number} sum mm */
function total(state, end, name, sum) {
  return { ...figure(state, ["budget", end, name], "error"), kids: number(sum, "error", state.system) };
}

/** @param {System} system */
export function digitsOf(system) {
  return decimals("error", system);
}

/**
 * What every source adds to an end the way it goes wrong farther, with digits that add up to the total shown.
 * @param {Budget} budget @param {EndName} end @param {System} system @returns {Part[]}
 */
export function partsOf(budget, end, system) {
  const side = budget[end].high >= -budget[end].low ? "high" : "low";
  const { sources } = budget[end];
  const sizes = sources.map((source) => Math.abs(source[side]) / mmPerUnit(system));
  const counts = apportion(sizes, digitsOf(system));
  return sources.map((source, index) => ({
    source,
    path: ["budget", end, "sources", index, side],
    value: source[side],
    count: counts[index],
  }));
}

/** @param {Budget} budget @param {System} system @returns {Row[]} the largest first */
function rowsOf(budget, system) {
  const name = (/** @type {Part} */ { source: { id, kind } }) => `${id} ${kind}`;
  const rights = new Map(partsOf(budget, "right", system).map((part) => [name(part), part]));
  const rows = partsOf(budget, "left", system).flatMap((left) => {
    const { id, kind, member } = left.source;
    const right = rights.get(name(left));
    return right ? [{ key: name(left), id, kind, member, left, right }] : [];
  });
  const size = (/** @type {Row} */ row) => Math.max(Math.abs(row.left.value), Math.abs(row.right.value));
  return rows.sort((a, b) => size(b) - size(a));
}

/**
 * @param {number} left
 * @param {number} right shares of the scale
 * @param {string} kind
 * @param {number|null} tolerance
 */
function bar(left, right, kind, tolerance) {
  const marks = tolerance === null ? "" : `M${px(HALF * (1 - tolerance))} 0V10M${px(HALF * (1 + tolerance))} 0V10`;
  const rects = [
    { x: px(HALF * (1 - left)), width: px(HALF * left) },
    { x: HALF, width: px(HALF * right) },
  ];
  return {
    tag: "svg",
    attrs: { key: "svg", viewBox: `0 0 ${2 * HALF} 10`, preserveAspectRatio: "none", "aria-hidden": "true" },
    kids: [
      ...rects.flatMap((rect, index) => [
        h("rect", { key: `source ${index}`, y: 2, height: 6, ...rect, class: "source" }),
        cue(kind, { key: `cue ${index}`, y: 2, height: 6, ...rect }),
      ]),
      h("path", { key: "marks", d: `M${HALF} 0V10${marks}`, class: "bar-marks" }),
    ],
  };
}
