/**
 * The title block: what the drawing is, and where that is changed.
 * @module panels/titleblock
 */

import { vocabulary } from "../values/vocabulary.js";
import { h } from "../values/shapes.js";
import { amount, inTrade, outward, unit, unitsOf } from "../values/units.js";

const CSS_MM = 96 / 25.4;

/** @param {import("../core/store.js").State} state */
export function titleblock(state) {
  const { mount, system } = state;
  const scale = state.view ? CSS_MM / state.view.scale : 1;
  const load = mount.load ? `${amount(Math.hypot(mount.load.force[0], mount.load.force[1]), "force", system)}` : "none";
  const pose = state.answered?.pose;
  const slope = pose?.slope;
  const degrees = slope === null || slope === undefined ? undefined : (Math.atan(slope) * 180) / Math.PI;
  const fall =
    slope === null || slope === undefined
      ? "–"
      : `${amount(slope, "percent", system, { sign: true })}  ${amount(degrees, "angle", system, { sign: true })}`;
  return [
    cell(
      "title",
      "Title",
      h("input", {
        key: "input",
        type: "text",
        maxlength: vocabulary.limits.title,
        "data-field": "title",
        "aria-label": "title",
        autocomplete: "off",
        value: mount.title,
      }),
    ),
    cell(
      "tolerance",
      `Tolerance ± ${unit("error", system)}`,
      h("input", {
        key: "input",
        type: "text",
        inputmode: "decimal",
        "data-field": "tolerance",
        "aria-label": `tolerance, plus or minus ${unit("error", system)}`,
        autocomplete: "off",
        value: mount.tolerance ? outward(mount.tolerance, "error", system) : "",
      }),
    ),
    cell(
      "fall",
      inTrade("Cross fall", system),
      h("output", { key: "value", "data-readout": "cross-fall", "data-value": slope ?? "" }, fall),
    ),
    cell("load", "Load", h("span", { key: "value" }, load)),
    cell(
      "scale",
      "Scale",
      h(
        "span",
        { key: "value" },
        scale >= 1 ? `1 : ${scale.toFixed(scale < 10 ? 1 : 0)}` : `${(1 / scale).toFixed(1)} : 1`,
      ),
    ),
    cell("units", "Units", h("span", { key: "value" }, unitsOf(system))),
    cell("date", "Date", h("span", { key: "value" }, today())),
  ];
}

/** @param {string} key @param {string} label @param {import("../values/shapes.js").Shape} content */
function cell(key, label, content) {
  return h("label", { key, class: `cell cell-${key}` }, [
    h("span", { key: "label", class: "cell-label" }, label),
    content,
  ]);
}

/** The day in the form of ISO 8601. */
function today() {
  const now = new Date();
  const two = (/** @type {number} */ part) => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
