/**
 * The error budget as a table that may run over several pages.
 * @module pages/handout/budget
 */

import { vocabulary } from "../../values/vocabulary.js";
import { hues } from "../../document/mount.js";
import { h, px } from "../../values/shapes.js";
import { MM_PER_INCH, number, unit } from "../../values/units.js";
import { apportion, sourceName } from "../../values/words.js";
import { figure, given } from "./figure.js";

/** @typedef {import("../../core/store.js").State} State */

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
                h("span", { key: "s", class: `swatch swatch-${row.kind}` }),
                h("span", { key: "n" }, sourceName(state.mount, row)),
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
        ...[
          ["worst", "all at their worst"],
          ...(budget.left.worst_under_load === null ? [] : [["worst_under_load", "play as the load moves it"]]),
          ["rss", "statistical (rss)"],
        ].map(([name, label]) =>
          h("tr", { key: name, class: "total" }, [
            h("th", { key: "what", scope: "row" }, label),
            h("td", { key: "left" }, [total(state, "left", name)]),
            h("td", { key: "bar", class: "gauge" }, [
              bar(
                budget.left[name] / most,
                budget.right[name] / most,
                "total",
                budget.tolerance === null ? null : budget.tolerance / most,
              ),
            ]),
            h("td", { key: "right" }, [total(state, "right", name)]),
          ]),
        ),
      ]),
    ]),
    h(
      "p",
      { key: "key", class: "key" },
      vocabulary.sources
        .filter(({ kind }) => kinds.has(kind))
        .map(({ kind, short: words }) =>
          h("span", { key: kind }, [
            h("span", { key: "s", class: `swatch swatch-${kind}` }),
            h("span", { key: "w" }, words),
          ]),
        ),
    ),
  ];
}

/** The shown digits of several rows added. @param {any[]} rows @param {"left"|"right"} end @param {number} digits */
function together(rows, end, digits) {
  return (rows.reduce((sum, row) => sum + row[end].count, 0) / 10 ** digits).toFixed(digits);
}

/** @param {State} state @param {string} end @param {string} name */
function total(state, end, name) {
  const path = ["budget", end, name];
  return { ...figure(state, path, "error"), kids: number(state.answered.budget[end][name], "error", state.system) };
}

/** @param {import("../../values/units.js").System} system */
export function digitsOf(system) {
  return system === "inch" ? 3 : 2;
}

/**
 * What every source adds to an end the way it goes wrong farther, with digits that add up to the total shown.
 * @param {any} budget @param {"left"|"right"} end @param {import("../../values/units.js").System} system
 */
export function partsOf(budget, end, system) {
  const side = budget[end].high >= -budget[end].low ? "high" : "low";
  const { sources } = budget[end];
  const sizes = sources.map(
    (/** @type {any} */ source) => Math.abs(source[side]) / (system === "inch" ? MM_PER_INCH : 1),
  );
  const counts = apportion(sizes, digitsOf(system));
  return sources.map((/** @type {any} */ source, /** @type {number} */ index) => ({
    source,
    path: ["budget", end, "sources", index, side],
    value: source[side],
    count: counts[index],
  }));
}

/** @param {any} budget @param {import("../../values/units.js").System} system */
function rowsOf(budget, system) {
  /** @type {Map<string, any>} */
  const rows = new Map();
  for (const end of ENDS) {
    for (const part of partsOf(budget, end, system)) {
      const { id, kind, member } = part.source;
      const key = `${id} ${kind}`;
      rows.set(key, { ...rows.get(key), key, id, kind, member, [end]: part });
    }
  }
  const size = (/** @type {any} */ row) => Math.max(Math.abs(row.left.value), Math.abs(row.right.value));
  return [...rows.values()].sort((a, b) => size(b) - size(a));
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
      ...rects.flatMap((rect, index) =>
        ["source", `cue-${kind}`].map((name) =>
          h("rect", { key: `${name} ${index}`, y: 2, height: 6, ...rect, class: name }),
        ),
      ),
      h("path", { key: "marks", d: `M${HALF} 0V10${marks}`, class: "bar-marks" }),
    ],
  };
}
