/**
 * The members and bodies by name, and the way to the table of all their numbers.
 * @module panels/members
 */

import { bodyNames, namePlace } from "../document/bodies.js";
import { vocabulary } from "../values/vocabulary.js";
import { jointId } from "../values/joint.js";
import { h } from "../values/shapes.js";
import { group, wordEntry } from "./fields.js";

/** @param {import("../core/store.js").State} state */
export function members(state) {
  const { mount } = state;
  const { limits } = vocabulary;
  /** @type {string[]} */
  const bodies = bodyNames(mount);
  return [
    h(
      "p",
      { key: "count", class: "said quiet" },
      `${mount.members.length} of ${limits.members} members, ` +
        `${bodies.length} of ${limits.bodies} bodies besides the blade`,
    ),
    h(
      "button",
      {
        key: "table",
        type: "button",
        class: "wide-button",
        "data-action": "table",
        "aria-pressed": String(state.table),
      },
      "all their numbers in a table",
    ),
    ...mount.members.map((member, index) =>
      h("div", { key: `member ${index}`, class: "named-row" }, [
        h("span", { key: "kind", class: "quiet" }, member.kind),
        wordEntry(state, `members[${index}].id`, `name of ${member.kind} ${index + 1}`),
        h(
          "button",
          {
            key: "pick",
            type: "button",
            "data-pick": jointId(member.id, member.ends ? 1 : undefined),
            "aria-label": `pick ${member.id}`,
          },
          "pick",
        ),
        h(
          "button",
          { key: "delete", type: "button", "data-remove": member.id, "aria-label": `delete ${member.id}` },
          "delete",
        ),
      ]),
    ),
    group("Bodies", [
      ...bodies.flatMap((body, index) => [
        h("label", { key: `body ${index}`, class: "field words" }, [
          h("span", { key: "label", class: "field-label" }, "name"),
          wordEntry(state, namePlace(mount, index), `name of body ${index + 1}`, { "data-body": body }),
        ]),
        h(
          "button",
          { key: `remove ${index}`, type: "button", "data-remove-body": body },
          `delete ${body} and what holds it`,
        ),
      ]),
      h("button", { key: "add", type: "button", "data-action": "add-body" }, "add a body"),
    ]),
  ];
}
