/**
 * The error budget on the wall: its largest terms, the rest together, and what they come to.
 * @module panels/boards/budget
 */

import { h } from "../../values/shapes.js";
import { decimals, mmPerUnit, number, unit } from "../../values/units.js";
import { reasonFor, sourceName } from "../../values/words.js";
import { bar, rowsOf, trueSizes } from "../budget.js";
import { hues } from "../../document/mount.js";

/** @typedef {import("../../core/store.js").State} State */
/** @typedef {Record<EndName, number>} Pair */

/** So many terms are named; the rest stand together. */
const NAMED = 5;
const ENDS = /** @type {const} */ (["left", "right"]);

/** @param {State} state @returns {Shape[]} */
export function budgetOnWall(state) {
  const title = h("h2", { key: "title", class: "board-title" }, "The error budget");
  const found = state.answered?.budget;
  if (!found) return [title, h("p", { key: "why", class: "board-quiet" }, `– ${reasonFor(state, "budget")}`)];
  const { system, mount } = state;
  const digits = decimals("error", system);
  const factor = mmPerUnit(system);
  const rows = rowsOf(found, digits, factor, false);
  const tones = hues(mount);
  const most = Math.max(found.left.worst, found.right.worst, found.tolerance ?? 0, 1e-9) * 1.04;
  const tolerance = found.tolerance === null ? null : found.tolerance / most;
  const cells = (/** @type {string} */ words, /** @type {Pair} */ sizes, /** @type {string} */ kind, shown = sizes) => [
    h("span", { key: "words", class: "wall-words" }, words),
    h("span", { key: "left", class: "wall-number", "data-value": sizes.left }, number(shown.left, "error", system)),
    bar(sizes.left / most, sizes.right / most, kind, tolerance),
    h("span", { key: "right", class: "wall-number", "data-value": sizes.right }, number(shown.right, "error", system)),
  ];
  const counted = (/** @type {number} */ count) => (count / 10 ** digits) * factor;
  const named = rows.slice(0, NAMED);
  const rest = rows.slice(NAMED);
  const sum = (/** @type {"size"|"count"} */ what) =>
    /** @type {Pair} */ (
      Object.fromEntries(ENDS.map((end) => [end, rest.reduce((all, row) => all + row[end][what], 0)]))
    );
  const judged = state.detail?.mount === mount ? state.detail.answer : null;
  const worst = { left: found.left.worst, right: found.right.worst };
  const searched = trueSizes(judged);
  const rss = { left: found.left.rss, right: found.right.rss };
  const total = (/** @type {string} */ key, /** @type {string} */ words, /** @type {Pair} */ sizes) => {
    const out = found.tolerance !== null && Math.max(sizes.left, sizes.right) > found.tolerance;
    return h("li", { key, class: `wall-row budget-total ${out ? "outside" : ""}` }, cells(words, sizes, "total"));
  };
  return [
    title,
    h("ol", { key: "rows", class: "wall-rows" }, [
      h("li", { key: "head", class: "wall-row wall-head" }, [
        h("span", { key: "w" }, unit("error", system)),
        h("span", { key: "l", class: "wall-number" }, "left"),
        h("span", { key: "b" }, ""),
        h("span", { key: "r", class: "wall-number" }, "right"),
      ]),
      ...named.map((row) => {
        const tone = tones.get(row.source.member ?? `allowance ${row.source.id.split(" / ")[0]}`) ?? 7;
        const counts = { left: counted(row.left.count), right: counted(row.right.count) };
        const sizes = { left: row.left.size, right: row.right.size };
        return h(
          "li",
          { key: `${row.source.id} ${row.source.kind}`, class: `wall-row hue-${tone}`, "data-source": row.source.id },
          cells(sourceName(mount, row.source), sizes, row.source.kind, counts),
        );
      }),
      ...(rest.length
        ? [
            h(
              "li",
              { key: "rest", class: "wall-row hue-7" },
              cells(`${rest.length} smaller`, sum("size"), "oil", {
                left: counted(sum("count").left),
                right: counted(sum("count").right),
              }),
            ),
          ]
        : []),
      total("worst", "all at their worst", worst),
      ...(searched ? [total("true", "true worst", searched)] : []),
      total("rss", "statistical (rss)", rss),
    ]),
    ...(found.tolerance === null
      ? []
      : [
          h(
            "p",
            { key: "tolerance", class: "board-quiet" },
            `Between the upright lines: ±${number(found.tolerance, "error", system)} ${unit("error", system)}.`,
          ),
        ]),
  ];
}
