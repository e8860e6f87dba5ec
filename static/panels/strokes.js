/**
 * Stroke sliders: one a cylinder, with the number beside it to type.
 * @module panels/strokes
 */

import { deadWords, metBy } from "../values/travel.js";
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
    const met = metOf(state, id);
    const past = (state.travel.beyond ?? []).filter(({ cylinder: of }) => of === id);
    const dead = deadWords(id, met, past, system);
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
      h("span", { key: "track", class: "stroke-track", title: dead || null }, [
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
        ...deadMarks([
          ...past.map(({ stroke }) => (stroke > 0 ? 1 : 0)),
          ...met.map((at) => (at - least) / (most - least)),
        ]),
      ]),
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

/** Marks over a slider. @param {number[]} shares of the stroke */
function deadMarks(shares) {
  const marks = shares.map((share, index) =>
    h("text", { key: index, x: `${(100 * share).toFixed(1)}%`, y: 5, class: "dead-mark" }, "◆"),
  );
  return marks.length ? [h("svg", { key: "dead", class: "stroke-dead", "aria-hidden": "true" }, marks)] : [];
}

/**
 * The dead centres a cylinder meets on its stroke.
 * @param {import("../core/store.js").State} state @param {string} id
 */
function metOf({ travel, command }, id) {
  const over = [travel.plane, travel.curve].find((each) => each?.cylinders.includes(id));
  return over ? metBy(over, id, command) : [];
}
