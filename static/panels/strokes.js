/**
 * Stroke sliders: one a cylinder, with the number beside it to type.
 * @module panels/strokes
 */

import { cylinders, hues, strokeRange } from "../document/mount.js";
import { paint } from "../core/paint.js";
import { h } from "../values/shapes.js";
import { amount, outward, unit } from "../values/units.js";

/** @param {Element} place @param {import("../core/store.js").State} state */
export function strokes(place, state) {
  const tones = hues(state.mount);
  const acts = state.answered?.actuators ?? {};
  paint(
    place,
    cylinders(state.mount).map((/** @type {any} */ cylinder) => {
      const { id } = cylinder;
      const [least, most] = strokeRange(cylinder);
      const out = acts[id]?.extension;
      const words =
        out === undefined
          ? ""
          : `out ${amount(out, "fine", state.system)} of ${amount(cylinder.stroke, "length", state.system)}`;
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
        }),
        h("label", { key: "typed", class: "stroke-typed" }, [
          h("input", {
            key: "number",
            type: "text",
            inputmode: "decimal",
            "data-stroke-typed": id,
            "aria-label": `${id}, longer or shorter than drawn, ${unit("fine", state.system)}`,
          }),
          h("span", { key: "unit" }, unit("fine", state.system)),
        ]),
        h("span", { key: "out", class: "stroke-out" }, words),
      ]);
    }),
  );
  for (const cylinder of cylinders(state.mount)) {
    const value = state.command[cylinder.id] ?? 0;
    const range = /** @type {HTMLInputElement} */ (place.querySelector(`[data-stroke="${CSS.escape(cylinder.id)}"]`));
    if (Math.abs(range.valueAsNumber - value) > 1e-6) range.value = String(value);
    const typed = /** @type {HTMLInputElement} */ (
      place.querySelector(`[data-stroke-typed="${CSS.escape(cylinder.id)}"]`)
    );
    if (document.activeElement !== typed) typed.value = outward(Math.round(value * 1000) / 1000, "fine", state.system);
  }
}
