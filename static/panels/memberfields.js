/**
 * Every number of the picked joint and its member.
 * @module panels/memberfields
 */

import { h } from "../values/shapes.js";
import { amount, number, unit } from "../values/units.js";
import { bodySelect, field, group, wordField } from "./fields.js";
import { jointPlace } from "./picked.js";

/** @typedef {import("../core/store.js").State} State */

/** @type {Record<string, [string, string, import("../values/units.js").Quantity][]>} */
export const OF_MEMBER = {
  cylinder: [
    ["bore", "bore", "fine"],
    ["rod", "piston rod", "fine"],
    ["retracted", "closed length", "fine"],
    ["stroke", "stroke", "fine"],
    ["hose_volume", "oil in hose", "volume"],
  ],
  rod: [
    ["section_area", "section", "area"],
    ["elastic_modulus", "Young's modulus", "modulus"],
  ],
  pin: [],
  slide: [],
};

/** @param {State} state @param {import("../document/mount.js").Handle} what */
export function memberFields(state, what) {
  const { mount, system } = state;
  const at = `members[${mount.members.indexOf(what.member)}]`;
  const joint = jointPlace(state, what);
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
      field(state, `${joint}.at[0]`, "x", "fine", what.label),
      field(state, `${joint}.at[1]`, "y", "fine", what.label),
      field(state, `${joint}.clearance`, "clearance", "error", what.label),
      field(state, `${joint}.rating`, "rated for", "force", what.label),
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
      ...(what.member.kind === "slide"
        ? [
            field(state, `${at}.direction[0]`, "guide runs x", "ratio", what.label),
            field(state, `${at}.direction[1]`, "guide runs y", "ratio", what.label),
          ]
        : []),
    ]),
    ...[
      group(what.member.id, [
        wordField(state, `${at}.id`, "name", what.member.id),
        ...OF_MEMBER[what.member.kind].map(([key, label, quantity]) =>
          field(state, `${at}.${key}`, label, quantity, what.member.id),
        ),
      ]),
    ],
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
