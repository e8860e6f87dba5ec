/**
 * Length and angle of a rod or cylinder to be typed: while it is drawn, and of the picked one.
 * @module panels/span
 */

import { isLink } from "../document/draw.js";
import { spanOf, spanOfMember } from "../document/spans.js";
import { endName, splitJoint } from "../values/joint.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";

/** @typedef {import("../core/store.js").State} State */

/** @type {{what: "length"|"angle", measure: "fine"|"angle", title: string}[]} */
const SPAN = [
  { what: "length", measure: "fine", title: "" },
  { what: "angle", measure: "angle", title: "From level to the right, anticlockwise: 90 is up" },
];

/**
 * @param {State} state @param {typeof SPAN[number]} of @param {number} value @param {string} name spoken
 * @param {import("../values/shapes.js").Attributes} attrs
 */
function entry(state, { what, measure, title }, value, name, attrs) {
  const measured = unit(measure, state.system);
  return h("label", { key: what, class: "field", title: title || null }, [
    h("span", { key: "label", class: "field-label" }, what),
    h("input", {
      key: "input",
      type: "text",
      inputmode: "decimal",
      "aria-label": `${name}, ${measured}`,
      autocomplete: "off",
      value: outward(value, measure, state.system),
      ...attrs,
    }),
    h("span", { key: "unit", class: "field-unit" }, measured),
  ]);
}

/** The strip while the second end is in hand. @param {State} state */
export function draftSpan(state) {
  const { draft, tool } = state;
  if (!draft?.first || !draft.at || !isLink(tool)) return [];
  const live = spanOf(draft.first.at, draft.at);
  const typed = draft.typed ?? {};
  return [
    h(
      "div",
      { key: "span", class: "tool-row span-row", role: "group", "aria-label": `length and angle of the ${tool}` },
      [
        ...SPAN.map((each) =>
          entry(state, each, typed[each.what] ?? live[each.what], `${each.what} of the new ${tool}`, {
            "data-draft": each.what,
            "data-quantity": each.measure,
            class: typed[each.what] === undefined ? "" : "typed",
          }),
        ),
        h(
          "button",
          { key: "set", type: "button", "data-action": "set-end", title: "Set the end there (Enter)" },
          "set",
        ),
      ],
    ),
  ];
}

/**
 * Length and angle of the picked member, and which of its ends they move.
 * @param {State} state @param {string} picked its joint
 */
export function pickedSpan(state, picked) {
  const [id, part] = splitJoint(picked);
  const member = state.mount.members.find((each) => each.id === id);
  if (!member?.ends) return [];
  const span = spanOfMember(member);
  const [own, other] = [Number(part) - 1, 2 - Number(part)].map((each) => endName(member, each));
  return [
    ...SPAN.map((each) =>
      entry(state, each, span[each.what], `${each.what} of ${id}`, {
        "data-span": each.what,
        "data-quantity": each.measure,
      }),
    ),
    h("label", { key: "moves", class: "field" }, [
      h("span", { key: "label", class: "field-label" }, "moving"),
      h(
        "select",
        {
          key: "select",
          "data-moving": "",
          "aria-label": `which end of ${id} a typed length or angle moves`,
          value: state.otherEnd ? "other" : "own",
        },
        [h("option", { key: "own", value: "own" }, own), h("option", { key: "other", value: "other" }, other)],
      ),
    ]),
  ];
}
