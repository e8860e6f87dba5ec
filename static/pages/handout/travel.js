/**
 * The mount over its travel on the handout: the worst of each number and where, and the error over each stroke.
 * @module pages/handout/travel
 */

import { answerOf } from "../../core/server.js";
import { chart, legend } from "../../panels/curves.js";
import { toldOver } from "../../values/layers.js";
import { h } from "../../values/shapes.js";
import { metBy, overOf, whereWords } from "../../values/travel.js";
import { amount, number } from "../../values/units.js";
import { own } from "../../values/own.js";

/** @typedef {import("../../values/travel.js").Over} Over */
/** @typedef {{whole: Over, curves: Over[]}} Travelling */

const [WIDTH, HEIGHT] = [350, 92];
const CURVE_STEPS = 41;
/** Cylinders whose curves have room beside each other. */
const MOST = 2;

/**
 * Ask for what stands there.
 * @param {Worked} question @returns {Promise<Travelling|null>} null without a cylinder
 */
export async function travelling({ mount, command }) {
  const question = { mount, command };
  const ids = mount.members.filter(({ kind }) => kind === "cylinder").map(({ id }) => id);
  if (!ids.length) return null;
  const asked = await Promise.all([
    answerOf("/travel", question),
    ...ids.slice(0, MOST).map((id) => answerOf("/travel", { ...question, cylinders: [id], steps: CURVE_STEPS })),
  ]);
  const [whole, ...curves] = asked.map(overOf);
  return { whole, curves };
}

/** @param {Worked} question @param {Travelling} found @param {System} system @returns {Shape[]} */
export function travelShapes({ mount, command }, { whole, curves }, system) {
  const told = toldOver(mount)[0];
  return [
    h("h2", { key: "head" }, [
      h("span", { key: "words" }, "Over the whole travel"),
      ...judgedHead(whole, mount.tolerance ?? null),
    ]),
    h("p", { key: "worst" }, worstWords(whole, mount.tolerance ?? null, system)),
    h(
      "div",
      { key: "curves", class: "travel-curves" },
      curves.map((over) => {
        const [id] = over.cylinders;
        return h("figure", { key: id }, [
          chart({
            over,
            told,
            tolerance: mount.tolerance ?? null,
            at: own(command, id) ?? 0,
            dead: metBy(over, id, command),
            system,
            width: WIDTH,
            height: HEIGHT,
          }),
          h("figcaption", { key: "words" }, `worst edge error over the stroke of ${id}`),
        ]);
      }),
    ),
    h("p", { key: "legend", class: "curve-legend" }, [
      ...legend(told),
      h("span", { key: "marks", class: "curve-key" }, "◇ worst"),
      ...(mount.tolerance ? [h("span", { key: "band", class: "curve-key" }, "hatched: tolerance")] : []),
    ]),
  ];
}

/**
 * What stands at its head: a mount may pass as it stands and fail on its travel.
 * @param {Over} over @param {number|null} tolerance
 */
function judgedHead(over, tolerance) {
  const worst = own(over.worst, "worst");
  if (!worst || tolerance === null) return [];
  const [state, words] = worst.value > tolerance ? ["fails", "✗ outside"] : ["passes", "✓ inside"];
  return [h("strong", { key: "state", class: `travel-verdict ${state}` }, `: ${words} the tolerance`)];
}

/** @param {Over} over @param {number|null} tolerance @param {System} system */
function worstWords(over, tolerance, system) {
  const worst = own(over.worst, "worst");
  const drawn = own(over.drawn, "worst");
  const ratio = own(over.worst, "load_ratio");
  const couplings = Object.entries(over.worst).filter(([name]) => name.startsWith("coupling:"));
  const most = couplings.sort((a, b) => Math.abs(b[1].value) - Math.abs(a[1].value))[0];
  const parts = [
    ...(worst
      ? [
          `worst edge error ${amount(worst.value, "error", system)}${judged(worst.value, tolerance)} with ` +
            `${whereWords(over, worst.command, system)}` +
            (drawn === undefined ? "" : ` (${amount(drawn, "error", system)} as drawn)`),
        ]
      : []),
    ...(most
      ? [`coupling ${number(most[1].value, "ratio", system)} with ${whereWords(over, most[1].command, system)}`]
      : []),
    ...(ratio
      ? [
          `cylinder load ${number(ratio.value, "ratio", system)} × the edge load with ` +
            `${whereWords(over, ratio.command, system)}`,
        ]
      : []),
  ];
  return `At the most: ${parts.join("; ")}.`;
}

/** @param {number} worst @param {number|null} tolerance */
function judged(worst, tolerance) {
  if (tolerance === null) return "";
  return worst > tolerance ? ", outside the tolerance," : ", inside the tolerance,";
}
