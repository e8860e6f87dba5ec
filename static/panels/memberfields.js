/**
 * Every number of the picked joint and its member.
 * @module panels/memberfields
 */

import { memberKind, numbersOf } from "../values/vocabulary.js";
import { h } from "../values/shapes.js";
import { amount, number, unit } from "../values/units.js";
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
    ]),
    ...[
      group(what.member.id, [
        wordField(state, `${at}.id`, "name", what.member.id),
        ...numbersOf(kind.fields).map(({ key, label, measure }) =>
          field(state, `${at}.${key}`, label, measure, what.member.id),
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
