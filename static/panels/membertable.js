/**
 * All members in a table under the sheet, a row a joint, for those who prefer numbers to handles.
 * @module panels/membertable
 */

import { columnsOf } from "../document/cells.js";
import { drawnLength } from "../document/mount.js";
import { jointId } from "../values/joint.js";
import { h } from "../values/shapes.js";
import { outward, unit } from "../values/units.js";
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
      ? [
          h("p", { key: "fill", class: "table-fill" }, [
            h(
              "button",
              {
                key: "down",
                type: "button",
                "data-action": "fill-down",
                title: "The value of the cell picked last into all below it (Ctrl+D)",
              },
              "fill down",
            ),
            h(
              "span",
              { key: "said", class: "quiet" },
              "Lines copied from a spreadsheet paste into a cell and those right and below.",
            ),
          ]),
        ]
      : []),
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
    ...(kind.ends.length ? [head({ label: "length", measure: "fine" })] : []),
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
      members.flatMap((member, index) => rows(state, member, index * (member.ends ? 2 : 1))),
    ),
  ]);
}

/** @param {State} state @param {Member} member @param {number} start its first row in the table @returns {Shape[]} */
function rows(state, member, start) {
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
    const { joint: jointColumn, own } = columnsOf(member.kind);
    const numbers = jointColumn + (member.ends ? 1 : 2);
    /** The cell of a column in this row. @param {number} column */
    const spot = (column) => ({ "data-cell": `${member.kind}/${start + which}/${column}` });
    return h("tr", { key: `${member.id} ${which}`, class: first ? "first" : "" }, [
      ...(first
        ? [
            h("th", { key: "name", scope: "rowgroup", rowspan: span, ...spot(0) }, [
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
              h("span", { key: "first", ...spot(jointColumn) }, [
                bodySelect(state, `${joint}.joins[0]`, `first body of ${of}`),
              ]),
              h("span", { key: "second", ...spot(jointColumn + 1) }, [
                bodySelect(state, `${joint}.joins[1]`, `second body of ${of}`),
              ]),
            ]),
        member.ends ? spot(jointColumn) : {},
      ),
      ...numbersOf(kind.joint_fields).map(({ key, label, measure }, index) =>
        cell(key, entry(state, `${joint}.${key}`, measure, `${label} of ${of}`), spot(numbers + index)),
      ),
      ...(first
        ? [
            ...numbersOf(kind.fields).map(({ key, label, measure }, index) =>
              cell(key, entry(state, `${at}.${key}`, measure, `${label} of ${member.id}`), {
                rowspan: span,
                ...spot(own + index),
              }),
            ),
            ...(member.ends
              ? [
                  cell("length", lengthEntry(state, member), {
                    rowspan: span,
                    ...spot(own + numbersOf(kind.fields).length),
                  }),
                ]
              : []),
            remove,
          ]
        : []),
    ]);
  });
}

/**
 * How long a member is drawn; a typed length moves its second end.
 * @param {State} state @param {Linked} member
 */
function lengthEntry(state, member) {
  return h("input", {
    key: "input",
    type: "text",
    inputmode: "decimal",
    "data-length": member.id,
    "aria-label": `length of ${member.id}, ${unit("fine", state.system)}`,
    autocomplete: "off",
    value: outward(drawnLength(member), "fine", state.system),
  });
}

/** @param {string} key @param {Shape} content @param {import("../values/shapes.js").Attributes} [attrs] */
function cell(key, content, attrs = {}) {
  return h("td", { key, ...attrs }, [content]);
}
