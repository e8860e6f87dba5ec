/**
 * Stroke sliders: one a cylinder, with the number beside it to type.
 * @module panels/strokes
 */

import { cylinders, hues, strokeRange } from "../document/mount.js";
import { h } from "../values/shapes.js";
import { amount, outward, unit } from "../values/units.js";
import { own } from "../values/own.js";

/** @param {import("../core/store.js").State} state */
export function strokes(state) {
  const { mount, system } = state;
  const tones = hues(mount);
  const acts = state.answered?.actuators ?? {};
  return cylinders(mount).map((cylinder) => {
    const { id } = cylinder;
    const [least, most] = strokeRange(cylinder);
    const value = own(state.command, id) ?? 0;
    const out = own(acts, id)?.extension;
    const words =
      out === undefined ? "" : `out ${amount(out, "fine", system)} of ${amount(cylinder.stroke, "length", system)}`;
    const chosen = state.chosen === id;
    return h("div", { key: id, class: `stroke hue-${tones.get(id)}${chosen ? " chosen" : ""}` }, [
      h(
        "button",
        {
          key: "name",
          type: "button",
          class: "stroke-name",
          "data-choose": id,
          "aria-pressed": chosen ? "true" : "false",
          title: "Show what this cylinder moves",
        },
        id,
      ),
      h("input", {
        key: "range",
        type: "range",
        "data-stroke": id,
        min: least,
        max: most,
        step: "any",
        "aria-label": `stroke of ${id}`,
        value,
      }),
      h("label", { key: "typed", class: "stroke-typed" }, [
        h("input", {
          key: "number",
          type: "text",
          inputmode: "decimal",
          "data-stroke-typed": id,
          "aria-label": `${id}, longer or shorter than drawn, ${unit("fine", system)}`,
          value: outward(Math.round(value * 1000) / 1000, "fine", system),
        }),
        h("span", { key: "unit" }, unit("fine", system)),
      ]),
      h("span", { key: "out", class: "stroke-out" }, words),
    ]);
  });
}
