/**
 * What is chosen of the stroke plane, and what its lines and shades are.
 * @module panels/planekey
 */

import { axesOf, shadeOf } from "../core/travel.js";
import { shadesOf } from "../values/layers.js";
import { h, line } from "../values/shapes.js";
import { deadWords, metBy } from "../values/travel.js";
import { amount, decimals } from "../values/units.js";
import { heightStep } from "./planeground.js";

/** @typedef {import("../core/store.js").State} State */
/** @typedef {import("../values/travel.js").Over} Over */

/** What is chosen of the plane, and what its lines are. @param {State} state */
export function planeKey(state) {
  const { mount, shownTravel, travel, system } = state;
  const axes = axesOf(mount, shownTravel);
  if (!axes.length) return [];
  const shades = shadesOf(mount);
  const shade = shadeOf(mount, shownTravel.shade);
  const cylinders = mount.members.filter(({ kind }) => kind === "cylinder").map(({ id }) => id);
  const choices =
    cylinders.length > 2
      ? [choice("level", "along", cylinders, axes[0]), choice("upright", "up", cylinders, axes[1])]
      : [];
  const over = axes.length > 1 ? travel.plane : travel.curve;
  return [
    h("label", { key: "shade", class: "plane-choice" }, [
      h("span", { key: "label" }, axes.length > 1 ? "shaded by" : "curve of"),
      h(
        "select",
        { key: "select", "data-travel": "shade", value: shade, "aria-label": "what the stroke plane is shaded by" },
        shades.map(({ layer, label }) => h("option", { key: layer, value: layer }, label)),
      ),
    ]),
    ...choices,
    h("p", { key: "words", class: "plane-words" }, [
      ...(axes.length > 1 && over ? linesWords(over, system) : []),
      h("span", { key: "shade" }, axes.length > 1 ? shadeWords(state, shade) : "hatched: the tolerance"),
    ]),
    h("p", { key: "dead", class: "plane-words plane-dead" }, over ? deadIn(state, over) : ""),
  ];
}

/** @param {"level"|"upright"} axis @param {string} label @param {string[]} ids @param {string} value */
function choice(axis, label, ids, value) {
  return h("label", { key: axis, class: "plane-choice" }, [
    h("span", { key: "label" }, label),
    h(
      "select",
      { key: "select", "data-travel": axis, value, "aria-label": `cylinder ${label} the stroke plane` },
      ids.map((id) => h("option", { key: id, value: id }, id)),
    ),
  ]);
}

/** @param {Over} over @param {System} system */
function linesWords(over, system) {
  const sample = (/** @type {string} */ end) =>
    h("svg", { key: `sample ${end}`, class: "curve-sample", viewBox: "0 0 26 8", "aria-hidden": "true" }, [
      line([1, 4], [25, 4], { key: "line", class: `plane-height plane-height-${end}` }),
    ]);
  const each = amount(heightStep(over, system), "fine", system, { digits: decimals("length", system) });
  return [
    sample("left"),
    h("span", { key: "left" }, " left "),
    sample("right"),
    h("span", { key: "right" }, ` right, each ${each}; `),
  ];
}

/** @param {State} state @param {string} shade */
function shadeWords({ mount }, shade) {
  if (shade !== "worst") return "darker: farther from zero";
  return mount.tolerance ? "dotted: outside" : "darker: larger";
}

/** The dead centres of its cylinders. @param {State} state @param {Over} over */
function deadIn({ travel, command, system }, over) {
  const words = over.cylinders.flatMap((id) => {
    const found = deadWords(id, metBy(over, id, command), travel.beyond ?? [], system);
    return found ? [`${id}: ${found}`] : [];
  });
  return words.length ? `◆ ${words.join("; ")}` : "";
}
