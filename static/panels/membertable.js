/**
 * All members in a table under the sheet, a row a joint, for those who prefer numbers to handles.
 * @module panels/membertable
 */

import { jointId } from "../values/joint.js";
import { h } from "../values/shapes.js";
import { unit } from "../values/units.js";
import { bodySelect, entry, wordEntry } from "./fields.js";
import { OF_MEMBER } from "./memberfields.js";

/** @typedef {import("../values/shapes.js").Shape} Shape */
/** @typedef {import("../core/store.js").State} State */

/** @type {[string, string, string][]} */
const KINDS = [
  ["cylinder", "Cylinders", "mounted on"],
  ["rod", "Rods", "mounted on"],
  ["pin", "Pins", "joins"],
  ["slide", "Slides", "guide on, runs on"],
];

/** @param {State} state @returns {Shape[]} */
export function memberTable(state) {
  if (!state.table) return [];
  const tables = KINDS.map(([kind, title, on]) => {
    const members = state.mount.members.filter((/** @type {any} */ each) => each.kind === kind);
    return members.length ? table(state, kind, title, on, members) : null;
  }).filter((each) => each !== null);
  return [
    h(
      "button",
      {
        key: "close",
        type: "button",
        class: "table-close",
        "data-action": "table",
        "aria-label": "put the table away",
      },
      "×",
    ),
    ...(tables.length
      ? tables
      : [h("p", { key: "none", class: "said quiet" }, "No members yet: draw one on the sheet.")]),
  ];
}

/** @param {State} state @param {string} kind @param {string} title @param {string} on @param {any[]} members */
function table(state, kind, title, on, members) {
  const { system } = state;
  const linked = kind === "cylinder" || kind === "rod";
  const heads = [
    title,
    ...(linked ? ["end"] : []),
    on,
    `x ${unit("fine", system)}`,
    `y ${unit("fine", system)}`,
    ...(kind === "slide" ? ["guide runs x", "guide runs y"] : []),
    `clearance ${unit("error", system)}`,
    `rated for ${unit("force", system)}`,
    ...OF_MEMBER[kind].map(([, label, quantity]) => `${label} ${unit(quantity, system)}`),
    "",
  ];
  return h("table", { key: kind, class: "member-table" }, [
    h("thead", { key: "head" }, [
      h(
        "tr",
        { key: "row" },
        heads.map((words, index) =>
          words ? h("th", { key: index, scope: "col" }, words) : h("td", { key: index }, ""),
        ),
      ),
    ]),
    h(
      "tbody",
      { key: "body" },
      members.flatMap((member) => rows(state, member)),
    ),
  ]);
}

/** @param {State} state @param {any} member @returns {Shape[]} */
function rows(state, member) {
  const { mount } = state;
  const at = `members[${mount.members.indexOf(member)}]`;
  const span = member.ends ? 2 : 1;
  const remove = cell(
    "delete",
    h(
      "button",
      { key: "delete", type: "button", "data-remove": member.id, "aria-label": `delete ${member.id}` },
      "delete",
    ),
    { rowspan: span },
  );
  return Array.from({ length: span }, (_, which) => {
    const joint = member.ends ? `${at}.ends[${which}]` : at;
    const end = member.kind === "cylinder" ? ["barrel", "rod end"][which] : `end ${which + 1}`;
    const of = member.ends ? `${end} of ${member.id}` : member.id;
    const own = (/** @type {string} */ key, /** @type {any} */ quantity, /** @type {string} */ label) =>
      cell(key, entry(state, `${joint}.${key}`, quantity, `${label} of ${of}`));
    const first = which === 0;
    return h("tr", { key: `${member.id} ${which}`, class: first ? "first" : "" }, [
      ...(first
        ? [
            h("th", { key: "name", scope: "rowgroup", rowspan: span }, [
              wordEntry(state, `${at}.id`, `name of ${member.id}`),
            ]),
          ]
        : []),
      ...(member.ends
        ? [
            cell(
              "end",
              h(
                "button",
                {
                  key: "pick",
                  type: "button",
                  "data-pick": jointId(member.id, which + 1),
                  "aria-label": `pick ${of} on the sheet`,
                },
                end,
              ),
            ),
          ]
        : []),
      cell(
        "on",
        member.ends
          ? bodySelect(state, `${joint}.on`, `body of ${of}`)
          : h("span", { key: "both", class: "both-bodies" }, [
              bodySelect(state, `${joint}.joins[0]`, `first body of ${of}`),
              bodySelect(state, `${joint}.joins[1]`, `second body of ${of}`),
            ]),
      ),
      own("at[0]", "fine", "x"),
      own("at[1]", "fine", "y"),
      ...(member.kind === "slide"
        ? [own("direction[0]", "ratio", "guide runs x"), own("direction[1]", "ratio", "guide runs y")]
        : []),
      own("clearance", "error", "clearance"),
      own("rating", "force", "rating"),
      ...(first
        ? [
            ...OF_MEMBER[member.kind].map(([key, label, quantity]) =>
              cell(key, entry(state, `${at}.${key}`, quantity, `${label} of ${member.id}`), { rowspan: span }),
            ),
            remove,
          ]
        : []),
    ]);
  });
}

/** @param {string} key @param {Shape} content @param {import("../values/shapes.js").Attributes} [attrs] */
function cell(key, content, attrs = {}) {
  return h("td", { key, ...attrs }, [content]);
}
