/**
 * The error budget: one bar a source, both ends, on the scale of the tolerance.
 * @module panels/budget
 */

import { cue, swatch } from "../values/cues.js";
import { sourceWords } from "../values/vocabulary.js";
import { hues } from "../document/mount.js";
import { h, px } from "../values/shapes.js";
import { asSentence } from "../values/messages.js";
import { amount, decimals, mmPerUnit, number, unit } from "../values/units.js";
import { apportion, messageWords, sourceName, reasonFor } from "../values/words.js";

const HALF = 54;
const ENDS = /** @type {const} */ (["left", "right"]);

/** @typedef {{size: number, count: number}} Part of an end's worst, mm, and the digits shown */
const NONE = { size: 0, count: 0 };

/** @param {import("../core/store.js").State} state */
export function budget(state) {
  const found = state.answered?.budget;
  if (!found) return [h("p", { key: "why", class: "said" }, `– ${reasonFor(state, "budget")}`)];
  const digits = decimals("error", state.system);
  const factor = mmPerUnit(state.system);
  const loaded = found.left.worst_under_load !== null;
  const under = loaded && state.underLoad;
  const judged = state.detail?.mount === state.mount ? state.detail?.answer : null;
  const rows = rowsOf(found, digits, factor, under);
  const most = Math.max(found.left.worst, found.right.worst, found.tolerance ?? 0, 1e-9) * 1.04;
  const tick = found.tolerance === null ? null : (found.tolerance / most) * HALF;
  const tones = hues(state.mount);
  const sides = Object.fromEntries(
    ENDS.map((end) => [end, sideOf(found[end], under) === "high" ? "upward" : "downward"]),
  );
  /** @type {(count: number) => string} */
  const shown = (count) => (count / 10 ** digits).toFixed(digits);
  return [
    h("div", { key: "switch", class: "budget-switch" }, [
      h("div", { key: "pair", class: "pair", role: "group", "aria-label": "what counts" }, [
        h(
          "button",
          { key: "all", type: "button", "data-action": "count-worst", "aria-pressed": under ? "false" : "true" },
          "all at their worst",
        ),
        h(
          "button",
          {
            key: "turned",
            type: "button",
            "data-action": "count-load",
            disabled: !loaded,
            "aria-pressed": under ? "true" : "false",
          },
          "what the load moves",
        ),
      ]),
    ]),
    h("div", { key: "head", class: "budget-row budget-head" }, [
      h("span", { key: "label", class: "budget-label" }, `${unit("error", state.system)}, the worse way`),
      h("span", { key: "left", class: "budget-number" }, `left ${sides.left === "upward" ? "↑" : "↓"}`),
      h("span", { key: "gap" }, ""),
      h("span", { key: "right", class: "budget-number" }, `right ${sides.right === "upward" ? "↑" : "↓"}`),
    ]),
    h(
      "div",
      { key: "rows", class: "budget-rows", role: "group", "aria-label": "sources, largest first" },
      rows.map((row) => {
        const tone = `hue-${tones.get(row.source.member ?? `allowance ${row.source.id.split(" / ")[0]}`) ?? 7}`;
        return h(
          "div",
          {
            key: `${row.source.id} ${row.source.kind}`,
            class: `budget-row ${tone}`,
            "data-source": row.source.id,
            "data-kind": row.source.kind,
          },
          [
            h(
              "span",
              {
                key: "label",
                class: "budget-label",
                title:
                  `${sourceName(state.mount, row.source)}: ${sourceWords(row.source.kind).label}` +
                  playWords(row.source, state),
              },
              [swatch(row.source.kind), h("span", { key: "n" }, sourceName(state.mount, row.source))],
            ),
            h("span", { key: "left", class: "budget-number" }, shown(row.left.count)),
            bar(row.left.size / most, row.right.size / most, row.source.kind, tick),
            h("span", { key: "right", class: "budget-number" }, shown(row.right.count)),
          ],
        );
      }),
    ),
    ...(under
      ? [total("from where the weight lays it", "worst_under_load", found, state, most, tick)]
      : [
          total("all at their worst", "worst", found, state, most, tick),
          ...trueWorst(found, judged, state, most, tick),
          total("statistical (rss)", "rss", found, state, most, tick),
          ...covered(judged?.spread),
        ]),
    ...(judged?.worst
      ? [
          h(
            "button",
            {
              key: "where",
              type: "button",
              "data-action": "offsets",
              "aria-pressed": state.offsets ? "true" : "false",
            },
            "show where each joint lies at the true worst",
          ),
        ]
      : []),
  ];
}

/**
 * What the load does to play, and when the push turns.
 * @param {BudgetSource} source @param {import("../core/store.js").State} state
 */
function playWords(source, state) {
  if (source.kind !== "clearance") return "";
  const { load } = state.mount;
  const at =
    source.reverses_at !== null && load
      ? `, push turns at ${amount(Math.abs(source.reverses_at) * Math.hypot(...load.force), "force", state.system)}`
      : "";
  return `; under the load: ${source.play === "unknown" ? "side not known" : source.play}${at}`;
}

/** Which way an end goes wrong farther. @param {BudgetEnd} end @param {boolean} under what the load moves counts */
function sideOf(end, under) {
  if (!under) return end.high >= -end.low ? "high" : "low";
  const [low, high] = [0, 1].map((side) => end.sources.reduce((sum, each) => sum + (each.moved?.[side] ?? 0), 0));
  return high >= -low ? "high" : "low";
}

/**
 * Every source of either end with its part of that end's worst, and the digits shown so that they add up.
 * @param {Budget} found @param {number} digits @param {number} factor @param {boolean} under what the load moves counts
 */
export function rowsOf(found, digits, factor, under) {
  /** @type {Map<string, {source: BudgetSource, left: Part, right: Part}>} */
  const rows = new Map();
  for (const end of ENDS) {
    const side = sideOf(found[end], under);
    const counted = found[end].sources;
    const sizes = counted.map((source) =>
      Math.abs(under ? (source.moved?.[side === "high" ? 1 : 0] ?? 0) : source[side]),
    );
    const counts = apportion(
      sizes.map((/** @type {number} */ size) => size / factor),
      digits,
    );
    counted.forEach((source, index) => {
      const key = `${source.id} ${source.kind}`;
      const row = rows.get(key) ?? { source, left: NONE, right: NONE };
      row[end] = { size: sizes[index], count: counts[index] };
      rows.set(key, row);
    });
  }
  return [...rows.values()].sort((a, b) => Math.max(b.left.size, b.right.size) - Math.max(a.left.size, a.right.size));
}

/** @param {number} left @param {number} right @param {string} kind @param {number|null} tick */
export function bar(left, right, kind, tick) {
  const [a, b] = [left * HALF, right * HALF];
  const place = { y: 4, height: 11 };
  return h("span", { key: "bar", class: "budget-bar" }, [
    svgBar(
      [
        { x: px(HALF - a), width: px(a), ...place },
        { x: HALF, width: px(b), ...place },
      ],
      kind,
      tick,
    ),
  ]);
}

/** @param {Record<"x"|"y"|"width"|"height", number>[]} rects @param {string} kind @param {number|null} tick */
function svgBar(rects, kind, tick) {
  const marks = tick === null ? "" : `M${px(HALF - tick)} 0V19M${px(HALF + tick)} 0V19`;
  return {
    tag: "svg",
    attrs: { key: "svg", preserveAspectRatio: "none", viewBox: `0 0 ${2 * HALF} 19`, "aria-hidden": "true" },
    kids: [
      ...rects.flatMap((rect, index) => [
        h("rect", { key: `r${index}`, ...rect, class: `source bar-${kind}` }),
        cue(kind, { key: `c${index}`, ...rect }),
      ]),
      h("path", { key: "axis", d: `M${HALF} 0V19`, class: "bar-axis" }),
      h("path", { key: "tick", d: marks, class: "bar-tick" }),
    ],
  };
}

/**
 * How far out either end can be with the pose solved again, mm; null where that is not known.
 * @param {Judged|null|undefined} judged @returns {Heights|null}
 */
export function trueSizes(judged) {
  if (!judged?.worst) return null;
  const { worst } = judged;
  const [left, right] = ENDS.map((end) => {
    const { low, high } = worst[end];
    return low && high ? Math.max(Math.abs(low.value), Math.abs(high.value)) : null;
  });
  return left === null || right === null ? null : { left, right };
}

/**
 * The pose solved again: where that is known.
 * @param {Budget} found @param {Detailed|null|undefined} judged @param {import("../core/store.js").State} state
 * @param {number} most @param {number|null} tick
 */
function trueWorst(found, judged, state, most, tick) {
  if (!judged?.worst) return [];
  const sizes = trueSizes(judged);
  if (!sizes) return [h("p", { key: "apart", class: "said quiet" }, asSentence(reasonOf(judged, state)))];
  const { left, right } = sizes;
  const searched = { left: { searched: left }, right: { searched: right }, tolerance: found.tolerance };
  return [total("true worst", "searched", searched, state, most, tick)];
}

/**
 * How many of the draws the rss covers, once they are drawn.
 * @param {Detailed["spread"]|undefined} spread
 */
function covered(spread) {
  if (!spread) return [];
  const [left, right] = ENDS.map((end) => (100 * spread[end].within_rss).toFixed(1));
  return [
    h(
      "p",
      { key: "covers", class: "said quiet" },
      `The rss covers ${left} % of the draws at the left end, ${right} % at the right.`,
    ),
  ];
}

/** @param {Judged} judged @param {import("../core/store.js").State} state */
function reasonOf(judged, state) {
  const why = Object.entries(judged.absent).find(([path]) => path.startsWith("worst."));
  return why ? messageWords(why[1], state.mount, state.system) : "";
}

/**
 * @template {"worst"|"worst_under_load"|"searched"|"rss"} Name
 * @param {string} label
 * @param {Name} name
 * @param {{left: Record<Name, number|null>, right: Record<Name, number|null>, tolerance: number|null}} found
 * @param {import("../core/store.js").State} state
 * @param {number} most
 * @param {number|null} tick
 */
function total(label, name, found, state, most, tick) {
  const [left, right] = [found.left[name] ?? 0, found.right[name] ?? 0];
  const outside = found.tolerance !== null && Math.max(left, right) > found.tolerance;
  return h("div", { key: name, class: `budget-row budget-total ${outside ? "outside" : ""}`, "data-total": name }, [
    h("span", { key: "label", class: "budget-label" }, label),
    h("span", { key: "left", class: "budget-number" }, number(left, "error", state.system)),
    bar(left / most, right / most, "total", tick),
    h("span", { key: "right", class: "budget-number" }, number(right, "error", state.system)),
  ]);
}
