/**
 * All members in a table, and the bodies, for those who prefer numbers to handles.
 * @module panels/members
 */

import { bodiesOf } from "../draw.js";
import { h } from "../svg.js";
import { field, group, wordField } from "./fields.js";

/** @param {import("../store.js").State} state */
export function members(state) {
  const { mount, system } = state;
  const bodies = ["frame", "blade", ...(mount.bodies ?? [])];
  return [
    h("p", { key: "count", class: "said quiet" }, `${mount.members.length} of 60 members, ${(mount.bodies ?? []).length} of 12 bodies besides the blade`),
    ...mount.members.map((/** @type {any} */ member, /** @type {number} */ index) => {
      const at = `members[${index}]`;
      const holds = member.ends ?? [member];
      return group(`${member.kind} ${index + 1}`, [
        wordField(`${at}.id`, "name", `${member.kind} ${index + 1}`),
        ...bodiesOf(member).map((_, which) => h("label", { key: `on ${which}`, class: "field" }, [
          h("span", { key: "label", class: "field-label" }, member.ends ? `end ${which + 1} on` : which ? "and" : "joins"),
          h("select", { key: "select", "data-place": member.ends ? `${at}.ends[${which}].on` : `${at}.joins[${which}]`, "data-quantity": "words", "aria-label": `body ${which + 1} of ${member.id}` }, bodies.map((body) => h("option", { key: body, value: body }, body))),
        ])),
        ...holds.flatMap((/** @type {any} */ _, /** @type {number} */ which) => {
          const place = member.ends ? `${at}.ends[${which}]` : at;
          const end = member.ends ? ` ${which + 1}` : "";
          return [
            field(`${place}.at[0]`, `x${end}`, "fine", system, member.id),
            field(`${place}.at[1]`, `y${end}`, "fine", system, member.id),
            field(`${place}.clearance`, `play${end}`, "error", system, member.id),
          ];
        }),
        h("div", { key: "do", class: "tool-row" }, [
          h("button", { key: "pick", type: "button", "data-pick": member.ends ? `${member.id}/1` : member.id }, "pick"),
          h("button", { key: "delete", type: "button", "data-remove": member.id, "aria-label": `delete ${member.id}` }, "delete"),
        ]),
      ]);
    }),
    group("Bodies", [
      ...(mount.bodies ?? []).flatMap((/** @type {string} */ body, /** @type {number} */ index) => [
        h("label", { key: `body ${index}`, class: "field words" }, [
          h("span", { key: "label", class: "field-label" }, "name"),
          h("input", { key: "input", type: "text", maxlength: 60, "data-place": `bodies[${index}]`, "data-quantity": "words", "data-body": body, "aria-label": `name of body ${index + 1}`, autocomplete: "off" }),
        ]),
        h("button", { key: `remove ${index}`, type: "button", "data-remove-body": body }, `delete ${body} and what holds it`),
      ]),
      h("button", { key: "add", type: "button", "data-action": "add-body" }, "add a body"),
    ]),
  ];
}
