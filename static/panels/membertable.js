/**
 * All members in a table under the sheet, a row a joint, for those who prefer numbers to handles.
 * @module panels/membertable
 */

import { jointId } from "../values/joint.js";
import { h } from "../values/shapes.js";
import { unit } from "../values/units.js";
import { memberKind, numbersOf, vocabulary } from "../values/vocabulary.js";
import { bodySelect, entry, wordEntry } from "./fields.js";

/** @typedef {import("../values/shapes.js").Shape} Shape */
/** @typedef {import("../core/store.js").State} State */

/** @param {State} state @returns {Shape[]} */
export function memberTable(state) {
  if (!state.table) return [];
  const tables = vocabulary.members
    .map((kind) => {
      const members = state.mount.members.filter((each) => each.kind === kind.kind);
      return members.length ? table(state, kind, members) : null;
    })
    .filter((each) => each !== null);
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

/** @param {State} state @param {import("../values/vocabulary.js").MemberKind} kind @param {Member[]} members */
function table(state, kind, members) {
  const { system } = state;
  const head = (/** @type {{label: string, measure: import("../values/units.js").Quantity}} */ { label, measure }) =>
    `${label} ${unit(measure, system)}`.trim();
  const heads = [
    kind.title,
    ...(kind.ends.length ? ["end"] : []),
    kind.on,
    ...numbersOf(kind.joint_fields).map(head),
    ...numbersOf(kind.fields).map(head),
    "",
  ];
  return h("table", { key: kind.kind, class: "member-table" }, [
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

/** @param {State} state @param {Member} member @returns {Shape[]} */
function rows(state, member) {
  const { mount } = state;
  const at = `members[${mount.members.indexOf(member)}]`;
  const kind = memberKind(member.kind);
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
    const end = kind.short_ends[which];
    const of = member.ends ? `${end} of ${member.id}` : member.id;
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
      ...numbersOf(kind.joint_fields).map(({ key, label, measure }) =>
        cell(key, entry(state, `${joint}.${key}`, measure, `${label} of ${of}`)),
      ),
      ...(first
        ? [
            ...numbersOf(kind.fields).map(({ key, label, measure }) =>
              cell(key, entry(state, `${at}.${key}`, measure, `${label} of ${member.id}`), { rowspan: span }),
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
