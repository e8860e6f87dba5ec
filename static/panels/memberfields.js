/**
 * Every number of the picked joint and its member.
 * @module panels/memberfields
 */

import { memberKind, numbersOf } from "../values/vocabulary.js";
import { h } from "../values/shapes.js";
import { amount, customs, number, unit } from "../values/units.js";
import { playSource } from "../document/clearance.js";
import { deadLength } from "../document/lengths.js";
import { drawnLength } from "../document/mount.js";
import { valueAt } from "../document/places.js";
import { bodySelect, field, group, wordField } from "./fields.js";
import { jointPlace } from "./picked.js";

/** @typedef {import("../core/store.js").State} State */

/** @param {State} state @param {import("../document/mount.js").JointHandle} what */
export function memberFields(state, what) {
  const { mount, system } = state;
  const at = `members[${mount.members.indexOf(what.member)}]`;
  const joint = jointPlace(state, what);
  const kind = memberKind(what.member.kind);
  return [
    group(what.label, [
      ...(what.member.ends
        ? [["on", "on"]]
        : [
            ["joins[0]", "joins"],
            ["joins[1]", "and"],
          ]
      ).map(([key, label]) =>
        h("label", { key, class: "field" }, [
          h("span", { key: "label", class: "field-label" }, label),
          bodySelect(state, `${joint}.${key}`, `${label}, body of ${what.label}`),
        ]),
      ),
      ...numbersOf(kind.joint_fields).map(({ key, label, measure }) =>
        field(state, `${joint}.${key}`, label, measure, what.label),
      ),
      h("label", { key: "fit", class: "field" }, [
        h("span", { key: "label", class: "field-label" }, "fit, pin of"),
        h("input", {
          key: "nominal",
          type: "text",
          inputmode: "decimal",
          "data-nominal": joint,
          "aria-label": `pin diameter for a fit of ${what.label}`,
          autocomplete: "off",
        }),
        h("span", { key: "unit", class: "field-unit" }, unit("fine", system)),
      ]),
      ...fitChoice(state, joint),
      h(
        "p",
        { key: "gap", class: "said quiet" },
        "Clearance is the whole gap, bore minus pin; where the pin floats in eye and lug, both gaps added. A fit " +
          "enters the greatest of one gap.",
      ),
      ...sourceOf(state, joint),
    ]),
    group(what.member.id, [
      wordField(state, `${at}.id`, "name", what.member.id),
      ...numbersOf(kind.fields).flatMap(({ key, label, measure }) => [
        field(state, `${at}.${key}`, label, measure, what.member.id),
        ...(what.member.kind === "cylinder" && key === "rod" ? usualSizes(state, what.member, at) : []),
      ]),
      ...(what.member.kind === "cylinder" ? lengths(state, what.member) : []),
    ]),
  ];
}

/** Where the clearance of a joint is from, if it was only supposed. @param {State} state @param {string} joint */
function sourceOf(state, joint) {
  const clearance = /** @type {number|undefined} */ (valueAt(state.mount, `${joint}.clearance`));
  const words = playSource(state.mount, clearance, state);
  return words ? [h("p", { key: "source", class: "said quiet" }, words)] : [];
}

/** Bores and piston rods that can be bought. @param {State} state @param {Cylinder} cylinder @param {string} at */
function usualSizes({ sizes, system }, cylinder, at) {
  if (!sizes) return [];
  const { bores, rods, source } = sizes[customs(system).trade];
  const thinner = rods.filter((each) => each.size < cylinder.bore);
  return [
    usualSize(`${at}.bore`, cylinder.bore, bores, "bore", cylinder.id),
    usualSize(`${at}.rod`, cylinder.rod, thinner, "piston rod", cylinder.id),
    h("p", { key: "series", class: "said quiet" }, `Usual sizes: ${source}.`),
  ];
}

/** @param {string} place @param {number} now mm @param {Size[]} sizes @param {string} what @param {string} id */
function usualSize(place, now, sizes, what, id) {
  const found = sizes.find((each) => Math.abs(each.size - now) < 1e-6);
  return h(
    "select",
    {
      key: `usual ${what}`,
      class: "sizes",
      "data-size": place,
      "aria-label": `usual ${what}s for ${id}`,
      value: found ? String(found.size) : "",
    },
    [
      h("option", { key: "none", value: "" }, `usual ${what}s…`),
      ...sizes.map(({ label, size }) => h("option", { key: label, value: String(size) }, label)),
    ],
  );
}

/**
 * How a cylinder's lengths come about, and what they do when an end moves.
 * @param {State} state @param {Cylinder} cylinder
 */
function lengths({ system, follow }, cylinder) {
  const said = (/** @type {number} */ length) => amount(length, "fine", system);
  const out = drawnLength(cylinder) - cylinder.retracted;
  return [
    h(
      "p",
      { key: "lengths", class: "said quiet" },
      `Closed length is stroke and a dead length of ${said(deadLength(cylinder))}. As drawn it is ${said(out)} out.`,
    ),
    h(
      "button",
      {
        key: "fit",
        type: "button",
        class: "fit-length",
        "data-reach": cylinder.id,
        title: "Closed length and stroke so that it is half out as drawn; its dead length stays, if it leaves a stroke",
      },
      "fit to this distance",
    ),
    h("label", { key: "follow", class: "field wide" }, [
      h("span", { key: "label", class: "field-label" }, "when an end is moved, here and at every cylinder"),
      h(
        "select",
        {
          key: "select",
          "data-follow": "",
          "aria-label": "closed length when an end is moved",
          value: follow ? "follow" : "keep",
        },
        [
          h("option", { key: "keep", value: "keep" }, "keep the closed length"),
          h("option", { key: "follow", value: "follow" }, "follow the distance"),
        ],
      ),
    ]),
  ];
}

/** The tabulated fits at the diameter that was typed. @param {State} state @param {string} joint */
function fitChoice(state, joint) {
  if (!state.fits || !state.fits.fits.length) return [];
  return [
    h("select", { key: "fits", class: "fits", "data-fit": joint, "aria-label": "ISO 286 fits" }, [
      h("option", { key: "none", value: "" }, "pick a fit…"),
      ...state.fits.fits.map((each) =>
        h(
          "option",
          { key: each.fit, value: each.greatest },
          `${each.fit}: ${number(each.least, "error", state.system, { digits: 3 })} to ` +
            `${amount(each.greatest, "error", state.system, { digits: 3 })}`,
        ),
      ),
    ]),
  ];
}
