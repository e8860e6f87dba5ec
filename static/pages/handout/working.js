/**
 * The working in short: a few plain sums with this mount's own numbers.
 * @module pages/handout/working
 */

import { standing } from "../../values/placed.js";
import { h } from "../../values/shapes.js";
import { amount, number, unit } from "../../values/units.js";
import { hardest, sourceName, verdict } from "../../values/words.js";
import { joints } from "../../document/joints.js";
import { digitsOf, partsOf } from "./budget.js";
import { figure, given, sentence } from "./figure.js";
import { worseEnd } from "./state.js";

/** @typedef {import("../../core/store.js").State} State */
/** @typedef {import("../../values/shapes.js").Shape} Shape */
/** @typedef {(string|Shape)[]} Line */

/** Largest sources named in the sum. */
const NAMED = 4;

/** @param {State} state @returns {Shape[]} */
export function working(state) {
  if (!state.answered.pose) return [];
  const lines = [coupling(state), load(state), pressure(state), play(state), sum(state), rss(state)].filter(
    (each) => each !== null,
  );
  return [
    h("h2", { key: "h" }, "The working in short"),
    h(
      "ol",
      { key: "lines", class: "working" },
      lines.map((line, index) => h("li", { key: index }, sentence(/** @type {Line} */ (line)))),
    ),
  ];
}

/** The horizontal distances from the instant centre to the ends. @param {State} state @returns {Line|null} */
function coupling(state) {
  const id = state.chosen;
  const act = id ? state.answered.actuators[id] : null;
  if (!id || !act || act.coupling === null) return null;
  const path = ["actuators", id, "coupling"];
  if (!act.instant_centre)
    return [`${id} shifts the blade without turning it: coupling `, figure(state, path, "ratio"), "."];
  const { ends } = state.answered.pose;
  const c = act.instant_centre[0];
  const other = act.lead === "left" ? "right" : "left";
  const [top, bottom] = [ends[other][0] - c, ends[act.lead][0] - c];
  const length = (/** @type {number} */ value) => number(value, "length", state.system);
  const reach = (/** @type {"left"|"right"} */ end) =>
    `${amount(Math.abs(ends[end][0] - c), "length", state.system)} from the ${end} end`;
  return [
    `When ${id} moves, the blade turns about a point ${reach("left")} and ${reach("right")} on the level: ` +
      `coupling = ${length(top * bottom < 0 ? -Math.abs(top) : Math.abs(top))} / ${length(Math.abs(bottom))} = `,
    figure(state, path, "ratio"),
    ".",
  ];
}

/**
 * Moments about the instant centre where the cylinder holds the blade itself, else virtual work.
 * @param {State} state
 * @returns {Line|null}
 */
function load(state) {
  const most = hardest(state.answered.actuators);
  if (!most) return null;
  const [id] = most;
  const arms = armsOf(state, id);
  const size = amount(Math.hypot(...state.mount.load.force), "force", state.system);
  const result = [
    figure(state, ["actuators", id, "load_ratio"], "ratio"),
    ` times the load, ${size} × `,
    figure(state, ["actuators", id, "load_ratio"], "ratio"),
    " = ",
    figure(state, ["actuators", id, "force"], "force", { size: true }),
    ".",
  ];
  if (!arms)
    return [
      `For each ${unit("length", state.system)} of ${id} the load's point moves `,
      figure(state, ["actuators", id, "load_ratio"], "ratio"),
      ` ${unit("length", state.system)} along the load, so the cylinder carries `,
      ...result,
    ];
  const length = (/** @type {number} */ value) => number(value, "length", state.system);
  return [
    `Moments about the point the blade turns on when ${id} moves: the load on an arm of ${length(arms.load)}, ` +
      `the cylinder on ${length(arms.cylinder)}: ${length(arms.load)} / ${length(arms.cylinder)} = `,
    ...result,
  ];
}

/**
 * Arms of load and cylinder about the instant centre, mm; null where their ratio is not the load's.
 * @param {State} state
 * @param {string} id
 */
function armsOf(state, id) {
  const { actuators, pose } = state.answered;
  const { instant_centre: c, load_ratio: ratio } = actuators[id];
  if (!c) return null;
  const [a, b] = pose.members[id].ends;
  const cylinder = armOf(c, a, [b[0] - a[0], b[1] - a[1]]);
  const arm = armOf(c, standing(state.mount.load.at, pose.bodies.blade), state.mount.load.force);
  return cylinder > 1e-6 && Math.abs(arm / cylinder - ratio) < 1e-6 * Math.max(ratio, 1)
    ? { load: arm, cylinder }
    : null;
}

/** @param {number[]} c @param {number[]} at @param {number[]} way */
function armOf(c, at, way) {
  return Math.abs((at[0] - c[0]) * way[1] - (at[1] - c[1]) * way[0]) / Math.hypot(way[0], way[1]);
}

/** @param {State} state @returns {Line|null} */
function pressure(state) {
  const most = hardest(state.answered.actuators);
  if (!most || !most[1].pressure) return null;
  const [id, act] = most;
  const area = Math.abs(act.force / act.pressure);
  const relief =
    act.relief_share === null ? [] : [" of ", figure(state, ["actuators", id, "relief"], "pressure"), " relief"];
  return [
    `On the ${act.side} side of ${id}: `,
    figure(state, ["actuators", id, "force"], "force", { size: true }),
    ` / ${amount(area, "area", state.system)} = `,
    figure(state, ["actuators", id, "pressure"], "pressure", {
      size: true,
      ...(state.system === "metric" ? { digits: 2 } : {}),
    }),
    ...relief,
    ".",
  ];
}

/** @param {State} state @returns {Line|null} */
function play(state) {
  const { budget } = state.answered;
  const end = worseEnd(budget);
  const part = partsOf(budget, end, state.system).find(
    (/** @type {any} */ each) => each.source.kind === "clearance" && each.value,
  );
  if (!part) return null;
  const clearance = joints(state.mount).find((each) => each.name === part.source.id)?.clearance ?? 0;
  if (!clearance) return null;
  const times = Math.abs(part.value) / (clearance / 2);
  return [
    `Play of ${sourceName(state.mount, part.source)}: half of ${amount(clearance, "error", state.system)}, ` +
      `seen ${number(times, "ratio", state.system)} times as large at the ${end} end: `,
    given(part.path, part.value, amount(Math.abs(part.value), "error", state.system)),
    ".",
  ];
}

/** @param {State} state @returns {Line} */
function sum(state) {
  const { budget } = state.answered;
  const end = worseEnd(budget);
  const digits = digitsOf(state.system);
  const parts = partsOf(budget, end, state.system).filter((/** @type {any} */ each) => each.count > 0);
  const shown = (/** @type {number} */ count) => (count / 10 ** digits).toFixed(digits);
  const named = parts.slice(0, NAMED);
  const rest = parts.slice(NAMED);
  const restCount = rest.reduce((/** @type {number} */ total, /** @type {any} */ each) => total + each.count, 0);
  const terms = named.flatMap((/** @type {any} */ each, /** @type {number} */ index) => [
    index ? " + " : "",
    given(each.path, each.value, shown(each.count)),
    ` (${sourceName(state.mount, each.source)})`,
  ]);
  const { words } = verdict(budget, state.system);
  return [
    `All at their worst at the ${end} end: `,
    ...terms,
    ...(rest.length ? [` + ${shown(restCount)} (${rest.length} smaller)`] : []),
    " = ",
    figure(state, ["budget", end, "worst"], "error"),
    ...(budget.tolerance === null
      ? [", no tolerance set."]
      : [" against ±", figure(state, ["budget", "tolerance"], "error"), `: ${words}.`]),
  ];
}

/** @param {State} state @returns {Line} */
function rss(state) {
  const end = worseEnd(state.answered.budget);
  return [
    `Statistically, the middle of the ranges plus the root sum of squares of their half widths, ${end} end: `,
    figure(state, ["budget", end, "rss"], "error"),
    ".",
  ];
}
