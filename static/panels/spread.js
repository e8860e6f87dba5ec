/**
 * The spread: how often the error falls where, beside the tolerance and the worst case.
 * @module panels/spread
 */

import { reasonFor } from "../values/words.js";
import { h, line, px } from "../values/shapes.js";
import { amount, number, unit } from "../values/units.js";

const ENDS = /** @type {const} */ (["left", "right"]);
const [WIDTH, HEIGHT] = [360, 74];

/** @param {import("../core/store.js").State} state */
export function spread(state) {
  const found = state.detail?.answer.spread;
  if (!found || !state.answered?.budget) {
    const why = state.answered?.budget ? "drawing samples…" : `– ${reasonFor(state, "budget")}`;
    return [h("p", { key: "why", class: "said quiet" }, why)];
  }
  const { budget } = state.answered;
  const reach = 1.06 * Math.max(budget.left.worst, budget.right.worst, budget.tolerance ?? 0, 1e-9);
  const pressed = state.pressed && found.pressed;
  const shown = pressed || found;
  const { outside } = shown;
  return [
    h("div", { key: "switch", class: "budget-switch" }, [
      h("div", { key: "pair", class: "pair", role: "group", "aria-label": "what is known of the play" }, [
        h(
          "button",
          { key: "any", type: "button", "data-action": "spread-any", "aria-pressed": pressed ? "false" : "true" },
          "nothing known",
        ),
        h(
          "button",
          {
            key: "pressed",
            type: "button",
            "data-action": "spread-pressed",
            disabled: !found.pressed,
            "aria-pressed": pressed ? "true" : "false",
          },
          "pressed as the loads come",
        ),
      ]),
    ]),
    h(
      "p",
      { key: "verdict", class: "said" },
      outside === null
        ? "No tolerance is set: nothing to be outside of."
        : `${share(outside)} of ${shown.draws.toLocaleString("en")} draws outside the tolerance at one end or ` +
            `the other`,
    ),
    ...ENDS.map((end) =>
      h("figure", { key: end, class: "spread" }, [
        h("figcaption", { key: "words" }, `${end} end`),
        histogram(shown[end], budget[end], budget.tolerance, reach),
        h("p", { key: "95", class: "said" }, `95 %: ${range(shown[end].interval_95, state.system)}`),
        h(
          "p",
          { key: "99.7", class: "said" },
          `99.7 %: ${range(shown[end].interval_99_7, state.system)}; each limit ± ` +
            `${amount(shown[end].plus_minus, "error", state.system)}`,
        ),
        h(
          "p",
          { key: "worst", class: "said quiet" },
          `all at their worst ${range([budget[end].low, budget[end].high], state.system)}, rss ` +
            `${amount(budget[end].rss, "error", state.system)}, within which ` +
            `${(100 * shown[end].within_rss).toFixed(1)} % of the draws lie`,
        ),
      ]),
    ),
    h(
      "p",
      { key: "how", class: "said quiet" },
      (pressed
        ? "Every joint lies where weight and the drawn share of the load push it, on the rim where nothing does. "
        : "Play anywhere in its clearance, load anywhere from none to full (either way where it acts both ways), " +
          "allowances anywhere in theirs. ") + "Green: tolerance; thick: worst case; bracket: 95 %.",
    ),
  ];
}

/** @param {number} value */
function share(value) {
  if (value === 0) return "None";
  const percent = value * 100;
  return percent < 0.1 ? "Less than 0.1 %" : `${percent.toFixed(percent < 10 ? 1 : 0)} %`;
}

/** @param {[number, number]} ends @param {System} system */
function range([low, high], system) {
  return (
    `${number(low, "error", system, { sign: true })} to ${number(high, "error", system, { sign: true })} ` +
    `${unit("error", system)}`
  );
}

/** @param {SpreadEnd} found @param {BudgetEnd} budget @param {number|null} tolerance @param {number} reach */
function histogram(found, budget, tolerance, reach) {
  const x = (/** @type {number} */ mm) => (WIDTH / 2) * (1 + mm / reach);
  const { least: from, most: to, counts } = found.histogram;
  const most = Math.max(...counts);
  const bin = (to - from) / counts.length;
  const base = HEIGHT - 12;
  let d = `M${px(x(from))} ${base}`;
  counts.forEach((/** @type {number} */ count, /** @type {number} */ index) => {
    d += `V${px(base - (count / most) * (base - 6))}H${px(x(from + (index + 1) * bin))}`;
  });
  const marks = [
    h("path", { key: "shape", d: `${d}V${base}Z`, class: "histogram" }),
    line([0, base], [WIDTH, base], { key: "axis", class: "bar-axis" }),
    line([x(0), base - 4], [x(0), base + 4], { key: "zero", class: "bar-axis" }),
    h("path", {
      key: "95",
      d: `M${px(x(found.interval_95[0]))} ${base + 4}v5H${px(x(found.interval_95[1]))}v-5`,
      class: "interval",
    }),
    h("path", {
      key: "worst",
      d: `M${px(x(budget.low))} 14V${base}M${px(x(budget.high))} 14V${base}`,
      class: "worst-mark",
    }),
  ];
  if (tolerance !== null)
    marks.push(
      h("path", {
        key: "tolerance",
        d: `M${px(x(-tolerance))} 2V${HEIGHT}M${px(x(tolerance))} 2V${HEIGHT}`,
        class: "bar-tick",
      }),
    );
  return { tag: "svg", attrs: { key: "svg", viewBox: `0 0 ${WIDTH} ${HEIGHT}`, "aria-hidden": "true" }, kids: marks };
}
