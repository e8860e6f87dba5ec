/**
 * What the sums stand on: blade, load, oil, valve, tolerance, sensors and allowances, each changed in place.
 * @module panels/inputs
 */

import { h } from "../values/shapes.js";
import { amount } from "../values/units.js";
import { handle } from "../document/mount.js";
import { memberFields } from "./memberfields.js";
import { field, group, wordField } from "./fields.js";

/** @param {import("../core/store.js").State} state */
export function inputs(state) {
  const { mount, system } = state;
  const pair = (/** @type {string} */ place, /** @type {string} */ label, /** @type {string} */ of) => [
    field(`${place}[0]`, `${label} x`, "fine", system, of),
    field(`${place}[1]`, `${label} y`, "fine", system, of),
  ];
  const what = state.picked ? handle(mount, state.picked) : undefined;
  return [
    ...(what?.member
      ? memberFields(state, what)
      : [h("p", { key: "hint", class: "said quiet" }, "Pick a joint on the sheet to see all its numbers here.")]),
    group("Document", [
      wordField("note", "note, two sentences on what it is"),
      h("label", { key: "display", class: "field wide" }, [
        h("span", { key: "label", class: "field-label" }, "opens in, for who has chosen no units"),
        h(
          "select",
          {
            key: "select",
            "data-place": "display",
            "data-quantity": "words",
            "aria-label": "units the document opens in",
          },
          [
            ["metric", "millimetres"],
            ["inch", "inches"],
          ].map(([value, words]) => h("option", { key: value, value }, words)),
        ),
      ]),
    ]),
    group("Blade", [
      ...pair("blade.left", "left", "blade"),
      ...pair("blade.right", "right", "blade"),
      field("blade.mass", "mass", "mass", system, "blade"),
      ...(mount.blade.mass_centre
        ? pair("blade.mass_centre", "centre", "mass")
        : [button("add-mass-centre", "say where the mass acts")]),
    ]),
    group(
      "Load",
      mount.load
        ? [
            field("load/size", "size", "force", system, "load"),
            field("load/degrees", "direction", "angle", system, "load"),
            ...pair("load.at", "at", "load"),
            button("remove-load", "take the load away"),
          ]
        : [button("add-load", "add a load at the right end")],
    ),
    group("Oil", [
      field("oil.bulk_modulus", "bulk modulus", "modulus", system),
      field("oil.relief_pressure", "relief", "pressure", system),
    ]),
    group("Valve", [
      field("valve.flow", "flow", "flow", system),
      field("valve.smallest_pulse", "smallest pulse", "volume", system),
      ...(Object.keys(state.drafts).some((place) => place.startsWith("valve."))
        ? [h("p", { key: "both", class: "said quiet" }, "Give flow and smallest pulse: both are needed.")]
        : []),
    ]),
    group("Tolerance", [
      field("tolerance", "±", "error", system, "edge"),
      h("label", { key: "preset", class: "field wide" }, [
        h("span", { key: "label", class: "field-label" }, "published"),
        h("select", { key: "select", "data-preset": "tolerance", "aria-label": "published tolerances" }, [
          h("option", { key: "none", value: "" }, "pick one…"),
          ...state.gradings.map((each, index) =>
            h(
              "option",
              { key: each.label, value: index, title: each.source },
              `±${amount(each.tolerance, "error", system)}: ${each.label}`,
            ),
          ),
        ]),
      ]),
      ...sourceOf(state),
    ]),
    group(
      "Sensors",
      mount.sensors
        ? [
            ...pair("sensors.left", "left", "sensor"),
            ...pair("sensors.right", "right", "sensor"),
            button("remove-sensors", "take the sensors away"),
          ]
        : [button("add-sensors", "add sensors over the ends")],
    ),
    group("Allowances", [
      ...(mount.allowances ?? []).flatMap((/** @type {any} */ each, /** @type {number} */ index) => [
        wordField(`allowances[${index}].label`, "what", `allowance ${index + 1}`),
        field(`allowances[${index}].plus_minus`, "±", "error", system, `allowance ${index + 1}`),
        h("label", { key: `at ${index}`, class: "field" }, [
          h("span", { key: "label", class: "field-label" }, "at"),
          h(
            "select",
            {
              key: "select",
              "data-place": `allowances[${index}].at`,
              "data-quantity": "words",
              "aria-label": `where allowance ${index + 1} acts`,
            },
            ["ends", "sensors"].map((value) => h("option", { key: value, value }, value)),
          ),
        ]),
        button(`remove-allowance-${index}`, "remove"),
      ]),
      button("add-allowance", "add an allowance"),
    ]),
  ];
}

/** @param {import("../core/store.js").State} state */
function sourceOf(state) {
  const found = state.gradings.find((each) => Math.abs(each.tolerance - (state.mount.tolerance ?? 0)) < 1e-9);
  return found ? [h("p", { key: "source", class: "said quiet" }, `${found.label}: ${found.source}`)] : [];
}

/** @param {string} action @param {string} words */
function button(action, words) {
  return h("button", { key: action, type: "button", "data-edit": action }, words);
}
