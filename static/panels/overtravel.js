/**
 * The worst over the whole travel, and where: a line under the four numbers.
 * @module panels/overtravel
 */

import { axesOf } from "../core/travel.js";
import { h } from "../values/shapes.js";
import { whereWords } from "../values/travel.js";
import { DASH, amount, number } from "../values/units.js";
import { own } from "../values/own.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/travel.js").Over} Over */

/** The travel there is of both strokes, or of the one. @param {State} state @returns {Over|null} */
export function wholeTravel({ mount, shownTravel, travel, answered }) {
  if (!answered?.pose) return null;
  return axesOf(mount, shownTravel).length > 1 ? travel.plane : travel.curve;
}

/** @param {State} state */
export function overTravel(state) {
  const { mount, system } = state;
  if (!axesOf(mount, state.shownTravel).length) return [];
  const over = wholeTravel(state);
  const worst = over && own(over.worst, "worst");
  const tolerance = mount.tolerance ?? null;
  const outside = Boolean(worst && tolerance !== null && worst.value > tolerance);
  const mark = !worst || tolerance === null ? "" : outside ? "outside" : "inside";
  return [
    h("section", { key: "over travel", class: `over-travel ${mark}`, "aria-label": "over the whole travel" }, [
      h("h2", { key: "label" }, "Over the whole travel"),
      h("p", { key: "worst", class: "said" }, [
        figure("worst", over, worst, amount(worst?.value, "error", system), system),
        ...(mark ? [h("span", { key: "sign", class: "sign", "aria-hidden": "true" }, outside ? "✗" : "✓")] : []),
        h("span", { key: "words" }, worst && over ? wordsOf(over, worst, system) : "worst edge error"),
      ]),
      h("p", { key: "others", class: "said quiet" }, over ? others(over, system) : DASH),
    ]),
  ];
}

/** @param {Over} over @param {AtWorst} worst @param {System} system */
function wordsOf(over, worst, system) {
  const drawn = own(over.drawn, "worst");
  const before = drawn === undefined ? "" : `; ${amount(drawn, "error", system)} as drawn`;
  return `with ${whereWords(over, worst.command, system)}${before}`;
}

/** The other numbers at their worst. @param {Over} over @param {System} system @returns {Shape[]} */
function others(over, system) {
  const couplings = Object.entries(over.worst).filter(([name]) => name.startsWith("coupling:"));
  const most = couplings.sort((a, b) => Math.abs(b[1].value) - Math.abs(a[1].value))[0];
  const ratio = own(over.worst, "load_ratio");
  return [
    ...(most
      ? [
          h("span", { key: "coupling" }, "coupling "),
          figure(most[0], over, most[1], number(most[1].value, "ratio", system), system),
        ]
      : []),
    ...(ratio
      ? [
          h("span", { key: "ratio" }, `${most ? ", " : ""}cylinder load `),
          figure("load_ratio", over, ratio, `${number(ratio.value, "ratio", system)} ×`, system),
        ]
      : []),
  ];
}

/**
 * A number that goes where it stands when it is pressed.
 * @param {string} layer @param {Over|null} over @param {AtWorst|null|undefined} worst @param {string} shown
 * @param {System} system
 */
export function figure(layer, over, worst, shown, system) {
  const where = over && worst ? whereWords(over, worst.command, system) : "";
  return h(
    "button",
    {
      key: `figure ${layer}`,
      type: "button",
      class: "travel-figure",
      "data-stand": worst ? JSON.stringify(worst.command) : null,
      disabled: !worst,
      title: worst ? `Go there: ${where}` : null,
    },
    [h("output", { key: "value", "data-over-travel": layer, "data-value": worst?.value ?? "" }, shown)],
  );
}
