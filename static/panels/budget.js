/**
 * The error budget: one bar a source, both ends, on the scale of the tolerance.
 * @module panels/budget
 */

import { sourceWords } from "../values/vocabulary.js";
import { hues } from "../document/mount.js";
import { h, px } from "../values/shapes.js";
import { number, unit } from "../values/units.js";
import { apportion, sourceName, reasonFor } from "../values/words.js";

const HALF = 54;
const ENDS = /** @type {const} */ (["left", "right"]);

/** @param {import("../core/store.js").State} state */
export function budget(state) {
  const found = state.answered?.budget;
  if (!found) return [h("p", { key: "why", class: "said" }, `– ${reasonFor(state, "budget")}`)];
  const digits = state.system === "inch" ? 3 : 2;
  const factor = state.system === "inch" ? 25.4 : 1;
  const held = ENDS.some((end) => found[end].sources.some((/** @type {any} */ each) => each.play === "held"));
  const leaveOut = held && state.heldOut;
  const rows = rowsOf(found, digits, factor, leaveOut);
  const most = Math.max(found.left.worst, found.right.worst, found.tolerance ?? 0, 1e-9) * 1.04;
  const tick = found.tolerance === null ? null : (found.tolerance / most) * HALF;
  const tones = hues(state.mount);
  const sides = Object.fromEntries(
    ENDS.map((end) => [end, found[end].high >= -found[end].low ? "upward" : "downward"]),
  );
  /** @type {(count: number) => string} */
  const shown = (count) => (count / 10 ** digits).toFixed(digits);
  return [
    h("div", { key: "switch", class: "budget-switch" }, [
      h("div", { key: "pair", class: "pair", role: "group", "aria-label": "which play counts" }, [
        h(
          "button",
          { key: "all", type: "button", "data-action": "play-all", "aria-pressed": leaveOut ? "false" : "true" },
          "all play",
        ),
        h(
          "button",
          {
            key: "turned",
            type: "button",
            "data-action": "play-turned",
            disabled: !held,
            "aria-pressed": leaveOut ? "true" : "false",
          },
          "play the load turns over",
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
      { key: "rows", class: "budget-rows", tabindex: 0, role: "group", "aria-label": "sources, largest first" },
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
                title: `${sourceName(state.mount, row.source)}: ${sourceWords(row.source.kind).label}`,
              },
              [
                h("span", { key: "sw", class: `swatch swatch-${row.source.kind}` }),
                h("span", { key: "n" }, sourceName(state.mount, row.source)),
              ],
            ),
            h("span", { key: "left", class: "budget-number" }, shown(row.left.count)),
            bar(row.left.size / most, row.right.size / most, row.source.kind, tick),
            h("span", { key: "right", class: "budget-number" }, shown(row.right.count)),
          ],
        );
      }),
    ),
    ...(leaveOut
      ? [total("without held play", "worst_held", found, state, most, tick)]
      : [
          total("all at their worst", "worst", found, state, most, tick),
          total("statistical (rss)", "rss", found, state, most, tick),
        ]),
  ];
}

/**
 * Every source of either end with its part of that end's worst, and the digits shown so that they add up.
 * @param {any} found @param {number} digits @param {number} factor @param {boolean} leaveOut the play that is held
 */
function rowsOf(found, digits, factor, leaveOut) {
  /** @type {Map<string, any>} */
  const rows = new Map();
  for (const end of ENDS) {
    const side = found[end].high >= -found[end].low ? "high" : "low";
    const counted = found[end].sources.filter((/** @type {any} */ source) => !leaveOut || source.play !== "held");
    const sizes = counted.map((/** @type {any} */ source) => Math.abs(source[side]));
    const counts = apportion(
      sizes.map((/** @type {number} */ size) => size / factor),
      digits,
    );
    counted.forEach((/** @type {any} */ source, /** @type {number} */ index) => {
      const key = `${source.id} ${source.kind}`;
      const row = rows.get(key) ?? { source };
      row[end] = { size: sizes[index], count: counts[index] };
      rows.set(key, row);
    });
  }
  return [...rows.values()].sort((a, b) => Math.max(b.left.size, b.right.size) - Math.max(a.left.size, a.right.size));
}

/** @param {number} left @param {number} right @param {string} kind @param {number|null} tick */
function bar(left, right, kind, tick) {
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

/** @param {any[]} rects @param {string} kind @param {number|null} tick */
function svgBar(rects, kind, tick) {
  const marks = tick === null ? "" : `M${px(HALF - tick)} 0V19M${px(HALF + tick)} 0V19`;
  return {
    tag: "svg",
    attrs: { key: "svg", preserveAspectRatio: "none", viewBox: `0 0 ${2 * HALF} 19`, "aria-hidden": "true" },
    kids: [
      ...rects.flatMap((rect, index) => [
        h("rect", { key: `r${index}`, ...rect, class: `source bar-${kind}` }),
        h("rect", { key: `c${index}`, ...rect, class: `cue-${kind}` }),
      ]),
      h("path", { key: "axis", d: `M${HALF} 0V19`, class: "bar-axis" }),
      h("path", { key: "tick", d: marks, class: "bar-tick" }),
    ],
  };
}

/**
 * @param {string} label
 * @param {"worst"|"worst_held"|"rss"} name
 * @param {any} found
 * @param {import("../core/store.js").State} state
 * @param {number} most
 * @param {number|null} tick
 */
function total(label, name, found, state, most, tick) {
  const outside = found.tolerance !== null && Math.max(found.left[name], found.right[name]) > found.tolerance;
  return h("div", { key: name, class: `budget-row budget-total ${outside ? "outside" : ""}`, "data-total": name }, [
    h("span", { key: "label", class: "budget-label" }, label),
    h("span", { key: "left", class: "budget-number" }, number(found.left[name], "error", state.system)),
    bar(found.left[name] / most, found.right[name] / most, "total", tick),
    h("span", { key: "right", class: "budget-number" }, number(found.right[name], "error", state.system)),
  ]);
}
