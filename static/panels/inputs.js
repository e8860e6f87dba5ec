/**
 * What the sums stand on: blade, load, oil, valve, tolerance, sensors and allowances, each changed in place.
 * @module panels/inputs
 */

import { h } from "../values/shapes.js";
import { SYSTEMS, amount } from "../values/units.js";
import { nameOf } from "../document/bodies.js";
import { handle } from "../document/mount.js";
import { memberFields } from "./memberfields.js";
import { choice, field, group, wordField } from "./fields.js";

/** All numbers of what is picked on the sheet. @param {import("../core/store.js").State} state */
export function pickedNumbers(state) {
  const what = state.picked ? handle(state.mount, state.picked) : undefined;
  if (what?.member) return memberFields(state, what);
  return [h("p", { key: "hint", class: "said quiet" }, "Pick a joint on the sheet to see all its numbers here.")];
}

/** @param {import("../core/store.js").State} state */
export function inputs(state) {
  const { mount, system } = state;
  const pair = (/** @type {string} */ place, /** @type {string} */ label, /** @type {string} */ of) => [
    field(state, `${place}[0]`, `${label} x`, "fine", of),
    field(state, `${place}[1]`, `${label} y`, "fine", of),
  ];
  return [
    group("Document", [
      wordField(state, "note", "note, two sentences on what it is"),
      h("label", { key: "display", class: "field wide" }, [
        h("span", { key: "label", class: "field-label" }, "opens in, for who has chosen no units"),
        choice(
          state,
          "display",
          "units the document opens in",
          SYSTEMS.map(([name, { words }]) => [name, words]),
        ),
      ]),
    ]),
    group("Blade", [
      ...pair("blade.left", "left", "blade"),
      ...pair("blade.right", "right", "blade"),
      field(state, "blade.mass", "mass", "mass", "blade"),
      ...(mount.blade.mass_centre
        ? pair("blade.mass_centre", "centre", "mass")
        : [button("add-mass-centre", "say where the mass acts")]),
    ]),
    group(
      "Load",
      mount.load
        ? [
            field(state, "load/size", "size", "force", "load"),
            field(state, "load/degrees", "direction", "angle", "load"),
            ...pair("load.at", "at", "load"),
            toggle("reverse-load", "it acts both ways", mount.load.reversing),
            button("remove-load", "take the load away"),
          ]
        : [button("add-load", "add a load at the right end")],
    ),
    group("Oil", [
      field(state, "oil.bulk_modulus", "bulk modulus", "modulus"),
      field(state, "oil.relief_pressure", "relief", "pressure"),
      ...(mount.oil
        ? [
            field(state, "oil.entrained_air", "air in the oil", "percent"),
            toggle("preload-oil", "trapped and pressed on both sides", mount.oil.preloaded),
            ...(mount.oil.preloaded ? [field(state, "oil.trapped_pressure", "trapped at, absolute", "pressure")] : []),
          ]
        : []),
    ]),
    group(
      "Tyres under the frame",
      mount.tyres
        ? [
            field(state, "tyres.left", "left x", "fine", "tyre"),
            field(state, "tyres.right", "right x", "fine", "tyre"),
            field(state, "tyres.stiffness", "stiffness of each tyre", "stiffness"),
            button("remove-tyres", "take the tyres away: the frame stands fast"),
          ]
        : [button("add-tyres", "put the frame on tyres")],
    ),
    ...(mount.bodies?.length ? [group("Weight of other bodies", weights(state))] : []),
    group("Valve", [
      field(state, "valve.flow", "flow", "flow"),
      field(state, "valve.smallest_pulse", "smallest pulse", "volume"),
      ...(Object.keys(state.drafts).some((place) => place.startsWith("valve."))
        ? [h("p", { key: "both", class: "said quiet" }, "Give flow and smallest pulse: both are needed.")]
        : []),
    ]),
    group("Tolerance", [
      field(state, "tolerance", "±", "error", "edge"),
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
      ...(mount.allowances ?? []).flatMap((each, index) => [
        wordField(state, `allowances[${index}].label`, "what", `allowance ${index + 1}`),
        field(state, `allowances[${index}].plus_minus`, "±", "error", `allowance ${index + 1}`),
        h("label", { key: `at ${index}`, class: "field" }, [
          h("span", { key: "label", class: "field-label" }, "at"),
          choice(state, `allowances[${index}].at`, `where allowance ${index + 1} acts`, [
            ["ends", "ends"],
            ["sensors", "sensors"],
          ]),
        ]),
        button(`remove-allowance-${index}`, "remove"),
      ]),
      button("add-allowance", "add an allowance"),
    ]),
  ];
}

/** @param {import("../core/store.js").State} state */
function weights(state) {
  return (state.mount.bodies ?? []).flatMap((/** @type {string|WeighedBody} */ body, /** @type {number} */ index) => {
    const name = nameOf(body);
    if (typeof body === "string") return [button(`add-mass-${index}`, `give ${name} a mass`)];
    return [
      field(state, `bodies[${index}].mass`, `mass of ${name}`, "mass"),
      field(state, `bodies[${index}].mass_centre[0]`, "centre x", "fine", name),
      field(state, `bodies[${index}].mass_centre[1]`, "centre y", "fine", name),
      button(`remove-mass-${index}`, `take the mass of ${name} away`),
    ];
  });
}

/** A switch of the document. @param {string} action @param {string} words @param {boolean|undefined} on */
function toggle(action, words, on) {
  return h(
    "button",
    { key: action, type: "button", "data-edit": action, "aria-pressed": on ? "true" : "false" },
    words,
  );
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
